"""Kits in use: what they propose, what they miss, and what their errors do to a record."""

import pytest

from isogyre.desk import UnknownEntryError, UnknownWordError, identify, next_tests, open_house
from isogyre.desk.kits import (
    BuiltInKitError,
    KitNameTakenError,
    choose_kit,
    chosen_kit,
    kit_named,
    kits_at_hand,
    remove_kit,
    save_kit,
    with_kit_errors,
)
from isogyre.desk.page.next import first_part, kit_options, next_part
from isogyre.instruments.kits import KITS, Kit

RED = {"colour": "red"}
GLANCE = frozenset({"colour", "magnet"})


def fields_in(tests):
    return [test["field"] for test in tests]


def test_only_tests_of_the_kit_are_proposed_and_only_others_are_missing(workbench):
    for kit in (*KITS.values(), Kit("glance", "", GLANCE)):
        answer = next_tests(workbench, RED, kit)
        assert answer["kit"] == kit.name
        assert {*fields_in(answer["next"]), *fields_in(answer["blocked"])} <= kit.fields
        assert not kit.fields & set(fields_in(answer["missing"]))


def test_a_built_in_kit_is_the_same_by_its_name_and_as_a_value(workbench):
    assert next_tests(workbench, RED, "pocket") == next_tests(workbench, RED, KITS["pocket"])
    assert identify(workbench, RED, "pocket") == identify(workbench, RED, KITS["pocket"])


def test_a_kit_nobody_has_is_refused_by_name(workbench):
    with pytest.raises(UnknownWordError, match="'suitcase' is none of pocket, bench, full"):
        next_tests(workbench, RED, "suitcase")


def test_what_a_poor_kit_misses_is_named_best_first_and_once_a_field(workbench):
    answer = next_tests(workbench, RED, Kit("glance", "", GLANCE))
    missing = fields_in(answer["missing"])
    assert len(missing) == len(set(missing)) == 3
    gains = [test["gain_bits"] for test in answer["missing"]]
    assert gains == sorted(gains, reverse=True)
    assert gains[0] > max(test["gain_bits"] for test in answer["next"])
    assert all(test["why"] for test in answer["missing"])


def test_nothing_is_missing_where_the_kit_holds_every_test(workbench):
    every = frozenset(t.field for i in workbench.instruments for t in i.tests)
    assert next_tests(workbench, RED, Kit("all", "", every))["missing"] == []


def test_a_test_this_stone_cannot_bear_is_not_missing(workbench):
    """An opaque blue stone may be turquoise: contact liquid and water are not for it."""
    kit = Kit("glance", "", GLANCE)
    answer = next_tests(workbench, {"colour": "blue", "transparency": "opaque"}, kit)
    harms = [test["harm"] for test in answer["missing"]]
    assert all(harm is None or harm["verdict"] != "never" for harm in harms)
    assert "sg" not in fields_in(answer["missing"])


def test_a_kits_own_minutes_are_told_and_rank_by_the_minute(workbench):
    slow = Kit("slow", "", KITS["bench"].fields, {"sg": 90.0})
    told = next_tests(workbench, RED, slow)["next"]
    assert {test["minutes"] for test in told if test["field"] == "sg"} == {90.0}
    by_minute = next_tests(workbench, RED, slow, per_minute=True)["next"]
    assert "sg" not in fields_in(by_minute)


def test_a_poor_refractometer_is_told_with_a_smaller_gain(workbench):
    def gain(sd):
        kit = Kit("own", "", KITS["bench"].fields, errors={"ri_sd": sd})
        answer = next_tests(workbench, RED, kit)
        # Until the stone is known to bear the contact liquid, the test is told as blocked.
        told = [*answer["next"], *answer["blocked"]]
        (edges,) = (test["gain_bits"] for test in told if test["field"] == "ri_low")
        return edges

    assert gain(0.01) < gain(0.001)


def test_the_page_shows_what_is_missing_without_expectations_before_any_reading(workbench):
    answer = next_tests(workbench, {}, "pocket")
    assert [row.expected for row in first_part(answer).missing] == [()] * len(answer["missing"])
    rows = next_part(next_tests(workbench, RED, "pocket")).missing
    assert rows
    assert all(row.expected and row.anchor and row.gain for row in rows)


def test_own_kits_stand_beside_the_built_in_ones_to_choose_from():
    own = Kit("fair", "in the coat", GLANCE)
    options = kit_options("fair", (*KITS.values(), own))
    assert [(o.value, o.is_chosen) for o in options][-2:] == [("full", False), ("fair", True)]
    assert [o.value for o in kit_options("bench")] == list(KITS)


# ---- a record taken with a kit

FIGURES = {
    "ri_sd": 0.004,
    "ri_spot_sd": 0.01,
    "ri_limit": 1.79,
    "sg_sd": 0.03,
    "balance_readability_ct": 0.001,
    "uv_peak_nm": 395.0,
    "reflectivity_sd": 0.1,
}
OWN = Kit("own", "", GLANCE, errors=FIGURES)


@pytest.mark.parametrize(
    ("reading", "added"),
    [
        ({"ri_low": 1.762, "ri_high": 1.77}, {"ri_sd"}),
        ({"ri_high": "1.77"}, {"ri_sd"}),
        ({"ri_spot": 1.76}, {"ri_spot_sd"}),
        ({"ri_text": "beyond the limit"}, {"ri_limit"}),
        ({"sg": "4.00"}, {"sg_sd"}),
        ({"weight_air_ct": 2, "weight_liquid_ct": 1.5}, {"balance_readability_ct"}),
        ({"uv_lw": "weak red"}, {"uv_peak_nm"}),
        ({"reflectivity_index": 1.76}, {"reflectivity_sd"}),
        ({"colour": "red", "sg": " ", "ri_low": None}, set()),
        ({}, set()),
    ],
)
def test_a_reading_gets_the_figures_of_its_own_instrument_and_no_others(workbench, reading, added):
    expected = {**reading, **{key: FIGURES[key] for key in added}}
    assert with_kit_errors(workbench, reading, OWN) == expected


def test_what_the_record_says_itself_stays(workbench):
    record = {"ri_low": 1.762, "ri_sd": "0.002"}
    assert with_kit_errors(workbench, record, OWN) == record


def test_a_blank_figure_is_filled(workbench):
    assert with_kit_errors(workbench, {"sg": 4, "sg_sd": ""}, OWN)["sg_sd"] == FIGURES["sg_sd"]


def test_a_built_in_kit_adds_nothing(workbench):
    record = {"ri_low": 1.762, "ri_high": 1.77, "sg": 4.0, "uv_lw": "inert"}
    assert with_kit_errors(workbench, record, KITS["full"]) == record


def test_one_edge_never_becomes_a_reading_beyond_the_scale(workbench):
    """Beside a lower edge alone a limit would say that the upper one lies beyond it."""
    taken = with_kit_errors(workbench, {"ri_low": 1.54}, OWN)
    (weight,) = identify(workbench, taken)["weights"]
    assert "beyond" not in weight["shown"]


def test_a_kits_error_widens_what_a_stone_can_be(workbench):
    record = {"ri_low": 1.762, "ri_high": 1.770, "colour": "blue"}
    poor = Kit("own", "", GLANCE, errors={"ri_sd": 0.02})
    leads = [
        identify(workbench, r)["species"][0]["probability"]
        for r in (record, with_kit_errors(workbench, record, poor))
    ]
    assert leads[1] < leads[0]


# ---- kits in the ledger


@pytest.fixture
def house(tmp_path, workbench):
    house = open_house(tmp_path, workbench=workbench)
    yield house
    house.close()


COAT = Kit("coat", "at fairs", GLANCE, {"magnet": 2.0}, {"ri_limit": 1.79})


def test_a_house_begins_with_the_built_in_kits_and_the_bench_in_use(house):
    assert kits_at_hand(house) == tuple(KITS.values())
    assert chosen_kit(house) == KITS["bench"]


def test_a_saved_kit_comes_back_as_it_was_and_after_the_built_in_ones(house):
    save_kit(house, COAT)
    assert kits_at_hand(house) == (*KITS.values(), COAT)
    assert kit_named(house, "coat") == COAT


def test_a_kit_is_chosen_and_the_usual_one_returns_when_it_is_gone(house):
    save_kit(house, COAT)
    choose_kit(house, "coat")
    assert chosen_kit(house) == COAT
    assert remove_kit(house, "coat") == COAT
    assert chosen_kit(house) == KITS["bench"]


@pytest.mark.parametrize("act", [choose_kit, remove_kit, kit_named])
def test_a_kit_that_is_not_there_is_refused(house, act):
    with pytest.raises(UnknownEntryError, match="suitcase"):
        act(house, "suitcase")


@pytest.mark.parametrize("name", ["coat", "bench"])
def test_a_new_kit_never_replaces_another(house, name):
    save_kit(house, COAT)
    with pytest.raises(KitNameTakenError, match=f"'{name}'"):
        save_kit(house, Kit(name, "new", GLANCE))
    assert kits_at_hand(house) == (*KITS.values(), COAT)


def test_a_renamed_kit_stays_in_use_and_leaves_no_other_behind(house):
    save_kit(house, COAT)
    choose_kit(house, "coat")
    travel = Kit("travel", "", GLANCE)
    save_kit(house, travel, instead_of="coat")
    assert kits_at_hand(house) == (*KITS.values(), travel)
    assert chosen_kit(house) == travel


def test_a_built_in_kit_is_not_removed(house):
    with pytest.raises(BuiltInKitError, match="built in"):
        remove_kit(house, "pocket")
