"""Entries to test with, of which a test says only what matters to it."""

from dataclasses import replace
from typing import Any

from isogyre.ledger import Custody, Photograph, Reading, StandingNote, Stone, TakeIn
from tests.ledger.conftest import NOW

READING = Reading(
    id="reading", stone_id="stone", field="ri_low", value=1.762, taken_at=NOW, taken_by="me"
)
PHOTOGRAPH = Photograph(
    id="photograph",
    stone_id="stone",
    sha256="0" * 64,
    media_type="image/jpeg",
    width_px=4000,
    height_px=3000,
    added_at=NOW,
)
# A stone just entered has one event and no reading, so its revision is 1.
NOTE = StandingNote(
    stone_id="stone",
    revision=1,
    made_by="catalogue a",
    made_at=NOW,
    leader="",
    leader_probability=0.0,
    name="",
    origin="",
    origin_probability=0.0,
    treatment="",
    treatment_probability=0.0,
    is_open=True,
    does_not_fit=False,
    awaits="",
    next_test="",
)


def stone(id: str, **given: Any) -> Stone:
    return replace(Stone(id=id, name=id, created_at=NOW), **given)


def reading(id: str, **given: Any) -> Reading:
    return replace(READING, id=id, **given)


def custody(id: str, holding: str, **given: Any) -> Custody:
    return replace(
        Custody(id=id, stone_id="stone", holding="mine", since=NOW), holding=holding, **given
    )


def note(stone_id: str = "stone", **given: Any) -> StandingNote:
    return replace(NOTE, stone_id=stone_id, **given)


def photograph(id: str, **given: Any) -> Photograph:
    return replace(PHOTOGRAPH, id=id, **given)


def take_in(id: str, **given: Any) -> TakeIn:
    made = TakeIn(
        id=id,
        receipt=f"2026-{id}",
        stone_id="stone",
        party_id="client",
        received_at=NOW,
        received_by="me",
    )
    return replace(made, **given)
