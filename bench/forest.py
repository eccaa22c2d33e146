"""A random forest trained on virtual stones, on the same published cases.

It learns from 20,000 records simulated with the instruments' own tables: what a general learner
gets out of the same knowledge.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bench.cases import LEAST_SHARE, SURE, score
from bench.figure import Figure
from bench.world import World, share_of, talk
from isogyre.instruments.crossed_polars import CODES
from isogyre.instruments.dichroscope import STRENGTH_WORDS
from isogyre.instruments.entry import is_negated
from isogyre.instruments.hues import hue_weights
from isogyre.instruments.lamps import glow_weights
from isogyre.instruments.phrases import PhraseBook
from isogyre.instruments.simulate import prose_features, simulated_record
from isogyre.instruments.spectroscope import CAUSE_WORDS
from isogyre.population.virtual import draw_stone
from isogyre.population.words import CHARACTERS, GLOWS, HUES, TRANSPARENCIES

Array = NDArray[np.float32]

STONES = 20_000
TREES = 100
NOT_READ = -1.0
# A name that no leaf holds is not impossible.
PRIOR_MIXED_IN = 0.02
# How often the published cases report each test: the forest trains on records of the same make.
REPORTED = {
    "ri_low": 0.45,
    "ri_spot": 0.30,
    "sg": 0.68,
    "colour": 0.93,
    "transparency": 0.35,
    "uv_lw": 0.60,
    "uv_sw": 0.55,
    "polariscope": 0.19,
    "optic_character": 0.10,
    "pleochroism": 0.16,
    "chelsea": 0.08,
    "spectrum_text": 0.25,
    "magnification": 0.78,
}
FILTER_WORDS = {"no": 0.0, "inert": 0.0, "green": 0.0, "pink": 0.5, "red": 1.0}


class Columns:
    """Turns a record into the columns a forest can split on."""

    def __init__(self, world: World) -> None:
        features = world.catalogue.features
        self.features = tuple(features)
        self.book = PhraseBook.of({name: feature.words for name, feature in features.items()})
        self.match = lru_cache(maxsize=None)(self._match)

    def _match(self, phrase: str) -> tuple[int, ...]:
        if is_negated(phrase):
            return ()
        return tuple(self.features.index(match.feature) for match in self.book.match(phrase))

    def of(self, record: Mapping[str, Any]) -> Array:
        """Return the columns of a record; what was not read is -1 or zero weights."""
        seen = np.zeros(len(self.features), dtype=np.float32)
        for phrase in record.get("magnification", ()):
            seen[list(self.match(phrase))] = 1.0
        words = (
            _weights(hue_weights, record.get("colour"), len(HUES)),
            _weights(glow_weights, record.get("uv_lw"), len(GLOWS)),
            _weights(glow_weights, record.get("uv_sw"), len(GLOWS)),
            _spectrum(record),
        )
        return np.concatenate((_numbers(record), *words, seen)).astype(np.float32)


def _numbers(record: Mapping[str, Any]) -> Array:
    low, high, spot = (float(record.get(k, NOT_READ)) for k in ("ri_low", "ri_high", "ri_spot"))
    single = (low + high) / 2 if high > 0 else max(low, spot)
    polariscope = CODES.get(str(record.get("polariscope", "")).lower(), NOT_READ)
    return np.array(
        [
            *(low, high, spot, single, high - low if high > 0 else NOT_READ),
            float("over" in str(record.get("ri_text")) or "beyond" in str(record.get("ri_text"))),
            float(record.get("sg", NOT_READ)),
            float(polariscope),
            _word(record.get("optic_character"), {c: float(i) for i, c in enumerate(CHARACTERS)}),
            _word(record.get("transparency"), {c: float(i) for i, c in enumerate(TRANSPARENCIES)}),
            _word(record.get("pleochroism"), {w: float(s) for w, s in STRENGTH_WORDS.items()}),
            _word(record.get("chelsea"), FILTER_WORDS),
        ],
        dtype=np.float32,
    )


def _word(text: object, codes: Mapping[str, float]) -> float:
    lowered = str(text or "").lower()
    return next((c for w, c in codes.items() if re.search(rf"\b{w}\b", lowered)), NOT_READ)


def _weights(read: Any, text: object, width: int) -> Array:
    weights = read(str(text)) if text else None
    return np.zeros(width, dtype=np.float32) if weights is None else weights


def _spectrum(record: Mapping[str, Any]) -> Array:
    text = f" {str(record.get('spectrum_text', '')).lower()} "
    return np.array([float(any(w in text for w in words)) for words in CAUSE_WORDS.values()])


def training_set(world: World, count: int, seed: int = 1) -> tuple[Array, NDArray[np.intp]]:
    """Return columns and species of ``count`` virtual stones with records as cases have them."""
    rng, columns = np.random.default_rng(seed), Columns(world)
    _, species = world.population.groups("species")
    rows: list[Array] = []
    truth: list[int] = []
    while len(rows) < count:
        stone = draw_stone(world.dense, rng)
        keys = [key for key, often in REPORTED.items() if rng.random() < often]
        told = [key for key in keys if key != "magnification"]
        record = simulated_record(world.population, world.instruments, stone, told, rng)
        if "magnification" in keys:
            record["magnification"] = prose_features(world.population, stone, rng)
        rows.append(columns.of(record))
        truth.append(species[stone.row])
    return np.stack(rows), np.array(truth)


def measure(world: World) -> Iterator[Figure]:
    """Yield how a random forest does on the published cases."""
    # Imported here: half a second that other measurements need not pay.
    from sklearn.ensemble import RandomForestClassifier  # type: ignore[import-untyped]

    talk(f"simulating {STONES} stones for the forest")
    columns, truth = training_set(world, STONES)
    talk("training the forest")
    forest = RandomForestClassifier(TREES, random_state=1, n_jobs=2).fit(columns, truth)
    species, _ = world.population.groups("species")
    usual = world.shares(world.population.prior)
    reader = Columns(world)

    def answer(case: Mapping[str, Any]) -> NDArray[np.float64]:
        shares = PRIOR_MIXED_IN * usual
        told = forest.predict_proba(reader.of(case)[None])[0]
        shares[forest.classes_] += (1 - PRIOR_MIXED_IN) * told
        return shares

    yield from score(world, "forest", answer, f"{TREES} trees on {STONES} virtual stones")
    given = [(share_of(_truth(world, c), species, answer(c)), answer(c).max()) for c in world.cases]
    logs = [np.log(max(share, LEAST_SHARE)) for share, _ in given]
    claims = sum(best > SURE for _, best in given)
    yield Figure("forest.log_score", float(np.mean(logs)), "ln", len(logs), "", f"{claims} claims")


def _truth(world: World, case: Mapping[str, Any]) -> frozenset[str]:
    return world.true_species(case["truth"]["material"])
