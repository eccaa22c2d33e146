"""Shadow edges by the exact and the textbook rule."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.optics.indicatrix import two_v
from isogyre.optics.refractometer import (
    false_beta,
    half_turn_extremes,
    random_orientations,
    shadow_edges,
    twin_solution,
)

# Typical indices (memory), from weak to strong birefringence.
GEMS = {
    "quartz": (1.544, 1.544, 1.553),
    "topaz": (1.609, 1.611, 1.617),
    "peridot": (1.654, 1.671, 1.690),
    "zircon": (1.925, 1.925, 1.984),
    "sphene": (1.885, 1.915, 2.006),
    "calcite": (1.486, 1.658, 1.658),
}
ALL_ROUND = np.arange(0.0, 180.0, 1.0)
seeds = st.integers(0, 2**32 - 1)
indices = st.tuples(st.floats(1.4, 2.2), st.floats(0, 0.06), st.floats(0, 0.06)).map(
    lambda t: np.array([t[0], t[0] + t[1], t[0] + t[1] + t[2]])
)


def facets(count: int, seed: int = 1):
    return random_orientations(count, np.random.default_rng(seed))


def facets_beside_an_optic_axis(n_principal, count: int, seed: int):
    """Return facets whose first direction lies within a few degrees of an optic axis."""
    rng = np.random.default_rng(seed)
    half_angle = np.radians(two_v(*n_principal) / 2)
    axis = np.array([np.sin(half_angle), 0, np.cos(half_angle)])
    spread = (n_principal[2] - n_principal[0]) * rng.random((count, 1))
    first = axis + spread * rng.standard_normal((count, 3))
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    normal = np.cross(first, rng.standard_normal((count, 3)))
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    return np.stack([first, np.cross(normal, first), normal], axis=1)


def widest_reach(n_principal, facet, slope, sheet: int):
    """Return the reach along the facet's first direction of waves with t + slope × normal.

    The two indices of a wave are the roots of Fresnel's equation for its normal.
    """
    wave = facet[0] + slope[:, None] * facet[2]
    square = np.sum(wave**2, axis=1)
    eta = n_principal**-2.0
    total = np.sum(eta * (square[:, None] - wave**2), axis=1)
    product = square * np.sum(np.prod(eta) / eta * wave**2, axis=1)
    root = np.sqrt(np.maximum(total**2 - 4 * product, 0))
    return ((total + sheet * root) / 2) ** -0.5


def searched_reach(n_principal, facet, sheet: int) -> float:
    """Search all slopes, then four times around the best of them."""
    best, width = 0.0, 0.25
    for _ in range(5):
        slopes = best + np.linspace(-width, width, 1001)
        reach = widest_reach(n_principal, facet, slopes, sheet)
        best, width = slopes[np.argmax(reach)], width / 50
    return float(reach.max())


@pytest.mark.parametrize("gem", ["quartz", "topaz", "peridot", "calcite"])
def test_an_edge_is_the_widest_reach_of_its_sheet_even_beside_an_optic_axis(gem):
    n = np.array(GEMS[gem])
    for facet in (*facets_beside_an_optic_axis(n, 60, seed=6), *facets(20, seed=6)):
        low, high = (edge[0] for edge in shadow_edges(n, facet, np.zeros(1)))
        # The roots of Fresnel's equation lose half their digits where they meet: 1e-8.
        assert low == approx(searched_reach(n, facet, 1), abs=3e-8)
        assert high == approx(searched_reach(n, facet, -1), abs=3e-8)


def searched_extremes(n_principal, orientation, rule):
    """Search half a turn in steps of 1°, then a degree either way in steps of 0.01°.

    Where the two edges nearly meet their extremes are sharp, and 1° alone may miss 0.0002.
    """
    coarse = shadow_edges(n_principal, orientation, ALL_ROUND, rule)
    extremes = []
    for edge, sign in ((0, 1), (0, -1), (1, 1), (1, -1)):
        best = ALL_ROUND[np.argmin(sign * coarse[edge], axis=1), None]
        fine = shadow_edges(n_principal, orientation, best + np.linspace(-1, 1, 201), rule)
        extremes.append(sign * np.min(sign * fine[edge], axis=1))
    return extremes


def real_waves(n_principal, orientation, azimuth_deg: float, reach: float) -> int:
    """Count the waves that can leave the facet with a given tangential wave vector.

    Maxwell's equations for a plane wave, det(K K' - K² + permittivity) = 0, are a quartic in
    the component of K along the normal; its real roots are waves that carry light away.
    """
    turn = np.radians(azimuth_deg)
    along = np.cos(turn) * orientation[0] + np.sin(turn) * orientation[1]
    depths = np.linspace(-2, 2, 5)
    values = []
    for depth in depths:
        k = reach * along + depth * orientation[2]
        values.append(np.linalg.det(np.outer(k, k) - k @ k * np.eye(3) + np.diag(n_principal**2)))
    roots = np.roots(np.polyfit(depths, values, 4))
    # Within 1e-7 of an edge two roots are 3e-4 apart, along the real axis or across it.
    return int(np.sum(np.abs(roots.imag) < 1e-5))


@pytest.mark.parametrize("gem", ["peridot", "sphene", "calcite"])
def test_an_edge_stands_where_maxwells_equations_lose_a_pair_of_waves(gem):
    n = np.array(GEMS[gem])
    # A ten-thousandth of the finest step of a refractometer.
    hair = 1e-7
    for orientation in facets(15, seed=4):
        for azimuth in (0.0, 60.0, 120.0):
            low, high = (e[0] for e in shadow_edges(n, orientation, np.array([azimuth])))
            counts = [
                real_waves(n, orientation, azimuth, reach)
                for reach in (low - hair, low + hair, high - hair, high + hair)
            ]
            assert counts == [4, 2, 2, 0]


@given(n_o=st.floats(1.4, 2.6), difference=st.floats(-0.3, 0.3), seed=seeds)
def test_uniaxial_edges_follow_their_closed_forms(n_o, difference, seed):
    n_e = n_o + difference
    place = 2 if n_e > n_o else 0
    n = np.array(sorted([n_o, n_o, n_e]))
    orientation = facets(1, seed)[0]
    turn = np.radians(ALL_ROUND)
    c_t = np.cos(turn) * orientation[0, place] + np.sin(turn) * orientation[1, place]
    c_n = orientation[2, place]
    r = n_e**2 / n_o**2 - 1
    expected = {
        "wave": n_e / np.sqrt(1 + r * c_t**2),
        "ray": n_e * np.sqrt((1 + r * c_n**2) / (1 + r * (c_t**2 + c_n**2))),
    }
    for rule, extraordinary in expected.items():
        low, high = shadow_edges(n, orientation, ALL_ROUND, rule)
        ordinary, moving = (low, high) if place == 2 else (high, low)
        # Where the sheets touch, rounding in the tensor shows as its square root, 1e-8.
        assert ordinary == approx(np.full(len(turn), n_o), abs=3e-8)
        assert moving == approx(extraordinary, abs=3e-8)


@given(n=indices, seed=seeds)
def test_the_exact_edge_is_above_the_textbook_one_by_a_bounded_amount(n, seed):
    orientation = facets(1, seed)[0]
    exact = np.array(shadow_edges(n, orientation, ALL_ROUND))
    textbook = np.array(shadow_edges(n, orientation, ALL_ROUND, "wave"))
    assert np.all(exact >= textbook)
    # The bound dn² / 2n holds to second order; a fifth more covers dn = 0.12.
    assert np.max(exact - textbook) <= 1.2 * (n[2] - n[0]) ** 2 / (2 * n[0]) + 1e-9


@given(n=indices, seed=seeds)
def test_the_pattern_repeats_after_half_a_turn(n, seed):
    orientation = facets(1, seed)[0]
    first = np.array(shadow_edges(n, orientation, ALL_ROUND))
    second = np.array(shadow_edges(n, orientation, ALL_ROUND + 180))
    assert second == approx(first, abs=1e-7)


@pytest.mark.parametrize("rule", ["ray", "wave"])
@pytest.mark.parametrize("gem", GEMS)
def test_half_a_turn_shows_alpha_gamma_beta_and_one_false_value(gem, rule):
    n = np.array(GEMS[gem])
    orientation = facets(1000)
    seen = searched_extremes(n, orientation, rule)
    expected = half_turn_extremes(np.broadcast_to(n, (1000, 3)), orientation)
    # A hundredth of the finest step of a refractometer.
    assert seen[0] == approx(expected.lowest_low, abs=1e-5)
    assert seen[3] == approx(expected.highest_high, abs=1e-5)
    if rule == "wave":
        # The textbook rule has another false value, but beta is one of the two.
        assert np.minimum(abs(seen[1] - n[1]), abs(seen[2] - n[1])).max() < 1e-5
        return
    assert seen[2] == approx(expected.lowest_high, abs=1e-5)
    # Few facets lie so near an optic axis that the highest low stays below its formula.
    shortfall = expected.highest_low - seen[1]
    assert np.mean(shortfall > 1e-5) < 0.03
    assert shortfall.min() > -1e-9
    assert shortfall.max() < (n[2] - n[0]) ** 2 / (10 * n[0]) + 1e-5


def test_the_false_beta_is_the_radius_of_the_index_ellipsoid_along_the_normal():
    n = np.array(GEMS["peridot"])
    assert false_beta(n, np.eye(3)) == approx(n)
    assert false_beta(n, np.ones(3) / np.sqrt(3)) == approx(np.sqrt(np.mean(n**2)))


@pytest.mark.parametrize("gem", ["peridot", "sphene", "topaz"])
def test_a_twin_with_true_and_false_beta_exchanged_shows_the_same_edges(gem):
    n = np.array(GEMS[gem])
    turns = np.arange(0.0, 180.0, 3.0)
    differences = []
    for orientation in facets(300, seed=2):
        twin_n, twin_orientation = twin_solution(n, orientation)
        n_false = false_beta(n, orientation[2])
        assert twin_n == approx(np.sort([n[0], n_false, n[2]]), abs=1e-9)
        assert false_beta(twin_n, twin_orientation[2]) == approx(n[1], abs=1e-9)
        own = np.array(shadow_edges(n, orientation, turns))
        twins = np.array(shadow_edges(twin_n, twin_orientation, turns))
        differences.append(np.abs(own - twins))
    # One reading in a thousand may fall beside an optic axis, where the search may end short.
    assert np.quantile(differences, 0.999) < 1e-9


@given(n=indices, seed=seeds)
def test_the_twin_of_a_twin_is_the_stone_itself(n, seed):
    orientation = facets(1, seed)[0]
    again, _ = twin_solution(*twin_solution(n, orientation))
    # Two decompositions of a nearly round tensor leave the square root of rounding.
    assert again == approx(n, abs=1e-7)


@pytest.mark.parametrize(
    ("stone", "n_principal"),
    [("tourmaline", (1.621, 1.641, 1.641)), ("andalusite", (1.630, 1.637, 1.642))],
)
def test_published_readings_are_what_some_facet_of_such_a_stone_shows(
    stone, n_principal, reference
):
    # Readings and conclusion of a published lecture; the file names it.
    rows = [r for r in reference("trade/refractometer_readings.csv") if r["stone"] == stone]
    assert [r["step_deg"] for r in rows] == ["0", "45", "90", "135"]
    turns = np.array([float(r["step_deg"]) for r in rows])
    readings = np.array([[float(r["low"]) for r in rows], [float(r["high"]) for r in rows]])
    low, high = shadow_edges(np.array(n_principal), facets(20_000), turns)
    worst = np.abs(np.stack([low, high], axis=1) - readings).max(axis=(1, 2))
    # A hand reading is good to 0.002 and is written down to 0.001; each of eight may use it up.
    assert worst.min() < 0.0025


def test_an_isotropic_stone_shows_its_one_index_everywhere():
    low, high = shadow_edges(np.full(3, 1.718), facets(5), ALL_ROUND)
    assert low == approx(np.full((5, 180), 1.718), abs=1e-12)
    assert high == approx(low, abs=1e-7)


def test_many_stones_at_once_read_as_each_alone():
    n, orientation = np.array(list(GEMS.values())), facets(len(GEMS))
    turns = np.arange(12.0).reshape(len(GEMS), 2)
    low, high = shadow_edges(n, orientation, turns)
    assert low.shape == high.shape == (6, 2)
    for i in range(len(GEMS)):
        alone = shadow_edges(n[i], orientation[i], turns[i])
        assert (low[i], high[i]) == (approx(alone[0]), approx(alone[1]))


def test_random_facets_are_rotations_without_preference():
    orientation = facets(20_000)
    product = orientation @ np.swapaxes(orientation, 1, 2)
    assert np.abs(product - np.eye(3)).max() < 1e-12
    assert np.linalg.det(orientation) == approx(np.ones(20_000))
    # Each of nine squared cosines has mean 1/3 and variance 4/45: 0.01 is five standard errors.
    assert np.mean(orientation**2, axis=0) == approx(np.full((3, 3), 1 / 3), abs=0.0106)
