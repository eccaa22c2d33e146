"""What others say: weak if claimed, near proof if a report is shown to be this stone's."""

import numpy as np
import pytest
from pytest import approx

RUBY = "natural ruby"


def report(conclusion, matched="yes"):
    return {"conclusion": conclusion, "matched": matched}


@pytest.fixture(scope="module")
def factor(log_rows, rows_of):
    """Return by how much testimony multiplies the odds of one kind of stone against another."""

    def factor(first, second, **entries):
        log = log_rows(**entries)
        return float(np.exp(log[rows_of(**first)].max() - log[rows_of(**second)].max()))

    return factor


NATURAL = {"variety": "ruby", "origin": "natural", "treatment": ""}
GROWN = {"variety": "ruby", "origin": "synthetic", "treatment": ""}


def test_a_claim_moves_little_and_a_matched_report_much(factor):
    claimed = factor(NATURAL, GROWN, claim=RUBY)
    unmatched = factor(NATURAL, GROWN, laboratory=report(RUBY, matched=""))
    matched = factor(NATURAL, GROWN, laboratory=report(RUBY))
    assert 1 < claimed < unmatched < matched
    assert claimed < 2
    assert unmatched < 3
    assert 20 < matched < 1000


@pytest.mark.parametrize("matched", ["no", "", None, "not yet", "false"])
def test_a_report_not_matched_counts_as_a_claim_only_and_says_so(read, matched):
    found = read(laboratory=report(RUBY, matched=matched))
    assert [i.field for i in found.ignored] == ["laboratory"]
    assert "claim" in found.ignored[0].reason


def test_a_claim_of_stated_trust_is_never_proof(factor):
    assert factor(NATURAL, GROWN, claim={"words": RUBY, "trust": 0.95}) == approx(20)
    assert factor(NATURAL, GROWN, claim={"words": RUBY, "trust": 0}) == approx(1)


def test_a_report_of_a_grown_stone_turns_the_odds(factor):
    assert factor(NATURAL, GROWN, laboratory=report("synthetic ruby")) < 0.1


@pytest.mark.parametrize("said", ["glass-filled ruby", "lead-glass filled natural ruby"])
def test_a_filled_natural_stone_is_not_taken_for_glass(factor, said):
    filled = {"variety": "ruby", "origin": "natural", "treatment": "lead-glass filling"}
    assert factor(filled, GROWN, laboratory=report(said)) > 10
    assert factor(filled, NATURAL, laboratory=report(said)) > 10


@pytest.mark.parametrize(
    "said",
    ["natural ruby, no indications of heating", "natural ruby, unheated", "ruby, not heated",
     "ruby, no heat"],
)  # fmt: skip
def test_a_denied_treatment_is_not_read_as_given(factor, said):
    heated = NATURAL | {"treatment": "heat"}
    assert factor(NATURAL, heated, laboratory=report(said)) > 10


def test_a_heated_stone_is_read_as_heated(factor):
    heated = NATURAL | {"treatment": "heat"}
    assert factor(heated, NATURAL, laboratory=report("natural ruby, heated")) > 10


def test_not_synthetic_is_not_read_as_synthetic(factor):
    assert factor(NATURAL, GROWN, laboratory=report("ruby, not synthetic")) > 10


def test_a_comparison_moves_odds_by_less_than_a_reading(log_rows, rows_of):
    log = log_rows(spectrum_text="visible spectrum consistent with jadeite")
    lead = log[rows_of(species="jadeite")].max() - log[rows_of(species="quartz")].max()
    assert 0 < lead < np.log(5)


@pytest.mark.parametrize(
    "value", [{"conclusion": ""}, {"degree": "minor"}, {"date": "2024"}], ids=str
)
def test_a_report_without_a_conclusion_is_told_as_such(read, value):
    found = read(laboratory=value)
    assert not found.readings
    assert [entry.field for entry in (*found.ignored, *found.troubles)] == ["laboratory"]
