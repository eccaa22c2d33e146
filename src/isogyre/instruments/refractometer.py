"""The refractometer: shadow edges, the spot on a curved surface, the end of the scale."""

import re
from collections.abc import Mapping
from dataclasses import replace
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
from isogyre.optics.position import pair_log_density
from isogyre.population import Population
from isogyre.population.stones import Stones
from isogyre.population.words import CHARACTERS

Array = NDArray[np.float64]

# Standard deviations of hand readings (judgement; widths checked on published ranges: halving
# or doubling them loses).
MEAN_SD, MEAN_SD_HIGH, HIGH_INDEX = 0.002, 0.003, 1.74
SPOT_SD, SPOT_SD_FINE = 0.008, 0.004
DEFAULT_LIMIT = 1.80

LOWEST, HIGHEST = 1.3, 3.5
LOW = Field(
    "ri_low",
    "lower edge",
    "number",
    low=LOWEST,
    high=HIGHEST,
    step=0.001,
    hint="lowest reading over the turn",
    drawn=(1.4, 1.82),
    error_key="ri_sd",
)
HIGH = replace(
    LOW, key="ri_high", label="upper edge", hint="highest reading over the turn", above=LOW.key
)
SPOT_ERROR = Field(
    "ri_spot_sd",
    "error of a spot",
    "number",
    low=0.001,
    high=0.05,
    step=0.001,
    usual=SPOT_SD,
    is_seldom=True,
)
SPOT = replace(
    LOW, key="ri_spot", label="spot on a curved surface", hint="", error_key=SPOT_ERROR.key
)
SD = Field(
    "ri_sd",
    "error of an edge",
    "number",
    low=0.0002,
    high=0.05,
    step=0.001,
    usual=MEAN_SD,
    is_seldom=True,
)
TURN = Field("ri_turn", "how read", "choice", choices=("full", "single"))
LIMIT = Field(
    "ri_limit",
    "end of the scale with this liquid",
    "number",
    low=1.6,
    high=2.0,
    usual=DEFAULT_LIMIT,
    is_seldom=True,
)
BIREFRINGENCE = Field(
    "birefringence", "birefringence", "number", low=0.0, high=0.4, step=0.001, is_seldom=True
)
# Beside figures alone a limit is itself a reading: no edge, or no upper one, lay below it. A
# kit's limit must not say that, so only what is told in words is read by it.
TEXT = Field(
    "ri_text",
    "in words",
    "words",
    hint="for instance: beyond the limit",
    needs_key=LIMIT.key,
    is_seldom=True,
)
KIND = Field("ri_kind", "what the pair is", "words", is_seldom=True)

DIFFERENCE_SD = 0.0025
EDGE_SD = 0.0025
AGGREGATE_EDGE_SD, AGGREGATE_ONE_EDGE = 0.006, 0.8
ROUNDING_SD_COARSE = 0.0029  # a figure rounded to 0.01
INCOMPLETE_TURN = 0.10
LIMIT_SD, LIMIT_FLOOR = 0.008, 0.0025
BLUNDER_SD = 0.03  # a scale misread by a step or two
BLUNDER_DENSITY = 0.005 / 0.6  # any figure on the scale
SEPARATION_SEEN, SEPARATION_SEEN_SD = 0.0030, 0.0010
# How often one edge is noted: of two that are plain, and of one alone (else an echo is taken for
# a second).
ONE_EDGE_NOTED, ONE_EDGE_ALONE = 0.04, 0.95
SAME_EDGE = 0.0005
# A record with a lower edge and the limit may leave the upper one out although it was on the scale.
UPPER_EDGE_LEFT_OUT = 0.2
# Half of the spots beside a pair are taken on the other part of an assembled stone: any index of
# the 0.4 that glass, quartz, garnet and the rest cover.
OTHER_PART, OTHER_PART_DENSITY = 0.5, 1 / 0.4
SPREAD = re.compile(r"\b(range|spread|interval|several|samples?|stones)\b")
BEYOND = re.compile(
    r"\b(over|beyond|above|exceed\w*|past)\b|\botl\b|>|\boff (the )?scale\b|^negative$"
    r"|\bnegative reading\b|\bno (edge|shadow|reading)\b"
)
NOT_BEYOND = re.compile(r"\bnot (over|beyond|above)\b|\b(below|under|within)\b")


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of whatever a record says about refraction."""
    found = Readings()
    low, high = number_in(record, LOW, found), number_in(record, HIGH, found)
    spot, birefringence = number_in(record, SPOT, found), number_in(record, BIREFRINGENCE, found)
    sd, limit = number_in(record, SD, found), number_in(record, LIMIT, found)
    spot_sd = number_in(record, SPOT_ERROR, found)
    if _check(record, low, high, birefringence, found):
        return found
    coarse = decimals_of(*(record.get(f.key) for f in (LOW, HIGH) if record.get(f.key))) <= 2
    spread = _is_spread(record, found)
    if low is not None and high is not None:
        found.readings.append(_edges(record, low, high, sd, coarse, spread))
    elif low is not None or high is not None:
        found.readings.append(_one_of(low, high, sd, limit if _tells_beyond(record) else None))
    if birefringence is not None and not _is_told_by(record, low, high, birefringence, spread):
        found.readings.append(_birefringence(birefringence))
    if spot is not None and not (low is not None and low == high == spot):
        edge = low if low is not None else high
        usual = SPOT_SD_FINE if decimals_of(record[SPOT.key]) > 2 else SPOT_SD
        found.readings.append(_spot(spot, spot_sd or usual, edge is not None))
    _read_text(record, limit, found)
    return found


def _tells_beyond(record: Mapping[str, Any]) -> bool:
    """Whether a limit entered beside one edge says that the other lay beyond it."""
    text = str(record.get(TEXT.key) or "").lower()
    return not text.strip() or _says_beyond(text)


def _says_beyond(text: str) -> bool:
    return bool(BEYOND.search(text)) and not NOT_BEYOND.search(text)


def _is_spread(record: Mapping[str, Any], found: Readings) -> bool:
    """Whether the pair is told to be a spread over several stones; what was told is kept."""
    text = str(record.get(KIND.key) or "").strip()
    spread = bool(SPREAD.search(text.lower()))
    if text:
        reason = (
            "a spread over several stones is no birefringence; its middle is taken as one edge: "
            "enter one stone's pair"
        )
        found.ignored.append(
            Ignored(KIND.key, text, reason if spread else "taken as the two edges of one stone")
        )
    return spread


def _is_told_by(
    record: Mapping[str, Any],
    low: float | None,
    high: float | None,
    birefringence: float,
    spread: bool,
) -> bool:
    """Whether the edges tell the birefringence already: a pair does that was read over a turn."""
    if low is None or high is None or spread:
        return False
    if high - low < SAME_EDGE:
        return birefringence < SAME_EDGE
    return record.get(TURN.key) != "single"


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
    such and shown as misfit; a spread over samples is asked about elsewhere. At one position
    a stone may show less than its birefringence, never more.
    """
    if difference < SAME_EDGE or record.get(KIND.key):
        return False
    coarse = decimals_of(record[LOW.key], record[HIGH.key]) <= 2
    excess = difference - birefringence
    off = max(excess, 0.0) if record.get(TURN.key) == "single" else abs(excess)
    return off > (0.011 if coarse else 0.005)


def _edges(
    record: Mapping[str, Any], low: float, high: float, sd: float | None, coarse: bool, spread: bool
) -> Reading:
    if spread:
        return _edge(LOW, (low + high) / 2, max(sd or EDGE_SD, (high - low) / 2))
    if high - low < SAME_EDGE:
        return _single_edge(low, sd, coarse)
    if record.get(TURN.key) == "single":
        return _pair_at_one_position(low, high, sd)
    return _pair(low, high, sd, coarse)


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
            either + np.log1p(-_one_edge_chance(population)),
            Figure(mean, stones.n_mean, sds, BLUNDER_SD),
            Figure(width, stones.birefringence, wide),
            unspoilt=np.log1p(-_one_edge_chance(population)),
        )

    return Reading(LOW.key, f"{low:g} to {high:g}", term, "refraction", blunders=OFTEN_MISREAD)


def _shortened(low: float, high: float, stones: Stones, edge_sds: Array, sd: float) -> Array:
    """Return the log density of a pair from a turn that was not complete.

    One edge is where it belongs, the other came short of its end, anywhere on the way.
    """
    right = ((1.0, 1.0),)
    lower = mixture(low, stones.n_alpha, edge_sds, right, BLUNDER_DENSITY)
    upper = mixture(high, stones.n_gamma, edge_sds, right, BLUNDER_DENSITY)
    log: Array = _on_the_way(high - low, stones, sd) + np.logaddexp(lower, upper) - np.log(2)
    return log


def _on_the_way(width: float, stones: Stones, sd: float) -> Array:
    """Return the log density of a difference that is anything up to the birefringence."""
    full = np.maximum(stones.birefringence, 1e-3)
    log: Array = np.log((ndtr((full - width) / sd) - ndtr(-width / sd)) / full + 0.02)
    return log


def _pair_at_one_position(low: float, high: float, sd: float | None) -> Reading:
    """A pair read without turning the stone: smaller than the birefringence, by geometry."""

    def term(population: Population) -> Term:
        stones, mean = population.stones, (low + high) / 2
        mean_sd = sd or (MEAN_SD_HIGH if mean > HIGH_INDEX else MEAN_SD)
        difference_sd = 1.25 * sd if sd else DIFFERENCE_SD
        own_sd = difference_sd / np.sqrt(2)
        shared_sd = float(np.sqrt(max(mean_sd**2 - own_sd**2 / 2, 0.0)))
        principal = np.stack((stones.n_alpha, stones.n_beta, stones.n_gamma), axis=-1)
        known = np.nan_to_num(principal.reshape(-1, 3), nan=3.0)
        exact = pair_log_density(low, high, known, own_sd, shared_sd).reshape(stones.n_alpha.shape)
        off = mixture(mean, stones.n_mean, mean_sd, ((0.045, 4.0),), BLUNDER_DENSITY)
        lost = off + _on_the_way(high - low, stones, difference_sd)
        reach = np.hypot(mean_sd, stones.birefringence / 4)
        return measure(np.logaddexp(np.log(0.95) + exact, lost), Figure(mean, stones.n_mean, reach))

    return Reading(
        LOW.key, f"{low:g} and {high:g} at one position", term, "refraction", blunders=OFTEN_MISREAD
    )


def _single_edge(index: float, sd: float | None, coarse: bool) -> Reading:
    """One edge that does not move: isotropic, or a separation too small to be seen."""

    def term(population: Population) -> Term:
        stones = population.stones
        error = np.hypot(sd or EDGE_SD, ROUNDING_SD_COARSE if coarse else 0.0)
        blurred = np.where(is_aggregate(population), AGGREGATE_EDGE_SD, 0.0)[:, None]
        sds = np.hypot(np.hypot(error, blurred), stones.birefringence / 4)
        density = mixture(index, stones.n_mean, sds, ((0.9, 1.0), (0.08, 8.0)), BLUNDER_DENSITY)
        log_one = np.log(_one_edge_chance(population))
        return measure(
            density + log_one, Figure(index, stones.n_mean, sds, BLUNDER_SD), unspoilt=log_one
        )

    return Reading(LOW.key, f"{index:g}, one edge", term, "refraction", blunders=OFTEN_MISREAD)


def _one_edge_chance(population: Population) -> Array:
    """Return for each stone the chance that one edge is noted, not two."""

    def chance() -> Array:
        width = population.stones.birefringence
        unseparated = ndtr((SEPARATION_SEEN - width) / SEPARATION_SEEN_SD)
        crystal = np.clip(unseparated, ONE_EDGE_NOTED, ONE_EDGE_ALONE)
        return np.where(is_aggregate(population)[:, None], AGGREGATE_ONE_EDGE, crystal)

    return population.once("chance of one edge", chance)


def _edge(field: Field, index: float, sd: float) -> Reading:
    """One edge of a stone that may have two: anywhere between the extreme indices."""

    def term(population: Population) -> Term:
        return _between_extremes(population, index, sd)

    return Reading(
        field.key, f"{index:g}, one edge noted", term, "refraction", blunders=OFTEN_MISREAD
    )


def _one_of(
    low: float | None, high: float | None, sd: float | None, limit: float | None
) -> Reading:
    """A pair with one edge missing; an upper edge beyond the limit is an observation."""
    if low is not None and limit is not None:
        return _low_with_high_beyond(low, sd, limit)
    if low is not None:
        return _edge(LOW, low, sd or EDGE_SD)
    assert high is not None
    return _edge(HIGH, high, sd or EDGE_SD)


def _low_with_high_beyond(low: float, sd: float | None, limit: float) -> Reading:
    def term(population: Population) -> Term:
        stones, error = population.stones, sd or EDGE_SD
        edge = mixture(low, stones.n_alpha, error, ((0.9, 1.0), (0.08, 8.0)), BLUNDER_DENSITY)
        beyond = np.log(np.maximum(ndtr((stones.n_gamma - limit) / LIMIT_SD), LIMIT_FLOOR))
        either = np.logaddexp(
            np.log(1 - UPPER_EDGE_LEFT_OUT) + edge + beyond,
            np.log(UPPER_EDGE_LEFT_OUT) + _log_between(stones, low, error),
        )
        return measure(either, Figure(low, stones.n_alpha, error))

    return Reading(
        LOW.key, f"{low:g}, upper edge beyond {limit:g}", term, "refraction", blunders=OFTEN_MISREAD
    )


def _spot(index: float, sd: float, beside_edges: bool) -> Reading:
    def term(population: Population) -> Term:
        spot = _between_extremes(population, index, sd)
        if not beside_edges or spot.stones is None:
            return spot
        # An index belongs to one part of an assembled stone, and the edges have told of one.
        other = np.logaddexp(
            np.log(1 - OTHER_PART) + spot.stones, np.log(OTHER_PART * OTHER_PART_DENSITY)
        )
        assembled = is_of_kind(population, "assembled")[:, None]
        return replace(spot, stones=np.where(assembled, other, spot.stones))

    return Reading(SPOT.key, f"{index:g}, spot", term, "spot refraction", blunders=OFTEN_MISREAD)


def _between_extremes(population: Population, index: float, sd: float) -> Term:
    """Density of a blurred figure: flat between the extreme indices, soft by ``sd``."""
    stones = population.stones
    sds = np.hypot(sd, stones.birefringence / np.sqrt(12))
    return measure(_log_between(stones, index, sd), Figure(index, stones.n_mean, sds, BLUNDER_SD))


def _log_between(stones: Stones, index: float, sd: float) -> Array:
    sds = np.hypot(sd, stones.birefringence / np.sqrt(12))
    return mixture(index, stones.n_mean, sds, ((0.9, 1.0), (0.08, 3.0)), 0.02 / 0.6)


def _birefringence(value: float) -> Reading:
    def term(population: Population) -> Term:
        sds = np.hypot(DIFFERENCE_SD, 0.05 * value)
        full = population.stones.birefringence
        density = mixture(value, full, sds, ((0.9, 1.0), (0.08, 4.0)), 0.02 / 0.2)
        return measure(density, Figure(value, full, sds))

    return Reading(BIREFRINGENCE.key, f"{value:g}", term, "birefringence")


def _beyond(field: Field, limit: float) -> Reading:
    """No edge on the scale is an observation: the index lies beyond the limit."""

    def term(population: Population) -> Term:
        beyond = ndtr((population.stones.n_alpha - limit) / LIMIT_SD)
        return yes(np.clip(np.nan_to_num(beyond, nan=0.5), LIMIT_FLOOR, 1.0))

    return Reading(field.key, f"beyond {limit:g}", term, "refraction", blunders=OFTEN_MISREAD)


def _read_text(record: Mapping[str, Any], limit: float | None, found: Readings) -> None:
    text = str(record.get(TEXT.key) or "").strip()
    is_read = any(r.cause in ("refraction", "spot refraction") for r in found.readings)
    if not text:
        if limit is not None and not is_read:
            found.readings.append(_beyond(LIMIT, limit))
        return
    lowered = text.lower()
    figures = [float(f.replace(",", ".")) for f in re.findall(r"\d[.,]\d{2,4}", text)]
    figures = [n for n in figures if LOWEST <= n <= HIGHEST]
    if _says_beyond(lowered):
        ends = [n for n in figures if 1.6 <= n <= 2.0]
        found.readings.append(_beyond(TEXT, limit or (ends[0] if ends else DEFAULT_LIMIT)))
    elif is_read:
        found.ignored.append(Ignored(TEXT.key, text, "the edges are given as figures: they count"))
    elif len(figures) == 1:
        found.readings.append(_edge(TEXT, figures[0], EDGE_SD))
    elif (named := _named_material(lowered)) is not None:
        found.readings.append(named)
    else:
        found.ignored.append(Ignored(TEXT.key, text, "no index and no limit found in it"))


def _named_material(text: str) -> Reading | None:
    """'Typical for sapphire': an index that agrees with a named material, without a figure."""
    if not re.search(r"typical|consistent|fit|normal|within|identified|match", text):
        return None

    def term(population: Population) -> Term:
        names = {w for f in ("species", "material", "variety") for w in population.groups(f)[0]}
        # Most names do not occur at all: only for those that do, where a word ends is asked.
        said = {n for n in names if n and n in text and re.search(rf"\b{re.escape(n)}\b", text)}
        rows = [
            row
            for row, label in enumerate(population.labels)
            if said & {label.species, label.material, label.variety}
            or (label.species == "corundum" and ("sapphire" in text or "ruby" in text))
        ]
        if not rows:
            return Term(rows=np.zeros(len(population.labels)))
        strata = np.unique(population.stratum[rows])
        stones = population.stones
        index = float(np.nanmedian(stones.n_mean[strata]))
        width = float(np.nanmedian(stones.birefringence[strata]))
        middle = mixture(index, stones.n_mean, 0.006, ((0.9, 1.0), (0.08, 3.0)), 0.02 / 0.6)
        apart = mixture(width, stones.birefringence, 0.006, ((0.9, 1.0),), 0.1 / 0.2)
        return measure(middle + apart, Figure(index, stones.n_mean, 0.006))

    return Reading(TEXT.key, text, term, "refraction", blunders=OFTEN_MISREAD)


def is_of_kind(population: Population, kind: str) -> NDArray[np.bool_]:
    """Return for each stratum whether its stones are of this kind, for instance assembled."""
    of_kind = np.zeros(len(population.stones.n_alpha), dtype=bool)
    of_kind[population.stratum] = population.rows_of("kind", kind)
    return of_kind


def is_aggregate(population: Population) -> NDArray[np.bool_]:
    """Return for each stratum whether its stones are aggregates of many grains."""
    character = np.full(len(population.stones.n_alpha), -1)
    character[population.stratum] = population.tables.character
    aggregate: NDArray[np.bool_] = character == CHARACTERS.index("aggregate")
    return aggregate


def _on_the_scale(index: Array, limit: float) -> Array:
    """Return where an edge shows: all that lie beyond the contact liquid look alike."""
    on_scale: Array = np.minimum(index, limit)
    return on_scale


def _edges_test(figures: Figures) -> PlannedTest:
    """Plan a full turn on a refractometer with this error and this end of its scale."""
    limit, sd = figures.get(LIMIT.key, DEFAULT_LIMIT), figures.get(SD.key)
    mean_sd, difference_sd = (sd, 1.25 * sd) if sd else (MEAN_SD, DIFFERENCE_SD)

    def outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
        stones = population.stones
        low, high = (_on_the_scale(n, limit) for n in (stones.n_alpha, stones.n_gamma))
        axes = (((low + high) / 2, mean_sd, 14), (high - low, difference_sd, 6))
        return binned_outcomes(population, stone_weight, rows, axes)

    return PlannedTest(
        "refractometer, both edges over a full turn",
        LOW.key,
        3.0,
        outcomes,
        touches="contact liquid",
        shows=("n_alpha", "n_gamma"),
        end_of_scale=limit,
        with_figures=_edges_test,
    )


def _spot_test(figures: Figures) -> PlannedTest:
    """Plan a spot reading on a refractometer with this error and this end of its scale."""
    limit, sd = figures.get(LIMIT.key, DEFAULT_LIMIT), figures.get(SPOT_ERROR.key, SPOT_SD)

    def outcomes(population: Population, stone_weight: Array, rows: NDArray[np.intp]) -> Array:
        stones = population.stones
        sds = np.hypot(sd, stones.birefringence / np.sqrt(12))
        axes = ((_on_the_scale(stones.n_mean, limit), sds, 12),)
        return binned_outcomes(population, stone_weight, rows, axes)

    return PlannedTest(
        "refractometer, spot on a curved surface",
        SPOT.key,
        2.0,
        outcomes,
        touches="contact liquid",
        shows=("n_mean",),
        end_of_scale=limit,
        with_figures=_spot_test,
    )


REFRACTOMETER = Instrument(
    name="refractometer",
    fields=(LOW, HIGH, SPOT, TURN, LIMIT, SD, SPOT_ERROR, BIREFRINGENCE, TEXT, KIND),
    read=read,
    tests=(_edges_test({}), _spot_test({})),
    cautions=(
        "Contact liquid is toxic and irritates: a drop at most, closed bottle, wash hands, "
        "follow its maker's sheet. Wipe stone and prism at once.",
        "No contact liquid on porous, dyed, oiled, filled, assembled or organic pieces.",
    ),
    about="A full turn on any facet shows the true extreme indices; one position does not.",
)
