"""What the bench may do: the catalogue is never laxer than the published table of care.

It may be stricter: the README of the evidence tables says where the sources are too kind.
"""

import pytest

from isogyre.catalogue.model import Care
from tests.catalogue.stones import Kind, catalogue, kinds, reading_of, table, words

VERDICTS = ("yes", "caution", "no")
OPERATIONS = {
    "torch": "torch_safe",
    "pickle": "pickle_safe",
    "ultrasonic": "ultrasonic_safe",
    "steam": "steam_safe",
    "light": "light_stable",
}


def verdict(kind: Kind, operation: str) -> int:
    """Return the step of our verdict on a stone, after the mildest of its named treatments."""

    def step(care: Care) -> int:
        return VERDICTS.index(getattr(care, operation))

    own = step(kind.look.care or kind.material.care)
    said = [catalogue().treatments[treatment.name].care for treatment in kind.treatments]
    return max(own, min((step(care) for care in said if care), default=0))


def _cells():
    for row in table("care.csv"):
        for name in words(row["material"]):
            if not reading_of(name)["why_not"]:
                yield from (
                    (name, operation, row[column])
                    for operation, column in OPERATIONS.items()
                    if row[column]
                )


@pytest.mark.parametrize(("name", "operation", "published"), list(_cells()))
def test_we_are_never_laxer_than_the_published_verdict(name, operation, published):
    least = VERDICTS.index(published)
    laxer = [
        f"{kind.material.name}, {kind.look.variety}"
        for kind in kinds(name)
        if verdict(kind, operation) < least
    ]
    assert laxer == []


@pytest.mark.parametrize(
    ("name", "operation", "least"),
    [
        # The README of the evidence tables: in places the published table is too kind.
        ("jadeite (A)", "ultrasonic", "caution"),
        ("jadeite (A)", "steam", "caution"),
        ("marcasite (pyrite)", "ultrasonic", "no"),
        ("coral", "ultrasonic", "no"),
        ("chalcedony", "ultrasonic", "caution"),
        ("onyx", "steam", "caution"),
    ],
)
def test_we_are_stricter_where_the_published_table_is_too_kind(name, operation, least):
    assert all(verdict(kind, operation) >= VERDICTS.index(least) for kind in kinds(name))


@pytest.mark.parametrize("treatment", ["heat with residue", "oil"])
def test_healed_or_oiled_corundum_is_kept_from_ultrasound(treatment):
    """README of the evidence tables: ultrasonic no for healed or oiled ruby and sapphire."""
    practised = {one.name for one in catalogue().materials["corundum"].treatments}
    care = catalogue().treatments[treatment].care
    assert treatment in practised and care is not None
    assert care.ultrasonic == "no"


def test_a_treatment_with_a_filler_or_dye_is_never_called_harmless():
    """Common practice: what is glued, filled, dyed, oiled or coated is cleaned by hand."""
    touchy = {"filled", "oiled", "dyed", "impregnated", "coated", "assembled", "skin"}
    words_of_care = [t for t in catalogue().treatments.values() if touchy & set(t.traits)]
    assert len(words_of_care) >= 10
    assert all(word.care and word.care.torch == "no" for word in words_of_care)


def test_every_verdict_from_memory_is_marked_or_sourced():
    """``from_memory`` names only operations, and ``hazard``; a source stands beside each care."""
    cares = [material.care for material in catalogue().materials.values()]
    assert all(set(care.from_memory) <= {*OPERATIONS, "hazard"} for care in cares)
    assert all(care.source for care in cares)
