"""Entries that cannot be right: each is refused under its own field, with a way out."""

from typing import Any

import pytest
from pytest import approx

from isogyre.instruments.entry import NotANumberError, decimals_of, parse_number

# (record, field the trouble stands under, a word its message must hold)
REFUSED: list[tuple[dict[str, Any], str, str]] = [
    ({"ri_low": 1.770, "ri_high": 1.762}, "ri_low", "above"),
    ({"ri_low": 1.2, "ri_high": 1.762}, "ri_low", "1.3"),
    ({"ri_low": 1.762, "ri_high": 3.6}, "ri_high", "3.5"),
    ({"ri_spot": 0.155}, "ri_spot", "1.3"),
    ({"ri_low": 1.544, "ri_high": 1.553, "birefringence": 0.036}, "birefringence", "contradicts"),
    ({"birefringence": -0.009}, "birefringence", "0"),
    ({"ri_low": 1.544, "ri_high": 1.553, "ri_turn": "half"}, "ri_turn", "full"),
    ({"ri_low": "over", "ri_high": 1.77}, "ri_low", "number"),
    ({"weight_air_ct": 0, "weight_liquid_ct": 0}, "weight_air_ct", "zero"),
    ({"weight_air_ct": 2.0, "weight_liquid_ct": 2.5}, "weight_liquid_ct", "swap"),
    ({"weight_air_ct": 2.0, "weight_liquid_ct": 2.0}, "weight_liquid_ct", "swap"),
    ({"weight_air_ct": 2.0}, "weight_liquid_ct", "missing"),
    ({"weight_liquid_ct": 2.0}, "weight_air_ct", "missing"),
    (
        {"weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "temperature_c": 55},
        "temperature_c",
        "°C",
    ),
    (
        {"weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "liquid": "ethanol", "temperature_c": 35},
        "temperature_c",
        "ethanol",
    ),
    (
        {"weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "liquid": "brandy"},
        "liquid",
        "brandy",
    ),
    ({"weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "balance_readability_ct": 0},
     "balance_readability_ct", "0.0001"),
    ({"weight_air_ct": 5.0, "weight_liquid_ct": 4.9999}, "weight_liquid_ct", "relative density"),
    ({"sg": 0.4}, "sg", "0.8"),
    ({"sg": "heavy"}, "sg", "number"),
    ({"heavy_liquid": {"sg": 3.32}}, "heavy_liquid", "sinks"),
    ({"heavy_liquid": {"sg": 33.2, "result": "sinks"}}, "heavy_liquid", "0.8"),
    ({"heavy_liquid": "sinks in 3.32"}, "heavy_liquid", "sinks"),
    ({"spectrum_lines_nm": ["blue"]}, "spectrum_lines_nm", "number"),
    ({"uv_peak_nm": 254}, "uv_peak_nm", "340"),
    ({"colour": "red", "light": "moonlight"}, "light", "daylight"),
    ({"hardness": 11}, "hardness", "10"),
    ({"reflectivity_index": 5}, "reflectivity_index", "3.5"),
    ({"claim": {"words": "ruby", "trust": "high"}}, "", "number"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("record", "field", "word"),
    REFUSED,
    ids=[f"{f} {w} {n}" for n, (_, f, w) in enumerate(REFUSED)],
)
def test_an_impossible_entry_is_refused_under_its_field(read, record, field, word):
    troubles = read(record).troubles
    assert troubles
    assert all(trouble.field.startswith(field) for trouble in troubles)
    assert any(word in trouble.message for trouble in troubles)
    assert all(len(trouble.message) > 15 for trouble in troubles)


def test_all_troubles_of_a_record_are_told_at_once(read):
    troubles = read(ri_spot=9, sg="x", weight_air_ct=0, weight_liquid_ct=0, light="moon").troubles
    assert {t.field for t in troubles} >= {"ri_spot", "sg", "weight_air_ct", "light"}


def test_a_long_entry_is_not_repeated_in_full(read):
    (trouble,) = read(sg="4" + "x" * 10_000).troubles
    assert len(trouble.message) < 300


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("1,762", 1.762),
        ("1.762", 1.762),
        (" 3.52 ct", 3.52),
        ("3,52ct", 3.52),
        ("20 °C", 20),
        ("589 nm", 589),
        ("about 2.65", 2.65),
        ("ca. 2.65", 2.65),
        ("\u22120.5", -0.5),
        ("3.32 g/cm³", 3.32),
        (4, 4),
        (4.0, 4),
    ],
)
def test_a_number_may_be_typed_as_people_type_it(typed, number):
    assert parse_number(typed) == number


@pytest.mark.parametrize(
    "typed",
    ["", " ", "1.762-1.770", "1.7.6", "ct", "four", "2 ct 3", True, None, float("nan"),
     float("inf"), "1e999", 10**400, [1.7], {"a": 1}, "💎", "1,762.5"],
)  # fmt: skip
def test_what_is_no_single_number_is_refused(typed):
    with pytest.raises(NotANumberError):
        parse_number(typed)


@pytest.mark.parametrize(
    ("values", "decimals"),
    [(("3.5",), 1), (("3.52 g/cm3",), 2), (("1,762", "1.77"), 3), ((4,), 0), (("20 °C",), 0)],
)
def test_a_unit_behind_a_number_adds_no_decimals(values, decimals):
    assert decimals_of(*values) == decimals


UNITS_ACCEPTED: list[tuple[dict[str, Any], dict[str, Any]]] = [
    ({"ri_low": "1,762", "ri_high": "1,770"}, {"ri_low": "1.762", "ri_high": "1.770"}),
    ({"sg": "3.52 g/cm3"}, {"sg": "3.52"}),
    ({"spectrum_lines_nm": "589 nm"}, {"spectrum_lines_nm": [589]}),
    ({"spectrum_lines_nm": "450, 460 and 470 nm"}, {"spectrum_lines_nm": [450, 460, 470]}),
    ({"spectrum_lines_nm": "450,460,470"}, {"spectrum_lines_nm": [450, 460, 470]}),
    ({"spectrum_lines_nm": ["450 nm", "460,5"]}, {"spectrum_lines_nm": [450, 460.5]}),
    ({"spectrum_lines_nm": 450}, {"spectrum_lines_nm": [450]}),
    (
        {"weight_air_ct": "2,00 ct", "weight_liquid_ct": "1.50 ct", "temperature_c": "20 °C"},
        {"weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "temperature_c": 20},
    ),
    ({"uv_lw": "weak red", "uv_peak_nm": "395 nm"}, {"uv_lw": "weak red", "uv_peak_nm": 395}),
]


@pytest.mark.parametrize(("typed", "plain"), UNITS_ACCEPTED, ids=lambda record: str(record)[:40])
def test_units_and_commas_read_as_the_plain_figures(sparse, read, typed, plain):
    got, wanted = read(typed), read(plain)
    assert not got.troubles
    assert not got.ignored
    assert len(got.readings) == len(wanted.readings) > 0
    for reading, same in zip(got.readings, wanted.readings, strict=True):
        term, other = reading.term(sparse), same.term(sparse)
        for array, expected in ((term.rows, other.rows), (term.stones, other.stones)):
            assert (array is None) == (expected is None)
            assert array is None or array == approx(expected)


NOT_UNDERSTOOD: list[tuple[str, Any]] = [
    ("colour", "qwxzy"),
    ("colour_incandescent", "qwxzy"),
    ("transparency", "qwxzy"),
    ("lustre", "qwxzy"),
    ("form", "qwxzy"),
    ("polariscope", "qwxzy"),
    ("optic_character", "qwxzy"),
    ("optic_sign", "qwxzy"),
    ("pleochroism", "qwxzy"),
    ("uv_lw", "qwxzy"),
    ("uv_sw", "qwxzy"),
    ("spectrum_text", "qwxzy"),
    ("chelsea", "qwxzy"),
    ("magnet", "qwxzy"),
    ("thermal", "qwxzy"),
    ("electrical", "qwxzy"),
    ("ri_text", "qwxzy"),
    ("ri_kind", "qwxzy"),
    ("magnification", ["qwxzy"]),
    ("not_seen", ["qwxzy"]),
    ("claim", "qwxzy"),
    ("laboratory", {"conclusion": "qwxzy", "matched": "yes"}),
    ("heavy_liquid", {"sg": 3.32, "result": "qwxzy"}),
    ("met", "qwxzy"),
    ("tone", "qwxzy"),
    ("saturation", "qwxzy"),
    ("qwxzy", "some word"),
]


@pytest.mark.parametrize(("key", "value"), NOT_UNDERSTOOD, ids=[key for key, _ in NOT_UNDERSTOOD])
def test_a_word_nobody_knows_is_told_as_ignored_and_changes_nothing(read, key, value):
    found = read({key: value})
    assert not found.readings
    told = [*found.ignored, *found.troubles]
    assert [entry.field for entry in told] == [key]


def test_every_declared_field_was_tried_with_a_word_nobody_knows(read, instruments):
    """A field added later must say what becomes of words it does not know."""
    tried = {key for key, _ in NOT_UNDERSTOOD}
    for field in (f for instrument in instruments for f in instrument.fields):
        if field.kind in ("choice", "words") and field.key not in tried:
            assert field.key in ("ri_turn", "liquid", "light", "sg_method"), field.key


@pytest.mark.parametrize("empty", [None, "", "  "], ids=["null", "empty", "blank"])
def test_an_empty_field_is_as_good_as_absent(read, instruments, empty):
    record = {
        "ri_low": "1.762", "ri_high": "1.770", "colour": "red", "magnification": ["silk"],
    }  # fmt: skip
    keys = [f.key for instrument in instruments for f in instrument.fields]
    found = read({key: empty for key in [*keys, "met", "qwxzy"]} | record)
    plain = read(record)
    assert (found.troubles, found.ignored) == ((), ())
    assert [(r.field, r.shown) for r in found.readings] == [
        (r.field, r.shown) for r in plain.readings
    ]
