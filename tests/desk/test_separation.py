"""Which tests part two kinds of stone: what every gemmologist knows must come out."""

import numpy as np
import pytest
from pytest import approx

from isogyre.desk.separation import HOW_OFTEN, Kind, how_often, separations


@pytest.fixture
def part(workbench):
    """Return the tests that part two materials, by their names."""
    population = workbench.population

    def between(here, there):
        kinds = (
            Kind.of(population, np.flatnonzero(population.rows_of("material", name)))
            for name in (here, there)
        )
        tests = separations(*kinds, population, workbench.instruments)
        return {test["test"]: test for test in tests}

    return between


def test_the_refractometer_parts_corundum_from_spinel_best_of_all(part):
    tests = part("corundum", "spinel")
    assert next(iter(tests)) == "refractometer, both edges over a full turn"


def test_crossed_polars_part_ruby_from_garnet(part):
    seen = part("corundum", "pyrope-almandine")["polariscope"]
    assert seen["here"] == "double nearly always"
    assert seen["there"] == "double hardly ever"


def test_a_refractometer_does_not_part_what_lies_beyond_its_scale(part):
    tests = part("diamond", "moissanite")
    assert not [name for name in tests if "refractometer" in name]
    assert "electrical probe" in tests


def test_beyond_the_scale_is_said_instead_of_a_figure(part):
    edges = part("diamond", "quartz")["refractometer, both edges over a full turn"]
    assert edges["here"] == "beyond 1.8"
    assert edges["there"] == "1.544 and 1.553"


def test_no_hand_test_parts_a_material_from_itself(part):
    assert part("spinel", "spinel") == {}


def test_what_parts_two_materials_does_so_in_either_order(part):
    there, back = part("spinel", "pyrope"), part("pyrope", "spinel")
    assert there.keys() == back.keys()
    for name, test in there.items():
        assert back[name]["gain_bits"] == approx(test["gain_bits"])
        assert (back[name]["here"], back[name]["there"]) == (test["there"], test["here"])


@pytest.mark.parametrize("share", [0.0, 0.012, 0.07, 0.25, 0.6, 0.92, 1.0])
def test_every_share_has_a_word(share):
    assert how_often(share) in {word for _, word in HOW_OFTEN}


def test_the_words_for_shares_are_those_of_the_catalogue():
    from isogyre.catalogue.model import STEP_PROBABILITY

    assert {step: how_often(share) for step, share in STEP_PROBABILITY.items()} == {
        step: step for step in STEP_PROBABILITY
    }
