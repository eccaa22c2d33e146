"""What to test next: what a gain is, and when nothing at hand will settle a question."""

import numpy as np
import pytest
from pytest import approx

from isogyre.evidence import SETTINGS, plan, read_record, stand
from isogyre.evidence.grouping import SETTLE
from isogyre.evidence.planner import LEAST_POSTERIOR, information_bits
from isogyre.instruments import PlannedTest
from isogyre.instruments.balance import (
    ASSUMED_WEIGHT_CT,
    DEFAULT_READABILITY_CT,
    DEFAULT_TEMPERATURE_C,
)
from isogyre.instruments.instrument import table_outcomes
from isogyre.optics.liquids import liquid_density, relative_density_sd, weight_in_liquid
from isogyre.population import build_population
from isogyre.population.virtual import VirtualStone

BENCH = SETTINGS["bench"]
RECORDS = {
    "nothing": {},
    "a red stone": {"colour": "red"},
    "green, 1.58": {"colour": "green", "ri_spot": "1.58"},
    "violet quartz": {"ri_low": "1.544", "ri_high": "1.553", "colour": "violet", "sg": "2.65"},
    "ruby": {"ri_low": "1.762", "ri_high": "1.770", "colour": "red", "sg": "4.00"},
}


def entropy_bits(shares):
    held = np.array([p for p in shares if p > 0])
    return float(-(held * np.log2(held)).sum())


def asked(standing, settle):
    """Return the shares of the answers to a question, among the stones that the planner asks."""
    names, codes = standing.population.groups(SETTLE[settle])
    held = standing.posterior * (standing.posterior > LEAST_POSTERIOR)
    return np.bincount(codes, held, len(names)) / held.sum()


@pytest.mark.parametrize("settle", SETTLE)
@pytest.mark.parametrize("record", RECORDS.values(), ids=list(RECORDS))
def test_no_test_loses_and_none_gains_more_than_the_doubt(stands, tests_at_hand, record, settle):
    standing = stands(**record)
    doubt = entropy_bits(asked(standing, settle))
    proposals = plan(standing, tests_at_hand, settle).proposals
    assert len(proposals) == len(tests_at_hand)
    for proposal in proposals:
        assert 0 <= proposal.gain_bits <= doubt + 1e-9


def test_a_test_that_all_standing_stones_answer_alike_gains_nothing(population, stands):
    same = np.tile([0.2, 0.5, 0.3], (len(population.labels), 1))
    test = PlannedTest("a coin", "coin", 1.0, table_outcomes(lambda population: same))
    for record in RECORDS.values():
        (proposal,) = plan(stands(**record), [test]).proposals
        assert proposal.gain_bits == approx(0, abs=1e-9)


def test_a_test_that_tells_every_species_apart_gains_the_whole_doubt(population, stands):
    names, codes = population.groups("species")
    oracle = np.eye(len(names))[codes]
    test = PlannedTest("an oracle", "oracle", 1.0, table_outcomes(lambda population: oracle))
    standing = stands(**RECORDS["green, 1.58"])
    planned = plan(standing, [test])
    assert planned.proposals[0].gain_bits == approx(entropy_bits(asked(standing, "name")))
    assert planned.settles


def test_information_is_that_of_a_noisy_channel():
    """A binary symmetric channel of error e carries 1 - H(e) bits."""
    joint = np.array([[0.45, 0.05], [0.05, 0.45]])
    assert information_bits(joint) == approx(1 - entropy_bits([0.9, 0.1]))
    assert information_bits(np.outer([0.3, 0.7], [0.2, 0.8])) == approx(0, abs=1e-12)


def test_the_gain_of_a_word_is_what_reading_it_brings_on_average(
    population, read, stands, tests_at_hand
):
    """Every answer in turn, weighed by how likely it is, and the doubt that is left."""
    record = {"ri_spot": "1.58", "sg": "2.70"}
    standing = stands(**record)
    readings = read(**record).readings
    test = next(t for t in tests_at_hand if t.name == "polariscope")
    table = standing.posterior @ population.tables.polariscope
    left = 0.0
    for word, chance in zip(("SR", "DR", "AGG", "ADR"), table, strict=True):
        (reading,) = read(polariscope=word).readings
        after = stand(population, [*readings, reading], BENCH)
        left += chance * entropy_bits(after.species.values())
    brought = entropy_bits(standing.species.values()) - left
    (proposal,) = plan(standing, [test]).proposals
    # The planner looks at rows above 0.0002 only, which hold all but a few per cent.
    assert proposal.gain_bits == approx(brought, rel=0.05)


def test_the_gain_of_a_density_agrees_with_weighing_drawn_stones(catalogue, instruments):
    """Stones drawn from those that stand are weighed, and the doubt left is averaged."""
    small = build_population(catalogue, stones=16)
    record = {"ri_low": "1.544", "ri_high": "1.553"}
    readings = read_record(record, instruments).readings
    standing = stand(small, readings, BENCH)
    rng = np.random.default_rng(17)
    left = []
    for row in rng.choice(len(small.labels), 160, p=standing.posterior):
        stone = drawn_stone(small, standing, int(row), rng)
        (reading,) = read_record(weighed(stone.sg, rng), instruments).readings
        after = stand(small, [*readings, reading], BENCH)
        left.append(entropy_bits(after.species.values()))
    brought = entropy_bits(standing.species.values()) - np.mean(left)
    test = next(t for i in instruments for t in i.tests if t.field == "sg")
    (proposal,) = plan(standing, [test]).proposals
    # Three standard errors of the draws, and what sixteen bins coarsen.
    error = 3 * np.std(left) / np.sqrt(len(left))
    assert proposal.gain_bits == approx(brought, abs=error + 0.15 * brought)


def weighed(sg, rng):
    """Return the weights of a stone of the weight, and on the balance, that the planner assumes."""
    sd = relative_density_sd(sg, ASSUMED_WEIGHT_CT, DEFAULT_READABILITY_CT)
    read = max(sg + sd * rng.standard_normal(), 1.05)
    water = liquid_density("water", DEFAULT_TEMPERATURE_C)
    return {
        "weight_air_ct": ASSUMED_WEIGHT_CT,
        "weight_liquid_ct": weight_in_liquid(ASSUMED_WEIGHT_CT, read, water),
    }


def drawn_stone(population, standing, row, rng):
    stratum = population.stratum[row]
    weight = standing.stone_weight[stratum]
    column = rng.choice(len(weight), p=weight / weight.sum())
    stones = population.stones
    place = (stratum, column)
    sg = stones.sg_mean[place] + stones.sg_sd[place] * rng.standard_normal()
    return VirtualStone(
        row, stones.n_alpha[place], stones.n_beta[place], stones.n_gamma[place], sg,
        stones.hardness[place],
    )  # fmt: skip


def test_tests_are_ranked_by_gain_or_by_gain_a_minute(stands, tests_at_hand):
    standing = stands(**RECORDS["green, 1.58"])
    by_gain = plan(standing, tests_at_hand).proposals
    gains = [p.gain_bits for p in by_gain]
    assert gains == sorted(gains, reverse=True)
    by_minute = plan(standing, tests_at_hand, per_minute=True).proposals
    rates = [p.gain_bits / p.minutes for p in by_minute]
    assert rates == sorted(rates, reverse=True)
    assert {p.test.name: p.gain_bits for p in by_gain} == {
        p.test.name: p.gain_bits for p in by_minute
    }
    assert [p.test.name for p in by_gain] != [p.test.name for p in by_minute]


def test_the_questions_asked_change_the_order_of_tests(stands, tests_at_hand):
    standing = stands(**RECORDS["ruby"])
    order = {
        settle: [p.test.name for p in plan(standing, tests_at_hand, settle).proposals[:4]]
        for settle in SETTLE
    }
    assert order["name"] != order["natural"] != order["treated"]
    # Whether a ruby grew in the ground is asked of the loupe, not of the refractometer.
    assert all(name.startswith("loupe") for name in order["natural"])


def test_whether_a_zoisite_was_heated_cannot_be_settled(stands, everyday, tests_at_hand):
    """Heat leaves nothing for hand tests in most zoisite, though its name stands beyond doubt."""
    standing = stands(**everyday["zoisite"])
    assert plan(standing, tests_at_hand, "name").settles
    assert not plan(standing, tests_at_hand, "treated").settles


def test_two_kinds_that_answer_alike_are_never_settled(population, stands, tests_at_hand):
    """A listed double: two rows of one prior to which every test answers the same."""
    standing = stands(**RECORDS["ruby"])
    first = int(standing.posterior.argmax())
    names = ("heat", "gentle heat")
    rows = [
        row
        for row, label in enumerate(population.labels)
        if label.species == "corundum"
        and label.variety == population.labels[first].variety
        and label.treatment in names
        and label.growth == "natural"
    ]
    assert len(rows) == 2
    posterior = np.zeros_like(standing.posterior)
    posterior[rows] = 0.5
    doubles = type(standing)(**{**vars(standing), "posterior": posterior})
    assert not plan(doubles, tests_at_hand, "treated").settles


def test_without_tests_only_a_settled_question_settles(stands, everyday):
    assert plan(stands(**everyday["topaz"]), []).settles
    assert not plan(stands(colour="red"), []).settles


def test_the_worth_of_a_decision_is_handed_in(stands, tests_at_hand):
    standing = stands(**RECORDS["green, 1.58"])
    planned = plan(standing, tests_at_hand, worth=lambda joint: float(joint.shape[1]))
    assert planned.proposals[0].gain_bits == max(p.gain_bits for p in planned.proposals)
    assert planned.proposals[0].test.name.startswith(("refractometer", "long", "short"))
