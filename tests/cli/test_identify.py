"""`isogyre identify`: the contract of its JSON, its words, and what it refuses."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pytest import approx

RUBY = {"id": "r1", "colour": "red", "ri_low": 1.762, "ri_high": 1.770, "sg": 4.00}
KEYS = {
    "id", "species", "candidates", "origin", "treated", "misfit", "weights", "prior_odds_to_tip",
    "next", "ignored",
}  # fmt: skip
NEVER_SAID = ("certain", "certified", "certificate", "untreated", "100 %", "100%")


def line(record):
    return json.dumps(record) + "\n"


def test_a_record_is_answered_with_every_key_of_the_contract(isogyre):
    answer = isogyre("identify", "-", "--json", given=line(RUBY)).answer
    assert answer.keys() >= KEYS
    assert answer["id"] == "r1"
    assert answer["species"][0]["name"] == "corundum"
    assert answer["misfit"].keys() >= {"tail_probability", "suspects"}
    assert answer["next"].keys() >= {"id", "kit", "settles", "next"}
    test = answer["next"]["next"][0]
    assert test.keys() >= {"test", "gain_bits", "minutes", "why", "harm"}


def test_the_probabilities_of_every_question_sum_to_one(isogyre):
    answer = isogyre("identify", "-", "--json", given=line(RUBY)).answer
    species = [share["probability"] for share in answer["species"]]
    assert sum(species) == approx(1)
    assert species == sorted(species, reverse=True)
    assert sum(answer["origin"].values()) == approx(1)
    assert sum(answer["treated"].values()) == approx(1)
    assert "unlisted" in {share["name"] for share in answer["species"]}


@pytest.mark.parametrize("options", [(), ("--json",)])
def test_nothing_is_called_certain_or_untreated(isogyre, options):
    stone = RUBY | {"magnification": ["silk"], "spectrum_text": "chromium lines"}
    said = isogyre("identify", "-", *options, given=line(stone)).out
    assert [word for word in NEVER_SAID if word in said] == []


def test_the_plain_answer_opens_with_the_species_and_its_odds(isogyre):
    first = isogyre("identify", "-", given=line(RUBY)).out.splitlines()[0]
    assert first.startswith("Corundum, ")
    assert "to 1 on" in first


def test_what_is_not_understood_is_listed_and_not_dropped(isogyre):
    stone = RUBY | {"magnification": ["silk", "zzqx vrrp"], "lustre": "splendid"}
    ignored = isogyre("identify", "-", "--json", given=line(stone)).answer["ignored"]
    assert {(i["field"], i["value"]) for i in ignored} >= {
        ("magnification", "zzqx vrrp"),
        ("lustre", "splendid"),
    }


@pytest.mark.parametrize(
    ("record", "field"),
    [
        ({"ri_low": 1.77, "ri_high": 1.76}, "ri_low"),
        ({"ri_low": 17.6, "ri_high": 1.77}, "ri_low"),
        ({"ri_low": 1.762, "ri_high": 1.770, "birefringence": 0.05}, "birefringence"),
        ({"weight_air_ct": 0, "weight_liquid_ct": 0}, "weight_air_ct"),
        ({"weight_air_ct": 1.0, "weight_liquid_ct": 1.2}, "weight_liquid_ct"),
        (
            {"weight_air_ct": 1.0, "weight_liquid_ct": 0.7, "temperature_c": 95},
            "temperature_c",
        ),
        ({"sg": "heavy"}, "sg"),
    ],
)
def test_an_impossible_entry_is_refused_in_one_line_that_names_it(isogyre, record, field):
    ended = isogyre("identify", "-", "--json", given=line(record))
    assert ended.code == 2
    assert ended.out == ""
    assert len(ended.err.strip().splitlines()) == 1
    assert f"{field}: " in ended.err


@pytest.mark.parametrize(
    "given",
    ["", "{", "[]", "null", '"text"', "{}", '{"colour": "zzqx"}', '{"sg": NaN}', b"\xff\xfe\xfd"],
)
def test_what_is_no_usable_record_is_refused_in_one_line(isogyre, given):
    ended = isogyre("identify", "-", "--json", given=given)
    assert ended.code == 2
    assert len(ended.err.strip().splitlines()) == 1


def test_a_file_that_is_not_there_is_named(isogyre):
    ended = isogyre("identify", "no-such-file.json")
    assert ended.code == 2
    assert "no-such-file.json" in ended.err


def test_decimal_commas_and_units_are_read(isogyre):
    typed = {"ri_low": "1,762", "ri_high": "1,770", "sg": "4.0", "weight_ct": "1.14 ct"}
    answer = isogyre("identify", "-", "--json", given=line(RUBY | typed)).answer
    assert answer["species"][0]["name"] == "corundum"
    assert answer["ignored"] == []


def test_contradictory_readings_are_kept_and_shown_as_misfit(isogyre):
    stone = RUBY | {"optic_character": "isotropic", "polariscope": "SR"}
    answer = isogyre("identify", "-", "--json", given=line(stone)).answer
    assert answer["misfit"]["tail_probability"] < 0.1
    assert answer["misfit"]["suspects"][0]["field"] in ("polariscope", "optic_character", "ri_low")


@pytest.mark.parametrize(
    "contradiction",
    [
        {"optic_character": "isotropic", "birefringence": 0.02},
        {"polariscope": "SR", "ri_low": 1.62, "ri_high": 1.64, "sg": 3.06, "pleochroism": "strong"},
        {"optic_character": "isotropic", "ri_low": 1.762, "ri_high": 1.770, "sg": 4.0},
    ],
)
def test_a_contradiction_is_told_in_words_with_a_suspect(isogyre, contradiction):
    said = isogyre("identify", "-", given=line({"colour": "red"} | contradiction)).out
    assert "First suspect: " in said


def test_sound_readings_name_no_suspect(isogyre):
    assert "First suspect: " not in isogyre("identify", "-", given=line(RUBY)).out


def test_a_batch_goes_on_after_broken_lines_and_names_them(isogyre):
    given = line(RUBY) + "{broken\n\n" + line({"ri_low": 1.8, "ri_high": 1.7}) + line(RUBY)
    ended = isogyre("identify", "-", "--batch", "--json", given=given)
    answers = [json.loads(printed) for printed in ended.out.splitlines()]
    assert ended.code == 2
    assert [answer["line"] for answer in answers] == [1, 5]
    assert "line 2" in ended.err
    assert "line 4: ri_low" in ended.err


def test_a_sound_batch_ends_with_success(isogyre):
    ended = isogyre("identify", "-", "--batch", "--json", given=line(RUBY) * 3)
    assert ended.code == 0
    assert len(ended.out.splitlines()) == 3


PLAIN = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8)
ODD = st.recursive(
    PLAIN,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["sg", "words", "conclusion", "x"]), inner, max_size=3)
    ),
    max_leaves=5,
)
FIELDS = st.sampled_from([
    "colour", "ri_low", "ri_high", "sg", "magnification", "not_seen", "laboratory", "claim", "met",
    "spectrum_lines_nm", "heavy_liquid", "uv_lw", "form", "id", "nonsense",
])  # fmt: skip


@settings(
    max_examples=60, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.dictionaries(FIELDS, ODD, max_size=5))
def test_odd_records_are_answered_or_refused_but_never_a_fault(isogyre, record):
    ended = isogyre("identify", "-", "--json", given=json.dumps(record))
    assert ended.code in (0, 2), ended.err
    assert "Traceback" not in ended.err
