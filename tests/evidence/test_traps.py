"""The traps an earlier trial fell into, as far as they show in a whole standing.

The others are met where the reading is made: see docs/traps.md for all fifteen.
"""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from isogyre.catalogue.follow import followed_range
from isogyre.catalogue.model import Claim, Source
from isogyre.evidence import read_record, stand
from isogyre.population import build_population
from isogyre.population.hypotheses import hypotheses, looks_of

ROOT = Path(__file__).parents[2]
SHARP = {"ri_low": "1.762", "ri_high": "1.770", "ri_sd": 0.0005, "sg": "4.00", "hardness": 9}
RUBY = {"ri_low": "1.762", "ri_high": "1.770", "colour": "red"}


def test_the_page_of_traps_names_fifteen_and_a_test_for_each():
    page = (ROOT / "docs" / "traps.md").read_text("utf-8")
    rows = re.findall(r"^\| (\d+) \|.*`(tests/\S+\.py)::(test_trap_(\d\d))` \|$", page, re.M)
    assert [int(row[0]) for row in rows] == list(range(1, 16))
    for number, file, name, trap in rows:
        assert int(trap) == int(number)
        assert f"def {name}_" in (ROOT / file).read_text("utf-8")
    for place in re.findall(r"`((?:evidence|instruments|population|catalogue)/\w+\.py)`", page):
        assert (ROOT / "src" / "isogyre" / place).exists(), place


def test_trap_01_few_virtual_stones_are_told_as_thin(catalogue, instruments, stands):
    """Starved weights: on four stones a stratum a sharp reading rests on one or two of each."""
    starved = build_population(catalogue, stones=4)
    found = read_record({**SHARP, "colour": "red"}, instruments)
    thin = stand(starved, found.readings, found.setting)
    assert thin.effective_stones < 10
    assert thin.is_thin
    assert not stands(**SHARP, colour="red").is_thin


def test_trap_01_density_does_not_starve_the_stones(population, stands):
    """Density is integrated in closed form: however sharp, it starves no cloud."""
    index = {"ri_low": "1.544", "ri_high": "1.553"}
    without, sharp = stands(**index), stands(**index, sg="2.651", sg_sd=0.002)
    assert sharp.effective_stones > 0.3 * without.effective_stones


@pytest.mark.parametrize("material", ["serpentine", "turquoise", "lapis lazuli", "jadeite"])
def test_trap_08_rocks_and_aggregates_scatter_towards_low_density(population, material):
    """Pores and foreign grains make them lighter, some by much, and the odd one heavier."""
    (first,) = np.flatnonzero(population.rows_of("material", material))[:1]
    held = population.stratum[first]
    mean = population.stones.sg_mean[held]
    sd = float(np.hypot(mean.std(), population.stones.sg_sd[held].mean()))
    assert sd > 0.04 * float(np.median(mean)) / 2.6
    skew = ((mean - mean.mean()) ** 3).mean() / mean.std() ** 3
    assert skew < -0.4


def test_trap_08_a_heavy_serpentine_and_a_light_pressed_stone_are_within_reach(stands):
    heavy = stands(ri_spot="1.56", sg="2.75", polariscope="AGG", colour="green", lustre="waxy")
    assert heavy.species["serpentine"] > 0.02
    light = stands(ri_spot="1.56", sg="1.95", polariscope="AGG", colour="blue")
    assert light.origin["reconstructed"] + light.origin["imitation"] > 0.3


def test_trap_09_every_growth_has_every_treatment_of_its_material(catalogue):
    """No hole in the grid: else a filled synthetic ruby could only be natural."""
    rows = {
        (row.material.name, id(row.body), row.look.variety, row.treatment_name)
        for row in hypotheses(catalogue)
        if row.prior > 0
    }
    for material in catalogue.materials.values():
        for body in material.bodies:
            for look in looks_of(material, body):
                for treatment in material.treatments:
                    if not treatment.looks or {look.variety, look.like} & set(treatment.looks):
                        key = (material.name, id(body), look.variety, treatment.name)
                        assert key in rows, key[0::2]


def test_trap_09_a_filled_synthetic_ruby_can_win(population, stands):
    features = ["curved striae", "flash effect", "flattened bubbles in fissures"]
    standing = stands(**RUBY, sg="4.0", magnification=features)
    best = population.labels[standing.candidates[0].row]
    assert (best.species, best.origin) == ("corundum", "synthetic")
    assert "filling" in best.treatment


def test_trap_10_a_spot_outside_the_pair_speaks_for_an_assembled_stone(stands):
    """An index belongs to a layer: edges of a crown, a spot of what lies below it."""
    pair, outside, inside = (
        stands(**RUBY, **spot).origin["composite"]
        for spot in ({}, {"ri_spot": "1.52"}, {"ri_spot": "1.766"})
    )
    assert outside > 2 * pair
    assert inside < pair


def test_trap_10_parts_that_glow_apart_speak_for_an_assembled_stone(stands):
    whole = stands(**RUBY, uv_lw="moderate red").origin["composite"]
    apart = stands(**RUBY, uv_lw="crown inert, pavilion moderate red").origin["composite"]
    assert apart > 3 * whole


def test_trap_10_no_join_is_evidence_only_if_it_was_looked_for(stands):
    base = stands(**RUBY).origin["composite"]
    looked = stands(**RUBY, not_seen=["join plane"]).origin["composite"]
    assert looked < base / 3
    unasked = stands(**RUBY, magnification=["silk"]).origin["composite"]
    asked = stands(**RUBY, magnification=["silk"], not_seen=["join plane"]).origin["composite"]
    assert asked < unasked / 2


def test_trap_13_describing_a_species_finely_does_not_raise_it(catalogue, population):
    """Every look of topaz twice, under two names: twice the strata, the same prior."""
    topaz = catalogue.materials["topaz"]
    body = topaz.bodies[0]
    twice = tuple(
        look.model_copy(update={"variety": f"{look.variety}, {part} half"})
        for look in body.looks
        for part in ("one", "other")
    )
    split = topaz.model_copy(
        update={"bodies": (body.model_copy(update={"looks": twice}), *topaz.bodies[1:])}
    )
    finer = replace(catalogue, materials={**catalogue.materials, "topaz": split})
    rows = hypotheses(finer)
    now = sum(row.prior for row in rows if row.material.species == "topaz")
    listed = population.prior[: population.listed]
    before = listed[population.rows_of("species", "topaz")[: population.listed]].sum()
    assert len(rows) > population.listed
    assert now == approx(before / listed.sum(), abs=1e-9)


def test_trap_14_one_misprint_among_four_voices_moves_no_range():
    """The second most extreme end is followed where four and more speak."""
    sources = {
        key: Source(key=key, author="", title="") for key in ("one", "two", "three", "four", "five")
    }
    sound = [Claim(low=1.717, high=1.735, source=key) for key in ("one", "two", "three", "four")]
    misprint = Claim(low=1.717, high=1.777, source="five")
    assert followed_range([*sound, misprint], sources) == (1.717, 1.735)
    # With fewer voices nobody can say which is the misprint: the widest range is followed.
    assert followed_range([sound[0], misprint], sources) == (1.717, 1.777)
