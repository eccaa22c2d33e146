"""Pairs read at one position: their draws and their density."""

import numpy as np
import pytest
from pytest import approx
from scipy.integrate import quad

from isogyre.optics.position import draw_pairs, pair_log_density

# Typical indices (memory).
GEMS = {
    "quartz": (1.544, 1.544, 1.553),
    "ruby": (1.762, 1.770, 1.770),
    "topaz": (1.609, 1.611, 1.617),
    "peridot": (1.654, 1.671, 1.690),
    "zircon": (1.925, 1.925, 1.984),
    "sphene": (1.885, 1.915, 2.006),
}
SPINEL = (1.718, 1.718, 1.718)
SD = 0.002


def gaussian(distance, sd):
    return np.exp(-0.5 * (distance / sd) ** 2) / (sd * np.sqrt(2 * np.pi))


def log_density(low, high, n, edge_sd=SD, shared_sd=0.0):
    return pair_log_density(low, high, np.array([n]), edge_sd, shared_sd)[0]


def misread_pairs(n, count, seed, edge_sd=SD, shared_sd=0.0):
    rng = np.random.default_rng(seed)
    low, high = draw_pairs(np.tile(n, (count, 1)), rng)
    shared = shared_sd * rng.standard_normal(count)
    own = edge_sd * rng.standard_normal((2, count))
    return low + shared + own[0], high + shared + own[1]


def all_directions(steps):
    """Return directions that share out an octant evenly, weighted by `steps` in each turn."""
    height = (np.arange(steps) + 0.5) / steps
    turn = (np.arange(steps) + 0.5) / steps * np.pi / 2
    z, phi = np.meshgrid(height, turn)
    flat = np.sqrt(1 - z**2)
    return np.stack([flat * np.cos(phi), flat * np.sin(phi), z], axis=-1).reshape(-1, 3)


def textbook_pairs(n, directions):
    """Return the two wave indices along directions, from the roots of Fresnel's equation."""
    eta = np.array(n) ** -2.0
    total = np.sum(eta * (1 - directions**2), axis=1)
    product = np.sum(directions**2 * (np.prod(eta) / eta), axis=1)
    root = np.sqrt(np.maximum(total**2 - 4 * product, 0))
    return ((total + root) / 2) ** -0.5, ((total - root) / 2) ** -0.5


@pytest.mark.parametrize("n", [*GEMS.values(), SPINEL], ids=[*GEMS, "spinel"])
def test_the_density_of_all_readings_together_is_one(n):
    step = SD / 2
    lows = np.arange(n[0] - 6 * SD, n[1] + 6 * SD, step)
    highs = np.arange(n[1] - 6 * SD, n[2] + 6 * SD, step)
    total = sum(np.exp(log_density(low, high, n)) for low in lows for high in highs)
    # The quadrature keeps each density within one per cent.
    assert total * step**2 == approx(1, abs=0.003)


@pytest.mark.parametrize("gem", ["quartz", "zircon"])
def test_a_uniaxial_stone_follows_the_integral_over_the_angle_to_its_axis(gem):
    n_o, _, n_e = GEMS[gem]
    for low, high in zip(*misread_pairs(GEMS[gem], 20, seed=3), strict=True):

        def blurred(cosine, high=high):
            extraordinary = n_e / np.sqrt(1 + (n_e**2 / n_o**2 - 1) * cosine**2)
            return gaussian(high - extraordinary, SD)

        expected = gaussian(low - n_o, SD) * quad(blurred, 0, 1, limit=200)[0]
        # Ten nodes: ln density within 0.005 as a rule.
        assert log_density(low, high, GEMS[gem]) == approx(np.log(expected), abs=0.01)


@pytest.mark.parametrize("gem", GEMS)
def test_the_density_is_the_mean_over_all_directions_of_the_stone(gem):
    shown = textbook_pairs(GEMS[gem], all_directions(600))
    pairs = np.transpose(misread_pairs(GEMS[gem], 60, seed=5))
    errors = [
        log_density(low, high, GEMS[gem])
        - np.log(np.mean(gaussian(low - shown[0], SD) * gaussian(high - shown[1], SD)))
        for low, high in pairs
    ]
    assert np.sqrt(np.mean(np.square(errors))) < 0.01
    # An odds factor of 1.03 at the very edge of what the stone can show.
    assert np.max(np.abs(errors)) < 0.03


@pytest.mark.parametrize("gem", GEMS)
def test_the_density_agrees_with_draws_by_the_exact_rule(gem):
    rng = np.random.default_rng(7)
    shown = draw_pairs(np.tile(GEMS[gem], (200_000, 1)), rng)
    pairs = np.transpose(misread_pairs(GEMS[gem], 60, seed=8))
    errors = [
        log_density(low, high, GEMS[gem])
        - np.log(np.mean(gaussian(low - shown[0], SD) * gaussian(high - shown[1], SD)))
        for low, high in pairs
    ]
    # 0.05 in ln density is less than any prior is known to; the draws themselves add 0.02.
    assert np.sqrt(np.mean(np.square(errors))) < 0.05


@pytest.mark.parametrize("gem", ["topaz", "peridot", "zircon"])
def test_a_shared_error_is_the_average_over_shifts_of_the_scale(gem):
    edge_sd, shared_sd = 0.0018, 0.0016
    shifts = np.linspace(-6, 6, 121) * shared_sd
    weights = gaussian(shifts, shared_sd)
    weights /= weights.sum()
    pairs = np.transpose(misread_pairs(GEMS[gem], 20, 9, edge_sd, shared_sd))
    for low, high in pairs:
        shifted = [log_density(low - s, high - s, GEMS[gem], edge_sd) for s in shifts]
        expected = np.log(np.sum(weights * np.exp(shifted)))
        direct = log_density(low, high, GEMS[gem], edge_sd, shared_sd)
        assert direct == approx(expected, abs=0.03)


def test_equal_indices_are_the_limit_of_nearly_equal_ones():
    limits = [
        (SPINEL, (1.718 - 2e-6, 1.718, 1.718 + 2e-6)),
        (GEMS["quartz"], (1.544 - 2e-6, 1.544, 1.553)),
        (GEMS["ruby"], (1.762, 1.770, 1.770 + 2e-6)),
    ]
    for exact, nearly in limits:
        for low, high in ((exact[0], exact[2]), (exact[0] + 0.003, exact[2] - 0.001)):
            # A split of 2e-6 moves a Gaussian of 0.002 by a thousandth of its width.
            assert log_density(low, high, exact) == approx(log_density(low, high, nearly), abs=0.01)


def test_an_isotropic_stone_has_the_density_of_the_reading_error_alone():
    expected = np.log(gaussian(0.001, SD) * gaussian(0.003, SD))
    assert log_density(1.719, 1.721, SPINEL) == approx(expected, abs=1e-3)


@pytest.mark.parametrize("shared_sd", [0.0, 0.0015])
def test_a_reading_far_from_all_a_stone_shows_is_finite_and_hopeless(shared_sd):
    stones = np.array([*GEMS.values(), SPINEL, (2.41, 2.41, 2.41)])
    density = pair_log_density(1.333, 1.335, stones, SD, shared_sd)
    assert np.all(np.isfinite(density))
    assert np.all(density < -1000)


@pytest.mark.parametrize("shared_sd", [0.0, 0.0015])
def test_what_stands_for_a_hopeless_density_is_not_below_it(shared_sd):
    total = np.hypot(SD, shared_sd)
    n = GEMS["topaz"]
    just_near = log_density(n[0] - 7.9 * total, n[2], n, SD, shared_sd)
    just_hopeless = log_density(n[0] - 12 * total, n[2], n, SD, shared_sd)
    assert just_hopeless < just_near
    shown = textbook_pairs(n, all_directions(300))
    u, v = (n[0] - 12 * total - shown[0]) / SD, (n[2] - shown[1]) / SD
    scale = shared_sd**2 / (SD**2 + 2 * shared_sd**2)
    # Sherman and Morrison's inverse of the covariance of two edges with a shared error.
    exponent = -0.5 * (u * u + v * v - scale * (u + v) ** 2)
    top = exponent.max()
    peak = -np.log(2 * np.pi * SD * np.sqrt(SD**2 + 2 * shared_sd**2))
    assert just_hopeless >= peak + top + np.log(np.mean(np.exp(exponent - top)))


def test_one_position_shows_two_thirds_of_a_uniaxial_birefringence_on_average():
    n = np.tile(GEMS["quartz"], (40_000, 1))
    low, high = draw_pairs(n, np.random.default_rng(10), "wave")
    shown = (high - low) / 0.009
    # p(b) = 1 / (2 d sqrt(1 - b/d)): mean 2/3, median 3/4, below a quarter 1 - sqrt(3/4).
    # 0.007 is five standard errors of a mean of 40,000 draws; curvature adds 0.004.
    assert np.mean(shown) == approx(2 / 3, abs=0.011)
    assert np.median(shown) == approx(3 / 4, abs=0.011)
    assert np.mean(shown < 0.25) == approx(1 - np.sqrt(0.75), abs=0.011)


def test_a_crowd_of_stones_is_weighed_as_each_alone():
    rng = np.random.default_rng(12)
    crowd = np.sort(rng.uniform(1.60, 1.66, (9000, 3)), axis=1)
    together = pair_log_density(1.624, 1.644, crowd, SD)
    some = range(0, 9000, 450)
    assert together[some] == approx([log_density(1.624, 1.644, n) for n in crowd[some]])


def test_an_isotropic_stone_is_drawn_without_separation():
    low, high = draw_pairs(np.tile(SPINEL, (50, 1)), np.random.default_rng(11))
    assert low == approx(np.full(50, 1.718), abs=1e-12)
    assert high == approx(low, abs=1e-7)
