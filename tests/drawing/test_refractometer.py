"""The refractometer's scale: an edge stands at its index, dark and bright as the law has it."""

from math import asin, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.drawing.errors import EdgeOrderError, OutOfRangeError, SpotAndEdgesError
from isogyre.drawing.refractometer import (
    BRIGHT,
    CENTRE,
    DARK,
    HALF_DARK,
    RADIUS,
    SOFTNESS,
    Edge,
    RefractometerScale,
    draw_refractometer,
    height_of,
)
from isogyre.optics.reflectance import critical_angle
from tests.drawing.reading import box, described, parts, words

INDEX = st.floats(1.36, 1.78)
PRISM = 1.90


def field_at(drawn, y):
    """Return the colour of the field at a height, away from the soft run of an edge."""
    wide = [r for r in parts(drawn, "rect") if box(r)[2] == approx(2 * RADIUS)]
    over = [r for r in wide if r.get("fill").startswith("#") and box(r)[1] <= y]
    return over[-1].get("fill")


def edges(drawn):
    """Return the heights at which the field changes, each the middle of a soft run."""
    soft = [box(r) for r in parts(drawn, "rect") if r.get("fill").startswith("url")]
    return [y + height / 2 for _, y, _, height in soft]


@given(INDEX, INDEX)
def test_each_edge_lies_at_the_height_of_its_index(one, other):
    low, high = sorted((one, other))
    scale = RefractometerScale(Edge(low), Edge(high))
    expected = [height_of(scale, n) for n in sorted({low, high, scale.limit})]
    # The sheet is written to a hundredth of a unit.
    assert edges(draw_refractometer(scale, "a")) == approx(expected, abs=0.02)


def test_the_whole_numbers_of_the_scale_stand_beside_their_ticks():
    scale = RefractometerScale(Edge(1.544), Edge(1.553))
    texts = parts(draw_refractometer(scale, "a"), "text")
    # The middle of a figure's height lies 5 units above its line.
    at = {"".join(t.itertext()): float(t.get("y")) - 5 for t in texts if t.get("x") == "130"}
    assert at == {f"{n:.2f}": approx(height_of(scale, n), abs=0.02) for n in map(float, at)}


@pytest.mark.parametrize("n", [1.434, 1.544, 1.624, 1.718, 1.762])
def test_the_field_is_bright_where_light_is_totally_reflected(n):
    scale = RefractometerScale(Edge(n))
    drawn = draw_refractometer(scale, "a")
    for reading in (n - 0.02, n + 0.02):
        # Light that comes to this place of the scale met the facet at this angle.
        angle_deg = degrees(asin(reading / PRISM))
        is_reflected = angle_deg > critical_angle(PRISM, n)
        assert field_at(drawn, height_of(scale, reading)) == (BRIGHT if is_reflected else DARK)


def test_between_two_edges_the_field_is_half_dark():
    scale = RefractometerScale(Edge(1.654), Edge(1.690))
    drawn = draw_refractometer(scale, "a")
    shown = [field_at(drawn, height_of(scale, n)) for n in (1.60, 1.67, 1.74)]
    assert shown == [DARK, HALF_DARK, BRIGHT]


@given(INDEX)
def test_the_edges_of_an_isotropic_stone_are_one(n):
    both = RefractometerScale(Edge(n), Edge(n))
    assert draw_refractometer(both, "a") == draw_refractometer(RefractometerScale(Edge(n)), "a")
    assert len(both.edges) == 1


def test_an_index_beyond_the_liquid_shows_no_edge_of_the_stone():
    scale = RefractometerScale(Edge(2.41), Edge(2.41), limit=1.80)
    drawn = draw_refractometer(scale, "a")
    assert edges(drawn) == approx([height_of(scale, 1.80)], abs=0.02)
    assert field_at(drawn, height_of(scale, 1.79)) == DARK
    assert "No edge of a stone" in described(drawn)
    assert "2.41" not in drawn


def test_one_edge_below_the_limit_and_one_beyond_leaves_the_field_half_dark_to_the_limit():
    scale = RefractometerScale(Edge(1.777), Edge(1.836), limit=1.81)
    drawn = draw_refractometer(scale, "a")
    assert edges(drawn) == approx([height_of(scale, n) for n in (1.777, 1.81)], abs=0.02)
    assert field_at(drawn, height_of(scale, 1.80)) == HALF_DARK
    assert "1.836" not in drawn


def test_a_spot_balances_at_its_index():
    scale = RefractometerScale(spot=Edge(1.66, 0.01))
    drawn = draw_refractometer(scale, "a")
    middle = parts(drawn, "ellipse")[1]
    assert float(middle.get("cy")) == approx(height_of(scale, 1.66), abs=0.02)
    assert "half dark and half bright at 1.66 ± 0.01" in described(drawn)


def test_figures_carry_no_more_decimals_than_their_error_allows():
    rows = words(draw_refractometer(RefractometerScale(Edge(1.762, 0.001)), "a"))
    assert {"1.762", "± 0.001"} <= set(rows)
    assert Edge(1.66, 0.01).decimals == 2
    assert Edge(1.7712, 0.0005).decimals == 4


def test_the_scale_stays_in_the_eyepiece():
    scale = RefractometerScale(scale_from=1.30, scale_to=1.90)
    ends = [height_of(scale, n) for n in (1.30, 1.90)]
    assert CENTRE[1] - RADIUS + SOFTNESS < ends[0] < ends[1] < CENTRE[1] + RADIUS - SOFTNESS


@pytest.mark.parametrize(
    "wrong",
    [
        {"low": 0.9},
        {"low": float("nan")},
        {"low": 1.30},
        {"scale_from": 1.80, "scale_to": 1.81},
        {"scale_from": 1.2},
        {"scale_to": 2.3},
    ],
)
def test_an_edge_or_a_scale_out_of_range_is_refused(wrong):
    with pytest.raises(OutOfRangeError):
        RefractometerScale(**{k: Edge(v) if k == "low" else v for k, v in wrong.items()})


def test_an_error_as_large_as_a_scale_is_refused():
    with pytest.raises(OutOfRangeError):
        Edge(1.5, 0.2)


def test_a_lower_edge_above_the_upper_is_refused():
    with pytest.raises(EdgeOrderError):
        RefractometerScale(Edge(1.70), Edge(1.60))


def test_a_spot_and_edges_in_one_view_are_refused():
    with pytest.raises(SpotAndEdgesError):
        RefractometerScale(Edge(1.54), spot=Edge(1.54))
