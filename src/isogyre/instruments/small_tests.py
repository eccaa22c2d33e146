"""Quick tests with one answer each: colour filter, magnet, probes, reflectivity, hardness."""

import re
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.entry import number_in
from isogyre.instruments.instrument import (
    Field,
    Figures,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    table_outcomes,
)
from isogyre.instruments.scale import binned_outcomes
from isogyre.instruments.term import Figure, Term, choice, measure, mixture
from isogyre.population import Population

Array = NDArray[np.float64]
Table = Callable[[Population], Array]

FILTER = Field("chelsea", "colour filter", "choice", choices=("no reaction", "pink", "red"))
MAGNET = Field("magnet", "magnet", "choice", choices=("none", "weak", "strong"))
THERMAL = Field("thermal", "thermal probe", "choice", choices=("low", "middling", "diamond-like"))
ELECTRIC = Field("electrical", "electrical probe", "choice", choices=("no", "conducts"))
REFLECTIVITY_SD = 0.05
REFLECTIVITY_ERROR = Field(
    "reflectivity_sd",
    "error of that index",
    "number",
    low=0.005,
    high=0.5,
    step=0.01,
    usual=REFLECTIVITY_SD,
)
REFLECTIVITY = Field(
    "reflectivity_index",
    "reflectivity, as an index",
    "number",
    low=1.3,
    high=3.5,
    step=0.01,
    drawn=(1.3, 2.8),
    error_key=REFLECTIVITY_ERROR.key,
)
HARDNESS = Field(
    "hardness", "hardness, from rough or a report", "number", "", 1, 10, 0.5, drawn=(1, 10)
)

# "Not diamond" is an answer too: the one that stands first in every list.
DENIAL = re.compile(r"\b(no|not|non|none|nil|never|without)\b")
HARDNESS_SD = 0.6


def filter_table(population: Population) -> Array:
    """Return the chance of no reaction, pink and red through the colour filter."""
    red = np.clip(0.92 * population.tables.filter_red + 0.03, 0.01, 0.97)
    return np.stack((1 - red, 0.35 * red, 0.65 * red), axis=1)


def magnet_table(population: Population) -> Array:
    """Return the chance of each magnet answer, the hand's errors included."""
    seen = np.array([[0.95, 0.04, 0.01], [0.25, 0.68, 0.07], [0.05, 0.25, 0.70]])
    table: Array = population.tables.magnet @ seen
    return table


def thermal_table(population: Population) -> Array:
    """Return the chance of each answer of a thermal probe."""
    seen = np.array([[0.95, 0.04, 0.01], [0.12, 0.83, 0.05], [0.03, 0.05, 0.92]])
    table: Array = population.tables.thermal @ seen
    return table


def electric_table(population: Population) -> Array:
    """Return the chance that an electrical probe answers, and that it does not."""
    conducts = 0.02 + 0.9 * population.tables.conducts
    return np.stack((1 - conducts, conducts), axis=1)


def _word_reader(field: Field, table: Table, codes: Mapping[str, int]) -> Callable[..., Readings]:
    def read(record: Mapping[str, Any]) -> Readings:
        found = Readings()
        text = str(record.get(field.key) or "").strip()
        if not text:
            return found
        outcome = _code_in(text.lower(), codes)
        if outcome is None:
            reason = "none of " + ", ".join(field.choices)
            found.ignored.append(Ignored(field.key, text, reason))
            return found

        def term(population: Population) -> Term:
            return choice(population, table(population), outcome)

        found.readings.append(Reading(field.key, text, term, field.key))
        return found

    return read


def _code_in(text: str, codes: Mapping[str, int]) -> int | None:
    """Return what the first known word stands for; any denial is the answer 'no'."""
    if DENIAL.search(text):
        return 0
    return next((code for word, code in codes.items() if re.search(rf"\b{word}", text)), None)


def _read_reflectivity(record: Mapping[str, Any]) -> Readings:
    found = Readings()
    value = number_in(record, REFLECTIVITY, found)
    sd = number_in(record, REFLECTIVITY_ERROR, found) or REFLECTIVITY_SD

    def term(population: Population) -> Term:
        assert value is not None
        mean = population.stones.n_mean
        density = mixture(value, mean, sd, ((0.85, 1.0), (0.12, 3.0)), 0.03 / 2)
        return measure(density, Figure(value, mean, sd))

    if value is not None:
        found.readings.append(Reading(REFLECTIVITY.key, f"{value:g}", term, REFLECTIVITY.key))
    return found


def _read_hardness(record: Mapping[str, Any]) -> Readings:
    found = Readings()
    value = number_in(record, HARDNESS, found)

    def term(population: Population) -> Term:
        assert value is not None
        true = population.stones.hardness
        density = mixture(value, true, HARDNESS_SD, ((0.95, 1.0),), 0.05 / 9)
        return measure(density, Figure(value, true, HARDNESS_SD))

    if value is not None:
        found.readings.append(Reading(HARDNESS.key, f"{value:g}", term, HARDNESS.key))
    return found


def _reflectivity_test(figures: Figures) -> PlannedTest:
    """Plan a look with a meter of this error."""
    sd = figures.get(REFLECTIVITY_ERROR.key, REFLECTIVITY_SD)

    def outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
        return binned_outcomes(population, stone_weight, rows, ((population.stones.n_mean, sd, 8),))

    return PlannedTest(
        "reflectivity meter",
        REFLECTIVITY.key,
        1.0,
        outcomes,
        shows=("n_mean",),
        with_figures=_reflectivity_test,
    )


def _word_instrument(
    name: str,
    field: Field,
    table: Table,
    codes: Mapping[str, int],
    minutes: float,
    about: str = "",
    touches: str = "",
) -> Instrument:
    outcomes = table_outcomes(table)
    test = PlannedTest(name, field.key, minutes, outcomes, field.choices, touches)
    return Instrument(name, (field,), _word_reader(field, table, codes), (test,), (), about)


COLOUR_FILTER = _word_instrument(
    "colour filter",
    FILTER,
    filter_table,
    {
        "inert": 0,
        "green": 0,
        "negative": 0,
        "pinkish": 1,
        "pink": 1,
        "brownish red": 1,
        "red": 2,
        "orange": 2,
        "strong": 2,
    },
    0.5,
    "Chromium and cobalt look red; much natural emerald does not.",
)
MAGNET_TEST = _word_instrument(
    "magnet",
    MAGNET,
    magnet_table,
    {
        "inert": 0,
        "weak": 1,
        "slight": 1,
        "very weak": 1,
        "drag": 1,
        "strong": 2,
        "picks": 2,
        "attract": 2,
    },
    1.0,
    "A strong magnet, the stone floated or hung; settings and iron in the matrix mislead.",
)
THERMAL_PROBE = _word_instrument(
    "thermal probe",
    THERMAL,
    thermal_table,
    {"diamond": 2, "high": 2, "middling": 1, "corundum": 1, "medium": 1, "low": 0},
    0.5,
    "Moissanite and phenakite may answer as diamond.",
    "thermal probe",
)
ELECTRICAL_PROBE = _word_instrument(
    "electrical probe",
    ELECTRIC,
    electric_table,
    {"yes": 1, "conduct": 1},
    0.5,
)
REFLECTIVITY_METER = Instrument(
    "reflectivity meter",
    (REFLECTIVITY, REFLECTIVITY_ERROR),
    _read_reflectivity,
    (_reflectivity_test({}),),
    about="Needs a flat, clean polish; a coating fools it.",
)
HARDNESS_RECORD = Instrument(
    "hardness",
    (HARDNESS,),
    _read_hardness,
    cautions=("Never scratch a finished stone; this is for rough and for old reports.",),
)
