"""What is said of a stone besides its readings, in words."""

from collections.abc import Mapping, Sequence
from typing import Any

from isogyre.desk.money import money_in_words
from isogyre.instruments.entry import NotANumberError, parse_number
from isogyre.ledger import Custody, ListedStone, Money, Party, Stone


def facts_in_words(
    listed: ListedStone, record: Mapping[str, Any], parties: Mapping[str, Party]
) -> tuple[str, ...]:
    """Return kind, measures, price, whose it is and where it lies, each where it is known."""
    stone = listed.stone
    told = (
        "" if stone.kind == "stone" else stone.kind,
        f"{stone.count} stones" if stone.count else "",
        measures_in_words(stone),
        asking_in_words(stone, weight_in(record)),
        whose_in_words(listed, parties),
        stone.place,
    )
    return tuple(filter(None, told))


def measures_in_words(stone: Stone) -> str:
    """Return for instance 6.1 × 5.4 × 3.8 mm, or nothing where nothing was measured."""
    measured = [m for m in (stone.length_mm, stone.width_mm, stone.depth_mm) if m]
    return f"{' × '.join(f'{m:g}' for m in measured)} mm" if measured else ""


def weight_in(record: Mapping[str, Any]) -> float | None:
    """Return the weight in ct that a record tells, or None."""
    try:
        return parse_number(record.get("weight_ct") or record.get("weight_air_ct"))
    except NotANumberError:
        return None


def asking_in_words(stone: Stone, weight_ct: float | None) -> str:
    """Return the price as it was asked, and the other way of asking where the weight is known."""
    if stone.asking is None:
        return ""
    asked = f"{money_in_words(stone.asking)} a {stone.asking_per}"
    if not weight_ct or stone.asking_per == "parcel":
        return asked
    by_stone = stone.asking_per == "stone"
    other = stone.asking.minor / weight_ct if by_stone else stone.asking.minor * weight_ct
    shown = money_in_words(Money(round(other), stone.asking.currency))
    return f"{asked} ({shown} {'a carat' if by_stone else 'the stone'})"


def parties_in(stones: Sequence[ListedStone]) -> list[str]:
    """Return the ids of everybody who owns or holds one of the stones."""
    entries = [entry for stone in stones for entry in (stone.custody, stone.ownership)]
    return [entry.party_id for entry in entries if entry and entry.party_id]


def whose_in_words(listed: ListedStone, parties: Mapping[str, Party]) -> str:
    """Return whose a stone is and, if it is elsewhere, where."""
    entries = {entry.id: entry for entry in (listed.ownership, listed.custody) if entry}
    return "; ".join(custody_in_words(entry, parties) for entry in entries.values())


def custody_in_words(custody: Custody, parties: Mapping[str, Party]) -> str:
    """Return whose a stone is, or where it is, and when it is due."""
    party = parties.get(custody.party_id or "")
    due = f", due {custody.due.day} {custody.due:%b %Y}" if custody.due else ""
    return f"{custody.holding}{f': {party.name}' if party else ''}{due}"
