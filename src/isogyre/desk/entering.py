"""Stones and pieces as they are entered, described anew, and handed from one to another."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, get_args

from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.desk.money import DEFAULT_CURRENCY, MoneyError, amount_typed, parse_money
from isogyre.desk.standings import note_afresh
from isogyre.desk.thread import FORMS, Taken, keep_values
from isogyre.evidence import SETTINGS
from isogyre.instruments import Field, Trouble
from isogyre.instruments.entry import NotANumberError, parse_number
from isogyre.ledger import Custody, Party, Stone, StoneFilter
from isogyre.ledger.ledger import Work
from isogyre.ledger.values import HOLDINGS, AskedPer, Holding, PartyKind, StoneKind, folded

KINDS: tuple[str, ...] = get_args(StoneKind)
ASKED_PER: tuple[str, ...] = get_args(AskedPer)
MEASURE = {"kind": "number", "unit": "mm", "low": 0.1, "high": 500.0}

# What is said of a stone itself; everything that is read on it belongs to an instrument.
CLAIM = Field("claim", "said to be", "words", hint="in the seller’s words")
ASKING = Field("asking", "price asked", "number")
PER = Field("asking_per", "asked for", "choice", choices=ASKED_PER)
CURRENCY = Field("currency", "currency", "words", hint="three letters, as EUR")
MET = Field("met", "where it was met", "choice", choices=tuple(SETTINGS))
WHERE = Field("where_met", "place and table", "words")
NAME = Field("name", "name or number", "words", hint="as on its packet; blank: made from the claim")
KIND = Field("kind", "what it is", "choice", choices=KINDS)
FORM = Field("form", "form", "choice", choices=tuple(sorted(FORMS)))
COUNT = Field("count", "how many stones", "number", low=1, high=100000)
LENGTH = Field("length_mm", "length", **MEASURE)  # type: ignore[arg-type]
WIDTH = Field("width_mm", "width", **MEASURE)  # type: ignore[arg-type]
DEPTH = Field("depth_mm", "depth", **MEASURE)  # type: ignore[arg-type]
PLACE = Field("place", "where it lies", "words", hint="box, tray, drawer")
NOTE = Field("note", "note", "words")

AT_THE_COUNTER = (CLAIM, ASKING, PER, MET)
LATER = (NAME, KIND, FORM, LENGTH, WIDTH, DEPTH, COUNT, PLACE, WHERE, CURRENCY, NOTE)
DETAILS: tuple[Field, ...] = (
    *(NAME, CLAIM, ASKING, PER, CURRENCY, MET, WHERE),
    *(PLACE, KIND, FORM, LENGTH, WIDTH, DEPTH, COUNT, NOTE),
)

WORDS = ("name", "claim", "where_met", "place", "note")
FIGURES = ("length_mm", "width_mm", "depth_mm")
CURRENCY_SETTING = "currency"
# To whom a stone goes or belongs says what kind of party that is.
PARTY_KINDS: dict[str, PartyKind] = {
    "client's": "client",
    "on approval from": "dealer",
    "out to client": "client",
    "out to setter": "setter",
    "out to laboratory": "laboratory",
}
NAMELESS = "stone"


# ---- entering and amending -------------------------------------------------------------------


def enter_stone(house: House, typed: Mapping[str, str], by: str = "the bench") -> str:
    """Enter a stone from the texts of its form; return the id it is kept under.

    ``colour`` among the texts is kept as a first reading.

    Raises
    ------
    RecordTroubleError
        If an entry cannot be; nothing is kept then.
    LedgerError
        If the ledger cannot keep it.
    """
    said = _values(typed, currency_of(house))
    with house.ledger.session() as work:
        name = said.pop("name") or _name_for(work, typed)
        stone = Stone(id=house.new_id(), name=name, created_at=house.now(), **said)
        work.stones.enter(stone, by=by)
        # What was told, and its form, are readings too: they stand on the thread from the first.
        read = {"claim": stone.claim, "form": stone.form, "colour": typed.get("colour", "").strip()}
        first = {key: value for key, value in read.items() if value}
        keep_values(house, work, stone.id, first, Taken(by=by))
        if stone.asking:
            work.settings.put(CURRENCY_SETTING, stone.asking.currency)
    note_afresh(house, [stone.id])
    return stone.id


def amend_stone(
    house: House, stone_id: str, typed: Mapping[str, str], by: str = "the bench"
) -> None:
    """Describe a stone anew; what it was stays in its trail. Raises as `enter_stone`.

    What was told of it, and its form, are readings too, and are superseded with it.
    """
    said = _values(typed, currency_of(house))
    with house.ledger.session() as work:
        if not said["name"]:
            said["name"] = work.stones.get(stone_id).name
        told = {r.field for r in work.readings.current(stone_id)} & {"claim", "form"}
        # What is struck out is withdrawn: a blank left as it was would still be weighed.
        anew = {key: said[key] or None for key in told}
        keep_values(house, work, stone_id, anew, Taken(by=by, reason="described anew"))
        work.stones.amend(stone_id, said, at=house.now(), by=by)
    note_afresh(house, [stone_id])


def archive_stone(house: House, stone_id: str, by: str = "the bench") -> None:
    """Put a stone into the archive; it can be taken out again."""
    with house.ledger.session() as work:
        work.stones.archive(stone_id, at=house.now(), by=by)
    note_afresh(house, [stone_id])


def restore_stone(house: House, stone_id: str, by: str = "the bench") -> None:
    """Take a stone out of the archive."""
    with house.ledger.session() as work:
        work.stones.restore(stone_id, at=house.now(), by=by)
    note_afresh(house, [stone_id])


def typed_of_stone(stone: Stone) -> dict[str, str]:
    """Return a stone's entry as the texts one would type for it."""
    texts = {f.key: getattr(stone, f.key, None) for f in DETAILS}
    typed = {key: str(value) for key, value in texts.items() if value not in (None, "")}
    if stone.asking:
        typed |= {"asking": amount_typed(stone.asking), "currency": stone.asking.currency}
    return typed


def currency_of(house: House) -> str:
    """Return the currency that prices were last typed in."""
    with house.ledger.view() as work:
        return str(work.settings.get(CURRENCY_SETTING, DEFAULT_CURRENCY))


def _values(typed: Mapping[str, str], currency: str) -> dict[str, Any]:
    """Return the fields of a stone that texts make, or all their troubles at once."""
    troubles: list[Trouble] = []
    said: dict[str, Any] = {key: typed.get(key, "").strip() for key in WORDS}
    said |= {key: _figure(key, typed, troubles) for key in FIGURES}
    said["count"] = _count(typed, troubles)
    said["kind"] = _one_of("kind", typed, KINDS, troubles) or "stone"
    said["form"] = _one_of("form", typed, FORMS, troubles)
    said["met"] = _one_of("met", typed, SETTINGS, troubles) or ""
    said |= _asking(typed, currency, troubles)
    if troubles:
        raise RecordTroubleError(troubles)
    return said


def _figure(key: str, typed: Mapping[str, str], troubles: list[Trouble]) -> float | None:
    text = typed.get(key, "").strip()
    if not text:
        return None
    declared = {f.key: f for f in DETAILS}[key]
    try:
        figure = parse_number(text)
    except NotANumberError as error:
        troubles.append(Trouble(key, str(error)))
        return None
    if not (declared.low or 0) <= figure <= (declared.high or 0):
        span = f"{declared.low:g} to {declared.high:g} {declared.unit}".strip()
        troubles.append(Trouble(key, f"{figure:g} lies outside {span}: check the figure"))
    return figure


def _count(typed: Mapping[str, str], troubles: list[Trouble]) -> int | None:
    figure = _figure("count", typed, troubles)
    if figure is not None and figure != int(figure):
        troubles.append(Trouble("count", f"{figure:g} is no number of stones: write a whole one"))
    return int(figure) if figure is not None else None


def _one_of(
    key: str, typed: Mapping[str, str], known: Iterable[str], troubles: list[Trouble]
) -> str | None:
    text = typed.get(key, "").strip()
    if text and text not in known:
        troubles.append(Trouble(key, f"'{text[:40]}' is none of {', '.join(known)}"))
    return text or None


def _asking(typed: Mapping[str, str], currency: str, troubles: list[Trouble]) -> dict[str, Any]:
    text = typed.get("asking", "").strip()
    if not text:
        return {"asking": None, "asking_per": None}
    per = _one_of("asking_per", typed, ASKED_PER, troubles) or "stone"
    code = typed.get("currency", "").strip() or currency
    try:
        return {"asking": parse_money(text, code), "asking_per": per}
    except MoneyError as error:
        field = "currency" if "no currency" in str(error) else "asking"
        troubles.append(Trouble(field, str(error)))
        return {}


def _name_for(work: Work, typed: Mapping[str, str]) -> str:
    """Return a name made of the claim, or the colour, and a number that is free."""
    said = typed.get("claim", "").partition(",")[0].strip() or typed.get("colour", "").strip()
    stem = (said or NAMELESS)[:40]
    number = work.stones.count(StoneFilter(words=stem, archived=None)) + 1
    while _is_taken(work, f"{stem} {number}"):
        number += 1
    return f"{stem} {number}"


def _is_taken(work: Work, name: str) -> bool:
    """Whether a stone bears this name; one that was renamed may have left an older number."""
    found = work.stones.page(StoneFilter(words=name, archived=None)).stones
    return any(folded(listed.stone.name) == folded(name) for listed in found)


# ---- custody ---------------------------------------------------------------------------------


def take_custody(
    house: House, stone_id: str, typed: Mapping[str, str], by: str = "the bench"
) -> None:
    """Note whose a stone is, or to whom it went. Raises as `enter_stone`.

    ``typed`` has ``holding``, ``party`` (a name; found again, or made), ``due`` as a date of
    ISO 8601, and ``custody_note``.
    """
    troubles: list[Trouble] = []
    holding = _one_of("holding", typed, HOLDINGS, troubles)
    name = typed.get("party", "").strip()
    if not holding and not troubles:
        troubles.append(Trouble("holding", "say whose it is, or to whom it went"))
    if holding and holding != "mine" and not name:
        troubles.append(Trouble("party", f"name somebody: {holding} whom?"))
    due = _date(typed, troubles)
    if troubles or holding is None:
        raise RecordTroubleError(troubles)
    with house.ledger.session() as work:
        party = None if holding == "mine" else party_named(house, work, name, PARTY_KINDS[holding])
        work.custody.append(
            Custody(
                id=house.new_id(),
                stone_id=stone_id,
                holding=_holding(holding),
                since=house.now(),
                party_id=party.id if party else None,
                due=due,
                note=typed.get("custody_note", "").strip(),
            )
        )


def party_named(house: House, work: Work, name: str, kind: PartyKind) -> Party:
    """Return the party of this name and kind, made if there is none."""
    for party in work.parties.all(kind):
        if party.name.casefold() == name.casefold():
            return party
    party = Party(id=house.new_id(), name=name, kind=kind)
    work.parties.enter(party)
    return party


def _holding(word: str) -> Holding:
    return next(holding for holding in HOLDINGS if holding == word)


def _date(typed: Mapping[str, str], troubles: list[Trouble]) -> date | None:
    text = typed.get("due", "").strip()
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        troubles.append(Trouble("due", f"'{text[:40]}' is no date: write for instance 2026-05-31"))
        return None


def known_claims(house: House) -> Sequence[str]:
    """Return the names that sellers use, for a form to offer."""
    materials = house.workbench.catalogue.materials.values()
    looks = [look for m in materials for body in m.bodies for look in body.looks]
    varieties = {look.variety for look in looks if look.variety}
    return sorted(varieties | {m.name for m in materials})
