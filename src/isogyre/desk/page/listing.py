"""The list of stones with the filters of a bench."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from urllib.parse import urlencode

from isogyre.desk.house import House
from isogyre.desk.page.facts import asking_in_words, parties_in, weight_in, whose_in_words
from isogyre.desk.page.standing import LIKELY, ORIGINS, called, capital
from isogyre.desk.tints import tint
from isogyre.desk.wording import odds_in_words
from isogyre.drawing.outlines import CUTS
from isogyre.drawing.stone_plan import StonePlan, draw_stone_plan
from isogyre.evidence.grouping import NO_TREATMENT
from isogyre.ledger import ListedStone, Party, Reading, StandingNote, StoneFilter
from isogyre.ledger.ledger import Work
from isogyre.ledger.values import HOLDINGS, OWNERSHIPS, Holding, Ownership
from isogyre.population.words import UNLISTED

A_PAGE = 50
# Stands in a drawing that is kept, until the place in the list is known.
PREFIX = "plan-kept-here"
DUE_SOON_DAYS = 7
# One scale for the whole list, in units of a page to the millimetre, and the room of a stone.
UNITS_PER_MM, LARGEST_MM, BOX_MM = 4.0, 16.0, (16.0, 13.0)
ROUND, OBLONG, LONGER_THAN_ROUND = "round", "oval", 1.12
# Names are written in words that a cut may be found in.
CUT_WORDS = {**{cut: cut for cut in CUTS}, "drop": "pear", "octagon": "emerald cut"}
CUT_WORDS |= {"step-cut": "emerald cut", "trilliant": "triangle", "navette": "marquise"}


@dataclass(frozen=True)
class Asked:
    """What the list is asked for, as it stands in the address."""

    words: str = ""
    show: str = ""
    awaits: str = ""
    whose: str = ""
    place: str = ""
    after: str = ""

    def address(self, **changes: str) -> str:
        """Return the list with some of this changed, from its beginning."""
        wanted = {**vars(self), "after": "", **changes}
        query = urlencode({key: word for key, word in wanted.items() if word})
        return f"/stones?{query}" if query else "/stones"


@dataclass(frozen=True)
class Choice:
    """One way to narrow the list; ``count`` is blank where it was not counted."""

    word: str
    count: str
    address: str
    is_chosen: bool


@dataclass(frozen=True)
class StoneRow:
    """One stone in the list; ``flags`` are pairs of a bead and a word."""

    address: str
    name: str
    svg: str
    tint: str
    claim: str
    standing: str
    asking: str
    whose: str
    place: str
    flags: tuple[tuple[str, str], ...]
    is_archived: bool


@dataclass(frozen=True)
class StonesPage:
    """The list, what narrows it, and whether there is anything in it at all."""

    asked: Asked
    title: str
    choices: tuple[Choice, ...]
    instruments: tuple[tuple[str, int], ...]
    holdings: tuple[str, ...]
    places: tuple[tuple[str, int], ...]
    rows: tuple[StoneRow, ...]
    older: str
    stale: int
    is_bare: bool
    has_scale: bool


def stones_page(house: House, asked: Asked) -> StonesPage:
    """Return the list; raise UnknownEntryError if ``asked.after`` is no stone."""
    today = house.now().astimezone().date()
    with house.ledger.view() as work:
        wanted = _filter(asked, today)
        page = work.stones.page(wanted, after=asked.after or None, limit=A_PAGE)
        ids = [listed.stone.id for listed in page.stones]
        readings = work.readings.current_of(ids)
        parties = work.parties.of(parties_in(page.stones))
        choices = _choices(work, asked, today)
        is_bare = not page.stones and work.stones.count(StoneFilter(archived=None)) == 0
        stale = work.standings.count_stale(house.made_by)
        instruments, places = work.standings.awaited(), work.stones.places()
    rows = tuple(
        _row(number, listed, readings[listed.stone.id], parties, today)
        for number, listed in enumerate(page.stones)
    )
    return StonesPage(
        asked=asked,
        title=_title(asked),
        choices=choices,
        instruments=_offered(instruments, asked.awaits),
        holdings=HOLDINGS,
        places=_offered(places, asked.place),
        rows=rows,
        older=asked.address(after=page.after) if page.after else "",
        stale=stale,
        is_bare=is_bare,
        has_scale=any(row.svg for row in rows),
    )


# ---- what narrows the list --------------------------------------------------------------------


def _offered(counts: Mapping[str, int], chosen: str) -> tuple[tuple[str, int], ...]:
    """Return words with their counts; the one that is chosen stays, though none is left of it."""
    return tuple({**({chosen: 0} if chosen else {}), **counts}.items())


SHOWN: dict[str, str] = {
    "": "all here",
    "open": "open",
    "settled": "settled",
    "misfit": "does not fit",
    "overdue": "overdue",
    "due": "due in a week",
    "archived": "archived",
}
# To count takes time on a full ledger: only what calls for work is counted, and what is looked at.
COUNTED = frozenset(("", "open", "misfit", "overdue"))


def _filter(asked: Asked, today: date) -> StoneFilter:
    wanted = _shown(asked.show, today)
    return replace(
        wanted,
        words=asked.words,
        awaits=asked.awaits,
        place=asked.place,
        whose=next((w for w in OWNERSHIPS if w == asked.whose), None),
        holding=_absence(asked.whose),
    )


def _absence(word: str) -> Holding | None:
    owned: tuple[Ownership, ...] = OWNERSHIPS
    return next((h for h in HOLDINGS if h == word and h not in owned), None)


def _shown(show: str, today: date) -> StoneFilter:
    match show:
        case "open":
            return StoneFilter(is_open=True)
        case "settled":
            return StoneFilter(is_open=False, does_not_fit=False)
        case "misfit":
            return StoneFilter(does_not_fit=True)
        case "overdue":
            return StoneFilter(due_before=today)
        case "due":
            return StoneFilter(due_before=today + timedelta(days=DUE_SOON_DAYS + 1))
        case "archived":
            return StoneFilter(archived=True)
    return StoneFilter()


def _choices(work: Work, asked: Asked, today: date) -> tuple[Choice, ...]:
    def choice(show: str, word: str) -> Choice:
        chosen = show == asked.show
        wanted = _filter(replace(asked, show=show), today)
        count = str(work.stones.count(wanted)) if chosen or show in COUNTED else ""
        return Choice(word, count, asked.address(show=show), chosen)

    return tuple(choice(show, word) for show, word in SHOWN.items())


def _title(asked: Asked) -> str:
    shown = SHOWN.get(asked.show, SHOWN[""]) if asked.show else ""
    awaits = f"waiting for {asked.awaits}" if asked.awaits else ""
    words = f"“{asked.words}”" if asked.words else ""
    narrowed = ", ".join(filter(None, (shown, awaits, asked.whose, asked.place, words)))
    return f"Stones: {narrowed}" if narrowed else "Stones"


# ---- one stone --------------------------------------------------------------------------------


def _row(
    number: int,
    listed: ListedStone,
    readings: Sequence[Reading],
    parties: Mapping[str, Party],
    today: date,
) -> StoneRow:
    stone = listed.stone
    read = {reading.field: reading.value for reading in readings}
    colour = tint(str(read.get("colour") or ""))
    return StoneRow(
        address=f"/stones/{stone.id}",
        name=stone.name,
        svg=_plan(f"plan-{number}", listed, colour),
        tint=colour,
        claim=stone.claim,
        standing=_standing(listed, bool(set(read) - {"claim", "form"})),
        asking=asking_in_words(stone, weight_in(read)),
        whose=whose_in_words(listed, parties),
        place=stone.place,
        flags=_flags(listed, today),
        is_archived=listed.is_archived,
    )


def _plan(prefix: str, listed: ListedStone, colour: str) -> str:
    """Return the stone in plan, at the scale of the list, if its measures are known."""
    length, width = listed.stone.length_mm, listed.stone.width_mm
    if not length or not width or max(length, width) > LARGEST_MM or listed.stone.kind != "stone":
        return ""
    length, width = max(length, width), min(length, width)
    words = listed.stone.name.casefold()
    named = next((cut for word, cut in CUT_WORDS.items() if word in words), "")
    cut = named or (OBLONG if length > LONGER_THAN_ROUND * width else ROUND)
    plan = StonePlan(
        cut, length, width, colour or "colourless", units_per_mm=UNITS_PER_MM, box_mm=BOX_MM
    )
    return _drawn(plan).replace(PREFIX, prefix)


@lru_cache(maxsize=1000)
def _drawn(plan: StonePlan) -> str:
    # A list is opened again and again, and half of its time went into drawing the same stones.
    return draw_stone_plan(plan, PREFIX)


def _standing(listed: ListedStone, is_read: bool) -> str:
    note = listed.note
    if not is_read:
        return "not tested yet"
    if note is None or note.revision != listed.revision:
        return "not weighed since it changed"
    if not note.leader:
        return "nothing to weigh yet"
    return _noted(note)


def _noted(note: StandingNote) -> str:
    first = f"{capital(called(note.leader))}, {odds_in_words(note.leader_probability)}"
    if note.leader == UNLISTED:
        return first
    origin = ORIGINS.get(note.origin, note.origin)
    is_treated = note.treatment != NO_TREATMENT and note.treatment_probability >= LIKELY
    assumed = f"; assume {note.treatment}" if is_treated else ""
    return f"{first}; {origin} {odds_in_words(note.origin_probability)}{assumed}"


def _flags(listed: ListedStone, today: date) -> tuple[tuple[str, str], ...]:
    note = listed.note if listed.note and listed.note.revision == listed.revision else None
    flags = []
    held = [entry for entry in (listed.custody, listed.ownership) if entry and entry.due]
    if any(entry.due < today for entry in held if entry.due):
        flags.append(("misfit", "overdue"))
    if note and note.does_not_fit:
        flags.append(("misfit", "does not fit"))
    if note and note.is_open:
        flags.append(("unread", f"open, waits for: {note.awaits}" if note.awaits else "open"))
    return tuple(flags)
