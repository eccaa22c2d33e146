"""The record of one stone: what was seen, measured and told, as plain values."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from isogyre.evidence.prior import DEFAULT_SETTING, SETTINGS, Setting, setting_of
from isogyre.instruments import Field, Ignored, Instrument, Reading, Trouble

# Keys that describe the stone or its papers; they are kept and shown, not weighed.
DESCRIPTIVE = frozenset(
    (
        "id",
        "form",
        "weight_ct",
        "sg_method",
        "note",
        "source",
        "truth",
        "advanced",
        "measures_mm",
        "tone",
        "saturation",
        "price",
        "whose",
        "place",
    )
)
FORMS = ("faceted", "cabochon", "rough", "bead", "carving", "mounted")


@dataclass(frozen=True)
class RecordReading:
    """Everything the bench's instruments made of one record."""

    readings: tuple[Reading, ...]
    ignored: tuple[Ignored, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    setting: Setting = field(default_factory=lambda: SETTINGS[DEFAULT_SETTING])
    states: frozenset[str] = frozenset()


def read_record(record: Mapping[str, Any], instruments: Sequence[Instrument]) -> RecordReading:
    """Hand a record to every instrument and gather readings, troubles and what nobody knew."""
    readings: list[Reading] = []
    ignored: list[Ignored] = []
    troubles: list[Trouble] = []
    for instrument in instruments:
        found = instrument.read(record)
        readings += found.readings
        ignored += found.ignored
        troubles += found.troubles
    ignored += _unknown_keys(record, instruments)
    setting = SETTINGS[DEFAULT_SETTING]
    if record.get("met"):
        stated = setting_of(str(record["met"]))
        if stated is None:
            reason = "no such setting; known: " + ", ".join(SETTINGS)
            ignored.append(Ignored("met", str(record["met"]), reason))
        setting = stated or setting
    return RecordReading(
        tuple(readings), tuple(ignored), tuple(troubles), setting, stone_states(record)
    )


def stone_states(record: Mapping[str, Any]) -> frozenset[str]:
    """Return the states of a stone that decide which tests it can bear."""
    form = str(record.get("form") or "").lower()
    states = {form} if form in FORMS else set()
    if form != "rough":
        states.add("finished")
    if "opaque" in str(record.get("transparency") or "").lower():
        states.add("opaque")
    return frozenset(states)


def fields_of(instruments: Sequence[Instrument]) -> dict[str, Field]:
    """Return every field of a record that some instrument reads, under its key."""
    return {field.key: field for instrument in instruments for field in instrument.fields}


def _unknown_keys(record: Mapping[str, Any], instruments: Sequence[Instrument]) -> list[Ignored]:
    known = {*fields_of(instruments), *DESCRIPTIVE, "met"}
    return [
        Ignored(key, str(value), "no instrument reads this field")
        for key, value in record.items()
        if key not in known and value not in (None, "", [], {})
    ]
