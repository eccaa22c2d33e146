"""Optic axial angle, sign and birefringence of three indices."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from isogyre.optics.errors import IndexOrderError, IsotropicError
from isogyre.optics.indicatrix import (
    birefringence,
    optic_sign,
    two_v,
    two_v_of_stones,
    two_v_range,
)

# Typical indices (memory) and the angle worked out for them to 0.1°, so rounding is the tolerance.
WORKED_ANGLES = {
    "topaz": (1.609, 1.611, 1.617, 60.2),
    "feldspar": (1.520, 1.524, 1.526, 180 - 70.4),
    "zoisite": (1.691, 1.6925, 1.700, 48.4),
    "peridot": (1.654, 1.671, 1.690, 87.7),
    # Walling and others 1980, synthetic crystal at 589.3 nm, axes sorted by size.
    "synthetic alexandrite": (1.7408, 1.7427, 1.7484, 60.2),
}
index_gaps = st.floats(min_value=1e-4, max_value=0.2)


@pytest.fixture
def printed_angles(reference):
    """Minerals with printed indices and 2V; the file's `source_id` says where from."""
    rows = reference("trade/biaxial_2v.csv")
    return {
        row["mineral"]: (*(float(row[name]) for name in ("alpha", "beta", "gamma")), row)
        for row in rows
    }


@pytest.mark.parametrize(("case"), WORKED_ANGLES.items(), ids=lambda case: case[0])
def test_two_v_of_a_typical_crystal(case):
    *indices, angle_deg = case[1]
    assert two_v(*indices) == approx(angle_deg, abs=0.05)


def test_two_v_agrees_with_the_angles_worked_out_for_printed_indices(printed_angles):
    assert len(printed_angles) == 3
    for *indices, row in printed_angles.values():
        # The table gives one decimal.
        assert two_v(*indices) == approx(float(row["two_Vz_deg"]), abs=0.05)
        assert optic_sign(*indices) == row["sign_from_indices"]


def test_the_printed_angle_lies_in_the_range_that_rounding_leaves(printed_angles):
    # Measured 2V (alstonite; topaz 48 to 68, so its nearer end) inside the range from ±0.0005.
    low, high = two_v_range(*printed_angles["alstonite"][:3], 0.0005)
    assert low < 180 - 6 < high
    low, high = two_v_range(*printed_angles["topaz, low set"][:3], 0.0005)
    assert (low, high) == approx((53, 79), abs=0.5)
    assert low < 68 < high


def test_andalusite_read_to_three_decimals_has_no_certain_sign(printed_angles):
    # Listed as negative with 2V 71 to 86; its printed indices alone say positive.
    low, high = two_v_range(*printed_angles["andalusite"][:3], 0.0005)
    assert (low, high) == approx((71, 97), abs=0.5)
    assert low < 90 < high


def test_uniaxial_homework_indices_give_their_published_sign_and_birefringence(reference):
    case = next(r for r in reference("trade/worked_examples.jsonl") if r["id"] == "uniaxial-akron")
    n_e, n_o = case["inputs"]["n_epsilon"], case["inputs"]["n_omega"]
    assert optic_sign(n_e, n_o, n_o) == case["expected"]["sign"]
    assert birefringence(n_e, n_o, n_o) == approx(case["expected"]["birefringence"], abs=1e-9)


@given(n_alpha=st.floats(1.3, 2.6), first=index_gaps, second=index_gaps)
def test_the_section_square_to_an_optic_axis_is_a_circle_of_radius_beta(n_alpha, first, second):
    indices = np.array([n_alpha, n_alpha + first, n_alpha + first + second])
    v = np.radians(two_v(*indices) / 2)
    axis, across = (np.sin(v), 0.0, np.cos(v)), (np.cos(v), 0.0, -np.sin(v))
    for turn in np.linspace(0, np.pi, 7):
        radial = np.cos(turn) * np.array(across) + np.sin(turn) * np.array([0.0, 1.0, 0.0])
        assert radial @ np.array(axis) == approx(0, abs=1e-12)
        # The radius is an index: 1e-9 is a millionth of the finest reading.
        assert np.sum((radial / indices) ** 2) ** -0.5 == approx(indices[1], abs=1e-9)


@given(n_alpha=st.floats(1.3, 2.6), first=index_gaps, second=index_gaps)
def test_arrays_and_scalars_agree(n_alpha, first, second):
    indices = n_alpha, n_alpha + first, n_alpha + first + second
    together = two_v_of_stones(*(np.array([n]) for n in indices))
    assert together[0] == approx(two_v(*indices), abs=1e-9)


@given(
    n_alpha=st.floats(1.3, 2.6),
    first=index_gaps,
    second=index_gaps,
    error=st.floats(1e-5, 2e-3),
    shift=st.tuples(*[st.floats(-1, 1)] * 3),
)
def test_no_misreading_within_the_error_leaves_the_range(n_alpha, first, second, error, shift):
    indices = np.array([n_alpha, n_alpha + first, n_alpha + first + second])
    misread = indices + error * np.array(shift)
    assume(misread[0] <= misread[1] <= misread[2] and misread[0] < misread[2])
    low, high = two_v_range(*indices, error)
    # The arithmetic of near-equal indices costs up to a millionth of a degree.
    assert low - 1e-6 <= two_v(*misread) <= high + 1e-6


def test_two_v_reaches_its_uniaxial_limits():
    assert two_v(1.544, 1.544, 1.553) == 0
    assert two_v(1.762, 1.770, 1.770) == 180
    assert optic_sign(1.544, 1.544, 1.553) == "+"
    assert optic_sign(1.762, 1.770, 1.770) == "-"


def test_an_isotropic_stone_has_no_angle():
    assert np.isnan(two_v_of_stones(*(np.array([1.718]) for _ in range(3)))[0])
    with pytest.raises(IsotropicError, match=r"1\.7180"):
        two_v(1.718, 1.718, 1.718)
    with pytest.raises(IsotropicError):
        optic_sign(1.718, 1.718, 1.718)


@pytest.mark.parametrize("ask", [two_v, optic_sign, birefringence])
def test_indices_out_of_order_are_refused(ask):
    with pytest.raises(IndexOrderError, match="sort the values first"):
        ask(1.7427, 1.7484, 1.7408)


def test_an_error_that_hides_the_birefringence_leaves_every_angle_open():
    assert two_v_range(1.540, 1.5405, 1.541, 0.0005) == (0, 180)
