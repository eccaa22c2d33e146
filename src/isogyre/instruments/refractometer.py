"""The refractometer: shadow edges, the spot on a curved surface, the end of the scale."""

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from isogyre.instruments.entry import decimals_of, number_in
from isogyre.instruments.instrument import (
    Field,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    Trouble,
)
from isogyre.instruments.scale import binned_outcomes
from isogyre.instruments.term import Term, measure, mixture
from isogyre.optics.position import pair_log_density
from isogyre.population import Population
from isogyre.population.stones import Stones
from isogyre.population.words import CHARACTERS

Array = NDArray[np.float64]

INDEX = {"low": 1.3, "high": 3.5, "step": 0.001}
LOW = Field("ri_low", "lower edge", "number", hint="lowest reading over the turn", **INDEX)  # type: ignore[arg-type]
HIGH = Field("ri_high", "upper edge", "number", hint="highest reading over the turn", **INDEX)  # type: ignore[arg-type]
SPOT = Field("ri_spot", "spot on a curved surface", "number", **INDEX)  # type: ignore[arg-type]
SD = Field("ri_sd", "error of an edge", "number", low=0.0002, high=0.05, step=0.001)
TURN = Field("ri_turn", "how read", "choice", choices=("full", "single"))
LIMIT = Field("ri_limit", "end of the scale with this liquid", "number", low=1.6, high=2.0)
BIREFRINGENCE = Field("birefringence", "birefringence", "number", low=0.0, high=0.4, step=0.001)
TEXT = Field("ri_text", "in words", "words", hint="for instance: beyond the limit")
KIND = Field("ri_kind", "what the pair is", "words")

# Standard deviations of hand readings (judgement; widths checked on published ranges: halving
# or doubling them loses).
MEAN_SD, MEAN_SD_HIGH, HIGH_INDEX = 0.002, 0.003, 1.74
DIFFERENCE_SD = 0.0025
EDGE_SD = 0.0025
SPOT_SD, SPOT_SD_FINE = 0.008, 0.004
AGGREGATE_EDGE_SD = 0.006
ROUNDING_SD_COARSE = 0.0029  # a figure rounded to 0.01
INCOMPLETE_TURN = 0.10
LIMIT_SD, LIMIT_FLOOR = 0.008, 0.0025
DEFAULT_LIMIT = 1.80
BLUNDER_DENSITY = 0.005 / 0.6  # any figure on the scale
SEPARATION_SEEN, SEPARATION_SEEN_SD = 0.0030, 0.0010
ONE_EDGE_NOTED = 0.04


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of whatever a record says about refraction."""
    found = Readings()
    low, high = number_in(record, LOW, found), number_in(record, HIGH, found)
    spot, birefringence = number_in(record, SPOT, found), number_in(record, BIREFRINGENCE, found)
    sd, limit = number_in(record, SD, found), number_in(record, LIMIT, found)
    if _check(record, low, high, birefringence, found):
        return found
    coarse = decimals_of(*(record.get(f.key) for f in (LOW, HIGH) if record.get(f.key))) <= 2
    spread = "range" in str(record.get(KIND.key, "")).lower()
    if low is not None and high is not None:
        found.readings += _edges(record, low, high, sd, coarse, spread, birefringence, found)
    elif low is not None or high is not None:
        found.readings.append(_one_of(low, high, sd, limit))
    elif birefringence is not None:
        found.readings.append(_birefringence(birefringence))
    if spot is not None and not (low is not None and low == high == spot):
        found.readings.append(_spot(spot, decimals_of(record[SPOT.key])))
    _read_text(record, limit, found)
    return found


def _check(
    record: Mapping[str, Any],
    low: float | None,
    high: float | None,
    birefringence: float | None,
    found: Readings,
) -> bool:
    """Add trouble for readings that contradict each other; return whether there is any."""
    if low is not None and high is not None:
        if low > high:
            message = f"the lower edge {low:g} lies above the upper edge {high:g}: swap them"
            found.troubles.append(Trouble(LOW.key, message))
        elif birefringence is not None and _contradicts(record, high - low, birefringence):
            message = (
                f"{birefringence:g} contradicts the pair {low:g} / {high:g} (difference "
                f"{high - low:.3f}): leave it out, or read the pair again"
            )
            found.troubles.append(Trouble(BIREFRINGENCE.key, message))
    turn = record.get(TURN.key)
    if turn not in (None, "", *TURN.choices):
        found.troubles.append(Trouble(TURN.key, f"'{turn}' is neither 'full' nor 'single'"))
    return bool(found.troubles)


def _contradicts(record: Mapping[str, Any], difference: float, birefringence: float) -> bool:
    """Whether a stated birefringence cannot belong to the pair.

    One isotropic figure beside a birefringence is a contradiction between readings, kept as
    such and shown as misfit; a spread over samples is asked about elsewhere.
    """
    if difference < 0.0005 or record.get(KIND.key):
        return False
    coarse = decimals_of(record[LOW.key], record[HIGH.key]) <= 2
    return abs(difference - birefringence) > (0.011 if coarse else 0.005)


def _edges(
    record: Mapping[str, Any],
    low: float,
    high: float,
    sd: float | None,
    coarse: bool,
    spread: bool,
    birefringence: float | None,
    found: Readings,
) -> list[Reading]:
    if spread:
        found.ignored.append(
            Ignored(
                KIND.key,
                str(record[KIND.key]),
                "a spread over several stones is no "
                "birefringence; its middle is taken as one edge: enter one stone's pair",
            )
        )
        return [_edge((low + high) / 2, max(sd or EDGE_SD, (high - low) / 2))]
    if high - low < 0.0005:
        beside = [_birefringence(birefringence)] if birefringence else []
        return [_single_edge(low, sd, coarse), *beside]
    if record.get(TURN.key) == "single":
        return [_pair_at_one_position(low, high, sd)]
    return [_pair(low, high, sd, coarse)]


def _pair(low: float, high: float, sd: float | None, coarse: bool) -> Reading:
    def term(population: Population) -> Term:
        stones = population.stones
        mean, width = (low + high) / 2, high - low
        rounding = ROUNDING_SD_COARSE if coarse else 0.0
        mean_sd = np.hypot(sd or (MEAN_SD_HIGH if mean > HIGH_INDEX else MEAN_SD), rounding / 1.4)
        difference_sd = np.hypot(1.25 * sd if sd else DIFFERENCE_SD, rounding * 1.4)
        blurred = np.where(is_aggregate(population), AGGREGATE_EDGE_SD, 0.0)[:, None]
        sds = np.hypot(mean_sd, blurred)
        middle = mixture(mean, stones.n_mean, sds, ((0.95, 1.0), (0.045, 4.0)), BLUNDER_DENSITY)
        wide = np.hypot(difference_sd, 2 * blurred)
        turned = mixture(width, stones.birefringence, wide, ((1.0, 1.0),), 0.02)
        edge_sds = np.hypot(sds, wide / 2)
        short = _shortened(low, high, stones, edge_sds, difference_sd)
        either = np.logaddexp(
            np.log(1 - INCOMPLETE_TURN) + middle + turned, np.log(INCOMPLETE_TURN) + short
        )
        return measure(
            either,
            (mean - stones.n_mean) / sds,
            (width - stones.birefringence) / wide,
        )

    return Reading(LOW.key, f"{low:g} to {high:g}", term, "refraction")


def _shortened(low: float, high: float, stones: Stones, edge_sds: Array, sd: float) -> Array:
    """Return the log density of a pair from a turn that was not complete.

    One edge is where it belongs, the other came short of its end, anywhere on the way.
    """
    width, full = high - low, np.maximum(stones.birefringence, 1e-3)
    on_the_way = (ndtr((full - width) / sd) - ndtr(-width / sd)) / full + 0.02
    right = ((1.0, 1.0),)
    lower = mixture(low, stones.n_alpha, edge_sds, right, BLUNDER_DENSITY)
    upper = mixture(high, stones.n_gamma, edge_sds, right, BLUNDER_DENSITY)
    log: Array = np.log(on_the_way) + np.logaddexp(lower, upper) - np.log(2)
    return log


def _pair_at_one_position(low: float, high: float, sd: float | None) -> Reading:
    """A pair read without turning the stone: smaller than the birefringence, by geometry."""

    def term(population: Population) -> Term:
        stones, error = population.stones, sd or EDGE_SD
        principal = np.stack((stones.n_alpha, stones.n_beta, stones.n_gamma), axis=-1)
        exact = pair_log_density(low, high, np.nan_to_num(principal.reshape(-1, 3), nan=3.0), error)
        blunder = np.log(BLUNDER_DENSITY**2)
        density = np.logaddexp(np.log(0.94) + exact.reshape(stones.n_alpha.shape), blunder)
        reach = np.hypot(error, stones.birefringence / 4)
        return measure(density, ((low + high) / 2 - stones.n_mean) / reach)

    return Reading(LOW.key, f"{low:g} and {high:g} at one position", term, "refraction")


def _single_edge(index: float, sd: float | None, coarse: bool) -> Reading:
    """One edge that does not move: isotropic, or a separation too small to be seen."""

    def term(population: Population) -> Term:
        stones = population.stones
        error = np.hypot(sd or EDGE_SD, ROUNDING_SD_COARSE if coarse else 0.0)
        blurred = np.where(is_aggregate(population), AGGREGATE_EDGE_SD, 0.0)[:, None]
        sds = np.hypot(np.hypot(error, blurred), stones.birefringence / 4)
        unseparated = ndtr((SEPARATION_SEEN - stones.birefringence) / SEPARATION_SEEN_SD)
        one_edge = np.where(
            is_aggregate(population)[:, None], 0.8, np.maximum(unseparated, ONE_EDGE_NOTED)
        )
        density = mixture(index, stones.n_mean, sds, ((0.9, 1.0), (0.08, 8.0)), BLUNDER_DENSITY)
        return measure(density + np.log(one_edge), (index - stones.n_mean) / sds)

    return Reading(LOW.key, f"{index:g}, one edge", term, "refraction")


def _edge(index: float, sd: float) -> Reading:
    """One edge of a stone that may have two: anywhere between the extreme indices."""

    def term(population: Population) -> Term:
        return _between_extremes(population, index, sd)

    return Reading(LOW.key, f"{index:g}, one edge noted", term, "refraction")


def _one_of(
    low: float | None, high: float | None, sd: float | None, limit: float | None
) -> Reading:
    """A pair with one edge missing; an upper edge beyond the limit is an observation."""
    if low is not None and limit is not None:
        return _low_with_high_beyond(low, sd, limit)
    index = low if low is not None else high
    assert index is not None
    return _edge(index, sd or EDGE_SD)


def _low_with_high_beyond(low: float, sd: float | None, limit: float) -> Reading:
    def term(population: Population) -> Term:
        stones, error = population.stones, sd or EDGE_SD
        edge = mixture(low, stones.n_alpha, error, ((0.9, 1.0), (0.08, 8.0)), BLUNDER_DENSITY)
        beyond = np.log(np.maximum(ndtr((stones.n_gamma - limit) / LIMIT_SD), LIMIT_FLOOR))
        return measure(edge + beyond, (low - stones.n_alpha) / error)

    return Reading(LOW.key, f"{low:g}, upper edge beyond {limit:g}", term, "refraction")


def _spot(index: float, decimals: int) -> Reading:
    def term(population: Population) -> Term:
        return _between_extremes(population, index, SPOT_SD if decimals <= 2 else SPOT_SD_FINE)

    return Reading(SPOT.key, f"{index:g}, spot", term, "spot refraction")


def _between_extremes(population: Population, index: float, sd: float) -> Term:
    """Density of a blurred figure: flat between the extreme indices, soft by ``sd``."""
    stones = population.stones
    sds = np.hypot(sd, stones.birefringence / np.sqrt(12))
    density = mixture(index, stones.n_mean, sds, ((0.9, 1.0), (0.08, 3.0)), 0.02 / 0.6)
    return measure(density, (index - stones.n_mean) / sds)


def _birefringence(value: float) -> Reading:
    def term(population: Population) -> Term:
        sds = np.hypot(DIFFERENCE_SD, 0.05 * value)
        full = population.stones.birefringence
        density = mixture(value, full, sds, ((0.9, 1.0), (0.08, 4.0)), 0.02 / 0.2)
        return measure(density, (value - full) / sds)

    return Reading(BIREFRINGENCE.key, f"{value:g}", term, "birefringence")


def _beyond(limit: float) -> Reading:
    """No edge on the scale is an observation: the index lies beyond the limit."""

    def term(population: Population) -> Term:
        beyond = ndtr((population.stones.n_alpha - limit) / LIMIT_SD)
        return measure(
            np.log(np.clip(beyond, LIMIT_FLOOR, 1.0)), (limit - population.stones.n_mean) / 0.05
        )

    return Reading(TEXT.key, f"beyond {limit:g}", term, "refraction")


def _read_text(record: Mapping[str, Any], limit: float | None, found: Readings) -> None:
    text = str(record.get(TEXT.key) or "").strip()
    if not text:
        if limit is not None and not any(r.cause == "refraction" for r in found.readings):
            found.readings.append(_beyond(limit))
        return
    figures = [float(f.replace(",", ".")) for f in re.findall(r"\d[.,]\d{2,4}", text)]
    lowered = text.lower()
    if re.search(r"over|beyond|above|otl|limit|>|off the scale|negative", lowered):
        found.readings.append(_beyond(limit or (figures[0] if figures else DEFAULT_LIMIT)))
    elif len(figures) == 1:
        found.readings.append(_edge(figures[0], EDGE_SD))
    elif (named := _named_material(lowered)) is not None:
        found.readings.append(named)
    else:
        found.ignored.append(Ignored(TEXT.key, text, "no index and no limit found in it"))


def _named_material(text: str) -> Reading | None:
    """'Typical for sapphire': an index that agrees with a named material, without a figure."""
    if not re.search(r"typical|consistent|fit|normal|within|identified|match", text):
        return None

    def term(population: Population) -> Term:
        rows = [
            row
            for row, label in enumerate(population.labels)
            if any(word and word in text for word in (label.species, label.material, label.variety))
            or (any(word in text for word in ("sapphire", "ruby")) and label.species == "corundum")
        ]
        if not rows:
            return Term(rows=np.zeros(len(population.labels)))
        strata = np.unique(population.stratum[rows])
        stones = population.stones
        index = float(np.nanmedian(stones.n_mean[strata]))
        width = float(np.nanmedian(stones.birefringence[strata]))
        middle = mixture(index, stones.n_mean, 0.006, ((0.9, 1.0), (0.08, 3.0)), 0.02 / 0.6)
        apart = mixture(width, stones.birefringence, 0.006, ((0.9, 1.0),), 0.1 / 0.2)
        return measure(middle + apart, (index - stones.n_mean) / 0.006)

    return Reading(TEXT.key, text, term, "refraction")


def is_aggregate(population: Population) -> NDArray[np.bool_]:
    """Return for each stratum whether its stones are aggregates of many grains."""
    character = np.full(len(population.stones.n_alpha), -1)
    character[population.stratum] = population.tables.character
    aggregate: NDArray[np.bool_] = character == CHARACTERS.index("aggregate")
    return aggregate


def _pair_outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
    stones = population.stones
    return binned_outcomes(
        population,
        stone_weight,
        rows,
        ((stones.n_mean, MEAN_SD, 14), (stones.birefringence, DIFFERENCE_SD, 6)),
    )


def _spot_outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
    sds = np.hypot(SPOT_SD, population.stones.birefringence / np.sqrt(12))
    return binned_outcomes(population, stone_weight, rows, ((population.stones.n_mean, sds, 12),))


REFRACTOMETER = Instrument(
    name="refractometer",
    fields=(LOW, HIGH, SPOT, TURN, LIMIT, SD, BIREFRINGENCE, TEXT, KIND),
    read=read,
    tests=(
        PlannedTest(
            "refractometer, both edges over a full turn",
            LOW.key,
            3.0,
            _pair_outcomes,
            touches="contact liquid",
            shows=("n_alpha", "n_gamma"),
        ),
        PlannedTest(
            "refractometer, spot on a curved surface",
            SPOT.key,
            2.0,
            _spot_outcomes,
            touches="contact liquid",
            shows=("n_mean",),
        ),
    ),
    cautions=(
        "Contact liquid is toxic and irritates: a drop at most, closed bottle, wash hands, "
        "follow its maker's sheet. Wipe stone and prism at once.",
        "No contact liquid on porous, dyed, oiled, filled, assembled or organic pieces.",
    ),
    about="A full turn on any facet shows the true extreme indices; one position does not.",
)
