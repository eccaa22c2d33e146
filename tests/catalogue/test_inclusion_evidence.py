"""Published signs of nature, growth and treatment have in the catalogue the weight they deserve.

``evidence_map.csv`` says which of our features a row of inclusion_evidence.csv is, in which kinds
of stone it is expected and against which it speaks. See :mod:`tests.catalogue.evidence` for the
selectors.
"""

import numpy as np
import pytest

from tests.catalogue.evidence import chance, rows_of
from tests.catalogue.stones import catalogue, table, words

# How many times more often a sign must be seen where it belongs. A judgement about the words:
# strong evidence moves even odds to three in four, a diagnostic sign leaves the rest one in ten.
LEAST_FACTOR = {"strong": 3.0, "diagnostic": 10.0}
SUPPORTIVE_FACTOR = 1.0
SUNSTONE = "labradorite//labradorite sunstone/-"


def _weighty():
    return {
        (row["feature"], row["hosts"]): row["strength"]
        for row in table("inclusion_evidence.csv")
        if row["strength"] in LEAST_FACTOR
    }


def _mapped():
    return [row for row in table("evidence_map.csv") if not row["why_not"]]


@pytest.mark.parametrize("row", _mapped(), ids=lambda row: f"{row['feature']}, {row['hosts']}")
def test_a_sign_is_seen_far_oftener_where_it_belongs(row):
    factor = LEAST_FACTOR[_weighty()[row["feature"], row["hosts"]]]
    here = chance(row["ours"], rows_of(row["indicated"]))
    elsewhere = {kind: chance(row["ours"], rows_of(kind)) for kind in words(row["against"])}
    too_near = {kind: share for kind, share in elsewhere.items() if here < factor * share}
    assert too_near == {}, f"{here:.3f} where it belongs"


def test_every_strong_or_diagnostic_row_is_mapped_or_has_a_reason():
    mapped = [(row["feature"], row["hosts"]) for row in table("evidence_map.csv")]
    assert sorted(mapped) == sorted(_weighty())
    assert len(_mapped()) >= 0.85 * len(mapped)


def test_a_row_is_either_mapped_or_says_why_not():
    assert all(bool(row["ours"]) != bool(row["why_not"]) for row in table("evidence_map.csv"))


def test_no_tourmaline_is_grown():
    """GG2024TOU: any inclusion is proof of nature while no gem tourmaline is synthesised."""
    tourmalines = [m for m in catalogue().materials.values() if m.species == "tourmaline"]
    assert {body.growth for m in tourmalines for body in m.bodies} == {"natural"}


@pytest.mark.parametrize(
    ("ours", "indicated", "against"),
    [
        # Rows called supportive or weak: they must at least point the right way.
        ("fingerprint", "corundum/natural/ruby/-", "corundum/flame-fusion/ruby/-"),
        ("lamellar twinning", "corundum/natural/ruby/-", "corundum/flame-fusion/ruby/-"),
        ("unmelted powder", "corundum/flame-fusion//-", "corundum/natural//-"),
        ("bread-crumb inclusions", "quartz/hydrothermal//-", "quartz/natural//-"),
        ("zircon halos", "almandine///-", "glass, soda-lime///-"),
        ("two-phase inclusions", "topaz///-", "glass, soda-lime///-"),
        ("pyrite grains", "turquoise/natural//-", "turquoise, bonded///-"),
        ("pyrite grains", "lapis lazuli/natural//-", "glass, soda-lime///-"),
        ("insects and plant parts", "amber///-", "plastic, polyester or epoxy///-"),
        ("crazing", "copal///-", "amber/grown by an organism//-"),
        ("dark skin", "opal/natural//smoke", "opal/natural/black or dark opal/-"),
        ("parallel needles or tubes", "tourmaline///-", "glass, soda-lime///-"),
        ("stepped twin planes", "chrysoberyl/natural//-", "chrysoberyl/pulled//-"),
        ("r and z colour sectors", "quartz/natural/ametrine/-", "quartz/natural/citrine/-"),
        ("red-green mottling", SUNSTONE, "andesine///copper diffusion"),
    ],
)  # fmt: skip
def test_a_supporting_sign_points_the_right_way(ours, indicated, against):
    here, elsewhere = (chance(ours, rows_of(kind)) for kind in (indicated, against))
    assert here > SUPPORTIVE_FACTOR * elsewhere


def test_a_selector_that_finds_no_stone_is_refused():
    with pytest.raises(LookupError, match="no kind of stone"):
        rows_of("corundum/natural/heliodor/-")


def test_chances_of_several_features_lie_above_each_alone():
    rows = rows_of("corundum/natural/ruby/-")
    alone = [chance(name, rows) for name in ("silk", "fingerprint")]
    assert max(alone) < chance("silk;fingerprint", rows) <= sum(alone) + np.finfo(float).eps
