"""The kinds of stone that are weighed: their priors, and that no kind is missing."""

from collections import Counter
from dataclasses import replace

import pytest
from pytest import approx

from isogyre.catalogue import load_catalogue
from isogyre.population.hypotheses import hypotheses, looks_of

# Sums of some thousand floating-point numbers.
ROUNDING = 1e-9
# What the design asks for: nearly every gem a bench can meet, and its ways of growth.
LEAST_MATERIALS = 170
LEAST_BODIES = 220


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def rows(catalogue):
    return hypotheses(catalogue)


def prior_by_species(rows):
    total = Counter()
    for row in rows:
        total[row.material.species] += row.prior
    return total


def test_the_catalogue_is_as_large_as_the_design_asks(catalogue):
    bodies = [body for material in catalogue.materials.values() for body in material.bodies]
    assert len(catalogue.materials) >= LEAST_MATERIALS
    assert len(bodies) >= LEAST_BODIES


def test_priors_are_positive_and_sum_to_one(rows):
    assert all(row.prior > 0 for row in rows)
    assert sum(row.prior for row in rows) == approx(1, abs=ROUNDING)


def _with(catalogue, material):
    return replace(catalogue, materials={**catalogue.materials, material.name: material})


@pytest.mark.parametrize("name", ["corundum", "quartz", "glass, soda-lime", "painite"])
def test_splitting_a_look_does_not_change_the_prior_of_any_species(catalogue, rows, name):
    material = catalogue.materials[name]
    first = material.bodies[0]
    halves = [look.model_copy(update={"variety": f"{look.variety} {i}"}) for i in (1, 2)
              for look in first.looks]  # fmt: skip
    body = first.model_copy(update={"looks": tuple(halves)})
    split = material.model_copy(update={"bodies": (body, *material.bodies[1:])})
    assert prior_by_species(hypotheses(_with(catalogue, split))) == approx(
        prior_by_species(rows), abs=ROUNDING
    )


@pytest.mark.parametrize("name", ["beryl", "diamond"])
def test_splitting_a_body_or_adding_treatments_does_not_change_it_either(catalogue, rows, name):
    material = catalogue.materials[name]
    grown = (*material.bodies, material.bodies[-1].model_copy(update={"name": "another"}))
    richer = material.model_copy(
        update={"bodies": grown, "treatments": (*material.treatments, *material.treatments)}
    )
    assert prior_by_species(hypotheses(_with(catalogue, richer))) == approx(
        prior_by_species(rows), abs=ROUNDING
    )


def test_the_untreated_stone_is_always_among_the_kinds(catalogue, rows):
    untreated = {(r.material.name, id(r.body), r.look.variety) for r in rows if not r.treatment}
    everything = {(r.material.name, id(r.body), r.look.variety) for r in rows}
    assert untreated == everything


def test_every_treatment_exists_for_every_growth_whose_looks_allow_it(catalogue, rows):
    """The grid has no hole: a filled synthetic must be able to win (rare is not impossible)."""
    there = {(r.material.name, id(r.body), r.look.variety, r.treatment_name) for r in rows}
    missing = [
        (material.name, body.growth, look.variety, practice.name)
        for material in catalogue.materials.values()
        for body in material.bodies
        for look in looks_of(material, body)
        for practice in material.treatments
        if not practice.looks or {look.variety, look.like} & set(practice.looks)
        if (material.name, id(body), look.variety, practice.name) not in there
    ]
    assert missing == []


@pytest.mark.parametrize(
    ("growth", "look", "treatment"),
    [
        ("flame-fusion", "ruby", "lead-glass filling"),
        ("flame-fusion", "blue sapphire", "surface diffusion"),
        ("flux", "ruby", "heat with residue"),
        ("natural", "star sapphire", "surface diffusion"),
        ("flame-fusion", "star ruby", "surface diffusion"),
        ("natural", "padparadscha colour", "beryllium diffusion"),
    ],
)
def test_the_grid_holds_filled_and_diffused_corundum_of_every_growth(rows, growth, look, treatment):
    """A filled synthetic and a diffused faceted one: without their rows natural must win."""
    assert any(
        (r.body.growth, r.look.variety, r.treatment_name) == (growth, look, treatment)
        for r in rows
        if r.material.name == "corundum"
    )


def test_no_treatment_of_a_stone_is_weighed_twice(rows):
    times = Counter((r.material.name, id(r.body), r.look.variety, r.treatment_name) for r in rows)
    assert [kind for kind, count in times.items() if count > 1] == []


def test_no_stone_has_two_rows_for_one_treatment_of_its_own_growth(catalogue):
    """Of two such rows one would be lost without a word."""
    doubled = [
        (material.name, body.growth, look.variety, name)
        for material in catalogue.materials.values()
        for body in material.bodies
        for look in looks_of(material, body)
        for name, count in Counter(
            practice.name
            for practice in material.treatments
            if body.growth in (practice.growths or (material.bodies[0].growth,))
            and (not practice.looks or {look.variety, look.like} & set(practice.looks))
        ).items()
        if count > 1
    ]
    assert doubled == []


def test_a_commoner_look_has_the_greater_prior(rows):
    share = Counter()
    for row in rows:
        if row.material.name == "corundum" and row.body.growth == "natural":
            share[row.look.variety] += row.prior
    assert share["blue sapphire"] > share["star sapphire"] > share["golden-sheen sapphire"] > 0


def test_what_a_look_leaves_unsaid_comes_from_the_first_body(catalogue):
    corundum = catalogue.materials["corundum"]
    natural = {look.variety: look for look in looks_of(corundum, corundum.bodies[0])}
    flame = next(body for body in corundum.bodies if body.growth == "flame-fusion")
    grown = {look.variety: look for look in looks_of(corundum, flame)}
    ruby = next(look for look in flame.looks if look.variety == "ruby")
    assert "pleochroism" not in ruby.model_fields_set
    assert grown["ruby"].pleochroism == natural["ruby"].pleochroism is not None
    # What is said, is kept: curved lines instead of silk.
    assert {seen.name for seen in grown["ruby"].features} == {"curved striae"}
