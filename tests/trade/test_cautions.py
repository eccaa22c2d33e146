"""Cautions stand where the work is, and defer to local codes and the maker."""

import pytest

from isogyre.trade import UnknownSubjectError, cautions_for


def test_every_published_caution_is_given(rules, reference):
    cited = {key for rule in rules.caution for key in rule.source.split(";")}
    read = {key for row in reference("trade/safety.csv") for key in row["source_id"].split(";")}
    assert read - cited == set()


def test_every_test_that_can_hurt_has_a_caution_for_the_hands_that_make_it(rules):
    harmless_to_the_hand = {"water weighing"}
    for test in set(rules.harm_by_test) - harmless_to_the_hand:
        assert cautions_for(test, rules)


def test_every_caution_defers_to_local_codes_and_the_maker(rules):
    for caution in cautions_for("heavy liquid", rules):
        assert "Local codes" in caution.defers
        assert "maker" in caution.defers


def test_the_limit_of_bromoform_is_the_published_one(rules, reference):
    row = next(r for r in reference("trade/safety.csv") if r["hazard"] == "bromoform")
    assert "0.5 ppm" in row["caution"]
    assert any("0.5 ppm" in caution.caution for caution in cautions_for("bromoform", rules))


def test_a_subject_without_cautions_is_refused_rather_than_called_harmless(rules):
    with pytest.raises(UnknownSubjectError, match="ultraviolet lamp"):
        cautions_for("ultra-violet", rules)
