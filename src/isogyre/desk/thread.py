"""A stone's thread of readings: what the ledger keeps as a record to weigh, and what was typed
as readings to keep.

A correction supersedes and a blank withdraws; nothing is overwritten. A form says which readings
it was filled with, so two people who correct one stone at once do not undo each other.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.kits import with_kit_errors
from isogyre.desk.page.forms import leaves, record_of
from isogyre.desk.workbench import Workbench
from isogyre.evidence import fields_of, read_record
from isogyre.instruments import Field
from isogyre.instruments.entry import NotANumberError, parse_number
from isogyre.instruments.kits import Kit
from isogyre.ledger import Reading, Stone
from isogyre.ledger.ledger import Work
from isogyre.ledger.values import ReadingState, StoneForm

# What was looked for in vain or told by somebody is no reading of an instrument.
STATES: dict[str, ReadingState] = {"not_seen": "not seen", "claim": "told", "laboratory": "told"}
# A reason is asked for where a reading is put in place of another; this one if none is given.
READ_AGAIN = "read again"
TAKEN_BACK = "taken back"
# What the stone's own entry says too, so that the list can find and show it.
ALSO_OF_THE_STONE = ("claim", "form")
FORMS: frozenset[str] = frozenset(StoneForm.__args__)  # type: ignore[attr-defined]


@dataclass(frozen=True)
class Taken:
    """How readings were taken: by whom, why another is replaced, and what was remarked.

    ``reasons`` and ``notes`` say so for single instruments, by their names. ``kit`` is what they
    were taken with: its own figures, such as the error of its refractometer, are kept with them.
    """

    by: str = "the bench"
    reason: str = ""
    note: str = ""
    reasons: Mapping[str, str] = field(default_factory=dict)
    notes: Mapping[str, str] = field(default_factory=dict)
    kit: Kit | None = None


# ---- the ledger's rows as a record and as texts ----------------------------------------------


def stone_record(workbench: Workbench, stone: Stone, readings: Sequence[Reading]) -> dict[str, Any]:
    """Return the record that a stone's entry and its current readings make.

    Of several current readings of one field the newest counts; phrases all count.
    """
    fields = fields_of(workbench.instruments)
    record: dict[str, Any] = {"id": stone.name, "met": stone.met}
    record |= {key: getattr(stone, key) or "" for key in ALSO_OF_THE_STONE}
    for reading in readings:
        declared = fields.get(reading.field)
        if declared is not None and declared.kind == "phrases":
            record.setdefault(reading.field, []).extend(phrases_in(reading.value))
        else:
            record[reading.field] = reading.value
    return {key: value for key, value in record.items() if value not in ("", None)}


def stone_entries(workbench: Workbench, record: Mapping[str, Any]) -> dict[str, str]:
    """Return a record as the texts one would type for it, under the keys of the controls."""
    fields = fields_of(workbench.instruments)
    texts: dict[str, str] = {}
    for key, value in record.items():
        texts |= texts_of(fields[key], value) if key in fields else {key: str(value)}
    return {key: text for key, text in texts.items() if text}


def texts_of(declared: Field, value: Any) -> dict[str, str]:
    """Return what one would type for a value, under each key of its control."""
    if isinstance(value, Mapping):
        if declared.kind == "object":
            return {key: _text(value.get(p.key)) for key, p in leaves(declared)}
        return {declared.key: "; ".join(_text(v) for v in value.values())}
    if isinstance(value, list | tuple):
        between = "\n" if declared.kind == "phrases" else " "
        return {declared.key: between.join(map(_text, value))}
    if declared.kind == "object":
        return {leaves(declared)[0][0]: _text(value)}
    return {declared.key: _text(value)}


def phrases_in(value: Any) -> list[str]:
    """Return the phrases of a reading: it may hold one or a list."""
    return [str(phrase) for phrase in value] if isinstance(value, list) else [str(value)]


def rivals(workbench: Workbench, readings: Sequence[Reading]) -> dict[str, tuple[Reading, ...]]:
    """Return the fields of which different readings stand, where only one can count."""
    fields = fields_of(workbench.instruments)
    standing: dict[str, list[Reading]] = {}
    for reading in readings:
        declared = fields.get(reading.field)
        if declared is not None and declared.kind != "phrases":
            found = standing.setdefault(reading.field, [])
            if not any(_is_same(declared, other.value, reading.value) for other in found):
                found.append(reading)
    return {key: tuple(found) for key, found in standing.items() if len(found) > 1}


def _text(value: Any) -> str:
    if value is True:
        return "yes"
    return "" if value is None or value is False else str(value)


# ---- what was typed as readings --------------------------------------------------------------


def keep_entries(
    house: House,
    stone_id: str,
    typed: Mapping[str, str],
    shown: Iterable[str],
    taken: Taken | None = None,
    withdrawn: Iterable[str] = (),
    put_back: Iterable[str] = (),
) -> int:
    """Keep what was typed into the sheets as readings; return how many were appended.

    Parameters
    ----------
    typed
        Texts under the keys of the controls; what is blank may be left out.
    shown
        Ids of the readings the sheets were filled with when they were opened.
    withdrawn
        Ids of readings to take back, whatever stands in their controls.
    put_back
        Ids of withdrawals; what they took back is kept once more, as a reading of now.

    Raises
    ------
    RecordTroubleError
        If an entry cannot be; nothing is kept then.
    UnknownEntryError, LedgerError
        If there is no such stone, or the ledger cannot keep it.
    """
    fields = fields_of(house.workbench.instruments)
    values = record_of(house.workbench, typed)
    with house.ledger.session() as work:
        own = _own_entry(work.stones.get(stone_id))
        thread = {reading.id: reading for reading in work.readings.thread(stone_id)}
        current = {reading.id for reading in work.readings.current(stone_id)}
        back = [thread[name] for name in thread if name in set(withdrawn) & current]
        before = [thread[name] for name in shown if name in thread and thread[name] not in back]
        drafts = [Draft(reading.field, None, reading) for reading in back]
        drafts += [_once_more(thread, name) for name in put_back if _is_withdrawal(thread, name)]
        for declared in fields.values():
            value = values.get(declared.key)
            gone = [reading for reading in back if reading.field == declared.key]
            if declared.kind == "phrases":
                value = _without(value, gone)
            elif any(_is_same(declared, reading.value, value) for reading in gone):
                # Its control was filled by the reading taken back; nobody typed anything there.
                continue
            filled = [reading for reading in before if reading.field == declared.key]
            if not filled and _is_same(declared, own.get(declared.key), value):
                continue
            drafts += _drafts(declared, value, filled)
        return _keep(house, work, stone_id, drafts, taken or Taken())


def _own_entry(stone: Stone) -> dict[str, Any]:
    """Return what the stone's own entry fills into the sheets, where no reading does."""
    return {key: getattr(stone, key) for key in ALSO_OF_THE_STONE if getattr(stone, key)}


def _without(value: Any, gone: Sequence[Reading]) -> Any:
    """Return the phrases that were typed, without those that are taken back."""
    taken = {reading.value for reading in gone}
    return [phrase for phrase in phrases_in(value) if phrase not in taken] if value else value


def _is_same(declared: Field, one: Any, other: Any) -> bool:
    """Whether two values of a field are typed alike."""
    blank: tuple[Any, ...] = (None, "", [], {})
    if one in blank or other in blank:
        return False
    return texts_of(declared, one) == texts_of(declared, other)


def _is_withdrawal(thread: Mapping[str, Reading], name: str) -> bool:
    return name in thread and thread[name].state == "withdrawn"


def _once_more(thread: Mapping[str, Reading], withdrawal_id: str) -> "Draft":
    earlier = thread[str(thread[withdrawal_id].supersedes)]
    first = f"put back, first read {earlier.taken_at:%Y-%m-%d %H:%M} UTC"
    return Draft(earlier.field, earlier.value, note=first)


def keep_values(
    house: House,
    work: Work,
    stone_id: str,
    values: Mapping[str, Any],
    taken: Taken | None = None,
) -> int:
    """Keep values of a record as readings; one that is there already is superseded.

    Raises as `keep_entries`.
    """
    fields = fields_of(house.workbench.instruments)
    current = work.readings.current(stone_id)
    drafts = []
    for key, value in values.items():
        declared = fields.get(key) or Field(key, key, "words")
        before = () if declared.kind == "phrases" else [r for r in current if r.field == key]
        drafts += _drafts(declared, value, before)
    return _keep(house, work, stone_id, drafts, taken or Taken())


@dataclass(frozen=True)
class Draft:
    """A reading about to be kept; without a value it withdraws the one it replaces."""

    field: str
    value: Any
    replaces: Reading | None = None
    note: str = ""


def _drafts(declared: Field, value: Any, shown: Sequence[Reading]) -> list[Draft]:
    """Return what turns the readings shown of a field into what was typed.

    Of several that stand, the last one fills the control. Whatever is typed in its place settles
    which one counts: the others are withdrawn.
    """
    before = [reading for reading in shown if reading.field == declared.key]
    if declared.kind == "phrases":
        return _phrase_drafts(declared.key, value, before)
    if value in (None, "", [], {}):
        return [Draft(declared.key, None, reading) for reading in before]
    if not before:
        return [Draft(declared.key, value)]
    if _is_same(declared, before[-1].value, value):
        return []
    chosen = [reading for reading in before if _is_same(declared, reading.value, value)]
    kept = chosen[-1] if chosen else before[-1]
    others = [Draft(declared.key, None, reading) for reading in before if reading is not kept]
    return others if chosen else [Draft(declared.key, value, kept), *others]


def _phrase_drafts(key: str, value: Any, before: Sequence[Reading]) -> list[Draft]:
    """Return a draft for every phrase that came and for every one that went."""
    wanted = phrases_in(value) if value else []
    there = {reading.value: reading for reading in before if isinstance(reading.value, str)}
    gone = [Draft(key, None, there[phrase]) for phrase in there if phrase not in wanted]
    return [Draft(key, phrase) for phrase in dict.fromkeys(wanted) if phrase not in there] + gone


def _keep(
    house: House, work: Work, stone_id: str, drafts: Sequence[Draft], taken: Taken | None
) -> int:
    how = taken or Taken()
    stone = work.stones.get(stone_id)
    current = work.readings.current(stone_id)
    replaced = {draft.replaces.id for draft in drafts if draft.replaces}
    drafts = [*drafts, *_figures_of_the_kit(house.workbench, current, drafts, how)]
    readings = _readings(house, stone_id, drafts, how)
    standing = [r for r in current if r.id not in replaced]
    coming = [*standing, *(r for r in readings if r.state != "withdrawn")]
    record = stone_record(house.workbench, stone, coming)
    if troubles := read_record(record, house.workbench.instruments).troubles:
        raise RecordTroubleError(troubles)
    if readings:
        work.readings.append(*readings)
        _amend_stone(house, work, stone, record, drafts, how)
    return len(readings)


def _figures_of_the_kit(
    workbench: Workbench, current: Sequence[Reading], drafts: Sequence[Draft], how: Taken
) -> list[Draft]:
    """Return what the kit's own instruments say of the readings about to be kept."""
    if how.kit is None:
        return []
    coming = {draft.field: draft.value for draft in drafts if draft.value is not None}
    known = coming.keys() | {reading.field for reading in current}
    figures = with_kit_errors(workbench, coming, how.kit)
    return [Draft(key, value) for key, value in figures.items() if key not in known]


def _readings(
    house: House, stone_id: str, drafts: Sequence[Draft], how: Taken
) -> tuple[Reading, ...]:
    now = house.now()
    owners = {f.key: i.name for i in house.workbench.instruments for f in i.fields}
    errors, light = _how_read(house.workbench, drafts)
    return tuple(
        Reading(
            id=house.new_id(),
            stone_id=stone_id,
            field=draft.field,
            value=draft.value,
            taken_at=now,
            taken_by=how.by,
            state="withdrawn" if draft.value is None else STATES.get(draft.field, "seen"),
            error=errors.get(draft.field),
            light=light if _depends_on_light(house.workbench, draft.field) else "",
            instrument=owners.get(draft.field, ""),
            note=draft.note or how.notes.get(owners.get(draft.field, ""), how.note),
            supersedes=draft.replaces.id if draft.replaces else None,
            reason=_reason(draft, how, owners.get(draft.field, "")),
        )
        for draft in drafts
    )


def _reason(draft: Draft, how: Taken, instrument: str) -> str:
    if draft.replaces is None:
        return ""
    said = how.reasons.get(instrument, "") or how.reason
    return said or (TAKEN_BACK if draft.value is None else READ_AGAIN)


def _how_read(workbench: Workbench, drafts: Sequence[Draft]) -> tuple[dict[str, float], str]:
    """Return the errors stated beside figures, and the light the sheet was filled in."""
    said = {draft.field: draft.value for draft in drafts if draft.value is not None}
    errors = {}
    for key, declared in fields_of(workbench.instruments).items():
        if declared.error_key in said:
            try:
                errors[key] = parse_number(said[declared.error_key])
            except NotANumberError:
                continue
    return errors, str(said.get("light") or "")


def _depends_on_light(workbench: Workbench, key: str) -> bool:
    declared = fields_of(workbench.instruments).get(key)
    return declared is not None and declared.words == "colour"


def _amend_stone(
    house: House,
    work: Work,
    stone: Stone,
    record: Mapping[str, Any],
    drafts: Sequence[Draft],
    how: Taken,
) -> None:
    """Let the stone's own entry follow what was read of its form or told of it."""
    fields = fields_of(house.workbench.instruments)
    touched = {draft.field for draft in drafts} & set(ALSO_OF_THE_STONE)
    said = {key: draft.value for draft in drafts for key in touched if draft.field == key}
    changes: dict[str, Any] = {}
    if "claim" in said:
        told = said["claim"]
        changes["claim"] = texts_of(fields["claim"], told)["claim"] if told else ""
    if "form" in said:
        changes["form"] = said["form"] if said["form"] in FORMS else None
    if changes:
        work.stones.amend(stone.id, changes, at=house.now(), by=how.by)
