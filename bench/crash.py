"""Kill a program while it writes, again and again, and look for what is missing or half there.

The program says a number after its unit of work has ended: from then on the entry must be there.
"""

import multiprocessing
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from multiprocessing.connection import Connection
from random import Random

from isogyre.ledger import Custody, Ledger, Reading, Stone, Work, open_ledger

START = datetime(2026, 1, 1, tzinfo=UTC)
KILLED = Stone(id="killed", name="K 1", created_at=START)
# A reading long enough to fill some pages of the file, so that a page can be torn.
LONG = "x" * 20_000
LONGEST_LIFE_S = 0.05


@dataclass(frozen=True)
class Kills:
    """What some kills left: how many units were acknowledged, which are lost, which are torn."""

    kills: int
    acknowledged: int
    lost: tuple[str, ...]
    torn: tuple[str, ...]


def kill_writers(url: str, kills: int, seed: int = 20260504) -> Kills:
    """Kill a writing program so often, each at a time drawn from the seed, and take stock."""
    ledger = open_ledger(url)
    with ledger.session() as work:
        work.stones.enter(KILLED, by="bench")
    ledger.close()
    random = Random(seed)
    acknowledged = [unit for life in range(kills) for unit in _one_life(url, life, random.random())]
    # The dead left no lock behind: the ledger opens as ever.
    ledger = open_ledger(url)
    lost, torn = take_stock(ledger, acknowledged)
    ledger.close()
    return Kills(kills, len(acknowledged), lost, torn)


def _one_life(url: str, life: int, share: float) -> Iterator[str]:
    """Let a program write for a share of the longest life; yield what it acknowledged."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__])
    here, there = context.Pipe(duplex=False)
    writer = context.Process(target=write_until_killed, args=(url, life, there), daemon=True)
    writer.start()
    there.close()
    yield here.recv()
    time.sleep(share * LONGEST_LIFE_S)
    writer.kill()
    writer.join()
    # What was said before the kill is still in the pipe.
    while True:
        try:
            yield here.recv()
        except EOFError:
            return


def write_until_killed(url: str, life: int, said: Connection) -> None:
    """Write units of work without end, and say the name of each once it is kept."""
    ledger = open_ledger(url, wait_s=60)
    for number in count():
        unit = f"{life:04}-{number:06}"
        with ledger.session() as work:
            write_unit(work, unit)
        said.send(unit)


def write_unit(work: Work, unit: str) -> None:
    """Append two readings with a custody entry between them."""
    moment = START + timedelta(seconds=int(unit[5:]))
    first, second = (
        Reading(
            id=f"{unit} {part}",
            stone_id=KILLED.id,
            field="note",
            value=[unit, LONG],
            taken_at=moment,
            taken_by="bench",
        )
        for part in ("first", "second")
    )
    work.readings.append(first)
    work.custody.append(Custody(id=unit, stone_id=KILLED.id, holding="mine", since=moment))
    work.readings.append(second)


def take_stock(ledger: Ledger, acknowledged: list[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the units that were acknowledged and are lost, and those that are half there."""
    with ledger.view() as work:
        readings = {found.id: found.value for found in work.readings.thread(KILLED.id)}
        custody = {found.id for found in work.custody.history(KILLED.id)}
    units = {name.split()[0] for name in readings} | custody
    whole = {
        unit
        for unit in units & custody
        if readings.get(f"{unit} first") == readings.get(f"{unit} second") == [unit, LONG]
    }
    return tuple(sorted({*acknowledged} - units)), tuple(sorted(units - whole))
