"""Stones that come in by the data door: a record as a stone with its readings."""

import re
from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from typing import Any

from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.identify import identify
from isogyre.desk.standings import note_afresh
from isogyre.desk.thread import FORMS, Taken, keep_values, stone_record, texts_of
from isogyre.evidence import fields_of, read_record
from isogyre.instruments import Trouble
from isogyre.instruments.entry import NotANumberError, parse_number
from isogyre.ledger import Stone

# What describes the stone and is no reading: key of the record, field of the stone's entry.
OF_THE_STONE = {"met": "met", "place": "place", "where_met": "where_met"}
# What a record may hold in any form: it is kept as it came, in the note.
NOTED = ("note", "price", "whose")
MEASURES = ("length_mm", "width_mm", "depth_mm")
LONGEST_NAME = 200
BETWEEN_MEASURES = re.compile(r"\s*[x×*;/]\s*", re.IGNORECASE)


def take_record(house: House, record: Mapping[str, Any], taken: Taken | None = None) -> str:
    """Enter a stone with all the readings of its record; return the id it is kept under.

    Raises
    ------
    RecordTroubleError
        If an entry cannot be; nothing is kept then.
    LedgerError
        If the ledger cannot keep it.
    """
    how = taken or Taken(by="a program")
    read = read_record(record, house.workbench.instruments)
    if troubles := [*read.troubles, *_wrong_words(record)]:
        raise RecordTroubleError(troubles)
    stone = _stone(house, record)
    fields = fields_of(house.workbench.instruments)
    values = {k: v for k, v in record.items() if k in fields and v not in (None, "", [], {})}
    with house.ledger.session() as work:
        work.stones.enter(stone, by=how.by)
        keep_values(house, work, stone.id, values, how)
    note_afresh(house, [stone.id])
    return stone.id


def _stone(house: House, record: Mapping[str, Any]) -> Stone:
    declared = fields_of(house.workbench.instruments)["claim"]
    stone_id = house.new_id()
    claim = record.get("claim")
    form = record.get("form")
    said = {field: str(record[key]) for key, field in OF_THE_STONE.items() if record.get(key)}
    return Stone(
        id=stone_id,
        name=str(record.get("id") or f"stone {stone_id[-6:]}")[:LONGEST_NAME],
        created_at=house.now(),
        form=form if form in FORMS else None,
        claim=texts_of(declared, claim)["claim"] if claim else "",
        note="\n".join(
            str(record[key]) if key == "note" else f"{key}: {record[key]}"
            for key in NOTED
            if record.get(key) not in (None, "")
        ),
        **said,  # type: ignore[arg-type]
        **dict(zip(MEASURES, measures_in(record.get("measures_mm")), strict=False)),  # type: ignore[arg-type]
    )


def measures_in(value: Any) -> list[float]:
    """Return length, width and depth in mm of a list or of words such as 6.1 x 5.4 x 3.8.

    What cannot be measures of one stone, such as four figures or one below zero, gives none.
    """
    items = value if isinstance(value, list | tuple) else BETWEEN_MEASURES.split(str(value or ""))
    try:
        figures = [parse_number(item) for item in items]
    except NotANumberError:
        return []
    return figures if len(figures) <= len(MEASURES) and min(figures) > 0 else []


def _wrong_words(record: Mapping[str, Any]) -> list[Trouble]:
    """Return a trouble for each description that is no text."""
    described = ("id", "note", *OF_THE_STONE)
    return [
        Trouble(key, "this is not words between quotes: write it so, or leave the field out")
        for key in described
        if record.get(key) is not None and not isinstance(record[key], str | int)
    ]


def add_readings(house: House, stone_id: str, said: Mapping[str, Any]) -> dict[str, Any]:
    """Keep more readings of a stone, and say how many were appended.

    ``said`` is a record of what was read, or ``{"readings": [...]}``, each with ``field`` and
    ``value``. A field that was read before is superseded; ``reason`` says why.

    Raises as `take_record`, and UnknownEntryError if there is no such stone.
    """
    values = _values_in(said)
    fields = fields_of(house.workbench.instruments)
    unknown = [
        Trouble(key, "no instrument reads this field") for key in values if key not in fields
    ]
    if not values or unknown:
        nothing = Trouble("readings", 'no reading in it: send for instance {"ri_low": 1.762}')
        raise RecordTroubleError(unknown or [nothing])
    if troubles := read_record(values, house.workbench.instruments).troubles:
        raise RecordTroubleError(troubles)
    how = Taken(by=str(said.get("taken_by") or "a program"), reason=str(said.get("reason") or ""))
    with house.ledger.session() as work:
        kept = keep_values(house, work, stone_id, values, how)
    note_afresh(house, [stone_id])
    return {"id": stone_id, "kept": kept}


def _values_in(said: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values of a record, or of a list of readings, under their keys."""
    listed = said.get("readings")
    if not isinstance(listed, list):
        return {k: v for k, v in said.items() if k not in ("reason", "taken_by", "id")}
    values: dict[str, Any] = {}
    for reading in listed:
        if not isinstance(reading, Mapping) or not isinstance(reading.get("field"), str):
            shape = 'each reading is an object with "field" and "value"'
            raise RecordTroubleError([Trouble("readings", shape)])
        values.setdefault(reading["field"], []).append(reading.get("value"))
    # A field that is sent once is meant as it is; one that is sent often is a list of phrases.
    return {key: found[0] if len(found) == 1 else found for key, found in values.items()}


def standing_of(house: House, stone_id: str, kit: str, settle: str) -> Mapping[str, Any]:
    """Return where a stone stands, as `identify` answers.

    Raises
    ------
    RecordTroubleError
        If nothing was read of it yet.
    UnknownEntryError
        If there is no such stone.
    """
    with house.ledger.view() as work:
        stone, readings = work.stones.get(stone_id), work.readings.current(stone_id)
    record = stone_record(house.workbench, stone, readings)
    return identify(house.workbench, record, kit, settle)


def stone_as_data(house: House, stone_id: str) -> dict[str, Any]:
    """Return a stone as it is entered, with every reading ever made of it, as JSON holds it."""
    with house.ledger.view() as work:
        listed = work.stones.listed(stone_id)
        thread = work.readings.thread(stone_id)
    return {
        **_plain(asdict(listed.stone)),
        "revision": listed.revision,
        "is_archived": listed.is_archived,
        "readings": [_plain(asdict(reading)) for reading in thread],
    }


def _plain(row: Mapping[str, Any]) -> dict[str, Any]:
    return {k: v.isoformat() if isinstance(v, datetime) else v for k, v in row.items()}
