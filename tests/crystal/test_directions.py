"""Angles between lattice directions and planes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.crystal.cell import Cell
from isogyre.crystal.directions import (
    cubic_family,
    direction_angle,
    line_angles,
    plane_angle,
    three_index_direction,
)
from isogyre.crystal.errors import FourIndexError, NoDirectionError

CUBIC = Cell(5.0, 5.0, 5.0)
# Corundum, cell from memory as in the table of oriented inclusions.
CORUNDUM = Cell(4.759, 4.759, 12.991, gamma=120)
indices = st.tuples(*[st.integers(-6, 6)] * 3).filter(any)


@pytest.fixture
def checked_angles(reference):
    """The rows of the table of oriented inclusions that were computed as check values."""
    rows = [r for r in reference("oriented_inclusions.csv") if r["source_id"] == "computed"]
    assert len(rows) == 6
    return {r["inclusion"]: r["angles_deg"] for r in rows}


@pytest.mark.parametrize(
    ("row", "first", "second"),
    [
        ("needles along <111>", (1, 1, 1), (1, 1, 1)),
        ("needles along <100>", (1, 0, 0), (1, 0, 0)),
        ("needles along <110>", (1, 1, 0), (1, 1, 0)),
        ("<111> with <110>", (1, 1, 1), (1, 1, 0)),
        ("<111> with <100>", (1, 1, 1), (1, 0, 0)),
    ],
)
def test_needles_of_a_cubic_host_meet_at_the_published_angles(row, first, second, checked_angles):
    found = line_angles(CUBIC, cubic_family(first), cubic_family(second))
    printed = {float(angle) for angle in checked_angles[row].split(";")}
    # A row may give only the acute one of two ways to measure, so compare as lines.
    as_lines = {min(angle, round(180 - angle, 2)) for angle in found}
    # Printed to 0.01°.
    assert sorted(as_lines) == approx(sorted({min(p, round(180 - p, 2)) for p in printed}))


def test_prism_directions_of_first_and_second_order_lie_30_degrees_apart(checked_angles):
    first = three_index_direction(1, 0, -1, 0)
    second = three_index_direction(1, 1, -2, 0)
    printed = float(checked_angles["first- and second-order directions in (0001)"])
    assert direction_angle(CORUNDUM, first, second) == approx(printed, abs=1e-9)


def test_silk_of_corundum_lies_in_the_base_at_60_and_120_degrees():
    # Published with the row of rutile in corundum: 60;120, down [0001].
    sets = [three_index_direction(*i) for i in ((1, 0, -1, 0), (0, 1, -1, 0), (1, -1, 0, 0))]
    assert line_angles(CORUNDUM, sets, sets) == {60.0, 120.0}
    assert all(direction_angle(CORUNDUM, line, (0, 0, 1)) == approx(90) for line in sets)


@given(first=indices, second=indices)
def test_in_a_cubic_crystal_a_plane_is_square_to_its_direction(first, second):
    assert plane_angle(CUBIC, first, second) == approx(
        direction_angle(CUBIC, first, second), abs=1e-5
    )


@given(first=indices, second=indices)
def test_reversing_a_direction_gives_the_supplement(first, second):
    back = tuple(-i for i in second)
    angle = direction_angle(CORUNDUM, first, second)
    # acos loses half the digits near 0 and 180°.
    assert direction_angle(CORUNDUM, first, back) == approx(180 - angle, abs=1e-5)


def test_faces_of_a_hexagonal_prism_meet_at_60_degrees_and_stand_on_the_base():
    assert plane_angle(CORUNDUM, (1, 0, 0), (0, 1, 0)) == approx(60)
    assert plane_angle(CORUNDUM, (1, 0, 0), (0, 0, 1)) == approx(90)


@pytest.mark.parametrize(
    ("line", "count"), [((1, 0, 0), 3), ((1, 1, 1), 4), ((1, 1, 0), 6), ((1, 2, 3), 24)]
)
def test_a_cubic_family_has_its_textbook_number_of_lines(line, count):
    assert len(cubic_family(line)) == count


def test_a_direction_without_indices_is_refused():
    with pytest.raises(NoDirectionError):
        direction_angle(CUBIC, (0, 0, 0), (1, 0, 0))
    with pytest.raises(NoDirectionError):
        plane_angle(CUBIC, (1, 0, 0), (0, 0, 0))


def test_four_indices_that_do_not_close_are_refused():
    with pytest.raises(FourIndexError, match="should be -1"):
        three_index_direction(1, 0, 0, 0)
