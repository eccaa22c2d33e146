"""Published treatments are in the catalogue, about as common as their sources say."""

from typing import get_args

import pytest

from isogyre.catalogue.model import Step
from tests.catalogue.stones import catalogue, kinds, table, words

STEPS: tuple[str, ...] = get_args(Step)
# Words such as "usual" or "almost all" are not counted shares: one step is their worth.
LEAST_STEP_ERROR = 1


def _mapped():
    return [row for row in table("treatments_map.csv") if not row["why_not"]]


def _practices(row):
    """Return the practices of our catalogue that a published row speaks of."""
    return {
        id(practice): practice
        for name in words(row["names"])
        for kind in kinds(name)
        for practice in kind.material.treatments
        if practice.name in words(row["ours"])
        and (not practice.looks or {kind.look.variety, kind.look.like} & set(practice.looks))
    }.values()


@pytest.mark.parametrize("row", _mapped(), ids=lambda row: f"{row['material']}, {row['treatment']}")
def test_a_published_treatment_is_about_as_common_here(row):
    published = STEPS.index(row["how_common"])
    ours = [practice.how_common for practice in _practices(row)]
    assert ours, f"no {row['ours']} for {row['names']}"
    nearest = min(abs(STEPS.index(step) - published) for step in ours)
    assert nearest <= LEAST_STEP_ERROR, f"published {row['how_common']}, ours {ours}"


def test_every_published_treatment_is_mapped_or_says_why_not():
    published = [(row["material"], row["treatment"]) for row in table("treatments.csv")]
    mapped = [(row["material"], row["treatment"]) for row in table("treatments_map.csv")]
    assert mapped == published
    assert all(bool(row["ours"]) != bool(row["why_not"]) for row in table("treatments_map.csv"))


def test_the_map_names_treatments_of_the_vocabulary():
    named = {name for row in _mapped() for name in words(row["ours"])}
    assert named <= set(catalogue().treatments)
