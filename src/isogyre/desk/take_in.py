"""A client's piece is received, and checked against its receipt when it goes back."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, get_args

from isogyre.desk.entering import currency_of, party_named
from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.money import MoneyError, parse_money
from isogyre.desk.photographs import photograph_of
from isogyre.desk.standings import note_afresh
from isogyre.instruments import Trouble
from isogyre.instruments.entry import NotANumberError, parse_number
from isogyre.ledger import (
    AlreadyKeptError,
    Custody,
    Damage,
    Money,
    ReturnCheck,
    Stone,
    TakeIn,
)
from isogyre.ledger.ledger import Work
from isogyre.ledger.values import DamageKind, Severity, StoneKind, Verdict

KINDS: tuple[StoneKind, ...] = ("ring", "piece", "stone", "parcel")
DAMAGE_KINDS: tuple[DamageKind, ...] = get_args(DamageKind)
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
AS_IT_WAS, WORSE, MENDED = "as it was", "worse", "mended"
STATES = (AS_IT_WAS, WORSE, MENDED)
# How a value came about, in the words that are used most.
VALUED = ("stated by the client, not appraised", "agreed with the client", "from a bill shown")
HEAVIEST_G = 50000.0
# Each weighing is rounded to 0.01 g, by 0.005 g at most, so the same piece may show 0.01 g apart.
ROUNDING_G = 0.01
MARK_KEY = re.compile(r"mark-(\d{1,2})-(?:kind|place|severity)")
# Whoever else takes something in at this moment may take the number first.
MOST_TRIES = 5

Typed = Mapping[str, str]


# ---- taking in -------------------------------------------------------------------------------


def take_in(
    house: House,
    typed: Typed,
    pictures: Sequence[str] = (),
    stone_id: str = "",
    by: str = "the bench",
) -> str:
    """Take a piece in and return the id of the take-in.

    Stone, client, custody and receipt are kept together or not at all.

    Parameters
    ----------
    typed
        The texts of the form: ``client``, ``name``, ``kind``, ``description``, ``weight_g``,
        ``value``, ``currency``, ``value_note``, ``risk``, ``risk_note``, ``due``, ``work``, and for
        each mark of damage ``mark-N-kind``, ``mark-N-place`` and ``mark-N-severity``.
    pictures
        Hashes of photographs whose bytes are kept already.
    stone_id
        The stone that is received, if it is in the ledger already.

    Raises
    ------
    RecordTroubleError
        If an entry cannot be; nothing is kept then.
    UnknownEntryError
        If the stone is unknown.
    """
    said = _received(typed, currency_of(house), needs_description=not stone_id)
    # Pictures are read before the ledger is held: others may be waiting to write.
    said["photographs"] = [photograph_of(house, stone_id, name, "taken in") for name in pictures]
    for left in reversed(range(MOST_TRIES)):
        try:
            with house.ledger.session() as work:
                taken = _keep(house, work, typed, said, stone_id, by)
            note_afresh(house, [taken.stone_id])
            return taken.id
        except AlreadyKeptError:
            if not left:
                raise
    raise AssertionError  # pragma: no cover


def _keep(
    house: House,
    work: Work,
    typed: Typed,
    said: dict[str, Any],
    stone_id: str,
    by: str,
) -> TakeIn:
    client, due = said["client"], said["due"]
    party = party_named(house, work, client, "client")
    received = _stone(house, work, typed, client, stone_id, by)
    receipt = _next_receipt(work, house.now().astimezone().year)
    photographs = [replace(picture, stone_id=received) for picture in said["photographs"]]
    work.photographs.append(*photographs)
    work.custody.append(
        _custody(house, received, party.id, due=due, note=f"taken in, receipt {receipt}")
    )
    entry = TakeIn(
        id=house.new_id(),
        receipt=receipt,
        stone_id=received,
        party_id=party.id,
        received_at=house.now(),
        received_by=by,
        damage=said["damage"],
        photographs=tuple(photograph.id for photograph in photographs),
        **said["entry"],
    )
    work.take_ins.append(entry)
    return entry


def _stone(house: House, work: Work, typed: Typed, client: str, stone_id: str, by: str) -> str:
    """Return the stone that is received, entered now if it is new."""
    if stone_id:
        work.stones.restore(stone_id, at=house.now(), by=by)
        return stone_id
    kind = next(kind for kind in KINDS if kind == (typed.get("kind", "") or KINDS[0]))
    name = typed.get("name", "").strip() or f"{kind} of {client}"
    stone = Stone(id=house.new_id(), name=name, created_at=house.now(), kind=kind)
    work.stones.enter(stone, by=by)
    return stone.id


def _custody(
    house: House, stone_id: str, party_id: str, *, due: date | None = None, note: str = ""
) -> Custody:
    return Custody(
        id=house.new_id(),
        stone_id=stone_id,
        holding="client's",
        since=house.now(),
        party_id=party_id,
        due=due,
        note=note,
    )


def _next_receipt(work: Work, year: int) -> str:
    """Return the year and the next number in it; four figures sort as texts up to 9999."""
    last = work.take_ins.last_receipt(f"{year}-")
    counted = last.partition("-")[2] if last else "0"
    return f"{year}-{int(counted) + 1 if counted.isdecimal() else 1:04d}"


# ---- what was typed --------------------------------------------------------------------------


def _received(typed: Typed, currency: str, *, needs_description: bool) -> dict[str, Any]:
    """Return what was received as the texts say, or all their troubles at once."""
    troubles: list[Trouble] = []
    client, description = (typed.get(key, "").strip() for key in ("client", "description"))
    if not client:
        troubles.append(Trouble("client", "name the client: the receipt is theirs"))
    if needs_description and not description:
        troubles.append(Trouble("description", "say what it is, as the client describes it"))
    if typed.get("kind", "") not in ("", *KINDS):
        troubles.append(Trouble("kind", f"this is none of {', '.join(KINDS)}"))
    entry = {
        "description": description,
        "weight_g": weight_g(typed, troubles),
        "value": _money(typed, "value", currency, troubles),
        "value_note": typed.get("value_note", "").strip(),
        "risk": _money(typed, "risk", currency, troubles),
        "risk_note": typed.get("risk_note", "").strip(),
        "note": typed.get("work", "").strip(),
    }
    due, damage = _due(typed, troubles), _damage(typed, troubles)
    if troubles:
        raise RecordTroubleError(troubles)
    return {"client": client, "due": due, "damage": damage, "entry": entry}


def weight_g(typed: Typed, troubles: list[Trouble]) -> float | None:
    """Return the weight that was typed, in g above 0, or None; a trouble is added."""
    text = typed.get("weight_g", "").strip()
    if not text:
        return None
    try:
        figure = parse_number(text)
    except NotANumberError as error:
        troubles.append(Trouble("weight_g", str(error)))
        return None
    if not 0 < figure <= HEAVIEST_G:
        words = f"{figure:g} g is no weight of a piece: write it in grams, above 0"
        troubles.append(Trouble("weight_g", words))
    return figure


def _money(typed: Typed, key: str, currency: str, troubles: list[Trouble]) -> Money | None:
    text = typed.get(key, "").strip()
    try:
        code = typed.get("currency", "").strip() or currency
        return parse_money(text, code) if text else None
    except MoneyError as error:
        is_code = "no currency" in str(error)
        trouble = Trouble("currency" if is_code else key, str(error))
        if trouble not in troubles:
            troubles.append(trouble)
        return None


def _due(typed: Typed, troubles: list[Trouble]) -> date | None:
    text = typed.get("due", "").strip()
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        words = f"'{text[:40]}' is no date: write for instance 2026-05-31"
        troubles.append(Trouble("due", words))
        return None


def mark_numbers(typed: Typed) -> list[int]:
    """Return the numbers of the marks of damage of which anything was typed."""
    found = {int(match[1]) for key in typed if typed[key] and (match := MARK_KEY.fullmatch(key))}
    return sorted(found)


def _damage(typed: Typed, troubles: list[Trouble], note: str = "") -> tuple[Damage, ...]:
    marks = []
    for number in mark_numbers(typed):
        texts = {k: typed.get(f"mark-{number}-{k}", "") for k in ("kind", "place", "severity")}
        kind = next((kind for kind in DAMAGE_KINDS if kind == texts["kind"]), None)
        severity = next((degree for degree in SEVERITIES if degree == texts["severity"]), None)
        place = texts["place"].strip()
        if not kind:
            troubles.append(Trouble(f"mark-{number}-kind", "say what kind of damage it is"))
        if not place:
            troubles.append(Trouble(f"mark-{number}-place", "say where, as: girdle at 3 o’clock"))
        if not severity:
            troubles.append(Trouble(f"mark-{number}-severity", "say how bad it is"))
        if kind and place and severity:
            marks.append(Damage(kind=kind, place=place, severity=severity, note=note))
    return tuple(marks)


# ---- going back ------------------------------------------------------------------------------


def differences(taken: TakeIn, typed: Typed) -> tuple[str, ...]:
    """Return in words how what goes back differs from what came in, as far as it was entered."""
    found = [
        f"{mark.kind}, {mark.place}: {state}"
        for number, mark in enumerate(taken.damage, 1)
        if (state := typed.get(f"state-{number}", "")) in (WORSE, MENDED)
    ]
    new = _damage(typed, [])
    found += [f"new: {mark.kind}, {mark.place}" for mark in new]
    weight = weight_g(typed, [])
    if weight is not None and not is_within_balance(taken.weight_g, weight):
        found.append(weight_in_words(taken.weight_g, weight))
    return tuple(found)


def is_within_balance(then_g: float | None, now_g: float) -> bool:
    """Whether two weighings in g differ by no more than their rounding, 0.01 g."""
    return then_g is None or abs(round(now_g - then_g, 6)) <= ROUNDING_G


def weight_in_words(then_g: float | None, now_g: float) -> str:
    """Return in words how a weight in g differs from the one it came in with."""
    if then_g is None:
        return f"{now_g:g} g; it was not weighed when it came in"
    difference = now_g - then_g
    if is_within_balance(then_g, now_g):
        return f"{now_g:g} g against {then_g:g} g: the same within 0.01 g"
    apart = f"{round(abs(difference), 3):g} g {'more' if difference > 0 else 'less'}"
    return f"{now_g:g} g against {then_g:g} g: {apart}, not within 0.01 g"


def unseen(taken: TakeIn, typed: Typed) -> tuple[str, ...]:
    """Return in words what the receipt tells and nobody has looked at yet."""
    marks = [
        f"damage {number}: {mark.kind}, {mark.place}"
        for number, mark in enumerate(taken.damage, 1)
        if typed.get(f"state-{number}", "") not in STATES
    ]
    is_unweighed = taken.weight_g is not None and weight_g(typed, []) is None
    return ("the weight", *marks) if is_unweighed else tuple(marks)


def proposed_verdict(taken: TakeIn, typed: Typed) -> Verdict | None:
    """Return the verdict that the entries speak for, or None while they speak for none."""
    if differences(taken, typed):
        return "changed"
    return None if unseen(taken, typed) else "as received"


def give_back(
    house: House,
    take_in_id: str,
    typed: Typed,
    pictures: Sequence[str] = (),
    by: str = "the bench",
) -> None:
    """Keep what was found when a piece goes back, and let it go.

    It stays its owner's, is out to them without a date, and lies in the archive.

    Parameters
    ----------
    typed
        ``weight_g``, ``note``, ``verdict``; ``state-N`` for the N-th mark that it came in with;
        new marks as for `take_in`.
    pictures
        Hashes of photographs whose bytes are kept already.

    Raises
    ------
    RecordTroubleError
        If an entry cannot be, or a mark or the verdict was left out; nothing is kept then.
    UnknownEntryError
        If the take-in is unknown.
    """
    pending = [photograph_of(house, "", name, "going back") for name in pictures]
    with house.ledger.session() as work:
        taken = work.take_ins.get(take_in_id)
        if work.take_ins.returns(take_in_id):
            raise RecordTroubleError([Trouble("verdict", "it has gone back already")])
        check = _check(house, taken, typed, by)
        photographs = [replace(picture, stone_id=taken.stone_id) for picture in pending]
        work.photographs.append(*photographs)
        shown = tuple(photograph.id for photograph in photographs)
        work.take_ins.append_return(ReturnCheck(**check, photographs=shown))
        _let_go(house, work, taken, by)
    note_afresh(house, [taken.stone_id])


def _check(house: House, taken: TakeIn, typed: Typed, by: str) -> dict[str, Any]:
    troubles: list[Trouble] = []
    weight = weight_g(typed, troubles)
    damage = (*_states(taken, typed, troubles), *_damage(typed, troubles, "new"))
    verdict = next((word for word in VERDICTS if word == typed.get("verdict", "")), None)
    note = typed.get("note", "").strip()
    if verdict is None:
        troubles.append(Trouble("verdict", "decide: one is proposed from what was entered"))
    if verdict == "as received" and differences(taken, typed) and not note:
        words = "say why it counts as received, though the entries differ from the receipt"
        troubles.append(Trouble("note", words))
    if taken.weight_g is not None and not typed.get("weight_g", "").strip() and not note:
        troubles.append(Trouble("weight_g", "weigh it again, or say in the note why not"))
    if troubles:
        raise RecordTroubleError(troubles)
    return {
        "id": house.new_id(),
        "take_in_id": taken.id,
        "checked_at": house.now(),
        "checked_by": by,
        "verdict": verdict,
        "weight_g": weight,
        "note": note,
        "damage": damage,
    }


def _states(taken: TakeIn, typed: Typed, troubles: list[Trouble]) -> list[Damage]:
    """Return the marks that a piece came in with, each with what became of it as its note."""
    marks = []
    for number, mark in enumerate(taken.damage, 1):
        state = typed.get(f"state-{number}", "")
        if state not in STATES:
            troubles.append(Trouble(f"state-{number}", f"look at it: {', '.join(STATES)}?"))
        else:
            marks.append(
                Damage(kind=mark.kind, place=mark.place, severity=mark.severity, note=state)
            )
    return marks


def _let_go(house: House, work: Work, taken: TakeIn, by: str) -> None:
    note = f"gone back, receipt {taken.receipt}"
    # The owner's entry is written anew without the date, so that nothing stays due.
    work.custody.append(
        _custody(house, taken.stone_id, taken.party_id, note=note),
        Custody(
            id=house.new_id(),
            stone_id=taken.stone_id,
            holding="out to client",
            since=house.now(),
            party_id=taken.party_id,
            note=note,
        ),
    )
    work.stones.archive(taken.stone_id, at=house.now(), by=by)
