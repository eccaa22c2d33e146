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
    # A blank field is one that was not filled in.
    record = {k: v for k, v in record.items() if not (isinstance(v, str) and not v.strip())}
    troubles = _wrong_kinds(record, instruments)
    unusable = {trouble.field for trouble in troubles}
    usable = {k: v for k, v in record.items() if k not in unusable and v is not None}
    for instrument in instruments:
        found = instrument.read(usable)
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


# What a field of each kind may hold, and how to write it.
KINDS: dict[str, tuple[tuple[type, ...], str]] = {
    "number": ((str, int, float), "a number"),
    "numbers": ((str, int, float, list, tuple), "a list of numbers"),
    "choice": ((str,), "a word between quotes"),
    "words": ((str,), "words between quotes"),
    "phrases": ((str, list, tuple), "a list of phrases between quotes"),
    "object": ((Mapping,), "an object between braces"),
}


def _wrong_kinds(record: Mapping[str, Any], instruments: Sequence[Instrument]) -> list[Trouble]:
    """Return a trouble for each entry that is not of the kind its field can hold."""
    fields = fields_of(instruments)
    return [
        Trouble(key, _expected(fields[key], value))
        for key, value in record.items()
        if key in fields and value is not None and not _is_of_kind(fields[key], value)
    ]


def _is_of_kind(declared: Field, value: Any) -> bool:
    if isinstance(value, bool):
        return False
    if isinstance(value, Mapping) and declared.parts:
        return True
    if isinstance(value, list | tuple):
        item = "words" if declared.kind == "phrases" else "number"
        kinds, _ = KINDS[item]
        items_fit = all(isinstance(v, kinds) and not isinstance(v, bool) for v in value)
        return declared.kind in ("phrases", "numbers") and items_fit
    return isinstance(value, KINDS[declared.kind][0])


def _expected(declared: Field, value: Any) -> str:
    _, wanted = KINDS[declared.kind]
    allowed = declared.hint or ", ".join(declared.choices)
    example = f" ({allowed})" if allowed else ""
    return f"{str(value)[:60]} is not {wanted}{example}: write it so, or leave the field out"


def _unknown_keys(record: Mapping[str, Any], instruments: Sequence[Instrument]) -> list[Ignored]:
    known = {*fields_of(instruments), *DESCRIPTIVE, "met"}
    return [
        Ignored(key, str(value), "no instrument reads this field")
        for key, value in record.items()
        if key not in known and value not in (None, "", [], {})
    ]
