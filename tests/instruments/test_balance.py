"""The balance: errors of a density, and stones dropped into heavy liquids."""

import numpy as np
import pytest
from pytest import approx

from isogyre.instruments.balance import _heavy_chances
from isogyre.optics.liquids import loss_sd

DENSITIES = np.arange(0.8, 9.0, 0.01)


def peak(term, population, held):
    """Return the log density of the stones of a stratum, averaged."""
    return float(np.log(np.exp(term.stones[held]).mean()))


def test_the_density_of_a_printed_density_shares_out_all_of_them(sparse, one):
    total = sum(np.exp(one(sg=f"{d:.2f}").term(sparse).stones) for d in DENSITIES) * 0.01
    inside = (sparse.stones.sg_mean > 1.1) & (sparse.stones.sg_mean < 8)
    # Blunders are spread over 8 in density and come on top of the mixture.
    assert total[inside] == approx(1, abs=0.03)


@pytest.mark.parametrize("weight_ct", [0.4, 1.0, 5.0])
def test_the_error_of_a_weighed_density_grows_as_its_square_over_the_weight(one, weight_ct):
    for sg in (2.65, 4.00):
        liquid_ct = weight_ct * (1 - 0.9982 / sg)
        shown = one(weight_air_ct=weight_ct, weight_liquid_ct=liquid_ct).shown
        sd = float(shown.partition("±")[2].partition(",")[0])
        # Shown to 0.001, which is all the difference allowed.
        assert sd == approx(sg**2 * loss_sd(0.01) / weight_ct + 0.003 * sg, abs=0.001)


def test_a_density_of_a_small_stone_says_less(population, log_rows, rows_of):
    def lead(weight_ct):
        liquid_ct = weight_ct * (1 - 0.9982 / 4.0)
        log = log_rows(weight_air_ct=weight_ct, weight_liquid_ct=liquid_ct)
        return log[rows_of(species="corundum")].max() - log[rows_of(species="topaz")].max()

    assert lead(5.0) > lead(0.4) > lead(0.1) > -0.1
    # At a tenth of a carat the error, 1.1, is wider than the gap of 0.45 between the two.
    assert lead(0.1) < np.log(2)


def test_a_finer_balance_says_more(log_rows, rows_of):
    def lead(readability_ct):
        log = log_rows(
            weight_air_ct=0.4, weight_liquid_ct=0.3002, balance_readability_ct=readability_ct
        )
        return log[rows_of(species="corundum")].max() - log[rows_of(species="topaz")].max()

    assert lead(0.001) > lead(0.01)


def test_another_liquid_gives_the_same_density(one):
    in_water = one(weight_air_ct=4.0, weight_liquid_ct=4.0 * (1 - 0.99821 / 3.52))
    in_toluene = one(
        weight_air_ct=4.0, weight_liquid_ct=4.0 * (1 - 0.86689 / 3.52), liquid="toluene"
    )
    assert in_water.shown == in_toluene.shown
    assert in_water.shown.startswith("3.520")


def test_a_stone_that_floats_with_a_sinker_has_a_density_below_water(one):
    assert one(weight_air_ct=1.0, weight_liquid_ct=-0.1).shown.startswith("0.907")


def test_bubbles_make_a_stone_seem_lighter_more_often_than_heavier(population, one, rows_of):
    held = population.stratum[rows_of(species="topaz")[0]]
    middle = float(population.stones.sg_mean[held].mean())
    light, right, heavy = (
        one(sg=f"{middle + off:.2f}").term(population) for off in (-0.16, 0.0, 0.16)
    )
    assert peak(light, population, held) > peak(heavy, population, held) + 0.3
    assert peak(right, population, held) > peak(light, population, held) + 1


def test_one_decimal_of_a_density_is_worth_less_than_two(one):
    # A figure rounded to 0.1 is off by 0.029 for that alone.
    assert one(sg="2.7").shown.endswith("0.035")
    assert one(sg="2.70").shown.endswith(f"{0.005 * 2.70 + 0.008:.3f}")
    assert one(sg="2,7 g/cm3").shown == one(sg="2.7").shown


def test_a_printed_density_beside_its_weights_is_the_same_weighing(population, read):
    found = read(weight_air_ct=2.0, weight_liquid_ct=1.5009, sg="4.00")
    assert [r.cause for r in found.readings] == ["density", "density"]
    assert all(r.dependence[1] == 0 for r in found.readings)


def test_sinking_floating_and_hovering_share_out_what_can_happen(population):
    stones = population.stones
    for sg in (2.65, 3.05, 3.32):
        chances = np.stack(_heavy_chances(stones.sg_mean, stones.sg_sd, sg))
        assert chances.sum(axis=0) == approx(1)
        assert (chances >= 0).all()


@pytest.mark.parametrize(
    ("result", "first", "second"),
    [
        ("sinks", "corundum", "quartz"),
        ("floats", "quartz", "corundum"),
        ("hovers", "jadeite", "corundum"),
    ],
)
def test_heavy_liquid_parts_the_light_from_the_heavy(log_rows, rows_of, result, first, second):
    log = log_rows(heavy_liquid={"sg": 3.32, "result": result})
    assert log[rows_of(species=first)].max() > log[rows_of(species=second)].max() + 1


def test_a_stone_that_does_not_sink_is_not_read_as_sinking(read):
    found = read(heavy_liquid={"sg": 3.32, "result": "does not sink"})
    assert all("sinks" not in r.shown for r in found.readings)
    assert found.readings or found.ignored


def test_a_heavier_liquid_makes_sinking_say_more(log_rows, rows_of):
    def lead(sg):
        log = log_rows(heavy_liquid={"sg": sg, "result": "sinks"})
        return log[rows_of(species="corundum")].max() - log[rows_of(species="topaz")].max()

    assert lead("3,75") > lead("3.32") + 1
