"""Readings of a kept stone on both databases: kept, corrected, taken back, weighed and noted."""

from datetime import UTC, datetime, timedelta
from itertools import count

import pytest

import isogyre.desk.standings
from isogyre.desk import LedgerLockedError, RecordTroubleError, UnknownEntryError, identify
from isogyre.desk.house import House
from isogyre.desk.intake import add_readings, standing_of, take_record
from isogyre.desk.standings import reweigh, reweigh_stale
from isogyre.desk.thread import Taken, keep_entries, stone_entries, stone_record
from isogyre.instruments.kits import KITS, Kit

RUBY = {
    "id": "red oval",
    "met": "market",
    "form": "faceted",
    "colour": "red",
    "ri_low": "1,762",
    "ri_high": "1.770",
    "magnification": ["silk", "fingerprint"],
    "not_seen": ["curved striae", "gas bubbles"],
    "spectrum_lines_nm": [692, 468.5],
    "laboratory": {"conclusion": "ruby", "matched": "yes"},
    "heavy_liquid": {"sg": "3.32", "result": "sinks"},
    "claim": "ruby, heated",
}


@pytest.fixture
def house(url, tmp_path, workbench):
    minutes = count()
    start = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
    house = House(workbench, tmp_path, url, now=lambda: start + timedelta(minutes=next(minutes)))
    yield house
    house.close()


def current(house, stone_id):
    with house.ledger.view() as work:
        return work.readings.current(stone_id)


def ids(house, stone_id):
    return [reading.id for reading in current(house, stone_id)]


def note(house, stone_id):
    with house.ledger.view() as work:
        return work.standings.get(stone_id)


def test_a_record_comes_back_from_the_ledger_as_it_went_in(house):
    stone_id = take_record(house, RUBY)
    with house.ledger.view() as work:
        stone = work.stones.get(stone_id)
    assert stone_record(house.workbench, stone, current(house, stone_id)) == RUBY


def test_a_kept_stone_stands_where_its_record_stands(house):
    stone_id = take_record(house, RUBY)
    assert standing_of(house, stone_id, "bench", "name") == identify(house.workbench, RUBY)


def test_entries_and_readings_are_the_same_thing_said_twice(house):
    """What is typed for the readings, kept again, is no change; whatever its kind."""
    stone_id = take_record(house, RUBY)
    entries = stone_entries(house.workbench, RUBY)
    assert keep_entries(house, stone_id, entries, ids(house, stone_id)) == 0


def test_a_stone_that_changed_since_its_form_was_opened_keeps_both(house):
    stone_id = take_record(house, {"id": "a", "colour": "red"})
    opened = ids(house, stone_id)
    keep_entries(house, stone_id, {"colour": "red", "polariscope": "SR"}, opened)
    keep_entries(house, stone_id, {"colour": "red", "chelsea": "red"}, opened)
    assert {r.field for r in current(house, stone_id)} == {"colour", "polariscope", "chelsea"}


def test_nothing_is_kept_of_a_sheet_that_cannot_be(house):
    stone_id = take_record(house, RUBY)
    before = current(house, stone_id)
    typed = stone_entries(house.workbench, RUBY) | {"ri_low": "1.79", "polariscope": "DR"}
    with pytest.raises(RecordTroubleError, match="ri_low"):
        keep_entries(house, stone_id, typed, ids(house, stone_id))
    assert current(house, stone_id) == before


def test_a_contradiction_with_what_is_kept_is_refused_too(house):
    """The lower edge was kept before; the upper one that comes now lies below it."""
    stone_id = take_record(house, {"id": "a", "ri_low": "1.770"})
    with pytest.raises(RecordTroubleError):
        keep_entries(house, stone_id, {"ri_low": "1.770", "ri_high": "1.76"}, ids(house, stone_id))


def test_the_thread_holds_everything_that_was_ever_read(house):
    stone_id = take_record(house, {"id": "a", "colour": "red", "chelsea": "red"})
    keep_entries(house, stone_id, {"colour": "pink"}, ids(house, stone_id), Taken(reason="lamp"))
    with house.ledger.view() as work:
        thread = work.readings.thread(stone_id)
    assert [(r.value, r.state, r.reason) for r in thread] == [
        ("red", "seen", ""),
        ("red", "seen", ""),
        ("pink", "seen", "lamp"),
        (None, "withdrawn", "lamp"),
    ]
    keep_entries(
        house, stone_id, {"colour": "pink"}, ids(house, stone_id), put_back=[thread[-1].id]
    )
    assert {r.field: r.value for r in current(house, stone_id)} == {
        "colour": "pink",
        "chelsea": "red",
    }


def test_only_a_withdrawal_can_be_put_back(house):
    stone_id = take_record(house, {"id": "a", "colour": "red"})
    known = ids(house, stone_id)
    typed = {"colour": "red"}
    assert keep_entries(house, stone_id, typed, known, put_back=[*known, "no such reading"]) == 0


def test_the_figures_of_the_kit_are_kept_with_what_it_read(house):
    coarse = Kit("coarse", "", KITS["bench"].fields, errors={"ri_sd": 0.01, "sg_sd": 0.05})
    stone_id = take_record(house, {"id": "a", "colour": "red"})
    typed = {"colour": "red", "ri_low": "1.76", "ri_high": "1.77"}
    keep_entries(house, stone_id, typed, ids(house, stone_id), Taken(kit=coarse))
    kept = {r.field: r for r in current(house, stone_id)}
    assert kept["ri_low"].error == kept["ri_high"].error == 0.01
    assert kept["ri_sd"].value == 0.01
    assert "sg_sd" not in kept  # nothing was weighed


def test_a_stone_s_entry_follows_what_was_told_of_it(house):
    stone_id = take_record(house, RUBY)
    entries = stone_entries(house.workbench, RUBY) | {"claim": "spinel", "form": "cabochon"}
    keep_entries(house, stone_id, entries, ids(house, stone_id))
    with house.ledger.view() as work:
        stone = work.stones.get(stone_id)
    assert (stone.claim, stone.form) == ("spinel", "cabochon")


def test_the_note_says_what_the_stone_stands_at_until_it_is_read_again(house):
    stone_id = take_record(house, {"id": "a", "colour": "red", "ri_low": 1.718, "ri_high": 1.718})
    assert note(house, stone_id).leader == "spinel"
    keep_entries(house, stone_id, {"colour": "red"}, ids(house, stone_id))
    with house.ledger.view() as work:
        assert work.standings.count_stale(house.made_by) == 1
    assert reweigh_stale(house) == 1
    with house.ledger.view() as work:
        assert note(house, stone_id).revision == work.stones.revision(stone_id)


def test_reweighing_stops_when_it_is_told_to(house):
    for number in range(3):
        take_record(house, {"id": f"stone {number}", "colour": "red"})
    house.made_by = "another catalogue"
    assert reweigh_stale(house, told=lambda left: False) == 0
    heard = []
    assert reweigh_stale(house, told=lambda left: heard.append(left) or True) == 3
    assert heard == [3]


def test_a_stone_without_readings_is_noted_as_open(house):
    stone_id = take_record(house, {"id": "bare"})
    found = note(house, stone_id)
    assert (found.leader, found.is_open, found.leader_probability) == ("", True, 0.0)


def test_a_stone_nobody_entered_is_refused(house):
    with pytest.raises(UnknownEntryError):
        keep_entries(house, "nobody", {"colour": "red"}, [])
    with pytest.raises(UnknownEntryError):
        reweigh(house, ["nobody"])


def rival_pairs(house):
    """Two tabs keep each a pair of edges; both stand."""
    stone_id = take_record(house, {"id": "a", "colour": "red"})
    opened = ids(house, stone_id)
    keep_entries(house, stone_id, {"colour": "red", "ri_low": "1.762", "ri_high": "1.770"}, opened)
    keep_entries(house, stone_id, {"colour": "red", "ri_low": "1.544", "ri_high": "1.553"}, opened)
    return stone_id


def edges(house, stone_id):
    return [(r.field, r.value) for r in current(house, stone_id) if r.field.startswith("ri")]


def test_taking_back_one_of_two_rivals_leaves_the_other(house):
    stone_id = rival_pairs(house)
    newest = next(r for r in current(house, stone_id) if r.value == "1.553")
    typed = {"colour": "red", "ri_low": "1.544", "ri_high": "1.553"}
    keep_entries(house, stone_id, typed, ids(house, stone_id), withdrawn=[newest.id])
    assert edges(house, stone_id) == [
        ("ri_low", "1.762"),
        ("ri_high", "1.770"),
        ("ri_low", "1.544"),
    ]


def test_a_correction_settles_which_of_two_rivals_counts(house):
    stone_id = rival_pairs(house)
    typed = {"colour": "red", "ri_low": "1.763", "ri_high": "1.770"}
    keep_entries(house, stone_id, typed, ids(house, stone_id))
    assert sorted(edges(house, stone_id)) == [("ri_high", "1.770"), ("ri_low", "1.763")]


def test_nothing_is_kept_if_what_is_put_back_cannot_stand_beside_it(house):
    stone_id = take_record(house, {"id": "a", "ri_high": "1.70"})
    keep_entries(house, stone_id, {}, ids(house, stone_id))
    with house.ledger.view() as work:
        before = work.readings.thread(stone_id)
    with pytest.raises(RecordTroubleError):
        keep_entries(house, stone_id, {"ri_low": "1.76"}, [], put_back=[before[-1].id])
    with house.ledger.view() as work:
        assert work.readings.thread(stone_id) == before


def test_a_claim_that_only_the_entry_tells_is_not_told_again(house):
    """Two tabs send the sheets of a stone; neither typed anything into what the seller said."""
    stone_id = take_record(house, {"id": "a", "claim": "ruby"})
    opened = ids(house, stone_id)
    for key in ("magnet", "chelsea"):
        value = "none" if key == "magnet" else "red"
        keep_entries(house, stone_id, {"claim": "ruby", key: value}, opened)
    told = [r.value for r in current(house, stone_id) if r.field == "claim"]
    assert told == ["ruby"]


def test_a_note_that_cannot_be_written_does_not_make_a_kept_reading_look_lost(house, monkeypatch):
    stone_id = take_record(house, {"id": "a", "colour": "red"})

    def locked(*_):
        raise LedgerLockedError("here")

    monkeypatch.setattr(isogyre.desk.standings, "reweigh", locked)
    assert add_readings(house, stone_id, {"chelsea": "red"})["kept"] == 1
    with house.ledger.view() as work:
        assert work.standings.stale(house.made_by, 9) == (stone_id,)
