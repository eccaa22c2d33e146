"""Words: every table and confusion matrix is a set of distributions, every logarithm finite."""

import numpy as np
import pytest
from pytest import approx

from isogyre.instruments import (
    confusion,
    crossed_polars,
    dichroscope,
    lamps,
    naked_eye,
    small_tests,
    spectroscope,
)
from isogyre.instruments.loupe import feature_table
from isogyre.instruments.term import choice
from isogyre.population.words import GLOWS

# Rounding of sums of some thirty shares in double precision.
ROUNDING = 1e-9

MATRICES = {
    "hues": confusion.HUE_CONFUSION,
    "glows": confusion.GLOW_CONFUSION,
    "steps": confusion.neighbours_in_order(4, 0.7, 0.2),
    "transparency": naked_eye._TRANSPARENCY_SEEN,
    "lustre": naked_eye._LUSTRE_SEEN,
    "pleochroism": dichroscope._SEEN,
    "cut": naked_eye.CUT_BY_TRANSPARENCY,
}
WRITTEN = {
    "colour": naked_eye.colour_table,
    "transparency": naked_eye.transparency_table,
    "lustre": naked_eye.lustre_table,
    "optic character": crossed_polars.character_table,
    "optic sign": crossed_polars.sign_table,
    "polariscope": lambda population: population.tables.polariscope,
    "pleochroism": dichroscope.strength_table,
    "glow, long": lambda population: lamps._written(population, "glow_long"),
    "glow, short": lambda population: lamps._written(population, "glow_short"),
    "filter": small_tests.filter_table,
    "magnet": small_tests.magnet_table,
    "thermal": small_tests.thermal_table,
    "electrical": small_tests.electric_table,
    "chromium lines": lambda population: spectroscope.cause_table(population, 0),
    "a feature": lambda population: feature_table(population, "gas bubbles"),
}
TRUE = ("hue", "hue_incandescent", "transparency", "lustre", "glow_long", "glow_short",
        "pleochroism", "pleochroism_hues", "magnet", "thermal", "polariscope")  # fmt: skip


def assert_stochastic(table):
    assert (table >= 0).all()
    assert table.sum(axis=1) == approx(1, abs=ROUNDING)


@pytest.mark.parametrize("name", MATRICES)
def test_a_confusion_matrix_shares_out_every_word(name):
    assert_stochastic(MATRICES[name])


@pytest.mark.parametrize("name", ["hues", "glows", "steps", "transparency", "lustre"])
def test_what_is_there_is_written_more_often_than_anything_else(name):
    matrix = MATRICES[name]
    seen = np.arange(len(matrix))
    if name == "glows":  # a weak glow is missed more often than it is named right
        seen = seen[[0, *range(GLOWS.index("moderate red"), len(matrix))]]
    assert (matrix[seen].argmax(axis=1) == seen).all()


@pytest.mark.parametrize("name", TRUE)
def test_what_is_true_of_each_kind_of_stone_is_a_distribution(population, name):
    assert_stochastic(getattr(population.tables, name))


@pytest.mark.parametrize("name", WRITTEN)
def test_what_would_be_written_is_a_distribution_without_zeros(population, name):
    table = WRITTEN[name](population)
    assert_stochastic(table)
    # A zero would let one slip of the pen rule a stone out for ever.
    assert table.min() > 0


def test_every_test_of_the_planner_shares_out_its_outcomes(population, instruments):
    rows = np.arange(0, len(population.labels), 7)
    stones = np.full(population.stones.n_alpha.shape, 1 / population.stones.n_alpha.size)
    for test in (test for instrument in instruments for test in instrument.tests):
        table = test.outcomes(population, stones, rows)
        assert_stochastic(table)
        assert not test.outcome_names or table.shape[1] == len(test.outcome_names), test.name


@pytest.mark.parametrize("trust", [0.0, 0.3, 0.8, 0.95])
def test_trust_bounds_what_one_word_can_do(population, trust):
    """However rare the word is in a stone, 1 - trust of it is spread as in an average stone."""
    table = np.array([[1.0, 0.0], [0.0, 1.0]])[np.arange(len(population.labels)) % 2]
    rows = choice(population, table, 0, trust).rows
    average = (population.prior @ table)[0]
    bound = 1 + trust / (1 - trust) / average
    assert np.exp(rows.max() - rows.min()) == approx(bound)


def test_a_word_that_may_mean_two_things_lies_between_them(population):
    table = naked_eye.colour_table(population)
    first, second = (choice(population, table, outcome).rows for outcome in (5, 6))
    either = choice(population, table, np.eye(table.shape[1])[[5, 6]].mean(axis=0)).rows
    assert (either <= np.maximum(first, second) + ROUNDING).all()
    assert (either >= np.minimum(first, second) - ROUNDING).all()


def test_every_reading_is_finite_on_the_whole_population(population, read):
    for record in EVERY_READING:
        found = read(record)
        assert found.readings, record
        for reading in found.readings:
            term = reading.term(population)
            log = term.rows if term.stones is None else term.stones
            assert np.isfinite(log).all(), (record, reading.shown)


EVERY_READING = [
    {"ri_low": 1.3, "ri_high": 3.5},
    {"ri_low": 1.762, "ri_high": 1.770},
    {"ri_low": 1.762, "ri_high": 1.770, "ri_sd": 0.0002},
    {"ri_low": 1.762, "ri_high": 1.768, "ri_turn": "single"},
    {"ri_low": 1.3, "ri_high": 3.5, "ri_turn": "single", "ri_sd": 0.0002},
    {"ri_low": 1.718, "ri_high": 1.718},
    {"ri_low": 1.55},
    {"ri_high": 1.55},
    {"ri_low": 1.78, "ri_limit": 1.79},
    {"ri_spot": 1.54},
    {"ri_spot": 3.5},
    {"ri_text": "over the limit"},
    {"ri_limit": 1.80},
    {"ri_text": "typical for sapphire"},
    {"ri_low": 1.40, "ri_high": 1.75, "ri_kind": "range across samples"},
    {"birefringence": 0.0},
    {"birefringence": 0.4},
    {"sg": 0.8},
    {"sg": 20, "sg_sd": 0.0005},
    {"weight_air_ct": 0.01, "weight_liquid_ct": 0.006},
    {"weight_air_ct": 1000, "weight_liquid_ct": 750, "balance_readability_ct": 0.0001},
    *({"heavy_liquid": {"sg": 3.32, "result": result}} for result in ("sinks", "floats", "hovers")),
    *({"polariscope": word} for word in ("SR", "DR", "AGG", "ADR")),
    *({"optic_character": c} for c in ("isotropic", "uniaxial", "biaxial", "aggregate")),
    *({"optic_sign": sign} for sign in "+-"),
    *({"pleochroism": p} for p in ("none", "weak", "strong: blue / violet / grey", "red / red")),
    *({lamp: glow} for lamp in ("uv_lw", "uv_sw") for glow in ("inert", "strong red", "violet")),
    {"spectrum_lines_nm": [450, 460, 470, 589, 693]},
    {"spectrum_lines_nm": [400.0] * 12},
    {"spectrum_text": "chromium lines, rare-earth lines, no line at 450"},
    {"spectrum_text": "no lines"},
    {"spectrum_text": "spectrum consistent with jadeite"},
    *({"chelsea": word} for word in ("red", "pink", "no reaction")),
    *({"magnet": word} for word in ("none", "weak", "strong")),
    *({"thermal": word} for word in ("low", "middling", "diamond-like")),
    *({"electrical": word} for word in ("no", "conducts")),
    {"reflectivity_index": 1.3},
    {"reflectivity_index": 3.5},
    {"hardness": 1},
    {"hardness": 10},
    *({"colour": c} for c in ("red", "bluish green", "colourless", "lavender to grey")),
    {"colour": "red", "light": "incandescent"},
    {"colour_incandescent": "red"},
    *({"transparency": t} for t in ("transparent", "semi-transparent", "opaque")),
    *({"lustre": word} for word in ("vitreous", "adamantine", "metallic")),
    *({"form": form} for form in ("faceted", "cabochon", "bead", "carving")),
    {"magnification": ["gas bubbles", "silk", "no inclusions"], "not_seen": ["curved striae"]},
    {"claim": "natural ruby"},
    {"claim": {"words": "natural ruby", "trust": 0.95}},
    {"laboratory": {"conclusion": "synthetic ruby", "matched": "yes"}},
]  # fmt: skip


def test_every_feature_seen_and_not_seen_is_finite(population, read):
    names = list(population.feature_names)
    for record in ({"magnification": names}, {"not_seen": names}):
        for reading in read(record).readings:
            assert np.isfinite(reading.term(population).rows).all(), reading.shown
