"""Readings on their thread: each sheet with what was read, corrected and taken back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from isogyre.desk.page.chips import chips
from isogyre.desk.page.forms import THE_STONE, Entries, Remarks, Sheet, sheets
from isogyre.desk.thread import rivals, texts_of
from isogyre.desk.workbench import Workbench
from isogyre.evidence import fields_of
from isogyre.instruments import Field
from isogyre.instruments.entry import NotANumberError, decimals_of, parse_number
from isogyre.ledger import Reading


@dataclass(frozen=True)
class OldSlip:
    """A reading that no longer counts: what it said, when, and why it was replaced.

    ``later`` is the id of the reading, or the withdrawal, that stands in its place.
    """

    later: str
    text: str
    taken: str
    reason: str
    instead: str


@dataclass(frozen=True)
class Slip:
    """One reading that counts."""

    id: str
    label: str
    text: str
    chips: tuple[str, ...]
    state: str
    how: str
    olds: tuple[OldSlip, ...]
    has_rival: bool


@dataclass(frozen=True)
class SheetOnThread:
    """One instrument's sheet, the readings that were made with it, and those taken back.

    ``shown`` are the ids of the readings that its controls are filled with.
    """

    sheet: Sheet
    slips: tuple[Slip, ...]
    taken_back: tuple[OldSlip, ...]
    shown: tuple[str, ...]


def threaded_sheets(
    workbench: Workbench, entries: Entries, remarks: Remarks, thread: Sequence[Reading]
) -> tuple[SheetOnThread, ...]:
    """Return every instrument's sheet with its readings, in bench order.

    Parameters
    ----------
    entries
        What stands in the controls.
    thread
        Every reading of the stone in order of time, those that no longer count too.
    """
    current = current_of(thread)
    ids = {reading.id for reading in current}
    contested = rivals(workbench, current)
    owners = {f.key: i.name for i in workbench.instruments for f in i.fields}

    def on_thread(sheet: Sheet) -> SheetOnThread:
        own = [reading for reading in thread if owners.get(reading.field) == sheet.name]
        return SheetOnThread(
            sheet=sheet,
            slips=tuple(
                _slip(workbench, reading, own, contested) for reading in own if reading.id in ids
            ),
            taken_back=tuple(
                _old(workbench, own, withdrawal)
                for withdrawal in own
                if withdrawal.state == "withdrawn"
            ),
            shown=tuple(reading.id for reading in own if reading.id in ids),
        )

    drawn = sheets(workbench, entries, remarks)
    return tuple(on_thread(sheet) for sheet in drawn if sheet.name != THE_STONE.name)


def current_of(thread: Sequence[Reading]) -> tuple[Reading, ...]:
    """Return the readings of a thread that count: neither superseded nor withdrawn."""
    superseded = {reading.supersedes for reading in thread}
    return tuple(r for r in thread if r.state != "withdrawn" and r.id not in superseded)


def time_in_words(moment: datetime) -> str:
    """Return a time as this machine's clock shows it, to the minute."""
    local = moment.astimezone()
    return f"{local.day} {local:%b %Y, %H:%M}"


def _slip(
    workbench: Workbench,
    reading: Reading,
    own: Sequence[Reading],
    contested: Mapping[str, Sequence[Reading]],
) -> Slip:
    declared = fields_of(workbench.instruments)[reading.field]
    text = reading_in_words(workbench, reading)
    says_itself = declared.label == reading.instrument or declared.kind == "phrases"
    return Slip(
        id=reading.id,
        label="" if says_itself else declared.label,
        text=text,
        chips=chips(text) if declared.words else (),
        state=reading.state,
        how=_how(reading),
        olds=_olds(workbench, reading, own),
        has_rival=reading.field in contested,
    )


def reading_in_words(workbench: Workbench, reading: Reading) -> str:
    """Return a reading with its unit and error, as it is read aloud."""
    declared = fields_of(workbench.instruments)[reading.field]
    if declared.kind == "number":
        return _figure(declared, reading)
    typed = [text for text in texts_of(declared, reading.value).values() if text]
    text = ", ".join(typed).replace("\n", "; ")
    if declared.kind == "choice" and text in declared.choices and len(declared.choices) == 1:
        return declared.label
    error = f" ± {reading.error:g}" if reading.error else ""
    shown = "−" if text == "-" else text
    return f"{shown}{error}{f' {declared.unit}' if declared.unit else ''}"


def _figure(declared: Field, reading: Reading) -> str:
    """Return a figure with as many decimals as were typed, or as its error has."""
    unit = f" {declared.unit}" if declared.unit else ""
    try:
        figure = parse_number(reading.value)
    except NotANumberError:
        return f"{reading.value}{unit}"
    error = f"{reading.error:g}" if reading.error else ""
    decimals = decimals_of(reading.value, error)
    return f"{figure:.{decimals}f}{f' ± {error}' if error else ''}{unit}"


def _how(reading: Reading) -> str:
    """Return when, in which light, by whom and under which circumstances a reading was taken."""
    light = f"in {reading.light}" if reading.light else ""
    said = (time_in_words(reading.taken_at), light, f"by {reading.taken_by}", reading.note)
    return ", ".join(filter(None, said))


def _olds(workbench: Workbench, reading: Reading, own: Sequence[Reading]) -> tuple[OldSlip, ...]:
    """Return what a reading replaced, and what that had replaced before it."""
    by_id = {other.id: other for other in own}
    olds = []
    while reading.supersedes in by_id:
        olds.append(_old(workbench, own, reading))
        reading = by_id[reading.supersedes]
    return tuple(olds)


def _old(workbench: Workbench, own: Sequence[Reading], later: Reading) -> OldSlip:
    """Return the reading that a later one replaced or took back."""
    earlier = next((r for r in own if r.id == later.supersedes), later)
    instead = "" if later.state == "withdrawn" else reading_in_words(workbench, later)
    return OldSlip(
        later.id,
        reading_in_words(workbench, earlier),
        time_in_words(earlier.taken_at),
        later.reason,
        instead,
    )
