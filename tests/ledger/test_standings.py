"""Notes of the standing: replaced by newer ones, found by what they say while they are current."""

from datetime import timedelta

import pytest

from isogyre.ledger import (
    NaiveTimeError,
    RefusedEntryError,
    StandingNote,
    StoneFilter,
    UnkeepableError,
    UnknownReferenceError,
)
from tests.ledger.conftest import NOW
from tests.ledger.made import note, reading, stone

WHOLE = StandingNote(
    stone_id="stone",
    revision=1,
    made_by="b1946ac9",
    made_at=NOW,
    leader="beryl",
    leader_probability=0.97,
    name="émeraude ✓",
    origin="natural",
    origin_probability=1.0,
    treatment="fissures filled with oil",
    treatment_probability=0.125,
    is_open=False,
    does_not_fit=True,
    awaits="microscope",
    next_test="look for flashes in the fissures",
)


def test_a_note_keeps_every_field(ledger, stone_id):
    with ledger.session() as work:
        assert work.standings.get(stone_id) is None
        work.standings.put(WHOLE)
    with ledger.view() as work:
        kept = work.standings.get(stone_id)
        assert kept == WHOLE
        # Equality takes 1 for True.
        assert (kept.is_open, kept.does_not_fit) == (False, True)
        assert {type(kept.is_open), type(kept.does_not_fit)} == {bool}


def test_a_note_is_replaced_by_one_as_new_or_newer_and_by_no_older_one(ledger, stone_id):
    third, again = (
        note(revision=3, leader="spinel"),
        note(revision=3, leader="garnet", is_open=False),
    )
    with ledger.session() as work:
        for put, kept in [
            (third, third),
            (note(revision=2, leader="zircon"), third),
            (again, again),
            (note(revision=4), note(revision=4)),
        ]:
            work.standings.put(put)
            assert work.standings.get(stone_id) == kept


def test_what_another_program_put_is_seen_by_the_next_view(ledger, stone_id):
    with ledger.session() as work:
        work.standings.put(note(leader="spinel"))
    with ledger.view() as before:
        assert before.standings.get(stone_id).leader == "spinel"
        with ledger.session() as work:
            work.standings.put(note(revision=2, leader="garnet"))
        assert before.standings.get(stone_id).leader == "spinel"
    with ledger.view() as after:
        assert after.standings.get(stone_id).leader == "garnet"


def test_the_notes_of_many_stones_come_together(ledger, stone_id):
    with ledger.session() as work:
        work.stones.enter(stone("other"), by="me")
        work.stones.enter(stone("bare"), by="me")
        work.standings.put(note())
        work.standings.put(note("other", awaits="loupe"))
        found = work.standings.of([stone_id, "other", "bare", "none"])
    assert found == {stone_id: note(), "other": note("other", awaits="loupe")}


def test_the_list_shows_the_last_note_even_if_it_is_out_of_date(ledger, stone_id):
    with ledger.session() as work:
        assert work.stones.listed(stone_id).note is None
        work.standings.put(note(leader="spinel"))
        work.readings.append(reading("r"))
        listed = work.stones.page().stones[0]
    assert listed.note == note(leader="spinel")
    assert (listed.revision, listed.note.revision) == (2, 1)


# ---- stale -----------------------------------------------------------------------------------


def stale(ledger, made_by="catalogue a"):
    with ledger.view() as work:
        found = work.standings.stale(made_by, 9)
        assert work.standings.count_stale(made_by) == len(found)
        return found


def test_a_note_is_stale_when_missing_or_made_before_a_reading_or_a_change(ledger, stone_id):
    def put(revision):
        with ledger.session() as work:
            work.standings.put(note(revision=revision))

    assert stale(ledger) == (stone_id,)
    put(1)
    assert stale(ledger) == ()
    with ledger.session() as work:
        work.readings.append(reading("r"))
    assert stale(ledger) == (stone_id,)
    put(2)
    assert stale(ledger) == ()
    with ledger.session() as work:
        work.stones.amend(stone_id, {"met": "market"}, at=NOW, by="me")
    assert stale(ledger) == (stone_id,)


def test_a_note_is_stale_when_another_catalogue_made_it(ledger, stone_id):
    with ledger.session() as work:
        work.standings.put(note())
    assert stale(ledger, "catalogue b") == (stone_id,)
    with ledger.session() as work:
        work.standings.put(note(made_by="catalogue b"))
    assert stale(ledger, "catalogue b") == ()


def test_a_stone_in_the_archive_is_not_stale_until_it_is_restored(ledger, stone_id, later):
    with ledger.session() as work:
        work.standings.put(note())
        work.stones.archive(stone_id, at=later(), by="me")
    assert stale(ledger) == ()
    with ledger.session() as work:
        work.stones.restore(stone_id, at=later(), by="me")
    assert stale(ledger) == (stone_id,)


def test_the_newest_stones_are_named_first_and_no_more_than_asked_for(ledger, stone_id):
    with ledger.session() as work:
        for minutes, id in enumerate(("b", "c", "a"), start=1):
            work.stones.enter(stone(id, created_at=NOW + timedelta(minutes=minutes)), by="me")
        assert work.standings.stale("catalogue a", 3) == ("a", "c", "b")
        assert work.standings.count_stale("catalogue a") == 4


# ---- filters ---------------------------------------------------------------------------------


@pytest.fixture
def box(ledger, stone_id):
    """Return a ledger with four stones, of which the last was read since its note was made."""
    made = [
        note("beryl", leader="Beryl", is_open=False),
        note("garnet", leader="Pyrope-Almandine", awaits="spectroscope"),
        note("odd", leader="beryllonite", does_not_fit=True, awaits="refractometer"),
        note("read", leader="beryl", does_not_fit=True, awaits="refractometer"),
    ]
    with ledger.session() as work:
        for minutes, each in enumerate(made, start=1):
            created_at = NOW + timedelta(minutes=minutes)
            work.stones.enter(stone(each.stone_id, created_at=created_at), by="me")
            work.standings.put(each)
        work.readings.append(reading("r", stone_id="read"))
    return ledger


# What is asked of the notes, and which stones are listed, the newest first.
LISTS = [
    ({}, ["read", "odd", "garnet", "beryl", "stone"]),
    ({"is_open": True}, ["odd", "garnet"]),
    ({"is_open": False}, ["beryl"]),
    ({"does_not_fit": True}, ["odd"]),
    ({"does_not_fit": False}, ["garnet", "beryl"]),
    ({"awaits": "refractometer"}, ["odd"]),
    ({"awaits": "refract"}, []),
    ({"leader": "BERYL"}, ["odd", "beryl"]),
    ({"leader": "almandine PYROPE"}, ["garnet"]),
    ({"leader": "beryl%"}, []),
    ({"leader": "beryl", "is_open": True}, ["odd"]),
    ({"leader": " "}, ["read", "odd", "garnet", "beryl", "stone"]),
    ({"is_open": True, "words": "garnet"}, ["garnet"]),
    ({"is_open": True, "lacks": ("ri_low",), "awaits": "spectroscope"}, ["garnet"]),
]


def found(ledger, **wanted):
    with ledger.view() as work:
        page = work.stones.page(StoneFilter(**wanted))
        assert work.stones.count(StoneFilter(**wanted)) == len(page.stones)
        return [listed.stone.id for listed in page.stones]


def test_a_filter_finds_what_current_notes_say(box):
    assert [(wanted, found(box, **wanted)) for wanted, _ in LISTS] == LISTS


def test_what_is_awaited_is_what_a_filter_finds(box):
    with box.view() as work:
        awaited = work.standings.awaited()
        assert awaited == {"refractometer": 1, "spectroscope": 1}
        for instrument, number in awaited.items():
            assert work.stones.count(StoneFilter(awaits=instrument)) == number
    with box.session() as work:
        work.stones.archive("odd", at=NOW, by="me")
        assert "refractometer" not in work.standings.awaited()


def test_a_stone_is_found_again_once_its_note_is_made_again(box):
    with box.session() as work:
        work.standings.put(note("read", revision=2, leader="topaz", is_open=False))
    assert found(box, is_open=False) == ["read", "beryl"]
    assert found(box, does_not_fit=True) == ["odd"]
    assert found(box, leader="topaz") == ["read"]


# ---- refusals --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        ({"revision": 0}, "ck_standing_notes_revision"),
        ({"leader_probability": 1.01}, "ck_standing_notes_leader_probability"),
        ({"origin_probability": -0.01}, "ck_standing_notes_origin_probability"),
        ({"treatment_probability": 2.0}, "ck_standing_notes_treatment_probability"),
    ],
)
def test_the_database_names_the_rule_that_a_note_breaks(ledger, stone_id, wrong, rule):
    with ledger.session() as work:
        work.standings.put(note())
        with pytest.raises(RefusedEntryError, match=rule):
            work.standings.put(note(**wrong))
        assert work.standings.get(stone_id) == note()


def test_a_note_of_no_stone_is_refused(ledger):
    with ledger.session() as work, pytest.raises(UnknownReferenceError, match="enter the"):
        work.standings.put(note("none"))


def test_a_note_that_would_change_is_refused():
    with pytest.raises(NaiveTimeError):
        note(made_at=NOW.replace(tzinfo=None))
    with pytest.raises(UnkeepableError, match="finite"):
        note(leader_probability=float("nan"))
