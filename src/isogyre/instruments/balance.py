"""The balance: relative density from two weights, or as printed; and heavy liquids."""

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from isogyre.instruments.entry import decimals_of, number_in
from isogyre.instruments.instrument import (
    OFTEN_MISREAD,
    Field,
    Figures,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    Trouble,
)
from isogyre.instruments.scale import binned_outcomes
from isogyre.instruments.term import Figure, Term, measure, mixture, yes
from isogyre.optics.errors import TemperatureRangeError, UnknownLiquidError
from isogyre.optics.liquids import liquid_density, relative_density, relative_density_sd
from isogyre.population import Population

Array = NDArray[np.float64]

WEIGHT = Field("weight_ct", "weight", "number", "ct", 0.001, 100000.0, 0.01)
DEFAULT_READABILITY_CT = 0.01
READABILITY = Field(
    "balance_readability_ct",
    "last step of the balance",
    "number",
    "ct",
    0.0001,
    1.0,
    usual=DEFAULT_READABILITY_CT,
    is_seldom=True,
)
AIR = Field(
    "weight_air_ct",
    "weight in air",
    "number",
    "ct",
    0.0,
    100000.0,
    0.01,
    needs_key=READABILITY.key,
)
LIQUID_WEIGHT = Field(
    "weight_liquid_ct", "weight in the liquid", "number", "ct", -1000.0, 100000.0, 0.01
)
LIQUID = Field("liquid", "liquid", "choice", choices=("water", "ethanol", "toluene"))
TEMPERATURE = Field(
    "temperature_c", "temperature of the liquid", "number", "°C", -20.0, 100.0, 0.5, drawn=(10, 35)
)
LEAST_SG, MOST_SG = 0.8, 20.0
SG_SD = Field("sg_sd", "error of that density", "number", "", 0.0005, 1.0, 0.01, is_seldom=True)
SG = Field(
    "sg",
    "relative density, as printed",
    "number",
    "",
    LEAST_SG,
    MOST_SG,
    0.01,
    drawn=(1.0, 6.0),
    error_key=SG_SD.key,
    is_seldom=True,
)
SG_METHOD = Field("sg_method", "how weighed", "words", is_seldom=True)
HEAVY = Field(
    "heavy_liquid",
    "heavy liquid",
    "object",
    hint="{sg, result}: density of the liquid and sinks, floats or hovers",
    parts=(
        Field("sg", "density of the liquid", "number", "", 0.8, 5.0, 0.01, drawn=(2.4, 4.2)),
        Field("result", "the stone", "choice", choices=("sinks", "floats", "hovers")),
    ),
)

DEFAULT_TEMPERATURE_C = 20.0
WIDER, WIDER_SHARE = 4.0, 0.08
BLUNDER_SHARE = 0.10  # a weighing that went wrong is off by about this
BLUNDER_DENSITY = 0.02 / 8.0
# Bubbles make a stone seem lighter, never heavier: the wide part lies so many errors lower.
BUBBLES = 1.0
ASSUMED_WEIGHT_CT = 1.0
HOVER_SG, HEAVY_SD = 0.02, 0.02


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of weights and of printed densities."""
    found = Readings()
    number_in(record, WEIGHT, found)
    _weighed(record, found)
    _printed(record, found)
    return found


def _weighed(record: Mapping[str, Any], found: Readings) -> None:
    air, liquid_weight = number_in(record, AIR, found), number_in(record, LIQUID_WEIGHT, found)
    temperature = number_in(record, TEMPERATURE, found)
    readability = number_in(record, READABILITY, found) or DEFAULT_READABILITY_CT
    if air is None and liquid_weight is None:
        return
    if air is None or liquid_weight is None:
        missing = AIR if air is None else LIQUID_WEIGHT
        found.troubles.append(Trouble(missing.key, f"{missing.label} is missing: both are needed"))
        return
    if air <= 0:
        found.troubles.append(Trouble(AIR.key, "zero weight in air: tare, then weigh the stone"))
        return
    if liquid_weight >= air:
        message = (
            f"{liquid_weight:g} ct in the liquid is not below {air:g} ct in air: swap them, "
            "or weigh again with the wire tared"
        )
        found.troubles.append(Trouble(LIQUID_WEIGHT.key, message))
        return
    liquid = str(record.get(LIQUID.key) or "water").strip().lower()
    try:
        density = liquid_density(
            liquid, DEFAULT_TEMPERATURE_C if temperature is None else temperature
        )
    except UnknownLiquidError as error:
        found.troubles.append(Trouble(LIQUID.key, str(error)))
        return
    except TemperatureRangeError as error:
        found.troubles.append(Trouble(TEMPERATURE.key, str(error)))
        return
    value = relative_density(air, liquid_weight, density)
    if not LEAST_SG <= value <= MOST_SG:
        message = (
            f"{air:g} ct in air and {liquid_weight:g} ct in the liquid give a relative density of "
            f"{value:.3g}, which no gem has: weigh again"
        )
        found.troubles.append(Trouble(LIQUID_WEIGHT.key, message))
        return
    sd = float(relative_density_sd(value, air, readability))
    found.readings.append(_density(SG.key, f"{value:.3f} ± {sd:.3f}, weighed", value, sd))


def _printed(record: Mapping[str, Any], found: Readings) -> None:
    value = number_in(record, SG, found)
    sd = number_in(record, SG_SD, found)
    if value is None:
        return
    if sd is None:
        sd = 0.005 * value + 0.008
        if decimals_of(record[SG.key]) <= 1:
            sd = max(sd, 0.035)
    found.readings.append(_density(SG.key, f"{value:g} ± {sd:.3f}", value, sd))


def _density(field: str, shown: str, value: float, sd: float) -> Reading:
    def term(population: Population) -> Term:
        stones = population.stones
        sds = np.hypot(sd, stones.sg_sd)
        wide = np.hypot(WIDER * sd, stones.sg_sd)
        right = mixture(value, stones.sg_mean, sds, ((1 - WIDER_SHARE, 1.0),), BLUNDER_DENSITY)
        lighter = stones.sg_mean - BUBBLES * sd
        worse = mixture(value, lighter, wide, ((WIDER_SHARE, 1.0),), 0.0001)
        return measure(
            np.logaddexp(right, worse),
            Figure(value, stones.sg_mean, sds, BLUNDER_SHARE * stones.sg_mean),
        )

    # A printed density beside the weights it came from is the same weighing.
    return Reading(field, shown, term, "density", (1.0, 0.0), blunders=OFTEN_MISREAD)


def read_heavy(record: Mapping[str, Any]) -> Readings:
    """Make a reading of a stone dropped into a liquid of known density."""
    found = Readings()
    if record.get(HEAVY.key):
        _heavy(record[HEAVY.key], found)
    return found


def _heavy(entry: Any, found: Readings) -> None:
    density, answer = HEAVY.parts
    parts = entry if isinstance(entry, Mapping) else {}
    tried = Readings()
    sg, result = number_in(parts, density, tried), str(parts.get(answer.key) or "").lower()
    if sg is None or not result:
        said = "; ".join(trouble.message for trouble in tried.troubles)
        message = said or "write the liquid's sg and sinks, floats or hovers"
        found.troubles.append(Trouble(HEAVY.key, message))
        return
    outcome = next((o for o, stem in enumerate(("sink", "float", "hover")) if stem in result), None)
    if outcome is None or re.search(r"\b(not|no|never)\b", result):
        found.ignored.append(Ignored(HEAVY.key, result, "neither sinks, floats nor hovers"))
        return

    def term(population: Population) -> Term:
        stones = population.stones
        chances = _heavy_chances(stones.sg_mean, stones.sg_sd, sg)
        return yes(0.97 * chances[outcome] + 0.01)

    found.readings.append(Reading(HEAVY.key, f"{result} in {sg:g}", term, "density", (1.0, 0.5)))


def _heavy_chances(sg_mean: Array, sg_sd: Array, sg: float) -> tuple[Array, Array, Array]:
    sds = np.hypot(HEAVY_SD, sg_sd)
    floats = ndtr((sg - HOVER_SG - sg_mean) / sds)
    sinks = ndtr((sg_mean - sg - HOVER_SG) / sds)
    return sinks, floats, np.clip(1 - sinks - floats, 0, 1)


def _density_test(figures: Figures) -> PlannedTest:
    """Plan a weighing in water: on this balance, or with this error whatever the weight."""
    readability = figures.get(READABILITY.key, DEFAULT_READABILITY_CT)
    sd = figures.get(SG_SD.key)

    def outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
        stones = population.stones
        error = sd or relative_density_sd(stones.sg_mean, ASSUMED_WEIGHT_CT, readability)
        axes = ((stones.sg_mean, np.hypot(np.asarray(error), stones.sg_sd), 16),)
        return binned_outcomes(population, stone_weight, rows, axes)

    return PlannedTest(
        "density, weighed in water",
        SG.key,
        5.0,
        outcomes,
        touches="water weighing",
        shows=("sg_mean",),
        with_figures=_density_test,
    )


BALANCE = Instrument(
    name="balance",
    fields=(WEIGHT, AIR, LIQUID_WEIGHT, LIQUID, TEMPERATURE, READABILITY, SG, SG_SD, SG_METHOD),
    read=read,
    tests=(_density_test({}),),
    cautions=("No water or other liquid on hydrophane opal, glued, strung or porous pieces.",),
    about="A small stone's density is weak: the error grows as one over the weight.",
)


def _heavy_outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
    strata, place = np.unique(population.stratum[rows], return_inverse=True)
    stones, weight = population.stones, stone_weight[strata]
    chances = _heavy_chances(stones.sg_mean[strata], stones.sg_sd[strata], 3.32)
    within = weight / np.maximum(weight.sum(axis=1, keepdims=True), 1e-300)
    by_stratum = np.stack([(within * chance).sum(axis=1) for chance in chances], axis=-1)
    table: Array = 0.97 * by_stratum[place] + 0.01
    return table


HEAVY_LIQUIDS = Instrument(
    name="heavy liquids",
    fields=(HEAVY,),
    read=read_heavy,
    tests=(
        PlannedTest(
            "heavy liquid of density 3.32",
            HEAVY.key,
            3.0,
            _heavy_outcomes,
            ("sinks", "floats", "hovers"),
            touches="heavy liquid",
        ),
    ),
    cautions=(
        "Heavy liquids are poisonous: fume hood, gloves, eye protection, the maker's sheet and "
        "local rules first. Off in every kit until you add them.",
    ),
)
