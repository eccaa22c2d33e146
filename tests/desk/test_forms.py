"""Forms hold every field that an instrument declares, and a record what was typed in them."""

import pytest

from isogyre.desk import open_workbench
from isogyre.desk.page.forms import Remarks, entries_in, owner_of, record_of, sheets
from isogyre.evidence import fields_of
from isogyre.instruments import Ignored, Trouble


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
