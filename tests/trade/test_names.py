"""A name says what hand tests can say: variety, growth and treatment, and no more."""

import pytest

from isogyre.trade import trade_name
from tests.trade.stone import Stone

CHROMIUM = frozenset({"chromium"})
UNPROVED = "no treatment shown (unproved)"


@pytest.mark.parametrize(
    ("stone", "name"),
    [
        (Stone("corundum", "ruby"), f"ruby, {UNPROVED}"),
        (Stone("corundum", "ruby", "heat"), "ruby, heated"),
        (
            Stone("corundum", "blue sapphire", "beryllium diffusion"),
            "sapphire, heated with diffusion of beryllium",
        ),
        (
            Stone("corundum", "ruby", "", "synthetic", "flame-fusion"),
            "synthetic ruby (flame-fusion)",
        ),
        (
            Stone("corundum", "ruby", "lead-glass filling"),
            "composite: glass-bound corundum (lead-glass filled)",
        ),
        (
            Stone("corundum", "ruby", "lead-glass filling", "synthetic", "flux"),
            "composite: glass-bound synthetic corundum (flux, lead-glass filled)",
        ),
        (Stone("glass", "green glass", "", "imitation", "melted glass"), "imitation: glass"),
        (
            Stone(
                "assembled stone",
                "red doublet",
                "",
                "composite",
                "assembled",
                "garnet-topped doublet",
            ),
            "composite: garnet-topped doublet",
        ),
        (
            Stone("turquoise", "blue bonded turquoise", "dye", "reconstructed", "bonded"),
            "reconstructed turquoise (bonded), dyed",
        ),
        (
            Stone("taaffeite", "red taaffeite", material="taaffeite or musgravite"),
            f"taaffeite or musgravite, {UNPROVED}",
        ),
        (
            Stone("tourmaline", "brown to yellow dravite", "heat"),
            "brown to yellow tourmaline, heated",
        ),
        (Stone("beryl", "aquamarine", "heat"), "aquamarine, assume heated"),
        (Stone("beryl", "aquamarine"), "aquamarine, assume heated"),
        (Stone("beryl", "aquamarine", "coating"), "aquamarine, coated"),
        (
            Stone("quartz", "citrine", "", "synthetic", "hydrothermal"),
            "synthetic citrine (hydrothermal)",
        ),
        (Stone("calcite", "dyed marble", "dye"), "marble, dyed"),
        (
            Stone("pearl", "dark pearl", "dye", "cultured", "cultured, bead", "pearl, salt-water"),
            "cultured salt-water pearl (grown on a bead), dyed",
        ),
        (Stone("unlisted", origin="unlisted"), "not in the catalogue"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_stone_is_called(rules, stone, name):
    assert trade_name(stone, rules) == name


def test_emerald_has_to_be_earned(rules):
    oiled = Stone("beryl", "emerald", "oil")
    grown = Stone("beryl", "emerald", "", "synthetic", "flux")
    assert trade_name(oiled, rules, evidence=CHROMIUM) == "emerald, fissures oiled"
    assert trade_name(oiled, rules, evidence=frozenset({"vanadium"})) == "emerald, fissures oiled"
    assert trade_name(oiled, rules, evidence=frozenset({"iron"})) == (
        "green beryl or emerald (chromium or vanadium not shown), fissures oiled"
    )
    assert trade_name(grown, rules) == (
        "synthetic green beryl or emerald (flux; chromium or vanadium not shown)"
    )


@pytest.mark.parametrize("variety", ["ruby", "pink sapphire"])
def test_the_border_of_red_and_pink_is_not_decided_by_hand(rules, variety):
    name = trade_name(Stone("corundum", variety, "heat"), rules, between_red_and_pink=True)
    assert name == "ruby or pink sapphire (judged against masters in stated light), heated"


def test_the_border_concerns_no_other_stone_and_no_composite(rules):
    spinel = Stone("spinel", "red spinel")
    bound = Stone("corundum", "ruby", "lead-glass filling")
    for stone in (spinel, bound):
        assert trade_name(stone, rules, between_red_and_pink=True) == trade_name(stone, rules)


def test_the_published_rules_behind_the_names_are_those_cited(rules, reference):
    """16 CFR 23.25 (grown stones, filled ruby) and 23.27 (imitations), as read."""
    read = {r["topic"]: r["source_id"] for r in reference("trade/disclosure_rules.csv")}
    bound = next(r for r in rules.frame if "lead-glass filling" in r.treatment)
    grown = next(r for r in rules.frame if r.origin == ("synthetic",))
    assert read["composite (lead-glass) ruby"] in bound.source
    assert read["laboratory-created"] in grown.source


@pytest.mark.parametrize("seen", [frozenset(), frozenset({"chromium", "vanadium", "copper"})])
def test_no_name_says_more_than_hand_tests_can(rules, every_stone, seen):
    barred = (
        *("certain", "certified", "untreated", "unheated", "genuine", "real ", "100 %"),
        # Names that only a laboratory can give.
        *("padparadscha", "paraiba", "paraíba", "type a", "jadeite a", "mali ", "elbaite"),
        *("dravite", "liddicoatite", "schorl"),
    )
    names = {trade_name(stone, rules, evidence=seen).lower() for stone in every_stone}
    assert [(name, word) for name in names for word in barred if word in name] == []


def test_every_grown_stone_is_called_synthetic_or_a_composite_of_such(rules, every_stone):
    for stone in every_stone:
        if stone.origin == "synthetic":
            name = trade_name(stone, rules)
            assert "synthetic " in name and stone.growth in name, name


def test_every_imitation_and_composite_begins_with_that_word(rules, every_stone):
    for stone in every_stone:
        if stone.origin in ("imitation", "composite"):
            assert trade_name(stone, rules).startswith(stone.origin)


def test_only_a_stone_not_made_by_man_goes_by_its_variety_alone(rules, every_stone):
    marks = ("synthetic", "imitation", "composite", "reconstructed", "cultured")
    for stone in every_stone:
        marked = trade_name(stone, rules).startswith(marks)
        bound = stone.species == "corundum" and "glass filling" in stone.treatment
        assert marked == (bound or stone.origin not in ("natural", "organic")), stone


def test_every_treatment_is_stated(rules, every_stone):
    stated = {rule.treatment: rule.stated for rule in rules.treated}
    for stone in every_stone:
        name = trade_name(stone, rules)
        bound = stone.species == "corundum" and "glass filling" in stone.treatment
        assert bound or not stone.treatment or stated[stone.treatment] in name, name


def test_every_natural_stone_without_treatment_is_called_unproved_or_assumed(rules, every_stone):
    for stone in every_stone:
        if stone.origin in ("natural", "organic", "cultured") and not stone.treatment:
            name = trade_name(stone, rules)
            assert name.endswith(UNPROVED) or ", assume " in name, name


def test_a_treatment_is_assumed_only_where_nearly_all_stones_had_it(rules, catalogue):
    practised = {
        (treatment.name, variety)
        for material in catalogue.materials.values()
        for treatment in material.treatments
        if treatment.how_common == "nearly always"
        for variety in treatment.looks
    }
    assumed = {(rule.treatment, variety) for rule in rules.assumed for variety in rule.variety}
    assert assumed - practised == set()
