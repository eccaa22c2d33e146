"""The rule tables hold together with the catalogue, and a faulty table is refused."""

import pytest

from isogyre.trade import TradeRulesError, load_rules
from isogyre.trade.load import TABLES

# Traits that no test makes worse: they matter to the worker, the law, or a recut.
HARMLESS = {"protected", "radioactive", "skin"}
KINDS = {"crystal", "aggregate", "rock", "amorphous", "glass", "assembled", "organic", "plastic"}


def test_every_rule_cites_a_source_of_the_catalogue(rules, catalogue):
    rows = [row for table in TABLES for row in getattr(rules, table)]
    assert {key for row in rows for key in row.source.split(";")} - set(catalogue.sources) == set()


def test_no_row_says_more_than_hand_tests_can(rules):
    rows = [row for table in TABLES for row in getattr(rules, table)]
    said = " ".join(row.model_dump_json().lower() for row in rows)
    assert [w for w in ("certain", "certified", "untreated", "100 %", "100%") if w in said] == []


def test_every_trait_a_stone_can_carry_is_weighed(rules, catalogue):
    rows = (*catalogue.materials.values(), *catalogue.treatments.values())
    carried = {trait for row in rows for trait in row.traits}
    assert carried - {rule.trait for rule in rules.harm} == HARMLESS & carried


def test_no_harm_rule_is_about_a_trait_that_nothing_carries(rules, catalogue):
    rows = (*catalogue.materials.values(), *catalogue.treatments.values())
    carried = {trait for row in rows for trait in row.traits} | KINDS
    assert {rule.trait for rule in rules.harm if rule.trait} - carried == set()


def test_every_treatment_has_words_for_the_label(rules, catalogue):
    assert {rule.treatment for rule in rules.treated} == set(catalogue.treatments)


def test_names_are_about_stones_the_catalogue_holds(rules, every_stone):
    for field in ("species", "variety", "material", "growth", "origin"):
        asked = {
            w for r in (*rules.name, *rules.frame, *rules.assumed) for w in getattr(r, field, ())
        }
        assert asked - {getattr(stone, field) for stone in every_stone} == set()


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (
            "[[harm]]\ntests = ['acid']\nverdict = 'never'\nwhy = 'a'\nlifted_by = 'b'\n"
            "source = 'common'",
            "about a trait or about a state",
        ),
        ("[[caution]]\nsubjects = ['acid']\ncaution = 'mind'", "source"),
        ("[[wisdom]]\nsource = 'common'", "no table is called 'wisdom'"),
        ("[[caution]", "rules.toml"),
        (
            "[[frame]]\norigin = ['natural']\nframe = '{name}'\ntreatment_said = 'always'\n"
            "source = 'common'",
            "fit every stone",
        ),
    ],
)
def test_a_faulty_table_is_refused(tmp_path, text, fault):
    (tmp_path / "rules.toml").write_text(text, "utf-8")
    with pytest.raises(TradeRulesError, match=fault):
        load_rules(tmp_path)
