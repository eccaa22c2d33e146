"""The pages of take-ins: what is here, the form, the record that prints as receipt, the return."""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from isogyre.desk.entering import currency_of
from isogyre.desk.house import House
from isogyre.desk.money import money_in_words
from isogyre.desk.take_in import (
    DAMAGE_KINDS,
    KINDS,
    SEVERITIES,
    STATES,
    VALUED,
    VERDICTS,
    Typed,
    differences,
    mark_numbers,
    proposed_verdict,
    unseen,
    weight_in_words,
)
from isogyre.instruments import Trouble
from isogyre.ledger import Damage, Photograph, ReturnCheck, TakeIn
from isogyre.ledger.ledger import Work

MOST_OPEN = 500
LEAST_MARKS, MOST_MARKS = 2, 40
LABELS = {
    "client": "client",
    "description": "what it is",
    "kind": "kind",
    "weight_g": "weight",
    "value": "value",
    "currency": "currency",
    "risk": "risk",
    "due": "promised for",
    "photographs": "photographs",
    "note": "note",
    "verdict": "verdict",
}
HOUR = re.compile(r"\b(1[0-2]|[1-9])\s?(?:[o0]\s?['’]?\s?clock|h\b|:00)", re.IGNORECASE)
# The plan of clock positions, in the units of its drawing.
CENTRE, RING = 60.0, 42.0
LOSSES = "Photograph and weigh it before the client leaves: afterwards nobody can say what it was."
RISKS = (
    "Emeralds and other fissured stones, filled ones above all, may not survive setting, heat, "
    "steam or ultrasound; old prongs may break when they are moved. Say so now and write down "
    "who bears that risk (common practice)."
)


@dataclass(frozen=True)
class TakeInForm:
    """The form of a take-in or of a return, as it was typed; ``troubles`` by their control."""

    typed: Typed
    troubles: Mapping[str, str]
    mends: tuple[tuple[str, str, str], ...]
    marks: tuple[int, ...]
    pictures: tuple[str, ...]
    kinds: tuple[str, ...] = KINDS
    damage_kinds: tuple[str, ...] = DAMAGE_KINDS
    severities: tuple[str, ...] = SEVERITIES
    valued: tuple[str, ...] = VALUED
    states: tuple[str, ...] = STATES
    verdicts: tuple[str, ...] = VERDICTS


@dataclass(frozen=True)
class NewTakeInPage:
    """The form in which a piece is received; the stone's id and name if it is kept already."""

    form: TakeInForm
    stone_id: str
    stone_name: str
    parties: tuple[str, ...]
    currency: str
    cautions: tuple[str, ...] = (LOSSES, RISKS)


@dataclass(frozen=True)
class OpenTakeIn:
    """A piece that is here."""

    address: str
    receipt: str
    name: str
    client: str
    due: str
    is_late: bool


@dataclass(frozen=True)
class TakeInsPage:
    """What is here, what is overdue first."""

    rows: tuple[OpenTakeIn, ...]
    late: int


@dataclass(frozen=True)
class ClockMark:
    """A mark of damage on the plan, where its words name an hour."""

    number: int
    x: float
    y: float


@dataclass(frozen=True)
class TakeInPage:
    """The record of a take-in, which prints as its receipt; ``returned`` says what went back."""

    id: str
    receipt: str
    stone_id: str
    stone_name: str
    client: str
    contact: str
    received: str
    due: str
    description: str
    weight: str
    value: str
    value_note: str
    risk: str
    work: str
    damage: tuple[Damage, ...]
    clock: tuple[ClockMark, ...]
    photographs: tuple[Photograph, ...]
    returned: tuple[str, ...]
    returned_note: str
    returned_damage: tuple[Damage, ...]
    returned_photographs: tuple[Photograph, ...]
    cautions: tuple[str, ...] = (RISKS,)


@dataclass(frozen=True)
class ReturnPage:
    """The form in which what goes back is compared with what came in."""

    taken: TakeInPage
    form: TakeInForm
    is_compared: bool
    proposed: str
    differences: tuple[str, ...]
    unseen: tuple[str, ...]


# ---- the pages -------------------------------------------------------------------------------


def new_take_in_page(
    house: House,
    typed: Typed,
    troubles: Sequence[Trouble] = (),
    pictures: Sequence[str] = (),
    stone_id: str = "",
) -> NewTakeInPage:
    """Return the form of a take-in, or raise UnknownEntryError for an unknown stone."""
    with house.ledger.view() as work:
        name = work.stones.get(stone_id).name if stone_id else ""
        parties = tuple(party.name for party in work.parties.all("client"))
    form = _form(typed, troubles, pictures)
    return NewTakeInPage(form, stone_id, name, parties, currency_of(house))


def take_ins_page(house: House) -> TakeInsPage:
    """Return what is here: by the date promised, what has none last."""
    today = house.now().astimezone().date()
    with house.ledger.view() as work:
        found = work.take_ins.open(MOST_OPEN)
        dated = [(_due(work, taken), taken) for taken in found]
        dated.sort(key=lambda pair: pair[0] or date.max)
        rows = tuple(_row(work, taken, due, today) for due, taken in dated)
    return TakeInsPage(rows, sum(row.is_late for row in rows))


def take_in_page(house: House, take_in_id: str) -> TakeInPage:
    """Return the record of a take-in, or raise UnknownEntryError."""
    with house.ledger.view() as work:
        taken = work.take_ins.get(take_in_id)
        party = work.parties.get(taken.party_id)
        due = _due(work, taken)
        checks = work.take_ins.returns(take_in_id)
        check = checks[-1] if checks else None
        return TakeInPage(
            id=taken.id,
            receipt=taken.receipt,
            stone_id=taken.stone_id,
            stone_name=work.stones.get(taken.stone_id).name,
            client=party.name,
            contact=party.contact,
            received=_day(taken.received_at.astimezone().date()),
            due=_day(due) if due else "",
            description=taken.description,
            weight=f"{taken.weight_g:g} g" if taken.weight_g else "not weighed",
            value=money_in_words(taken.value) if taken.value else "",
            value_note=taken.value_note,
            risk=_risk(taken),
            work=taken.note,
            damage=taken.damage,
            clock=clock_marks(taken.damage),
            photographs=_photographs(work, taken.photographs),
            returned=_returned(taken, check) if check else (),
            returned_note=check.note if check else "",
            returned_damage=check.damage if check else (),
            returned_photographs=_photographs(work, check.photographs if check else ()),
        )


def return_page(
    house: House,
    take_in_id: str,
    typed: Typed,
    troubles: Sequence[Trouble] = (),
    pictures: Sequence[str] = (),
    *,
    is_compared: bool = False,
) -> ReturnPage:
    """Return the form of a return; once compared, with the verdict that the entries speak for."""
    with house.ledger.view() as work:
        taken = work.take_ins.get(take_in_id)
    return ReturnPage(
        taken=take_in_page(house, take_in_id),
        form=_form(typed, troubles, pictures, least=1),
        is_compared=is_compared,
        proposed=proposed_verdict(taken, typed) or "",
        differences=differences(taken, typed),
        unseen=unseen(taken, typed),
    )


# ---- their parts -----------------------------------------------------------------------------


def clock_marks(damage: Sequence[Damage]) -> tuple[ClockMark, ...]:
    """Return where marks lie on a plan seen from above, of those whose place names an hour."""
    marks = []
    for number, mark in enumerate(damage, 1):
        for hour in HOUR.findall(mark.place):
            angle = math.radians(30 * int(hour))
            x, y = CENTRE + RING * math.sin(angle), CENTRE - RING * math.cos(angle)
            marks.append(ClockMark(number, round(x, 1), round(y, 1)))
    return tuple(marks)


def _form(
    typed: Typed, troubles: Sequence[Trouble], pictures: Sequence[str], least: int = LEAST_MARKS
) -> TakeInForm:
    told: dict[str, str] = {}
    for trouble in troubles:
        words = told.get(trouble.field)
        told[trouble.field] = f"{words}; {trouble.message}" if words else trouble.message
    used = max(mark_numbers(typed), default=0)
    # Without script the next mark comes with the page: there is always room for one more.
    shown = min(MOST_MARKS, max(least, used + 1))
    return TakeInForm(
        typed=typed,
        troubles=told,
        mends=tuple((_label(key), _anchor(key), words) for key, words in told.items()),
        marks=tuple(range(1, shown + 1)),
        pictures=tuple(pictures),
    )


def _label(key: str) -> str:
    if key.startswith(("mark-", "state-")):
        return f"damage {key.split('-')[1]}"
    return LABELS.get(key, key)


def _anchor(key: str) -> str:
    return "photographs-file" if key == "photographs" else f"take-{key}"


def _due(work: Work, taken: TakeIn) -> date | None:
    """Return the date that was promised with this take-in."""
    note = f"receipt {taken.receipt}"
    entries = work.custody.history(taken.stone_id)
    dated = [entry.due for entry in entries if entry.due and note in entry.note]
    if dated:
        return dated[-1]
    standing = work.custody.ownership(taken.stone_id)
    return standing.due if standing else None


def _row(work: Work, taken: TakeIn, due: date | None, today: date) -> OpenTakeIn:
    is_late = due is not None and due < today
    return OpenTakeIn(
        address=f"/take-ins/{taken.id}",
        receipt=taken.receipt,
        name=work.stones.get(taken.stone_id).name,
        client=work.parties.get(taken.party_id).name,
        due=_due_in_words(due, today),
        is_late=is_late,
    )


def _due_in_words(due: date | None, today: date) -> str:
    if due is None:
        return "no date promised"
    days = (today - due).days
    if days > 0:
        return f"overdue by {days} {'day' if days == 1 else 'days'}: promised for {_day(due)}"
    return "promised for today" if days == 0 else f"promised for {_day(due)}"


def _risk(taken: TakeIn) -> str:
    amount = money_in_words(taken.risk) if taken.risk else ""
    return ": ".join(filter(None, (amount, taken.risk_note)))


def _returned(taken: TakeIn, check: ReturnCheck) -> tuple[str, ...]:
    told = [f"Went back on {_day(check.checked_at.astimezone().date())}: {check.verdict}."]
    if check.weight_g is not None:
        told.append(weight_in_words(taken.weight_g, check.weight_g))
    return tuple(told)


def _photographs(work: Work, ids: Sequence[str]) -> tuple[Photograph, ...]:
    return tuple(work.photographs.get(photograph_id) for photograph_id in ids)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
