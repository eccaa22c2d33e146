"""Entries to test with, of which a test says only what matters to it."""

from dataclasses import replace
from typing import Any

from isogyre.ledger import Custody, Photograph, Reading, Stone, TakeIn
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


def stone(id: str, **given: Any) -> Stone:
    return replace(Stone(id=id, name=id, created_at=NOW), **given)


def reading(id: str, **given: Any) -> Reading:
    return replace(READING, id=id, **given)


def custody(id: str, holding: str, **given: Any) -> Custody:
    return replace(
        Custody(id=id, stone_id="stone", holding="mine", since=NOW), holding=holding, **given
    )


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
