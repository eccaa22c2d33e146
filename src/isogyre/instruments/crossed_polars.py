"""Between crossed polars: the polariscope's four answers and the conoscope's figure."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.instrument import (
    Field,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    table_outcomes,
)
from isogyre.instruments.term import Term, choice
from isogyre.population import Population
from isogyre.population.words import CHARACTERS, POLARISCOPE_WORDS

Array = NDArray[np.float64]

POLARISCOPE = Field(
    "polariscope",
    "polariscope",
    "choice",
    choices=("SR", "DR", "AGG", "ADR"),
    hint="single, double, aggregate or anomalous",
)
CHARACTER = Field(
    "optic_character",
    "optic character",
    "choice",
    choices=("isotropic", "uniaxial", "biaxial", "aggregate", "none found"),
)
SIGN = Field("optic_sign", "optic sign", "choice", choices=("+", "-"))

CODES = {
    "sr": 0,
    "dr": 1,
    "agg": 2,
    "adr": 3,
    "single": 0,
    "double": 1,
    "aggregate": 2,
    "anomalous": 3,
    "isotropic": 0,
    "anisotropic": 1,
    "singly refractive": 0,
    "doubly refractive": 1,
    "anomalous double refraction": 3,
}
# Reading again what crossed polars showed before: the same strain, the same stone.
DEPENDENCE = (1.0, 0.3)

# Columns: isotropic, uniaxial, biaxial, aggregate written by a tester who reached a conclusion.
CHARACTER_WRITTEN = {
    "isotropic": (0.93, 0.025, 0.025, 0.02),
    "uniaxial": (0.015, 0.90, 0.07, 0.015),
    "biaxial": (0.015, 0.07, 0.90, 0.015),
    "aggregate": (0.05, 0.04, 0.04, 0.87),
    "opaque": (0.25, 0.25, 0.25, 0.25),
}
UNLISTED_WRITTEN = (0.25, 0.3, 0.3, 0.15)
SIGN_RIGHT = 0.95
# A figure is found only if the axis lies favourably; on a random cut stone often it does not.
FIGURE_FOUND = 0.5


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of polariscope and conoscope."""
    found = Readings()
    _word(record, found)
    _character(record, found)
    _sign(record, found)
    return found


def _word(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(POLARISCOPE.key) or "").strip()
    if not text:
        return
    code = CODES.get(text.lower())
    if code is None:
        words = [c for word, c in CODES.items() if f" {word} " in f" {text.lower()} "]
        code = words[0] if words else None
    if code is None:
        found.ignored.append(Ignored(POLARISCOPE.key, text, "none of SR, DR, AGG, ADR"))
        return
    outcome = code

    def term(population: Population) -> Term:
        return choice(population, population.tables.polariscope, outcome)

    found.readings.append(Reading(POLARISCOPE.key, text, term, "crossed polars", DEPENDENCE))


def _character(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(CHARACTER.key) or "").strip().lower()
    if not text or text == "none found":
        return
    words = CHARACTERS[:4]
    named = [index for index, word in enumerate(words) if word in text]
    if "bull" in text:
        named = [words.index("uniaxial")]
    if not named:
        found.ignored.append(Ignored(CHARACTER.key, text, "none of " + ", ".join(words)))
        return
    weights = np.zeros(4)
    weights[named] = 1 / len(named)

    def term(population: Population) -> Term:
        return choice(population, character_table(population), weights)

    found.readings.append(Reading(CHARACTER.key, text, term, "crossed polars", DEPENDENCE))


def character_table(population: Population) -> Array:
    """Return the chance of each optic character being concluded."""
    written = np.array([*(CHARACTER_WRITTEN[word] for word in CHARACTERS), UNLISTED_WRITTEN])
    table: Array = written[population.tables.character]
    return table


def _sign(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(SIGN.key) or "").strip().replace("\u2212", "-")
    if not text:
        return
    if text not in ("+", "-", "positive", "negative"):
        found.ignored.append(Ignored(SIGN.key, text, "neither + nor -"))
        return
    outcome = 0 if text in ("+", "positive") else 1

    def term(population: Population) -> Term:
        return choice(population, sign_table(population), outcome)

    found.readings.append(Reading(SIGN.key, text, term, "optic sign"))


def sign_table(population: Population) -> Array:
    """Return the chance of reading + and -; near 2V = 90 degrees it is even."""
    stones = population.stones
    split = np.maximum(stones.birefringence, 1e-9)
    place = (stones.n_beta - stones.n_alpha) / split
    # Share of the way at which the two signs meet; exact for small birefringence.
    positive = population.stone_mean(1 / (1 + np.exp(np.clip((place - 0.5) / 0.06, -30, 30))))
    isotropic = population.tables.character == CHARACTERS.index("isotropic")
    positive = np.where(isotropic | ~np.isfinite(positive), 0.5, positive)
    plus = SIGN_RIGHT * positive + (1 - SIGN_RIGHT) * (1 - positive)
    return np.stack((plus, 1 - plus), axis=1)


def _figure_table(population: Population) -> Array:
    """Return the chance of each conoscope answer, 'none found' last."""
    written = character_table(population)
    anisotropic = np.isin(
        population.tables.character, [CHARACTERS.index("uniaxial"), CHARACTERS.index("biaxial")]
    )
    found = np.where(anisotropic, FIGURE_FOUND, 0.04)[:, None]
    return np.concatenate((written * found, 1 - found), axis=1)


CROSSED_POLARS = Instrument(
    name="polariscope and conoscope",
    fields=(POLARISCOPE, CHARACTER, SIGN),
    read=read,
    tests=(
        PlannedTest(
            "polariscope",
            POLARISCOPE.key,
            1.0,
            table_outcomes(lambda population: population.tables.polariscope),
            POLARISCOPE_WORDS,
        ),
        PlannedTest(
            "conoscope: look for a figure",
            CHARACTER.key,
            3.0,
            table_outcomes(_figure_table),
            CHARACTER.choices,
        ),
    ),
    about="Strain imitates double refraction in glass, garnet, spinel, plastic and amber.",
)
