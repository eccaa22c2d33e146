"""How fast the ledger answers when it is full, and whether a killed program loses anything."""

import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from bench.crash import kill_writers
from bench.figure import Figure
from bench.world import World, talk
from isogyre.ledger import (
    Custody,
    Ledger,
    Party,
    Reading,
    StandingNote,
    Stone,
    StoneFilter,
    Work,
    open_ledger,
)

STONES, ROUNDS, KILLS = 10_000, 20, 200
START = datetime(2020, 1, 1, tzinfo=UTC)
FIELDS = (
    *("weight_ct", "colour", "transparency", "lustre", "magnification", "pleochroism"),
    *("ri_low", "ri_high", "polariscope", "sg", "uv_lw", "uv_sw"),
)
HOLDINGS = ("mine", "client's", "on approval from")
FILTERS = {
    "all": StoneFilter(),
    "words found": StoneFilter(words="teal drawer"),
    "words not found": StoneFilter(words="nowhere"),
    "whose": StoneFilter(whose="client's"),
    "due": StoneFilter(due_before=date(2020, 1, 20)),
    "has": StoneFilter(has=("sg",), lacks=("hardness",)),
    "lacks a reading all have": StoneFilter(lacks=("sg",)),
    "archived": StoneFilter(archived=True),
    "everything": StoneFilter(
        words="teal", whose="mine", has=("ri_low", "sg"), lacks=("hardness",)
    ),
}
# What is asked of the notes of the standing; the rare ones have to look the longest.
NOTED = {
    "open": StoneFilter(is_open=True),
    "not open": StoneFilter(is_open=False),
    "awaits often": StoneFilter(awaits="refractometer"),
    "awaits rarely": StoneFilter(awaits="dichroscope"),
    "awaits never": StoneFilter(awaits="nothing of this name"),
    "open and awaits": StoneFilter(is_open=True, awaits="spectroscope"),
    "does not fit": StoneFilter(does_not_fit=True),
    "leader": StoneFilter(leader="Zircon"),
    "everything": StoneFilter(
        words="drawer", whose="mine", is_open=False, awaits="dichroscope", leader="garnet"
    ),
}
MADE_BY, AWAITED = "bench", ("refractometer", "spectroscope")


def measure(_: World) -> Iterator[Figure]:
    """Yield the times of a full ledger on SQLite, and what 200 kills left."""
    with tempfile.TemporaryDirectory() as folder:
        talk(f"filling a ledger with {STONES} stones of {len(FIELDS)} readings")
        ledger = open_ledger(f"sqlite:///{Path(folder) / 'full.db'}")
        fill(ledger, STONES)
        yield from measure_speed(ledger, STONES)
        yield from measure_notes(ledger, STONES)
        ledger.close()
        talk(f"killing {KILLS} writers")
        yield from measure_kills(f"sqlite:///{Path(folder) / 'killed.db'}", KILLS)


def measure_speed(ledger: Ledger, stones: int) -> Iterator[Figure]:
    """Yield how long pages, counts and threads of a filled ledger take, in medians."""
    pages = {name: _median_ms(ledger, partial(_page, wanted)) for name, wanted in FILTERS.items()}
    slowest = max(pages, key=lambda name: pages[name])
    note = f"50 of {stones} stones, the slowest of {len(FILTERS)} filters: {slowest}"
    yield Figure("ledger.page", pages[slowest], "ms", ROUNDS, "<= 30", note)
    yield Figure("ledger.first_page", pages["all"], "ms", ROUNDS, "", "without a filter")
    deep = _median_ms(ledger, lambda work: work.stones.page(after=_id(stones // 10)))
    yield Figure("ledger.deep_page", deep, "ms", ROUNDS, "<= 30", "nine tenths down the list")
    counted = _median_ms(ledger, lambda work: work.stones.count(FILTERS["everything"]))
    yield Figure("ledger.count", counted, "ms", ROUNDS, "", "how many a filter finds")
    thread = _median_ms(ledger, lambda work: work.readings.thread(_id(stones // 2)))
    yield Figure("ledger.thread", thread, "ms", ROUNDS, "<= 5", f"{len(FIELDS)} readings")
    current = _median_ms(ledger, lambda work: work.readings.current(_id(stones // 2)))
    yield Figure("ledger.current", current, "ms", ROUNDS, "<= 5", "those that count")


def measure_notes(ledger: Ledger, stones: int) -> Iterator[Figure]:
    """Yield how long the list takes when it is searched by the notes of the standing."""
    pages = {name: _median_ms(ledger, partial(_page, wanted)) for name, wanted in NOTED.items()}
    slowest = max(pages, key=lambda name: pages[name])
    note = f"50 of {stones} stones, the slowest of {len(NOTED)} filters on notes: {slowest}"
    yield Figure("ledger.noted_page", pages[slowest], "ms", ROUNDS, "<= 50", note)
    yield Figure("ledger.open_page", pages["open"], "ms", ROUNDS, "<= 50", "those that are open")
    rare = pages["awaits rarely"]
    yield Figure("ledger.awaits_page", rare, "ms", ROUNDS, "<= 50", "one in 400 awaits it")
    counts = {name: _median_ms(ledger, partial(_count, wanted)) for name, wanted in NOTED.items()}
    slowest = max(counts, key=lambda name: counts[name])
    yield Figure("ledger.noted_count", counts[slowest], "ms", ROUNDS, "", f"slowest: {slowest}")
    stale = _median_ms(ledger, lambda work: work.standings.stale(MADE_BY, 50))
    yield Figure("ledger.stale", stale, "ms", ROUNDS, "", "50 whose note is to be made again")
    counted = _median_ms(ledger, lambda work: work.standings.count_stale(MADE_BY))
    yield Figure("ledger.count_stale", counted, "ms", ROUNDS, "", "how many those are")


def measure_kills(url: str, kills: int) -> Iterator[Figure]:
    """Yield how many acknowledged units were lost and how many are half there."""
    found = kill_writers(url, kills)
    note = f"of {found.acknowledged} acknowledged units of work"
    yield Figure("ledger.lost", len(found.lost), "units", kills, "<= 0", note)
    yield Figure("ledger.torn", len(found.torn), "units", kills, "<= 0", "half written")


def fill(ledger: Ledger, stones: int) -> None:
    """Enter stones with readings and custody, every hundredth archived, every fifth corrected."""
    with ledger.session() as work:
        work.parties.enter(Party(id="party", name="A party", kind="client"))
    for first in range(0, stones, 500):
        with ledger.session() as work:
            for number in range(first, min(first + 500, stones)):
                _enter(work, number)


def _enter(work: Work, number: int) -> None:
    moment = START + timedelta(hours=number)
    stone = Stone(
        id=_id(number),
        name=f"T {number}",
        created_at=moment,
        claim=("sapphire, not heated", "spinel", "teal zircon", "garnet")[number % 4],
        place=f"drawer {number % 20}",
        note="bought with two others; girdle polished, one facet abraded",
    )
    work.stones.enter(stone, by="bench")
    work.readings.append(*(_reading(number, field) for field in FIELDS))
    if number % 5 == 0:
        work.readings.append(_reading(number, "sg", supersedes=f"{_id(number)} sg", reason="dried"))
    for entry in range(2):
        work.custody.append(
            Custody(
                id=f"{_id(number)} {entry}",
                stone_id=_id(number),
                holding=HOLDINGS[(number + entry) % 3],  # type: ignore[arg-type]
                party_id="party",
                since=moment,
                due=(moment + timedelta(days=30)).date(),
            )
        )
    if number % 100 == 0:
        work.stones.archive(_id(number), at=moment, by="bench")
    # Every fiftieth note is out of date.
    work.standings.put(_note(number, work.stones.revision(_id(number)) - (number % 50 == 1)))


def _note(number: int, revision: int) -> StandingNote:
    return StandingNote(
        stone_id=_id(number),
        revision=revision,
        made_by=MADE_BY,
        made_at=START + timedelta(hours=number),
        leader=("corundum", "spinel", "zircon", "pyrope-almandine garnet")[number % 4],
        leader_probability=0.93,
        name="garnet",
        origin="natural",
        origin_probability=0.8,
        treatment="heated",
        treatment_probability=0.55,
        is_open=number % 3 == 0,
        does_not_fit=number % 80 == 0,
        awaits="dichroscope"
        if number % 400 == 3
        else ("refractometer", "spectroscope")[number % 2],
        next_test="look at the absorption spectrum in transmitted light",
    )


def _reading(number: int, field: str, **more: Any) -> Reading:
    return Reading(
        id=f"{_id(number)} {field}" + (" again" if more else ""),
        stone_id=_id(number),
        field=field,
        value={"low": 1.762, "words": "as seen in daylight"},
        error=0.002,
        taken_at=START + timedelta(hours=number),
        taken_by="bench",
        **more,
    )


def _id(number: int) -> str:
    return f"{number:08}"


def _page(wanted: StoneFilter, work: Work) -> Any:
    return work.stones.page(wanted)


def _count(wanted: StoneFilter, work: Work) -> Any:
    return work.stones.count(wanted)


def _median_ms(ledger: Ledger, look: Callable[[Work], Any]) -> float:
    """Return the median time of a whole view, opened and closed each time."""
    times = []
    for _ in range(ROUNDS):
        started = time.perf_counter()
        with ledger.view() as work:
            look(work)
        times.append(1000 * (time.perf_counter() - started))
    return float(np.median(times))
