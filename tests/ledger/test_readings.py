"""Which readings count: what was corrected does not, and a withdrawal takes away."""

from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from isogyre.ledger import RefusedEntryError, UnknownReferenceError
from tests.ledger.made import reading, stone

numbers = count(1)


def ids(readings):
    return [found.id for found in readings]


def correction(id, of, **given):
    return reading(id, supersedes=of, reason="looked again", **given)


def withdrawal(id, of, **given):
    return correction(id, of, state="withdrawn", value=None, **given)


def test_a_correction_counts_instead_of_what_it_corrects(ledger, stone_id, later):
    with ledger.session() as work:
        work.readings.append(reading("a", value=1.76), correction("b", "a", taken_at=later()))
        work.readings.append(correction("c", "b", taken_at=later()))
        assert ids(work.readings.current(stone_id)) == ["c"]
        assert ids(work.readings.thread(stone_id)) == ["a", "b", "c"]


def test_two_corrections_of_one_reading_are_both_kept(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a"), correction("b", "a", value=1.761))
        work.readings.append(correction("c", "a", value=1.763))
        assert ids(work.readings.current(stone_id)) == ["b", "c"]


def test_a_withdrawal_takes_away_and_does_not_count_itself(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a"), reading("b"), withdrawal("c", "a"))
        assert ids(work.readings.current(stone_id)) == ["b"]
        assert ids(work.readings.thread(stone_id)) == ["a", "b", "c"]


def test_what_was_withdrawn_by_mistake_is_read_again(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a"), withdrawal("b", "a"), correction("c", "b"))
        assert ids(work.readings.current(stone_id)) == ["c"]


def test_two_readings_of_one_field_both_count(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("a", value=1.762), reading("b", value=1.763))
        assert ids(work.readings.current(stone_id)) == ["a", "b"]


def test_not_seen_is_a_reading(ledger, stone_id):
    absent = reading("a", field="not_seen", value=["curved striae"], state="not seen")
    with ledger.session() as work:
        work.readings.append(absent)
        assert work.readings.current(stone_id) == (absent,)


def test_a_reading_entered_late_takes_its_place_in_time(ledger, stone_id, later):
    early, late = later(), later()
    with ledger.session() as work:
        work.readings.append(reading("a", taken_at=late), reading("b", taken_at=early))
        assert ids(work.readings.thread(stone_id)) == ["b", "a"]


def test_the_current_readings_of_many_stones_come_together(ledger, stone_id):
    with ledger.session() as work:
        work.stones.enter(stone("other"), by="me")
        work.stones.enter(stone("bare"), by="me")
        work.readings.append(reading("a"), correction("b", "a"), reading("c", stone_id="other"))
        found = work.readings.current_of([stone_id, "other", "bare"])
    assert {key: ids(readings) for key, readings in found.items()} == {
        stone_id: ["b"],
        "other": ["c"],
        "bare": [],
    }


@pytest.mark.parametrize("wrong", [{"stone_id": "other"}, {"field": "sg"}, {"supersedes": "none"}])
def test_a_correction_is_of_the_same_stone_and_field(ledger, stone_id, wrong):
    with ledger.session() as work:
        work.stones.enter(stone("other"), by="me")
        work.readings.append(reading("a"))
        with pytest.raises(UnknownReferenceError, match="same stone and field"):
            work.readings.append(correction("b", **{"of": "a", **renamed(wrong)}))


def renamed(wrong):
    return {"of" if key == "supersedes" else key: value for key, value in wrong.items()}


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        ({"supersedes": "a"}, "ck_readings_reason"),
        ({"supersedes": "b", "reason": "itself"}, "ck_readings_supersedes"),
    ],
)
def test_a_correction_gives_a_reason_and_is_not_of_itself(ledger, stone_id, wrong, rule):
    with ledger.session() as work:
        work.readings.append(reading("a"))
        with pytest.raises(RefusedEntryError, match=rule):
            work.readings.append(reading("b", **wrong))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(
    steps=st.lists(
        st.tuples(st.sampled_from(["read", "correct", "withdraw"]), st.integers(0, 20)),
        max_size=12,
    )
)
def test_what_counts_is_what_a_plain_reckoning_says(ledger, stone_id, steps):
    made = stone(f"s{next(numbers)}")
    thread = []
    for step, target in steps:
        id = f"{made.id} {len(thread):02}"
        if step == "read" or not thread:
            thread.append(reading(id, stone_id=made.id))
        else:
            append = correction if step == "correct" else withdrawal
            thread.append(append(id, thread[target % len(thread)].id, stone_id=made.id))
    replaced = {found.supersedes for found in thread}
    counting = [r.id for r in thread if r.id not in replaced and r.state != "withdrawn"]
    with ledger.session() as work:
        work.stones.enter(made, by="me")
        work.readings.append(*thread)
        assert ids(work.readings.current(made.id)) == counting
        assert ids(work.readings.thread(made.id)) == ids(thread)
        assert work.stones.revision(made.id) == 1 + len(thread)
