"""Two who write at the same moment lose nothing; who only looks waits for nobody."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from isogyre.ledger import open_ledger
from tests.ledger.made import note, reading

WRITERS, EACH = 6, 5


@pytest.fixture
def patient(url, ledger):
    """Return the same ledger as another program opens it, which waits long for a writer."""
    opened = open_ledger(url, wait_s=60)
    yield opened
    opened.close()


def at_once(*tasks):
    """Start every task at the same moment and return what they return."""
    barrier = Barrier(len(tasks))

    def start(task):
        barrier.wait()
        return task()

    with ThreadPoolExecutor(len(tasks)) as pool:
        return [found.result() for found in [pool.submit(start, task) for task in tasks]]


def test_everything_that_many_append_to_one_stone_is_kept(patient, stone_id):
    def append(writer):
        for number in range(EACH):
            with patient.session() as work:
                work.readings.append(reading(f"{writer} {number}"))

    at_once(*(lambda writer=writer: append(writer) for writer in range(WRITERS)))
    with patient.view() as work:
        kept = {found.id for found in work.readings.thread(stone_id)}
        assert kept == {f"{writer} {number}" for writer in range(WRITERS) for number in range(EACH)}
        assert work.stones.revision(stone_id) == 1 + WRITERS * EACH


def test_two_corrections_at_once_are_both_kept(patient, ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a"))

    def correct(id):
        with patient.session() as work:
            seen = work.readings.current(stone_id)[0]
            work.readings.append(reading(id, supersedes="a", reason=f"was {seen.value}"))

    at_once(lambda: correct("b"), lambda: correct("c"))
    with ledger.view() as work:
        assert {found.id for found in work.readings.current(stone_id)} == {"b", "c"}


def test_two_who_amend_one_stone_both_get_their_way(patient, stone_id, later):
    def amend(field):
        with patient.session() as work:
            work.stones.amend(stone_id, {field: "new"}, at=later(), by=field)

    at_once(*(lambda field=field: amend(field) for field in ("place", "note", "claim", "met")))
    with patient.view() as work:
        stone = work.stones.get(stone_id)
        assert (stone.place, stone.note, stone.claim, stone.met) == ("new",) * 4
        assert len(work.stones.events(stone_id)) == 5
        # The words that are searched follow every amendment, not only the last one.
        assert stone_id in [found.stone.id for found in work.stones.page().stones]


def test_of_notes_put_at_once_the_newest_stays(patient, stone_id):
    def put(revision):
        with patient.session() as work:
            work.standings.put(note(revision=revision, awaits=str(revision)))

    at_once(*(lambda revision=revision: put(revision) for revision in (3, 1, WRITERS, 2, 4)))
    with patient.view() as work:
        assert work.standings.get(stone_id) == note(revision=WRITERS, awaits=str(WRITERS))


def test_a_view_sees_one_moment_and_holds_nobody_up(ledger, stone_id):
    with ledger.view() as before:
        assert before.stones.revision(stone_id) == 1
        with ledger.session() as work:
            work.readings.append(reading("a"))
        assert before.readings.thread(stone_id) == ()
        assert before.stones.revision(stone_id) == 1
    with ledger.view() as after:
        assert after.stones.revision(stone_id) == 2


def test_a_view_does_not_wait_for_a_writer(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a"))
        with ledger.view() as view:
            assert view.readings.thread(stone_id) == ()


def test_two_programs_may_open_a_new_ledger_at_once(url):
    opened = at_once(*(lambda: open_ledger(url, wait_s=60) for _ in range(3)))
    for ledger in opened:
        with ledger.view() as work:
            assert work.stones.count() == 0
        ledger.close()
