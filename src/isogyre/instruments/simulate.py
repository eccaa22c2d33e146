"""Point the instruments at a virtual stone: a record with the errors the likelihoods assume.

A word is drawn from the very table its likelihood is read off; a number is drawn from the same
mixture. What is simulated and what is inferred can therefore not drift apart.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, ndtr

from isogyre.instruments import balance, phrases, refractometer, small_tests, spectroscope
from isogyre.instruments.crossed_polars import FIGURE_FOUND, SIGN_RIGHT, character_table
from isogyre.instruments.instrument import Instrument, PlannedTest
from isogyre.instruments.loupe import FOUND_WHEN_LOOKED_FOR
from isogyre.population import Population
from isogyre.population.virtual import VirtualStone
from isogyre.population.words import CHARACTERS, SPECTRUM_CAUSES

Array = NDArray[np.float64]
Generator = np.random.Generator
Record = dict[str, Any]
Look = Callable[[Population, VirtualStone, Generator], Record]

LOOK_FOR = "loupe: look for "
NO_LINES = "no lines"
# Two readings in a hundred have nothing to do with the stone.
BLUNDERED = 0.02
FIGURE_SEEMS_FOUND = 0.04  # where there is none
SIGN_SOFTNESS = 0.06  # of beta's place between alpha and gamma, about 2V = 90 degrees


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
        Record keys (``ri_low`` stands for both edges, ``optic_character`` for a conclusion that
        was reached), ``conoscope`` for a look that may find no figure, and names of loupe tests
        such as ``loupe: look for twinning``. A test without an answer leaves no entry.
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
        elif key in LOOKS:
            record |= LOOKS[key](population, stone, rng)
        else:
            record |= _word(population, instruments, stone, key, rng)
    return record


def prose_features(population: Population, stone: VirtualStone, rng: Generator) -> list[str]:
    """Return what a written description of the stone would tell of: some of what is there."""
    seen = _features_seen(population, stone, population.feature_names, rng, together=False)
    return [name for name in population.feature_names if name in seen]


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
    trust = min(phrases.EXACT_TRUST, FOUND_WHEN_LOOKED_FOR)
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
        return refractometer.AGGREGATE_ONE_EDGE
    unseparated = ndtr(
        (refractometer.SEPARATION_SEEN - stone.birefringence) / refractometer.SEPARATION_SEEN_SD
    )
    return float(np.clip(unseparated, refractometer.ONE_EDGE_NOTED, refractometer.ONE_EDGE_ALONE))


def _edge(stone: VirtualStone, aggregate: bool, rng: Generator) -> str:
    blurred = refractometer.AGGREGATE_EDGE_SD if aggregate else 0.0
    sd = float(np.hypot(np.hypot(refractometer.EDGE_SD, blurred), stone.birefringence / 4))
    return _index(_blurred(stone.n_mean, sd, 8.0, 0.08, 0.02, rng))


def _pair(stone: VirtualStone, aggregate: bool, rng: Generator) -> tuple[str, str]:
    blurred = refractometer.AGGREGATE_EDGE_SD if aggregate else 0.0
    is_high = stone.n_mean > refractometer.HIGH_INDEX
    sd = refractometer.MEAN_SD_HIGH if is_high else refractometer.MEAN_SD
    middle = _blurred(stone.n_mean, float(np.hypot(sd, blurred)), 4.0, 0.045, 0.005, rng)
    width = stone.birefringence
    if rng.random() < refractometer.INCOMPLETE_TURN:
        # One edge is right, the other came short of its end.
        short = width * rng.random()
        middle += (0.5 if rng.random() < 0.5 else -0.5) * (width - short)
        width = short
    width_sd = np.hypot(refractometer.DIFFERENCE_SD, 2 * blurred)
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
    if kind < BLUNDERED:
        return {"sg": f"{rng.uniform(1.0, 9.0):.2f}"}
    wider = balance.WIDER if kind < BLUNDERED + balance.WIDER_SHARE else 1.0
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
    if rng.random() > (FIGURE_FOUND if anisotropic else FIGURE_SEEMS_FOUND):
        return {"optic_character": "none found"}
    written = character_table(population)[stone.row]
    return {"optic_character": str(rng.choice(CHARACTERS[:4], p=written / written.sum()))}


def _sign(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """The optic sign, where there is one; with 2V near 90 degrees it is read either way."""
    if _character(population, stone) not in ("uniaxial", "biaxial"):
        return {}
    place = (stone.n_beta - stone.n_alpha) / max(stone.birefringence, 1e-9)
    positive = float(expit((0.5 - place) / SIGN_SOFTNESS))
    plus = SIGN_RIGHT * positive + (1 - SIGN_RIGHT) * (1 - positive)
    return {"optic_sign": "+" if rng.random() < plus else "-"}


def _lines(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """Positions of the lines seen, with a false one in every fourth spectrum."""
    tables = population.tables
    nm, width_nm = tables.line_nm[stone.row], tables.line_width_nm[stone.row]
    seen = rng.random(len(nm)) < tables.line_seen[stone.row]
    read = nm[seen] + spectroscope.line_sd_nm(nm[seen], width_nm[seen]) * rng.standard_normal(
        int(seen.sum())
    )
    low, high = spectroscope.VISIBLE_NM
    false = rng.uniform(low, high, rng.poisson(spectroscope.FALSE_LINES_A_SPECTRUM))
    lines = sorted(float(round(x)) for x in (*read, *false) if low < x < high)
    return {"spectrum_lines_nm": lines} if lines else {"spectrum_text": NO_LINES}


def _causes(population: Population, stone: VirtualStone, rng: Generator) -> Record:
    """The elements that the spectrum is recognised by."""
    seen = population.tables.spectrum_cause
    average = population.once("lines of an average stone", lambda: population.prior @ seen)
    trust = spectroscope.CAUSE_TRUST
    chance = trust * seen[stone.row] + (1 - trust) * average
    named = [
        cause
        for cause, drawn in zip(SPECTRUM_CAUSES, rng.random(len(chance)) < chance, strict=True)
        if drawn and cause in spectroscope.CAUSE_WORDS
    ]
    return {"spectrum_text": ", ".join(f"{cause} lines" for cause in named) or NO_LINES}


def _character(population: Population, stone: VirtualStone) -> str:
    code = int(population.tables.character[stone.row])
    # The candidate *unlisted* is coded -1: its stones are of any character.
    return CHARACTERS[code] if code >= 0 else ""


LOOKS: dict[str, Look] = {
    "ri_low": _facet,
    "ri_spot": _spot,
    "sg": _printed_density,
    "hardness": _hardness,
    "reflectivity_index": _reflectivity,
    "conoscope": _figure,
    "optic_sign": _sign,
    "spectrum_lines_nm": _lines,
    "spectrum_text": _causes,
}
