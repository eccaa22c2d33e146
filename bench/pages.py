"""How long the pages take that a bench opens all day, in front of a full ledger."""

import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from starlette.testclient import TestClient

from bench.figure import Figure
from bench.world import NOT_READINGS, World, talk
from isogyre.desk import House, identify, open_house, open_workbench
from isogyre.ledger import Custody, Reading, StandingNote, Stone
from isogyre.ledger.ledger import Work
from isogyre.web import create_app

STONES, READINGS, A_UNIT = 10_000, 12, 500
OPENED, ROUNDS = 40, 20
START = datetime(2020, 1, 1, tzinfo=UTC)
HERE = "http://127.0.0.1"
OF_THE_STONE = (*NOT_READINGS, "id", "met", "claim", "form")


def measure(world: World) -> Iterator[Figure]:
    """Yield the times of a stone's page, of keeping a reading, of the list and of the data door.

    The pages are asked for in this process, without a network between, and nothing is weighed
    behind their back.
    """
    records = [{k: v for k, v in c.items() if k not in OF_THE_STONE} for c in world.cases]
    with tempfile.TemporaryDirectory() as folder:
        house = open_house(Path(folder), workbench=open_workbench())
        talk(f"filling a house with {STONES} stones of {READINGS} readings")
        fill(house, records, STONES)
        # Without entering the client the application does not start to weigh old stones.
        client = TestClient(create_app(house), base_url=HERE)
        yield from _stones(client)
        yield from _lists(client)
        house.close()


def _stones(client: TestClient) -> Iterator[Figure]:
    opened = [f"/stones/{_id(7 + number * STONES // OPENED)}" for number in range(OPENED)]
    _get(client, opened[0])
    pages = [_ms(partial(_get, client, a)) for a in opened]
    yield Figure("pages.stone", float(np.median(pages)), "ms", OPENED, "", "page of a stone")
    yield Figure("pages.stone_p95", float(np.percentile(pages, 95)), "ms", OPENED, "<= 150")
    kept = [_ms(partial(_keep, client, a)) for a in opened]
    note = "a reading kept, and the page after it"
    yield Figure("pages.keep", float(np.median(kept)), "ms", OPENED, "", note)
    yield Figure("pages.keep_p95", float(np.percentile(kept, 95)), "ms", OPENED, "<= 250")
    asked = [_ms(partial(_get, client, f"/api{a}/standing")) for a in opened]
    yield Figure("pages.standing", float(np.median(asked)), "ms", OPENED, "", "as data")


def _lists(client: TestClient) -> Iterator[Figure]:
    for name, address in (("list", "/stones"), ("open_list", "/stones?show=open")):
        _get(client, address)
        times = [_ms(partial(_get, client, address)) for _ in range(ROUNDS)]
        note = f"{address} of {STONES} stones"
        yield Figure(f"pages.{name}", float(np.median(times)), "ms", ROUNDS, "<= 150", note)


def _get(client: TestClient, address: str) -> None:
    client.get(address).raise_for_status()


def _keep(client: TestClient, address: str) -> None:
    client.post(f"{address}/readings", data={"colour": "teal"}).raise_for_status()


def _ms(look: Callable[[], None]) -> float:
    started = time.perf_counter()
    look()
    return 1000 * (time.perf_counter() - started)


# ---- a full house -----------------------------------------------------------------------------


def fill(house: House, records: Sequence[dict[str, Any]], stones: int) -> None:
    """Enter stones that were read as the records say, every one with its note."""
    notes = [_note(house, record) for record in records]
    for first in range(0, stones, A_UNIT):
        with house.ledger.session() as work:
            for number in range(first, min(first + A_UNIT, stones)):
                kind = number % len(records)
                _enter(work, number, records[kind], notes[kind])


def _enter(work: Work, number: int, record: dict[str, Any], note: StandingNote) -> None:
    moment = START + timedelta(hours=number)
    place = f"drawer {number % 20}"
    stone = Stone(id=_id(number), name=f"T {number}", created_at=moment, place=place)
    work.stones.enter(stone, by="bench")
    work.readings.append(*_thread(number, record))
    if number % 3 == 0:
        due = (moment + timedelta(days=30)).date()
        work.custody.append(
            Custody(id=f"{number}", stone_id=_id(number), holding="mine", since=moment, due=due)
        )
    revision = work.stones.revision(_id(number))
    work.standings.put(replace(note, stone_id=_id(number), revision=revision))


def _thread(number: int, record: dict[str, Any]) -> Iterator[Reading]:
    """Yield the readings of a record, corrected over and over until the thread is long enough."""
    fields = list(record)
    for place in range(max(READINGS, len(fields))):
        field = fields[place % len(fields)]
        earlier = place - len(fields)
        yield Reading(
            id=f"{number} {place}",
            stone_id=_id(number),
            field=field,
            value=record[field],
            taken_at=START + timedelta(hours=number, minutes=place),
            taken_by="the bench",
            supersedes=f"{number} {earlier}" if earlier >= 0 else None,
            reason="read again" if earlier >= 0 else "",
        )


def _note(house: House, record: dict[str, Any]) -> StandingNote:
    answer = identify(house.workbench, record)
    (leader, probability), *_ = ((s["name"], s["probability"]) for s in answer["species"])
    origin, origin_share = next(iter(answer["origin"].items()))
    return StandingNote(
        stone_id="",
        revision=0,
        made_by=house.made_by,
        made_at=START,
        leader=leader,
        leader_probability=probability,
        name=leader,
        origin=origin,
        origin_probability=origin_share,
        treatment="",
        treatment_probability=0.0,
        is_open=probability < 0.9,
        does_not_fit=answer["misfit"]["tail_probability"] < 0.01,
        awaits="refractometer" if probability < 0.9 else "",
        next_test="",
    )


def _id(number: int) -> str:
    return f"{number:08}"
