"""Fresnel reflectance at normal incidence, critical and Brewster angle."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.optics.errors import NoTotalReflectionError, ReflectanceRangeError
from isogyre.optics.reflectance import (
    brewster_angle,
    critical_angle,
    index_from_reflectance,
    normal_reflectance,
)

HEMICYLINDER_INDEX = 1.88


def test_the_table_of_angles_and_reflectances_is_reproduced(reference):
    # Rows computed from handbook indices and checked there against two published figures.
    rows = reference("trade/critical_brewster_fresnel.csv")
    assert len(rows) == 22
    for row in rows:
        n = float(row["n"])
        # The table is printed to two decimals.
        assert critical_angle(n) == approx(float(row["critical_angle_air_deg"]), abs=0.0051)
        assert brewster_angle(n) == approx(float(row["brewster_angle_deg"]), abs=0.0051)
        percent = 100 * normal_reflectance(n)
        assert percent == approx(float(row["reflectance_normal_pct"]), abs=0.0051)
        printed = row["critical_angle_hemicylinder_1.88_deg"]
        if printed == "out of range":
            with pytest.raises(NoTotalReflectionError):
                critical_angle(HEMICYLINDER_INDEX, n)
        else:
            assert critical_angle(HEMICYLINDER_INDEX, n) == approx(float(printed), abs=0.0051)


def test_worked_critical_angles_are_met_and_an_old_print_is_within_its_tolerance(reference):
    cases = [r for r in reference("trade/worked_examples.jsonl") if r["topic"] == "critical_angle"]
    assert len(cases) == 3
    for case in cases:
        # The old book (cattelle) gives no index; 2.417 is the handbook value for diamond.
        n = case["inputs"].get("n", 2.417)
        assert critical_angle(n) == approx(
            case["expected"]["critical_angle_deg"], abs=case["tolerance"]
        )


@given(n=st.floats(1.35, 4), surrounding=st.floats(1, 1.34))
def test_the_index_comes_back_from_its_reflectance(n, surrounding):
    reflectance = normal_reflectance(n, surrounding)
    # Rounding only: a ten-thousandth of the finest reading.
    assert index_from_reflectance(reflectance, surrounding) == approx(n, abs=1e-8)


@given(n=st.floats(1.3, 3), surrounding=st.floats(1, 1.7))
def test_at_brewsters_angle_no_light_of_one_polarisation_returns(n, surrounding):
    inside = np.radians(brewster_angle(n, surrounding))
    refracted = np.arcsin(np.clip(surrounding * np.sin(inside) / n, -1, 1))
    parallel = n * np.cos(inside) - surrounding * np.cos(refracted)
    assert parallel == approx(0, abs=1e-9)


@given(n=st.floats(1.01, 3))
def test_light_at_the_critical_angle_leaves_along_the_surface(n):
    assert n * np.sin(np.radians(critical_angle(n))) == approx(1, abs=1e-12)


def test_many_stones_reflect_as_each_alone():
    indices = np.array([1.544, 1.77, 2.417])
    assert normal_reflectance(indices) == approx([normal_reflectance(n) for n in indices])


@pytest.mark.parametrize("reflectance", [-0.01, 1.0, 17.2])
def test_a_reflectance_that_is_no_fraction_is_refused(reflectance):
    with pytest.raises(ReflectanceRangeError, match="divide a percentage by 100"):
        index_from_reflectance(reflectance)


def test_light_from_the_rarer_side_has_no_critical_angle():
    with pytest.raises(NoTotalReflectionError, match=r"1\.0000 towards 1\.5440"):
        critical_angle(1.0, 1.544)
