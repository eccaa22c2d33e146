"""Stones as they are entered, described anew and handed on, on both databases; and their list."""

from datetime import UTC, datetime, timedelta
from itertools import count

import pytest

from isogyre.desk import RecordTroubleError, UnknownEntryError
from isogyre.desk.entering import (
    amend_stone,
    archive_stone,
    enter_stone,
    restore_stone,
    take_custody,
    typed_of_stone,
)
from isogyre.desk.house import House
from isogyre.desk.intake import take_record
from isogyre.desk.page.listing import Asked, stones_page
from isogyre.desk.standings import weigh
from isogyre.ledger import Money

START = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
WHOLE = {
    "name": "tray 3, second",
    "claim": "sapphire, not heated",
    "asking": "1200.50",
    "currency": "CHF",
    "asking_per": "carat",
    "met": "market",
    "where_met": "hall 2, table 14",
    "place": "tray 3",
    "kind": "stone",
    "form": "faceted",
    "length_mm": "6.1",
    "width_mm": "5.4",
    "depth_mm": "3.8",
    "count": "1",
    "note": "looked greyer under the lamp",
}


@pytest.fixture
def house(url, tmp_path, workbench):
    minutes = count()
    house = House(workbench, tmp_path, url, now=lambda: START + timedelta(minutes=next(minutes)))
    yield house
    house.close()


def kept(house, stone_id):
    with house.ledger.view() as work:
        return work.stones.get(stone_id)


def names(house, **asked):
    return [row.name for row in stones_page(house, Asked(**asked)).rows]


def test_what_is_typed_of_a_stone_is_what_is_kept_of_it(house):
    """Typed again from the entry it is the same text: nothing is lost or turned on the way."""
    stone = kept(house, enter_stone(house, WHOLE))
    assert typed_of_stone(stone) == WHOLE
    assert stone.asking == Money(120050, "CHF")


def test_a_stone_described_as_it_was_leaves_no_trace(house):
    stone_id = enter_stone(house, WHOLE)
    before = weigh(house, stone_id).listed.revision
    amend_stone(house, stone_id, typed_of_stone(kept(house, stone_id)))
    assert weigh(house, stone_id).listed.revision == before


def test_every_trouble_is_told_at_once_and_nothing_is_kept(house):
    typed = WHOLE | {"asking": "much", "length_mm": "0", "count": "1.5", "met": "the moon"}
    with pytest.raises(RecordTroubleError) as refused:
        enter_stone(house, typed)
    assert {t.field for t in refused.value.troubles} == {"asking", "length_mm", "count", "met"}
    assert names(house) == []


def test_names_that_are_made_differ_though_one_was_renamed(house):
    made = [enter_stone(house, {"claim": "spinel, not heated"}) for _ in range(3)]
    amend_stone(house, made[0], {"name": "the good one", "claim": "garnet"})
    made.append(enter_stone(house, {"claim": "spinel"}))
    found = [kept(house, stone_id).name for stone_id in made]
    assert len(set(found)) == len(found)
    assert found[1:3] == ["spinel 2", "spinel 3"]


def test_a_stone_without_claim_is_named_by_its_colour_or_by_what_it_is(house):
    assert kept(house, enter_stone(house, {"colour": "red"})).name == "red 1"
    assert kept(house, enter_stone(house, {})).name == "stone 1"


def test_a_claim_that_is_struck_out_is_not_weighed_any_more(house):
    stone_id = take_record(house, {"id": "a", "colour": "red", "claim": "ruby"})
    assert weigh(house, stone_id).record["claim"] == "ruby"
    amend_stone(house, stone_id, {"name": "a", "claim": ""})
    assert "claim" not in weigh(house, stone_id).record
    assert kept(house, stone_id).claim == ""


def test_a_new_claim_is_weighed_in_place_of_the_old_one(house):
    for stone_id in (
        take_record(house, {"id": "told", "colour": "red", "claim": "ruby"}),
        enter_stone(house, {"name": "entered", "colour": "red", "claim": "ruby"}),
    ):
        amend_stone(house, stone_id, {"claim": "spinel"})
        assert weigh(house, stone_id).record["claim"] == "spinel"
        assert kept(house, stone_id).claim == "spinel"


def test_open_and_settled_part_the_weighed_stones(house):
    peridot = {"colour": "green", "ri_low": 1.654, "ri_high": 1.690, "polariscope": "DR"}
    take_record(house, {"id": "settled", "sg": 3.34, **peridot})
    for colour in ("red", "blue", "colourless"):
        enter_stone(house, {"colour": colour})
    enter_stone(house, {"name": "untouched"})
    both, settled = names(house, show="open"), names(house, show="settled")
    assert sorted(both + settled) == sorted(names(house))
    assert settled == ["settled"]


def test_the_counts_that_are_shown_are_what_one_then_finds(house):
    for number, place in enumerate(("box 1", "box 1", "box 2", "")):
        enter_stone(house, {"name": f"s{number}", "colour": "blue", "place": place})
    page = stones_page(house, Asked())
    assert page.places == (("box 1", 2), ("box 2", 1))
    for place, number in page.places:
        assert len(names(house, place=place)) == number
    for instrument, number in page.instruments:
        assert len(names(house, awaits=instrument)) == number
    assert page.instruments


def test_what_is_asked_for_stays_offered_though_nothing_is_left_of_it(house):
    enter_stone(house, {"name": "a"})
    page = stones_page(house, Asked(place="an old box", awaits="magnet"))
    assert ("an old box", 0) in page.places
    assert ("magnet", 0) in page.instruments


def test_a_stone_due_back_to_its_owner_is_late_wherever_it_is(house):
    stone_id = enter_stone(house, {"name": "on loan"})
    dealer = {"holding": "on approval from", "party": "Dealer", "due": "2026-05-01"}
    take_custody(house, stone_id, dealer)
    take_custody(house, stone_id, {"holding": "out to setter", "party": "Setter"})
    (row,) = stones_page(house, Asked(show="overdue")).rows
    assert "overdue" in [word for _, word in row.flags]


def test_whoever_is_named_again_is_the_same_party_of_that_kind(house):
    one, other = (enter_stone(house, {"name": name}) for name in ("one", "other"))
    take_custody(house, one, {"holding": "client's", "party": "A. Name"})
    take_custody(house, other, {"holding": "out to client", "party": "a. name"})
    take_custody(house, other, {"holding": "on approval from", "party": "A. Name"})
    with house.ledger.view() as work:
        assert sorted((p.name, p.kind) for p in work.parties.all()) == [
            ("A. Name", "client"),
            ("A. Name", "dealer"),
        ]


def test_an_archived_stone_is_weighed_no_worse_when_it_is_back(house):
    stone_id = enter_stone(house, {"name": "a", "colour": "red"})
    before = weigh(house, stone_id).answer
    archive_stone(house, stone_id)
    assert (names(house), names(house, show="archived")) == ([], ["a"])
    restore_stone(house, stone_id)
    assert (names(house), names(house, show="open")) == (["a"], ["a"])
    assert weigh(house, stone_id).answer == before


def test_two_stones_alike_are_drawn_each_with_ids_of_its_own(house):
    for name in ("one", "other"):
        enter_stone(house, {"name": name, "length_mm": "7", "width_mm": "5", "colour": "red"})
    drawn = [row.svg for row in stones_page(house, Asked()).rows]
    assert drawn[0].replace("plan-0", "plan-1") == drawn[1] != drawn[0]


def test_a_stone_nobody_entered_is_refused(house):
    for change in (archive_stone, restore_stone):
        with pytest.raises(UnknownEntryError):
            change(house, "nobody")
    with pytest.raises(UnknownEntryError):
        amend_stone(house, "nobody", {"name": "a"})
