"""A program that is killed while it writes loses nothing it has acknowledged."""

import sqlite3

import bench.crash
from bench.crash import kill_writers
from isogyre.ledger import open_ledger
from tests.ledger.made import reading

KILLS = 10


def test_what_was_acknowledged_is_there_and_nothing_is_half_there(url):
    found = kill_writers(url, KILLS)
    assert found.kills == KILLS
    # Each writer says at least one unit before it is killed.
    assert found.acknowledged >= KILLS
    assert (found.lost, found.torn) == ((), ())
    if url.startswith("sqlite"):
        with sqlite3.connect(url.removeprefix("sqlite:///")) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_a_lost_and_a_torn_unit_would_be_seen(ledger):
    with ledger.session() as work:
        work.stones.enter(bench.crash.KILLED, by="me")
        bench.crash.write_unit(work, "0000-000001")
        work.readings.append(reading("0000-000002 first", stone_id=bench.crash.KILLED.id))
    lost, torn = bench.crash.take_stock(ledger, ["0000-000001", "0000-000003"])
    assert lost == ("0000-000003",)
    assert torn == ("0000-000002",)


def test_a_killed_writer_leaves_no_lock_behind(url):
    kill_writers(url, 1)
    ledger = open_ledger(url, wait_s=0.2)
    with ledger.session() as work:
        work.readings.append(reading("after", stone_id=bench.crash.KILLED.id))
    ledger.close()
