"""The card of a material: whole, sourced, and true to the stones drawn from it."""

import json

import pytest
from pytest import approx

from isogyre.catalogue.model import Care, Claim, Statement
from isogyre.desk import material_card
from isogyre.desk.material import values_with_source

# One of each kind, and those with the oddest constants: opaque, beyond the scale, assembled.
MATERIALS = [
    *("corundum", "spinel", "quartz", "diamond", "moissanite", "opal", "chalcedony", "amber"),
    *("pearl, fresh-water", "glass, soda-lime", "calcite", "hematite", "turquoise", "jadeite"),
]
NEVER_SAID = ("certain", "certified", "certificate", "untreated", "100 %", "100%")


@pytest.fixture(scope="module", params=MATERIALS)
def card(request, workbench):
    return material_card(workbench, request.param)


def values_of(node):
    """Yield every dictionary in a card."""
    if isinstance(node, dict):
        yield node
    inside = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    for item in inside:
        yield from values_of(item)


def test_a_card_is_plain_json_without_figures_that_are_none(card):
    assert json.loads(json.dumps(card, allow_nan=False)) == card


def test_every_value_names_its_source_and_every_source_is_listed(card):
    listed = {source["key"] for source in card["sources"]}
    own = [n["source"] for c in card["constants"] for n in c["claims"]]
    own += [body["source"] for body in card["bodies"]]
    assert own
    assert {key for given in own for key in given.split(";")} <= listed


def test_what_disagrees_stands_beside_what_is_followed(card):
    for constant in card["constants"]:
        low, high = constant["followed"]["low"], constant["followed"]["high"]
        inside = [low <= claim["low"] and claim["high"] <= high for claim in constant["claims"]]
        assert [claim["agrees"] for claim in constant["claims"]] == inside
        assert constant["disagree"] is not all(inside)
        assert any(claim["is_followed"] for claim in constant["claims"])


def test_the_stones_drawn_lie_about_the_range_that_is_followed(card):
    for constant in card["constants"]:
        drawn, followed = constant["drawn"], constant["followed"]
        if drawn is None:
            continue
        assert drawn["low90"] <= drawn["median"] <= drawn["high90"]
        # The middle of the stones may leave a range only where indices or pores bind it; then by
        # less than two of its widths, and of what a bench reads apart.
        width = max(followed["high"] - followed["low"], 0.02 * followed["high"])
        assert followed["low"] - 2 * width <= drawn["median"] <= followed["high"] + 2 * width


def test_the_shares_of_growths_and_of_looks_each_close(card):
    assert sum(body["share"] for body in card["bodies"]) == approx(1)
    for body in card["bodies"]:
        assert sum({look["variety"]: look["share"] for look in body["looks"]}.values()) == approx(1)


def test_no_card_promises_more_than_hand_tests_carry(card):
    said = json.dumps(card, ensure_ascii=False)
    assert [word for word in NEVER_SAID if word in said] == []


def test_separating_tests_come_best_first(card):
    for node in values_of(card):
        gains = [test["gain_bits"] for test in node.get("separated_by", ())]
        assert gains == sorted(gains, reverse=True)
        assert all(0 < gain <= 1 for gain in gains)


def test_a_voice_out_of_line_is_kept_beside_what_is_followed(workbench):
    card = material_card(workbench, "corundum")
    ordinary = next(c for c in card["constants"] if c["name"] == "n_o")
    assert ordinary["rule"].startswith("the second most extreme ends of ")
    assert [c["source"] for c in ordinary["claims"] if not c["agrees"]] == ["memory"]


def test_two_bodies_of_one_growth_keep_their_own_constants(workbench):
    # Every opal grew in the ground alike; water and pores set its kinds apart.
    bodies = [b for b in material_card(workbench, "opal")["bodies"] if b["growth"] == "natural"]
    assert len(bodies) > 1
    assert len({body["name"] for body in bodies}) == len(bodies)


def test_a_treatment_says_what_it_leaves_and_what_settles_it(workbench):
    card = material_card(workbench, "corundum")
    heat = next(t for t in card["treatments"] if t["name"] == "heat")
    assert heat["leaves"]
    assert heat["laboratory"]
    assert heat["hand_tests"] == "give hints"


def test_a_stone_that_drinks_is_kept_from_liquids(workbench):
    cautions = material_card(workbench, "turquoise")["cautions"]
    assert {"contact liquid", "heavy liquid"} <= {caution["test"] for caution in cautions}
    assert all(c["reason"] and c["lifted_by"] for c in cautions)


def test_what_is_taken_for_a_material_names_it_in_return(workbench):
    of_spinel = {double["name"] for double in material_card(workbench, "spinel")["lookalikes"]}
    of_corundum = {double["name"] for double in material_card(workbench, "corundum")["lookalikes"]}
    assert "corundum" in of_spinel
    assert "spinel" in of_corundum


def test_values_from_memory_are_counted_one_by_one():
    care = Care(
        torch="no", pickle="no", ultrasonic="no", steam="no", light="yes", source="GRG",
        from_memory=("torch", "light"),
    )  # fmt: skip
    assert [memory for _, memory in values_with_source(care)] == [True, False, False, False, True]
    assert list(values_with_source(Claim(low=1, high=2, source="memory"))) == [("memory", True)]
    shared = Statement(text="good", source="GRG;memory")
    assert list(values_with_source(shared)) == [("GRG;memory", False)]


def test_the_share_from_memory_is_a_share(card):
    assert 0 <= card["from_memory"] <= 1
