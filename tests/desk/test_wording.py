"""Odds are said as people say them, and nothing is ever said to be certain."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.desk.wording import (
    SPOKEN_CHANCES,
    SPOKEN_ODDS,
    factor_in_words,
    odds_in_words,
    per_cent,
)


@pytest.mark.parametrize(
    ("probability", "words", "figure"),
    [
        (0.5, "about even", "50 %"),
        (0.6, "about 3 to 2 on", "60 %"),
        (0.9, "about 9 to 1 on", "90 %"),
        (0.976, "about 40 to 1 on", "97.6 %"),
        (0.064, "about 1 in 16", "6.4 %"),
        (0.4, "about 2 in 5", "40 %"),
        (1.0, "more than 1000 to 1 on", "over 99.9 %"),
        (0.0, "less than 1 in 1000", "under 0.1 %"),
    ],
)
def test_a_probability_is_said_in_odds_and_in_per_cent(probability, words, figure):
    assert odds_in_words(probability) == words
    assert per_cent(probability) == figure


@given(st.floats(0, 1))
def test_nothing_is_certain_in_either_way_of_saying(probability):
    assert per_cent(probability) not in {"100 %", "100.0 %", "0 %", "0.0 %"}
    assert odds_in_words(probability)


# The widest step that is spoken is from 100 to 150; its middle, on a scale of logarithms, is off
# by the square root of one and a half.
WIDEST = 1.5**0.5 - 1


@given(st.floats(0.001, 0.999))
def test_the_odds_said_are_near_the_odds_meant(probability):
    said = odds_in_words(probability).removeprefix("about ").removesuffix(" on")
    if said == "even":
        assert 0.45 <= probability <= 0.55
    elif said in SPOKEN_ODDS.values():
        odds = next(value for value, words in SPOKEN_ODDS.items() if words == said)
        assert odds == pytest.approx(probability / (1 - probability), rel=WIDEST)
    else:
        chance = next(value for value, words in SPOKEN_CHANCES.items() if words == said)
        assert chance == pytest.approx(1 / probability, rel=WIDEST)


@pytest.mark.parametrize(
    ("log10_odds", "words"),
    [(0.0, "nothing"), (0.778, "6 ×"), (-0.49, "1 : 3.1"), (2.2, "160 ×"), (9.0, "over 1000 ×"),
     (-9.0, "1 : over 1000")],
)  # fmt: skip
def test_a_weight_is_said_as_the_factor_on_the_odds(log10_odds, words):
    assert factor_in_words(log10_odds) == words
