"""Densities of liquids, and relative density by weighing in them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95
from pytest import approx

from isogyre.optics.errors import TemperatureRangeError, UnknownLiquidError, WeighingError
from isogyre.optics.liquids import (
    AIR_DENSITY_G_CM3,
    liquid_density,
    loss_sd,
    relative_density,
    relative_density_sd,
    water_density_tanaka_2001,
    weight_in_liquid,
)


@pytest.fixture
def worked(reference):
    """Published and worked examples by id; each names its source in the file."""
    return {row["id"]: row for row in reference("trade/worked_examples.jsonl")}


def test_water_agrees_with_the_published_table(reference):
    rows = reference("trade/water_density.csv")
    assert len(rows) == 23
    for row in rows:
        # Printed to 0.0001 kg/m3, from the same formula (Tanaka and others 2001).
        printed = float(row["tanaka_kg_m3"])
        assert 1000 * water_density_tanaka_2001(float(row["t_C"])) == approx(printed, abs=6e-5)


@pytest.mark.parametrize("temperature_c", range(0, 41, 5))
def test_water_agrees_with_the_equation_of_state_of_iapws(temperature_c):
    reference_kg_m3 = IAPWS95(T=temperature_c + 273.15, P=0.101325).rho
    # Tanaka states 0.001 kg/m3; the two disagree no more than that up to 40 °C.
    computed = 1000 * water_density_tanaka_2001(temperature_c)
    assert computed == approx(reference_kg_m3, abs=0.0015)


def test_other_liquids_agree_with_the_table_of_reference_equations(reference):
    # Source coolprop: equations of state at 101.325 kPa.
    rows = [r for r in reference("trade/other_liquids_density.csv") if r["t_C"] != "ambient"]
    assert len(rows) == 15
    for row in rows:
        liquid, t = row["liquid"], float(row["t_C"])
        # A hundred-thousandth, a hundredth of what purity costs.
        assert 1000 * liquid_density(liquid, t) == approx(float(row["density_kg_m3"]), abs=0.01)
        if 10 < t < 30:
            slope = 500 * (liquid_density(liquid, t + 1) - liquid_density(liquid, t - 1))
            assert slope == approx(float(row["slope_kg_m3_per_C"]), abs=0.002)


def test_worked_liquid_densities_are_met(worked):
    cases = [c for c in worked.values() if c["topic"] == "liquid_density"]
    assert len(cases) == 4
    for case in cases:
        found = 1000 * liquid_density(case["inputs"]["liquid"], case["inputs"]["t_C"])
        assert found == approx(case["expected"]["kg_m3"], abs=case["tolerance"])


def test_published_hydrostatic_weighings_give_their_relative_density(worked):
    # Wade 1918, the wire taken off; Bauer 1904, in units of his balance; a page in grams.
    wade = worked["sg-wade-wire"]
    hanging = wade["inputs"]["weight_water_with_wire_ct"] - wade["inputs"]["wire_in_water_ct"]
    assert relative_density(wade["inputs"]["weight_air_ct"], hanging, 1.0) == approx(
        wade["expected"]["sg"], abs=wade["tolerance"]
    )
    bauer = worked["sg-bauer-westphal"]["inputs"]
    hanging = bauer["stone_units"] - bauer["loss_units"]
    assert relative_density(bauer["stone_units"], hanging, 1.0) == approx(2.66, abs=0.005)
    page = worked["sg-infodiamond"]["inputs"]
    found = relative_density(page["weight_air_g"], page["weight_water_g"], 1.0)
    assert found == approx(2.52, abs=0.005)


def test_a_weighing_in_warm_ethanol_is_met(worked):
    case = worked["sg-liquid-ethanol-25"]
    density = liquid_density("ethanol", case["inputs"]["t_C"])
    found = relative_density(case["inputs"]["weight_air"], case["inputs"]["weight_liquid"], density)
    assert found == approx(case["expected"]["density_g_cm3"], abs=case["tolerance"])


def test_the_lift_of_air_is_corrected_as_a_balance_manual_does(worked):
    case = worked["sg-sartorius-air"]
    given_ = case["inputs"]
    found = relative_density(
        given_["weight_air_g"],
        given_["weight_water_g"],
        given_["liquid_g_cm3"],
        given_["air_g_cm3"],
    )
    # The manual's pan factor belongs to that cradle, so it is divided out of its answer here.
    expected = case["expected"]["density_g_cm3"] - AIR_DENSITY_G_CM3
    expected = expected * given_["pan_factor"] + AIR_DENSITY_G_CM3
    assert found == approx(expected, abs=case["tolerance"] / 5)


def test_the_error_follows_its_published_rule_with_the_judged_losses(worked):
    # dSG = SG² e / weight (sg_practice.csv: 0.01 ct on a 2 ct ruby gives 0.08).
    for case in (worked["sg-error-calc-1"], worked["sg-error-calc-0.5"]):
        inputs = case["inputs"]
        share = inputs["error_of_immersed_ct"] / loss_sd(0.01)
        balance = relative_density_sd(inputs["sg"], inputs["weight_ct"], 0.01)
        balance -= 0.003 * inputs["sg"]
        assert share * balance == approx(case["expected"]["sg_error"], abs=case["tolerance"])
    assert (loss_sd(0.01), loss_sd(0.001)) == (approx(0.007), approx(0.002))
    assert relative_density_sd(4.0, 0.4, 0.01) == approx(0.28 + 0.012, abs=1e-9)


@given(
    weight_ct=st.floats(0.05, 500),
    density=st.floats(1.02, 8),
    temperature_c=st.floats(10, 30),
    liquid=st.sampled_from(["water", "toluene", "ethanol", "acetone"]),
)
def test_a_stone_weighed_in_a_liquid_gives_its_density_back(
    weight_ct, density, temperature_c, liquid
):
    d_liquid = liquid_density(liquid, temperature_c)
    hanging = weight_in_liquid(weight_ct, density, d_liquid)
    # Rounding only.
    assert relative_density(weight_ct, hanging, d_liquid) == approx(density, rel=1e-9)


@given(density=st.floats(1.02, 8), air=st.floats(0.0005, 0.0014))
def test_correcting_for_air_moves_a_dense_stone_down_and_spares_one_like_the_liquid(density, air):
    hanging = weight_in_liquid(1.0, density, 1.0)
    corrected = relative_density(1.0, hanging, 1.0, air)
    assert corrected - density == approx(-air * (density - 1), abs=1e-12)


@given(temperature_c=st.floats(4, 39))
def test_liquids_grow_lighter_as_they_warm(temperature_c):
    assert water_density_tanaka_2001(temperature_c + 1) < water_density_tanaka_2001(temperature_c)


@pytest.mark.parametrize(
    ("liquid", "temperature_c"), [("water", -1), ("water", 41), ("toluene", 9), ("ethanol", 31)]
)
def test_a_temperature_outside_the_formula_is_refused(liquid, temperature_c):
    with pytest.raises(TemperatureRangeError, match=f"{liquid}.*not at {temperature_c}"):
        liquid_density(liquid, temperature_c)


def test_an_unknown_liquid_is_refused_by_name():
    with pytest.raises(UnknownLiquidError, match="'brine', only for water"):
        liquid_density("brine", 20)


@pytest.mark.parametrize(("in_air", "hanging"), [(1.0, 1.0), (0.75, 1.0), (0.0, -1.0)])
def test_weights_that_leave_no_loss_are_refused(in_air, hanging):
    with pytest.raises(WeighingError, match="exchanged"):
        relative_density(in_air, hanging, 1.0)


def test_a_liquid_lighter_than_air_and_a_balance_without_steps_are_refused():
    with pytest.raises(WeighingError, match="near 1 for water"):
        relative_density(1.0, 0.7, 0.001, AIR_DENSITY_G_CM3)
    with pytest.raises(WeighingError, match="readability"):
        loss_sd(0.0)
