"""Point the instruments at a virtual stone: a record with the errors the likelihoods assume.

A word is drawn from the very table its likelihood is read off; a number is drawn from the same
mixture. What is simulated and what is inferred can therefore not drift apart.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from isogyre.instruments import balance, loupe, phrases, refractometer, small_tests, spectroscope
from isogyre.instruments.crossed_polars import FIGURE_FOUND, SIGN_RIGHT
from isogyre.instruments.instrument import Instrument, PlannedTest
from isogyre.population import Population
from isogyre.population.virtual import VirtualStone
from isogyre.population.words import CHARACTERS, SPECTRUM_CAUSES

Array = NDArray[np.float64]
Generator = np.random.Generator
Record = dict[str, Any]
Look = Callable[[Population, VirtualStone, Generator], Record]

LOOK_FOR = "loupe: look for "
NO_LINES = "no lines"


def simulated_record(
    population: Population,
    instruments: Sequence[Instrument],
    stone: VirtualStone,
    keys: Iterable[str],
    rng: Generator,
    together: bool = False,
) -> Record:
    """Return the record of ``stone`` with an entry for each test asked for.

    Parameters
    ----------
    keys
        Record keys (``ri_low`` stands for both edges) and names of loupe tests, such as
        ``loupe: look for twinning``. A test that gives no answer leaves no entry.
    together
        Whether features of one cause come all together or not at all, as they tend to in a
        real stone; each of them is as frequent either way.
    """
    record: Record = {}
    for key in keys:
        if key.startswith(LOOK_FOR):
            names = _loupe_test(instruments, key).outcome_names[:-1]
            seen = _features_seen(population, stone, names, rng, together)
            record.setdefault("magnification", []).extend(n for n in names if n in seen)
            record.setdefault("not_seen", []).extend(n for n in names if n not in seen)
        elif key in NUMBERS:
            record |= NUMBERS[key](population, stone, rng)
        else:
            record |= _word(population, instruments, stone, key, rng)
    return record


def prose_features(population: Population, stone: VirtualStone, rng: Generator) -> list[str]:
    """Return what a written description of the stone would tell of: some of what is there."""
    names = population.feature_names
    return [n for n in names if n in _features_seen(population, stone, names, rng, together=False)]


# ---- words -----------------------------------------------------------------------------------


def _word(
    population: Population,
    instruments: Sequence[Instrument],
    stone: VirtualStone,
    key: str,
    rng: Generator,
) -> Record:
    words, cumulative = population.once(
        f"words of {key}, cumulative", lambda: _written(population, instruments, key)
    )
    outcome = int(np.searchsorted(cumulative[stone.row], rng.random() * cumulative[stone.row, -1]))
    return {key: words[min(outcome, len(words) - 1)]}


def _written(
    population: Population, instruments: Sequence[Instrument], key: str
) -> tuple[tuple[str, ...], Array]:
    """Return the words a test answers with and, hypothesis by hypothesis, their running sums."""
    instrument, test = next(
        (i, t) for i in instruments for t in i.tests if t.field == key and t.outcome_names
    )
    reading = next(
        r for r in instrument.read({key: test.outcome_names[0]}).readings if r.field == key
    )
    table = reading.term(population).table
    assert table is not None, f"{key} is no choice of words"
    return test.outcome_names, np.cumsum(table, axis=1)


def _loupe_test(instruments: Sequence[Instrument], name: str) -> PlannedTest:
    return next(t for i in instruments for t in i.tests if t.name == name)


def _features_seen(
    population: Population,
    stone: VirtualStone,
    names: Sequence[str],
    rng: Generator,
    together: bool,
) -> set[str]:
    """Return which features are reported: nine in ten of those there, and a few misread ones."""
    average = population.once(
        "features of an average stone", lambda: population.prior @ population.tables.features
    )
    columns = [population.once("place of features", lambda: _places(population))[n] for n in names]
    there = population.tables.features[stone.row, columns]
    trust = min(phrases.EXACT_TRUST, loupe.FOUND_WHEN_LOOKED_FOR)
    chance = trust * there + (1 - trust) * average[columns]
    drawn = np.full(len(names), rng.random()) if together else rng.random(len(names))
    return {name for name, seen in zip(names, drawn < chance, strict=True) if seen}


def _places(population: Population) -> dict[str, int]:
    return {name: column for column, name in enumerate(population.feature_names)}


# ---- refraction ------------------------------------------------------------------------------


def _facet(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """Both edges over a full turn, one edge, or an edge beyond the end of the scale."""
    if _is_beyond(stone.n_alpha, rng):
        return _off_the_scale()
    aggregate = _character(population, stone) == "aggregate"
    if rng.random() < _one_edge_chance(stone, aggregate):
        edge = _edge(stone, aggregate, rng)
        return {"ri_low": edge, "ri_high": edge}
    low, high = _pair(stone, aggregate, rng)
    if _is_beyond(stone.n_gamma, rng):
        return {"ri_low": low, "ri_limit": refractometer.DEFAULT_LIMIT}
    return {"ri_low": low, "ri_high": high}


def _off_the_scale() -> Record:
    return {"ri_text": "beyond the limit", "ri_limit": refractometer.DEFAULT_LIMIT}


def _is_beyond(index: float, rng: Generator) -> bool:
    step = float(ndtr((index - refractometer.DEFAULT_LIMIT) / refractometer.LIMIT_SD))
    return bool(rng.random() < max(step, refractometer.LIMIT_FLOOR))


def _one_edge_chance(stone: VirtualStone, aggregate: bool) -> float:
    if aggregate:
        return 0.8
    unseparated = ndtr(
        (refractometer.SEPARATION_SEEN - stone.birefringence) / refractometer.SEPARATION_SEEN_SD
    )
    return max(float(unseparated), refractometer.ONE_EDGE_NOTED)


def _edge(stone: VirtualStone, aggregate: bool, rng: Generator) -> str:
    blurred = refractometer.AGGREGATE_EDGE_SD if aggregate else 0.0
    sd = float(np.hypot(np.hypot(refractometer.EDGE_SD, blurred), stone.birefringence / 4))
    return _index(_blurred(stone.n_mean, sd, 8.0, 0.08, 0.02, rng))


def _pair(stone: VirtualStone, aggregate: bool, rng: Generator) -> tuple[str, str]:
    blurred = refractometer.AGGREGATE_EDGE_SD if aggregate else 0.0
    is_high = stone.n_mean > refractometer.HIGH_INDEX
    sd = refractometer.MEAN_SD_HIGH if is_high else refractometer.MEAN_SD
    middle = _blurred(stone.n_mean, float(np.hypot(sd, blurred)), 4.0, 0.045, 0.005, rng)
    turned = rng.random() < refractometer.INCOMPLETE_TURN
    width = stone.birefringence * (rng.random() if turned else 1.0)
    width_sd = np.hypot(refractometer.DIFFERENCE_SD, 0.0 if turned else 2 * blurred)
    width = abs(width + width_sd * rng.standard_normal())
    return _index(middle - width / 2), _index(middle + width / 2)


def _spot(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    if _is_beyond(stone.n_alpha, rng):
        return _off_the_scale()
    sd = float(np.hypot(refractometer.SPOT_SD, stone.birefringence / np.sqrt(12)))
    return {"ri_spot": _index(_blurred(stone.n_mean, sd, 3.0, 0.08, 0.02, rng), decimals=2)}


def _blurred(
    true: float, sd: float, wider: float, wider_share: float, blunder_share: float, rng: Generator
) -> float:
    """Return an index as read: mostly near, at times far off, now and then any figure."""
    kind = rng.random()
    if kind < blunder_share:
        return float(rng.uniform(1.35, 1.80))
    widened = sd * wider if kind < blunder_share + wider_share else sd
    return float(true + widened * rng.standard_normal())


def _index(value: float, decimals: int = 3) -> str:
    return f"{min(max(value, 1.301), 3.499):.{decimals}f}"


# ---- density and the other numbers -----------------------------------------------------------


def _printed_density(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    kind, sd = rng.random(), 0.005 * stone.sg + 0.008
    if kind < balance.BLUNDER_SHARE:
        return {"sg": f"{rng.uniform(1.0, 9.0):.2f}"}
    wider = balance.WIDER if kind < balance.BLUNDER_SHARE + balance.WIDER_SHARE else 1.0
    return {"sg": f"{max(stone.sg + wider * sd * rng.standard_normal(), 0.81):.2f}"}


def _hardness(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    value = stone.hardness + small_tests.HARDNESS_SD * rng.standard_normal()
    return {"hardness": f"{min(max(value, 1.0), 10.0):.1f}"}


def _reflectivity(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    value = _blurred(stone.n_mean, small_tests.REFLECTIVITY_SD, 3.0, 0.12, 0.03, rng)
    return {"reflectivity_index": _index(value, decimals=2)}


# ---- crossed polars and the spectroscope -----------------------------------------------------


def _figure(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """What the conoscope shows; a figure is often not found, whatever the stone."""
    anisotropic = _character(population, stone) in ("uniaxial", "biaxial")
    if rng.random() > (FIGURE_FOUND if anisotropic else 0.04):
        return {}
    return {"optic_character": _concluded(population, stone, rng)}


def concluded_character(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """Return the optic character that a tester who reached a conclusion writes down."""
    return {"optic_character": _concluded(population, stone, rng)}
