"""Does anything not fit: tails against draws, blunders, and readings that contradict each other."""

import numpy as np
import pytest
from pytest import approx

from isogyre.evidence import SETTINGS, stand
from isogyre.evidence.posterior import Evidence
from isogyre.evidence.prior import log_prior
from isogyre.instruments import tail_probability

BENCH = SETTINGS["bench"]
INDEX_OFF, DENSITY_OFF = 0.03, 1.12


@pytest.fixture(scope="module")
def left(population, read):
    """Return rows, stones and term of one reading as judged by the others."""

    def left(field, **entries):
        readings = read(**entries).readings
        place = [r.field for r in readings].index(field)
        evidence = Evidence.gather(population, readings)
        without = evidence.likelihood(without=place)
        rows = without.posterior(log_prior(population, BENCH))
        return rows, without.stone_posterior(rows), evidence.terms[place]

    return left


def test_a_tail_is_a_probability(stands, everyday):
    for record in everyday.values():
        misfit = stands(**record).misfit
        assert 0 <= misfit.tail_probability <= 1
        assert all(0 <= s.tail_probability_without <= 1 for s in misfit.suspects)


def test_suspects_come_most_suspect_first(stands, everyday):
    blunders = [s.blunder_probability for s in stands(**everyday["zoisite"]).misfit.suspects]
    assert len(blunders) == 3
    assert blunders == sorted(blunders, reverse=True)


def test_either_all_readings_are_sound_or_one_is_the_blunder(stands, everyday):
    for record in everyday.values():
        suspects = stands(**record).misfit.suspects
        assert sum(s.blunder_probability for s in suspects) < 1
        assert all(s.blunder_probability > 0 for s in suspects)


def test_a_planted_blunder_is_more_probable_than_in_the_sound_record(stands, everyday):
    for kind in BLUNDERED:
        sound, spoilt = everyday[kind], density_off(everyday[kind])
        before, after = (blunder_probability(stands(**r), "sg") for r in (sound, spoilt))
        assert after > before, kind


def test_sound_records_raise_no_alarm(stands, everyday):
    for kind, record in everyday.items():
        assert stands(**record).misfit.tail_probability > 0.1, kind


@pytest.mark.parametrize("value", ["2.60", "2.65", "2.72", "2.95"])
def test_the_tail_of_a_density_agrees_with_simulated_densities(population, left, value):
    """Densities drawn from the stones that index and sign leave standing, none looked at twice."""
    entries = {"ri_low": "1.544", "ri_high": "1.553", "sg": value}
    rows, stones, term = left("sg", **entries)
    held = np.flatnonzero(stones.ravel() > 1e-6)
    weight = stones.ravel()[held] / stones.ravel()[held].sum()
    mean = population.stones.sg_mean.ravel()[held]
    printed_sd = 0.005 * float(value) + 0.008
    sd = np.hypot(printed_sd, population.stones.sg_sd.ravel()[held])
    rng = np.random.default_rng(265)
    count = 1000
    place = rng.choice(len(held), count, p=weight)
    drawn = mean[place] + sd[place] * rng.standard_normal(count)

    def density(sg):
        return np.exp(-0.5 * ((np.asarray(sg)[:, None] - mean) / sd) ** 2) @ (weight / sd)

    less_likely = float(np.mean(density(drawn) <= density([float(value)])))
    # Both are shares of draws: 192 in the tail that is tested, 1000 here; three errors of both.
    error = 3 * np.sqrt(max(less_likely * (1 - less_likely), 0.005) * (1 / 192 + 1 / count))
    assert tail_probability(term, rows, stones) == approx(less_likely, abs=error + 1 / 192)


@pytest.mark.parametrize("word", ["SR", "DR", "AGG", "ADR"])
def test_the_tail_of_a_word_agrees_with_simulated_words(left, word):
    rows, stones, term = left("polariscope", polariscope=word, sg="2.65", colour="green")
    rng = np.random.default_rng(31)
    count = 20_000
    drawn_rows = rng.choice(len(rows), count, p=rows)
    cumulative = np.cumsum(term.table[drawn_rows], axis=1)
    words = (cumulative < rng.random((count, 1))).sum(axis=1)
    frequency = np.bincount(words, minlength=4) / count
    seen = frequency[int(term.outcome.argmax())]
    less_likely = frequency[frequency <= seen].sum()
    error = 4 * np.sqrt(less_likely * (1 - less_likely) / count) + 1e-3
    assert tail_probability(term, rows, stones) == approx(less_likely, abs=error)


BLUNDERED = ("corundum", "topaz", "olivine", "beryl", "zoisite", "chrysoberyl", "spinel")


def test_a_blunder_of_index_or_density_is_a_surprise_to_most_stones(stands, everyday):
    """Some blunders lead to another stone that fits: a green beryl moves on to a glass."""
    surprising = [
        stands(**blundered).misfit.suspects[0].tail_probability_without < 0.06
        for kind in BLUNDERED
        for blundered in (index_off(everyday[kind]), density_off(everyday[kind]))
    ]
    # Of fourteen blunders ten to twelve are seen; at random one in sixteen would be.
    assert np.mean(surprising) >= 0.6


def test_the_blundered_reading_is_named_more_often_than_not(stands, everyday):
    """Index or density alone may lead to another stone that fits as well: not all can be named."""
    named = []
    for kind in BLUNDERED:
        for field, blundered in (
            ("ri_low", index_off(everyday[kind])),
            ("sg", density_off(everyday[kind])),
        ):
            named.append(stands(**blundered).misfit.suspects[0].field == field)
    assert np.mean(named) > 0.5


@pytest.mark.parametrize("kind", ["corundum", "chrysoberyl"])
def test_the_suspect_is_the_planted_reading_where_no_other_stone_fits(stands, everyday, kind):
    record = everyday[kind] | {"polariscope": "DR", "hardness": 9}
    assert stands(**index_off(record)).misfit.suspects[0].field == "ri_low"
    assert stands(**density_off(record)).misfit.suspects[0].field == "sg"


def blunder_probability(standing, field):
    return next(s.blunder_probability for s in standing.misfit.suspects if s.field == field)


def index_off(record):
    moved = {key: f"{float(record[key]) + INDEX_OFF:.3f}" for key in ("ri_low", "ri_high")}
    return record | moved


def density_off(record):
    return record | {"sg": f"{record['sg'] * DENSITY_OFF:.2f}"}


CONTRADICTIONS = {
    "single refraction of a uniaxial stone": {"polariscope": "SR", "optic_character": "uniaxial"},
    "isotropic with a birefringence": {"optic_character": "isotropic", "birefringence": 0.018},
    "single refraction beside two edges": {"polariscope": "SR", "ri_low": 1.622, "ri_high": 1.640},
    "one edge beside a birefringence": {"ri_low": 1.63, "ri_high": 1.63, "birefringence": 0.02},
    "on the scale and beyond it": {"ri_low": 1.544, "ri_high": 1.553, "ri_text": "over the limit"},
    "light and heavy": {"sg": 2.65, "heavy_liquid": {"sg": 3.32, "result": "sinks"}},
    "pleochroic and single": {"pleochroism": "strong", "polariscope": "SR"},
    "red and featureless": {"spectrum_text": "no lines", "chelsea": "red", "colour": "colourless"},
}


@pytest.mark.parametrize("entries", CONTRADICTIONS.values(), ids=list(CONTRADICTIONS))
def test_readings_that_contradict_each_other_are_kept(read, stands, entries):
    readings = read(**entries).readings
    standing = stands(**entries)
    assert len(readings) == len(standing.weights) >= 2
    assert np.isfinite(standing.posterior).all()


@pytest.mark.parametrize(
    "name",
    ["isotropic with a birefringence", "single refraction beside two edges",
     "on the scale and beyond it", "light and heavy"],
)  # fmt: skip
def test_a_contradiction_of_physics_shows_as_a_misfit(stands, name):
    suspects = stands(**CONTRADICTIONS[name]).misfit.suspects
    assert min(s.tail_probability_without for s in suspects) < 0.05


def test_a_contradiction_fits_worse_than_agreement(stands):
    for agreeing, opposed in (
        ({"polariscope": "DR", "optic_character": "uniaxial"},
         {"polariscope": "SR", "optic_character": "uniaxial"}),
        ({"ri_low": 1.63, "ri_high": 1.65, "birefringence": 0.02},
         {"ri_low": 1.63, "ri_high": 1.63, "birefringence": 0.02}),
    ):  # fmt: skip
        assert (
            stands(**opposed).misfit.tail_probability < stands(**agreeing).misfit.tail_probability
        )


def test_a_diamond_beyond_the_scale_is_no_surprise(stands, everyday):
    """An index far beyond the limit reads as beyond: the farther, the less surprising."""
    misfit = stands(**everyday["diamond"]).misfit
    tails = {s.field: s.tail_probability_without for s in misfit.suspects}
    assert tails["ri_text"] > 0.3


def test_an_index_in_the_gap_between_two_kinds_is_a_surprise(stands):
    """Halfway between two kinds of stone nothing is found, though both tails are wide."""
    near = stands(colour="blue", hardness=9, ri_low=1.764, ri_high=1.772)
    gap = stands(colour="blue", hardness=9, ri_low=1.850, ri_high=1.858)
    tail = {
        name: next(
            s.tail_probability_without for s in standing.misfit.suspects if s.field == "ri_low"
        )
        for name, standing in (("near", near), ("gap", gap))
    }
    assert tail["gap"] < tail["near"] / 3


def test_one_lonely_reading_is_judged_by_the_prior_alone(population, read):
    found = read(sg="4.00")
    standing = stand(population, found.readings, BENCH)
    (suspect,) = standing.misfit.suspects
    assert 0 < suspect.tail_probability_without < 1
