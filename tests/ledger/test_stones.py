"""A stone's entry may be amended and archived, and every change leaves a trail."""

from dataclasses import replace

import pytest

from isogyre.ledger import Money, UnamendableError
from tests.ledger.conftest import NOW


def test_amendments_leave_a_trail(ledger, stone_id, later):
    asked = {"asking": Money(48000, "EUR"), "asking_per": "stone"}
    with ledger.session() as work:
        before = work.stones.get(stone_id)
        work.stones.amend(stone_id, {"place": "safe", **asked}, at=later(), by="me")
        work.stones.amend(stone_id, {"place": "safe"}, at=later(), by="me")
        work.stones.amend(stone_id, {"asking": None, "asking_per": None}, at=later(), by="you")
    with ledger.view() as work:
        assert work.stones.get(stone_id) == replace(before, place="safe")
        entered, first, second = work.stones.events(stone_id)
    assert (entered.kind, entered.at) == ("entered", NOW)
    assert first.changes == {
        "asking": {"was": None, "is": {"minor": 48000, "currency": "EUR"}},
        "asking_per": {"was": None, "is": "stone"},
        "place": {"was": "", "is": "safe"},
    }
    assert (second.kind, second.by, set(second.changes)) == ("amended", "you", set(asked))


@pytest.mark.parametrize("field", ["id", "created_at", "weight"])
def test_what_identifies_a_stone_is_not_amended(ledger, stone_id, field):
    with ledger.session() as work, pytest.raises(UnamendableError, match=field):
        work.stones.amend(stone_id, {field: "other"}, at=NOW, by="me")


def test_an_archived_stone_can_be_restored_and_keeps_the_trail(ledger, stone_id, later):
    with ledger.session() as work:
        work.stones.archive(stone_id, at=later(), by="me")
        work.stones.archive(stone_id, at=later(), by="me")
        assert work.stones.listed(stone_id).is_archived
        assert work.stones.count() == 0
        work.stones.restore(stone_id, at=later(), by="me")
        work.stones.restore(stone_id, at=later(), by="me")
        assert not work.stones.listed(stone_id).is_archived
        assert work.stones.count() == 1
        work.stones.archive(stone_id, at=later(), by="me")
        assert work.stones.listed(stone_id).is_archived
        kinds = [event.kind for event in work.stones.events(stone_id)]
    assert kinds == ["entered", "archived", "restored", "archived"]
