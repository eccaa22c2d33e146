"""What cannot be kept unchanged is refused, and what is refused leaves nothing behind."""

import math
from datetime import datetime

import pytest

from isogyre.ledger import (
    AlreadyKeptError,
    CurrencyError,
    Money,
    NaiveTimeError,
    RefusedEntryError,
    UnkeepableError,
    UnknownEntryError,
    UnknownReferenceError,
)
from isogyre.ledger.columns import UtcTime
from isogyre.ledger.values import DEEPEST_NESTING
from tests.ledger.conftest import NOW
from tests.ledger.made import custody, reading, stone, take_in


def test_a_naive_time_is_refused():
    with pytest.raises(NaiveTimeError, match="no time zone"):
        reading("r", taken_at=datetime(2026, 5, 4))


@pytest.mark.parametrize(
    "value",
    [
        *(math.nan, math.inf, 2**53, 1e300, {1: "one"}, {"a": {2}}, ["\0"], "\ud800", b"bytes"),
        (1, 2),
        NOW,
    ],
    ids=repr,
)
def test_a_value_that_would_change_is_refused(value):
    with pytest.raises(UnkeepableError, match="cannot be kept unchanged"):
        reading("r", value=value)


def test_a_value_nested_too_deep_is_refused_and_one_less_is_kept(ledger, stone_id):
    value = 0
    for _ in range(DEEPEST_NESTING):
        value = [value]
    with pytest.raises(UnkeepableError, match="deeper"):
        reading("r", value=[value])
    with ledger.session() as work:
        work.readings.append(reading("r", value=value))
        assert work.readings.thread(stone_id)[0].value == value


@pytest.mark.parametrize("note", ["a\0b", "\udc80"])
def test_a_text_that_is_none_is_refused(note):
    with pytest.raises(UnkeepableError, match="no text"):
        stone("s", note=note)


def test_a_measure_that_is_no_number_is_refused():
    with pytest.raises(UnkeepableError, match="finite"):
        stone("s", length_mm=math.nan)


@pytest.mark.parametrize(
    ("minor", "currency"), [(1.5, "EUR"), (True, "EUR"), (2**53, "EUR"), (1, "eur"), (1, "EURO")]
)
def test_an_amount_that_is_none_is_refused(minor, currency):
    with pytest.raises(CurrencyError, match="whole minor units"):
        Money(minor, currency)


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        ({"kind": "boat"}, "ck_stones_kind"),
        ({"form": "egg"}, "ck_stones_form"),
        ({"name": ""}, "ck_stones_name"),
        ({"depth_mm": 0.0}, "ck_stones_depth_mm"),
        ({"count": 0}, "ck_stones_count"),
        ({"asking": Money(1, "EUR")}, "ck_stones_asked"),
        ({"asking_per": "carat"}, "ck_stones_asked"),
        ({"asking": Money(-1, "EUR"), "asking_per": "carat"}, "ck_stones_asking"),
    ],
)
def test_the_database_names_the_rule_that_a_stone_breaks(ledger, wrong, rule):
    with ledger.session() as work, pytest.raises(RefusedEntryError, match=rule):
        work.stones.enter(stone("s", **wrong), by="me")
    with ledger.view() as work:
        assert work.stones.count() == 0


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        ({"state": "guessed"}, "ck_readings_state"),
        ({"error": -0.1}, "ck_readings_error"),
        ({"field": ""}, "ck_readings_field"),
        ({"state": "withdrawn", "value": None}, "ck_readings_withdrawn"),
    ],
)
def test_the_database_names_the_rule_that_a_reading_breaks(ledger, stone_id, wrong, rule):
    with ledger.session() as work, pytest.raises(RefusedEntryError, match=rule):
        work.readings.append(reading("r", **wrong))


def test_an_entry_sent_twice_is_refused_and_the_first_one_stays(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("r"))
        work.custody.append(custody("c", "mine"))
        work.take_ins.append(take_in("t"))
    again = [
        lambda work: work.readings.append(reading("r", value=1.5)),
        lambda work: work.custody.append(custody("c", "client's", party_id="client")),
        lambda work: work.stones.enter(stone(stone_id), by="me"),
        lambda work: work.take_ins.append(take_in("u", receipt="2026-t")),
    ]
    for send in again:
        with ledger.session() as work, pytest.raises(AlreadyKeptError, match="of its own"):
            send(work)
    with ledger.view() as work:
        assert work.readings.thread(stone_id) == (reading("r"),)
        assert work.custody.history(stone_id) == (custody("c", "mine"),)


def test_an_entry_about_nothing_known_is_refused(ledger, stone_id):
    wrong = [
        lambda work: work.readings.append(reading("r", stone_id="none")),
        lambda work: work.custody.append(custody("c", "client's", party_id="none")),
        lambda work: work.take_ins.append(take_in("t", photographs=("none",))),
    ]
    for append in wrong:
        with ledger.session() as work, pytest.raises(UnknownReferenceError, match="enter the"):
            append(work)
    with ledger.view() as work:
        assert work.take_ins.of_stone(stone_id) == ()


def test_custody_of_others_names_a_party(ledger, stone_id):
    with ledger.session() as work, pytest.raises(RefusedEntryError, match="ck_custody_party"):
        work.custody.append(custody("c", "out to setter"))


def test_what_is_not_there_is_said_so(ledger):
    with ledger.view() as work:
        for look in (work.stones.get, work.stones.listed, work.photographs.get):
            with pytest.raises(UnknownEntryError, match="'none' is in the ledger"):
                look("none")
        for look in (
            *(work.take_ins.get, work.take_ins.by_receipt),
            *(work.parties.get, work.readings.get),
        ):
            with pytest.raises(UnknownEntryError, match="'none' is in the ledger"):
                look("none")
        assert work.stones.revision("none") == 0
        assert work.custody.newest("none") is None


def test_an_id_that_is_no_text_finds_nothing_or_is_refused(ledger):
    with ledger.view() as work, pytest.raises((UnknownEntryError, RefusedEntryError)):
        work.stones.get("a\0b")


def test_a_unit_of_work_that_fails_leaves_nothing_behind(ledger, stone_id):
    with pytest.raises(ZeroDivisionError), ledger.session() as work:
        work.readings.append(reading("r"))
        work.stones.amend(stone_id, {"place": "window"}, at=NOW, by="me")
        1 / 0  # noqa: B018
    with ledger.view() as work:
        assert work.readings.thread(stone_id) == ()
        assert work.stones.get(stone_id).place == ""


def test_the_type_of_a_column_refuses_a_naive_time_too():
    with pytest.raises(NaiveTimeError):
        UtcTime().process_bind_param(datetime(2026, 5, 4), None)


def test_a_refused_entry_does_not_take_the_others_with_it(ledger, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("before"))
        with pytest.raises(AlreadyKeptError):
            work.readings.append(reading("beside"), reading("before", value=1.5))
        with pytest.raises(RefusedEntryError):
            work.stones.amend(stone_id, {"place": "safe", "depth_mm": -1.0}, at=NOW, by="me")
        work.readings.append(reading("after"))
    with ledger.view() as work:
        assert [found.id for found in work.readings.thread(stone_id)] == ["before", "after"]
        assert work.stones.get(stone_id).place == ""
        assert len(work.stones.events(stone_id)) == 1
