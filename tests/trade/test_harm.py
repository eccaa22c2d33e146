"""A test that could hurt the stone is blocked, and the answer says what would lift the block."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.trade import UnknownSubjectError, harm

TESTS = {
    *("contact liquid", "water weighing", "heavy liquid", "immersion liquid", "long ultraviolet"),
    *("hot light", "scratch", "hot point", "acid", "spirit wipe", "thermal probe"),
    *("ultrasonic", "steam"),
}
LIQUIDS = ("contact liquid", "heavy liquid", "immersion liquid")
CLEAN = (0.995, frozenset({"crystal"}), "corundum")


def a_stone(*traits, probability=0.9, name="stone"):
    return [(probability, frozenset(traits), name)]


def verdict(found):
    return found and found.verdict


def test_the_table_knows_these_tests_and_no_others(rules):
    assert set(rules.harm_by_test) == TESTS


@pytest.mark.parametrize(
    ("test", "trait"),
    [
        *product(LIQUIDS, ("porous", "dyed", "oiled", "filled", "assembled", "organic", "glued")),
        *product(LIQUIDS, ("hydrophane",)),
        *product(("water weighing",), ("hydrophane", "glued")),
        ("spirit wipe", "oiled"),
        ("long ultraviolet", "light-sensitive"),
    ],
)
def test_the_rule_of_the_house_says_never(rules, test, trait):
    assert verdict(harm(test, a_stone(trait), {"finished"}, rules)) == "never"


@pytest.mark.parametrize("test", LIQUIDS)
def test_an_opaque_stone_stays_dry_until_it_has_a_name(rules, test):
    doubtful = [(0.9, frozenset({"crystal"}), "hematite"), (0.1, frozenset({"crystal"}), "other")]
    assert verdict(harm(test, doubtful, {"opaque"}, rules)) == "never"
    named = [(0.6, frozenset({"crystal"}), "hematite"), (0.4, frozenset(), "hematite, irradiation")]
    assert harm(test, named, {"opaque"}, rules) is None


def test_an_opaque_stone_of_which_nothing_is_known_stays_dry(rules):
    assert verdict(harm("contact liquid", [], {"opaque"}, rules)) == "never"


@pytest.mark.parametrize("test", ["scratch", "hot point", "acid"])
def test_a_finished_stone_is_never_scratched_burnt_or_etched(rules, test):
    found = harm(test, [CLEAN], {"finished"}, rules)
    assert (verdict(found), found.candidate) == ("never", "any finished stone")
    assert harm(test, [CLEAN], {"rough"}, rules) is None


def test_no_opal_bears_a_hot_light(rules, catalogue):
    opals = [m for m in catalogue.materials.values() if m.species == "opal"]
    opals += [
        m
        for m in catalogue.materials.values()
        if m.name.startswith("opal ") and m.kind == "assembled"
    ]
    for opal in opals:
        found = harm("hot light", a_stone(*opal.traits, opal.kind), set(), rules)
        assert verdict(found) == "never", opal.name


# The bench's own table: what care.csv forbids because of a filler, a dye or a seam.
@pytest.mark.parametrize(
    ("material", "trait"),
    [
        ("ruby (lead-glass filled)", "filled"),
        ("sapphire (cobalt-glass filled)", "filled"),
        ("quartz (quench-crackled, dyed)", "dyed"),
        ("emerald", "oiled"),
        ("opal", "hydrophane"),
        ("topaz (coated)", "coated"),
        ("jadeite (B, C)", "impregnated"),
        ("opal doublet or triplet", "glued"),
        ("pearl", "organic"),
    ],
)
def test_cleaning_is_forbidden_where_the_published_table_forbids_it(
    rules, reference, material, trait
):
    row = next(row for row in reference("care.csv") if row["material"] == material)
    for test in ("ultrasonic", "steam"):
        assert row[f"{test}_safe"] == "no"
        assert verdict(harm(test, a_stone(trait), set(), rules)) == "never"


@pytest.mark.parametrize(
    ("published", "material"),
    [
        ("tanzanite", "zoisite"),
        ("topaz (natural, blue)", "topaz"),
        ("moonstone", "moonstone"),
        ("peridot", "olivine"),
        ("turquoise", "turquoise"),
        ("fluorite", "fluorite"),
        ("diamond (untreated)", "diamond"),
        ("ruby; sapphire (untreated or heated)", "corundum"),
        ("chalcedony; onyx; agate", "chalcedony"),
    ],
)
def test_cleaning_agrees_with_the_published_care(rules, reference, catalogue, published, material):
    """What the table forbids is blocked; what it allows is never barred outright."""
    row = next(row for row in reference("care.csv") if row["material"] == published)
    stone = a_stone(*catalogue.materials[material].traits)
    for test in ("ultrasonic", "steam"):
        found = verdict(harm(test, stone, set(), rules))
        assert found if row[f"{test}_safe"] == "no" else found != "never"


def test_what_cannot_be_hurt_is_not_blocked(rules):
    for test in TESTS:
        assert harm(test, [CLEAN], {"rough"}, rules) is None


def test_one_per_cent_of_doubt_is_borne_and_more_is_not(rules):
    def with_doubt(doubt):
        return harm("contact liquid", [CLEAN, (doubt, frozenset({"filled"}), "ruby")], set(), rules)

    assert with_doubt(0.01) is None
    assert verdict(with_doubt(0.011)) == "never"


def test_small_doubts_that_add_up_block_as_well(rules):
    # Sixty porous stones at 0.3 per cent each are a doubt of 18 per cent.
    crowd = [(0.003, frozenset({"porous"}), f"stone {number}") for number in range(60)]
    found = harm("contact liquid", [(0.82, frozenset(), "quartz"), *crowd], set(), rules)
    assert verdict(found) == "never"
    assert found.probability == pytest.approx(0.003)
    assert found.together == pytest.approx(0.18)


def test_rows_of_one_name_are_summed_and_the_reason_is_the_heaviest(rules):
    rows = [
        (0.003, frozenset({"dyed"}), "ruby"),
        (0.006, frozenset({"filled"}), "ruby"),
        (0.006, frozenset({"filled"}), "ruby"),
        (0.9, frozenset(), "ruby"),
        (0.011, frozenset({"glued"}), "doublet"),
    ]
    found = harm("contact liquid", rows, set(), rules)
    assert found.candidate == "ruby"
    assert found.probability == pytest.approx(0.015)
    assert "filled fissures with the loupe" in found.lifted_by


def test_never_is_told_before_ask_first(rules):
    rows = [(0.9, frozenset({"porous"}), "chalcedony"), (0.05, frozenset({"glued"}), "doublet")]
    found = harm("water weighing", rows, set(), rules)
    assert (found.verdict, found.candidate) == ("never", "doublet")


@given(
    rows=st.lists(
        st.tuples(
            st.floats(0.0, 0.2),
            st.frozensets(st.sampled_from(("porous", "oiled", "soft", "glued", "crystal"))),
            st.sampled_from(("a", "b", "c")),
        ),
        min_size=1,
        max_size=5,
    ),
    test=st.sampled_from(sorted(TESTS)),
)
def test_more_doubt_never_lifts_a_block(rules, rows, test):
    if harm(test, rows, set(), rules):
        assert harm(test, [*rows, (0.3, frozenset({"oiled"}), "d")], set(), rules)


def test_every_block_says_how_it_is_lifted_and_where_it_is_from(rules):
    assert all(rule.lifted_by and rule.why and rule.source for rule in rules.harm)


def test_an_unknown_test_is_refused(rules):
    with pytest.raises(UnknownSubjectError, match="contact liquid"):
        harm("contact fluid", [CLEAN], set(), rules)
