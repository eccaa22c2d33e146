"""Places on a figure: a whole stays whole, the datum stands between for and against."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.desk.page.chips import chips
from isogyre.desk.page.figures import BeamScale, odds_mark, odds_place, split
from isogyre.desk.page.scale import reading_scale

WEIGHTS = st.lists(st.floats(-20, 20), min_size=1, max_size=12)


def test_even_odds_stand_in_the_middle_and_reciprocal_odds_opposite():
    assert odds_place(0.5) == 50
    assert odds_place(0.9) + odds_place(0.1) == pytest.approx(100)
    assert odds_place(0.0) == 0
    assert odds_place(1.0) == 100


def test_a_mark_spans_the_answers_of_all_settings():
    mark = odds_mark(0.9, (0.5, 0.99))
    assert mark.low == 50
    assert mark.low + mark.width == pytest.approx(odds_place(0.99))


@given(WEIGHTS)
def test_every_bar_starts_or_ends_at_the_datum_and_stays_on_the_figure(weights):
    scale = BeamScale.of(weights)
    for weight in weights:
        bar = scale.bar(weight)
        assert bar.at >= 0
        assert bar.at + bar.width <= 100.01  # places are rounded to a hundredth of a per cent
        if bar.side == "for":
            assert bar.at == scale.datum
        elif bar.side == "against":
            assert bar.at + bar.width == pytest.approx(scale.datum, abs=0.02)


@given(st.lists(st.floats(0.01, 1), min_size=1, max_size=6))
def test_slices_of_a_whole_lie_side_by_side_and_fill_it(parts):
    whole = sum(parts)
    slices = split([part / whole for part in parts])
    assert slices[0].at == 0
    assert slices[-1].at + slices[-1].width == pytest.approx(100, abs=0.1)
    for left, right in pairwise(slices):
        assert left.at + left.width == pytest.approx(right.at, abs=0.02)


def test_a_pair_of_edges_lies_between_worded_ticks():
    scale = reading_scale([1.762, 1.770], 0.001, 1.3, 3.5)
    assert [tick.word for tick in scale.ticks if tick.word] == ["1.75", "1.76", "1.77", "1.78"]
    places = {tick.word: tick.at for tick in scale.ticks if tick.word}
    low, high = (mark.at for mark in scale.marks)
    assert places["1.76"] < low < high == places["1.77"]


@given(st.lists(st.floats(1.3, 3.5), min_size=1, max_size=3))
def test_a_scale_has_ticks_that_can_be_told_apart_whatever_was_read(figures):
    scale = reading_scale(sorted(figures), 0.001, 1.3, 3.5)
    assert 5 <= len(scale.ticks) <= 61
    assert all(0 <= mark.at <= 100 for mark in (*scale.ticks, *scale.marks))


@pytest.mark.parametrize(
    ("words", "count"), [("blue / yellowish green", 2), ("weak red", 1), ("inert", 0), ("DR", 0)]
)
def test_each_colour_named_gets_a_chip(words, count):
    assert len(chips(words)) == count


def test_a_light_blue_is_shown_lighter_than_a_blue_and_a_dark_one_darker():
    light, plain, dark = (int(chips(w)[0][5:7], 16) for w in ("light blue", "blue", "dark blue"))
    assert light > plain > dark


def test_a_tinge_pulls_a_chip_towards_its_hue():
    tinged, plain = (int(chips(words)[0][1:3], 16) for words in ("reddish brown", "brown"))
    assert tinged > plain
