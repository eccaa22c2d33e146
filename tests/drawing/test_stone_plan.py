"""A stone in plan: the proportions given, one scale for all, true size where asked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.outlines import CUTS, plan
from isogyre.drawing.stone_plan import StonePlan, draw_stone_plan
from tests.drawing.reading import described, parts, points, words

MEASURE = st.floats(2, 40)
# The first outlines that a faceted stone is drawn over, and a cabochon's only one.
OUTLINED = [cut for cut in CUTS if cut != "emerald cut"]


def extent(outline):
    """Return greatest length and width of some points."""
    x, y = zip(*outline, strict=True)
    return max(x) - min(x), max(y) - min(y)


@pytest.mark.parametrize("cut", CUTS)
@given(length=MEASURE, width=MEASURE)
def test_an_outline_fills_its_box(cut, length, width):
    across, down = extent(plan(cut, (length / 2, width / 2), 480))
    # A pear's belly and a heart's lobes are given by round figures: within a hundredth.
    assert across == approx(length, rel=0.02)
    assert down == approx(width, rel=0.04)


@pytest.mark.parametrize("cut", OUTLINED)
def test_two_stones_of_a_list_are_drawn_at_one_scale(cut):
    small, large = (
        extent(
            points(parts(draw_stone_plan(StonePlan(cut, mm, mm, units_per_mm=9), "a"), "path")[0])
        )
        for mm in (4.0, 8.0)
    )
    assert large == approx((2 * small[0], 2 * small[1]), rel=0.01)


def test_an_oval_has_the_length_and_the_width_given():
    drawn = draw_stone_plan(StonePlan("oval", 8.0, 6.0, units_per_mm=10), "a")
    # Paths are written to a tenth of a unit, here a hundredth of a millimetre.
    assert extent(points(parts(drawn, "path")[0])) == approx((80, 60), abs=0.2)


def test_the_measures_are_written_beside_it():
    drawn = draw_stone_plan(StonePlan("cushion", 6.1, 5.4, has_measures=True), "a")
    assert {"6.1 mm", "5.4"} <= set(words(drawn))
    assert "6.1 mm long, 5.4 mm wide" in described(drawn)


@given(MEASURE, MEASURE)
def test_at_true_size_the_sheet_is_as_large_as_it_says(length, width):
    stone = StonePlan("oval", length, width, true_size=True, units_per_mm=50)
    root = parts(draw_stone_plan(stone, "a"), "svg")[0]
    sheet_units = float(root.get("viewBox").split()[2])
    units_per_mm = sheet_units / float(root.get("width").removesuffix("mm"))
    # 96 units to the inch, as a page counts; sizes are written to a hundredth.
    assert units_per_mm == approx(96 / 25.4, rel=0.003)


def test_a_ruler_of_ten_millimetres_stands_at_the_scale_of_the_stone():
    stone = StonePlan("round", 6.5, 6.5, units_per_mm=20, has_ruler=True)
    drawn = draw_stone_plan(stone, "a")
    start, end = points(parts(drawn, "path")[-1])
    assert end[0] - start[0] == approx(10 * 20, abs=0.1)
    assert words(drawn) == ["10 mm"]


def test_stones_of_one_box_stand_on_sheets_of_one_size():
    boxes = [
        parts(draw_stone_plan(StonePlan("oval", mm, mm - 1, box_mm=(12, 10)), "a"), "svg")[0]
        for mm in (5.0, 9.0, 11.0)
    ]
    assert len({root.get("viewBox") for root in boxes}) == 1


def test_a_star_is_seen_and_told():
    star = StonePlan("oval cabochon", 9, 7.8, "blue", phenomenon="six-rayed star")
    plain = StonePlan("oval cabochon", 9, 7.8, "blue")
    assert "six-rayed star" in described(draw_stone_plan(star, "a"))
    assert len(parts(draw_stone_plan(star, "a"), "path")) > len(
        parts(draw_stone_plan(plain, "a"), "path")
    )


@pytest.mark.parametrize("measures", [(0.1, 5), (5, 0.1), (100, 5), (float("nan"), 5)])
def test_a_measure_that_no_stone_has_is_refused(measures):
    with pytest.raises(OutOfRangeError):
        StonePlan("oval", *measures)


def test_a_scale_of_nothing_is_refused():
    with pytest.raises(OutOfRangeError):
        StonePlan("oval", 5, 5, units_per_mm=0)


@pytest.mark.parametrize("wrong", [{"phenomenon": "fire"}, {"hue": "mauve"}, {"cut": "briolette"}])
def test_an_unknown_word_is_refused(wrong):
    with pytest.raises(UnknownWordError):
        StonePlan(**{"cut": "oval", "length_mm": 5, "width_mm": 4, **wrong})
