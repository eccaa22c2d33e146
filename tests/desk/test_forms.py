"""Forms hold every field that an instrument declares, and a record what was typed in them."""

import pytest

from isogyre.desk import open_workbench
from isogyre.desk.page.feature_drawing import feature_drawing
from isogyre.desk.page.forms import Remarks, entries_in, owner_of, record_of, sheets
from isogyre.desk.page.vocabulary import MOST_TELLING, telling_features
from isogyre.evidence import fields_of
from isogyre.instruments import Ignored, Trouble
from isogyre.instruments.dichroscope import DICHROSCOPE
from isogyre.instruments.hues import hue_weights
from isogyre.instruments.lamps import glow_weights
from isogyre.population.words import GLOWS, HUES


@pytest.fixture(scope="module")
def workbench():
    return open_workbench()


def controls(workbench, entries=None, remarks=None):
    return {
        control.key: control
        for sheet in sheets(workbench, entries or {}, remarks)
        for control in sheet.controls
    }


def sheet_with(workbench, key, entries, remarks=None):
    return next(
        sheet
        for sheet in sheets(workbench, entries, remarks)
        if key in {control.key for control in sheet.controls}
    )


def test_every_field_of_every_instrument_has_its_control(workbench):
    shown = controls(workbench)
    for key, declared in fields_of(workbench.instruments).items():
        parts = declared.parts if declared.kind == "object" else (None,)
        assert parts, f"{key} declares no parts to enter"
        for part in parts:
            control = shown[f"{key}.{part.key}" if part else key]
            said = part or declared
            assert (control.label, control.unit, control.low, control.high, control.hint) == (
                said.label,
                said.unit,
                said.low,
                said.high,
                said.hint,
            )


def test_no_key_stands_on_two_sheets(workbench):
    keys = [control.key for sheet in sheets(workbench, {}) for control in sheet.controls]
    assert len(keys) == len(set(keys))


def test_cautions_stand_on_the_sheet_of_their_instrument(workbench):
    refractometer = sheet_with(workbench, "ri_low", {})
    assert any("toxic" in caution for caution in refractometer.cautions)


def test_a_record_holds_phrases_numbers_and_objects_in_their_own_shape(workbench):
    entries = {
        "magnification": "silk, in three directions\n fingerprint ; zircon halos",
        "spectrum_lines_nm": "450, 460 470;471,5",
        "ri_low": "1,762",
        "heavy_liquid.sg": "3.32",
        "heavy_liquid.result": "sinks",
    }
    assert record_of(workbench, entries) == {
        "magnification": ["silk, in three directions", "fingerprint", "zircon halos"],
        "spectrum_lines_nm": ["450", "460", "470", "471,5"],
        "ri_low": "1,762",
        "heavy_liquid": {"sg": "3.32", "result": "sinks"},
    }


@pytest.mark.parametrize("text", ["450,460,470", "450 460 470", "450; 460; 470"])
def test_lines_may_be_parted_as_people_part_them(workbench, text):
    record = record_of(workbench, {"spectrum_lines_nm": text})
    assert record == {"spectrum_lines_nm": ["450", "460", "470"]}


def test_only_what_a_control_asks_for_is_taken(workbench):
    typed = [("colour", " red "), ("ri_low", "  "), ("truth", "ruby"), ("laboratory", "x")]
    assert entries_in(workbench, typed) == {"colour": "red"}


def test_a_trouble_is_told_at_its_control_and_marks_its_sheet(workbench):
    remarks = Remarks(troubles=[Trouble("heavy_liquid", "write sinks")])
    entries = {"heavy_liquid.sg": "9"}
    assert controls(workbench, entries, remarks)["heavy_liquid.sg"].trouble == "write sinks"
    assert sheet_with(workbench, "heavy_liquid.sg", entries, remarks).state == "cannot"


def test_a_word_that_is_no_choice_stays_among_the_choices(workbench):
    control = controls(workbench, {"polariscope": "sideways"})["polariscope"]
    assert control.value == "sideways"
    assert control.choices[-1] == "sideways"


@pytest.mark.parametrize(
    ("entries", "remarks", "state"),
    [
        ({}, Remarks(), "unread"),
        ({"chelsea": "red"}, Remarks(), "read"),
        ({"chelsea": "red"}, Remarks(suspect="chelsea"), "misfit"),
        ({"chelsea": "mauve"}, Remarks(ignored=[Ignored("chelsea", "mauve", "?")]), "uncounted"),
    ],
)
def test_a_bead_shows_how_a_sheet_stands(workbench, entries, remarks, state):
    assert sheet_with(workbench, "chelsea", entries, remarks).state == state


def test_a_reading_belongs_to_its_instrument_by_name(workbench):
    assert owner_of(workbench, "ri_high") == "refractometer"
    assert owner_of(workbench, "record") == "record"


def test_two_figures_on_one_scale_share_it_and_others_have_their_own(workbench):
    shown = controls(workbench)
    assert shown["ri_low"].scale is None
    assert shown["ri_high"].scale.anchors == (shown["ri_low"].anchor, shown["ri_high"].anchor)
    assert shown["ri_spot"].scale.anchors == (shown["ri_spot"].anchor,)
    for control in shown.values():
        if control.scale:
            scale = control.scale
            assert scale.low <= scale.start < scale.end <= scale.high


def test_a_figure_that_is_weighed_or_counted_has_no_scale(workbench):
    shown = controls(workbench)
    assert not [key for key in shown if key.startswith("weight") and shown[key].scale]


def spoken(*words):
    return " ".join(filter(None, words))


def words_of(palette, name):
    return [word.word for row in palette.rows if row.name == name for word in row.words]


def test_every_colour_that_can_be_picked_is_understood_by_its_hue(workbench):
    palette = controls(workbench)["colour"].palette
    for tone in ("", *words_of(palette, "tone")):
        for degree in ("", *words_of(palette, "how much")):
            for tinge in ("", *words_of(palette, "tinge")):
                for hue in words_of(palette, "hue"):
                    text = spoken(tone, degree, tinge, hue)
                    weights = hue_weights(text)
                    assert weights is not None, text
                    assert HUES[weights.argmax()] == hue, text


def test_a_tinge_that_can_be_picked_moves_the_colour(workbench):
    for tinge in words_of(controls(workbench)["colour"].palette, "tinge"):
        plain, tinged = hue_weights("white"), hue_weights(f"{tinge} white")
        assert tinge == "whitish" or (plain != tinged).any(), tinge


def test_every_glow_that_can_be_picked_is_understood_as_it_is_said(workbench):
    palette = controls(workbench)["uv_lw"].palette
    for strength in words_of(palette, "strength"):
        for hue in words_of(palette, "hue"):
            glow = palette.alone if strength == palette.alone else f"{strength} {hue}"
            assert GLOWS[glow_weights(glow).argmax()] == glow
            if glow != palette.alone:
                assert GLOWS[glow_weights(f"{strength} chalky {hue}").argmax()] == glow


def test_every_pleochroism_that_can_be_picked_is_read(workbench):
    palette = controls(workbench)["pleochroism"].palette
    for strength in words_of(palette, "strength"):
        for tone in ("", *words_of(palette, "tone")):
            text = strength if strength == palette.alone else spoken(strength, tone, "blue / red")
            read = DICHROSCOPE.read({"pleochroism": text})
            assert read.ignored == []
            shown = [reading.shown for reading in read.readings]
            assert shown == ([text] if strength == palette.alone else [text, f"colours {text}"])


def test_features_stand_once_and_those_that_would_tell_most_first(workbench):
    remarks = Remarks(telling=["silk", "no such feature", "gas bubbles", "silk"])
    control = controls(workbench, {}, remarks)["not_seen"]
    groups = control.vocabulary
    assert [row.name for row in groups[0].features] == ["silk", "gas bubbles"]
    assert [group.is_telling for group in groups] == [True] + [False] * (len(groups) - 1)
    names = [row.name for group in groups for row in group.features]
    looked_for = {f.name for f in workbench.catalogue.features.values() if f.where != "lamp"}
    assert sorted(names) == sorted(looked_for)
    assert not controls(workbench)["not_seen"].vocabulary[0].is_telling


def test_the_light_is_asked_before_what_depends_on_it(workbench):
    order = list(controls(workbench))
    for light, seen in (
        ("light", "colour"),
        ("uv_peak_nm", "uv_lw"),
    ):
        assert order.index(light) < order.index(seen)


def test_no_caution_of_any_instrument_or_field_is_left_out(workbench):
    shown = {sheet.name: sheet for sheet in sheets(workbench, {})}
    for instrument in workbench.instruments:
        assert shown[instrument.name].cautions == instrument.cautions
        for control in shown[instrument.name].controls:
            declared = fields_of(workbench.instruments)[control.key.split(".")[0]]
            fields = {part.key: part for part in declared.parts} | {declared.key: declared}
            assert control.caution == fields[control.key.split(".")[-1]].caution


def test_what_the_proposed_tests_look_for_tells_most(workbench):
    proposed = [
        "refractometer",
        "loupe: look for melt growth",
        "polariscope",
        "loupe: look for star",
    ]
    telling = telling_features(workbench, proposed)
    causes = [workbench.catalogue.features[name].cause for name in telling]
    assert set(causes) == {"melt growth", "star"}
    assert causes == sorted(causes)
    every = [test.name for i in workbench.instruments for test in i.tests]
    assert len(telling_features(workbench, every)) == MOST_TELLING
    assert telling_features(workbench, ["refractometer", "no such test"]) == ()


def test_every_feature_that_is_listed_has_a_drawing_of_its_own(workbench):
    groups = controls(workbench)["not_seen"].vocabulary
    rows = [row for group in groups for row in group.features]
    drawings = {feature_drawing(workbench, row.name) for row in rows}
    assert len(drawings) == len(rows)
    assert len({row.drawing.partition("?v=")[2] for row in rows}) == len(rows)
    assert feature_drawing(workbench, "no such feature") is None
