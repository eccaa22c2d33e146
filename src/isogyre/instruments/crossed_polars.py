"""Between crossed polars: the polariscope's four answers and the conoscope's figure."""

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.entry import is_negated
from isogyre.instruments.instrument import (
    OFTEN_MISREAD,
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
NO_FIGURE = "on a cut stone often no figure is found: it says nothing either way"
DENIED = "tells what was not there: write what was"


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
    codes = sorted(_codes_in(text))
    if is_negated(text) or not codes:
        reason = DENIED if codes else "none of SR, DR, AGG, ADR"
        found.ignored.append(Ignored(POLARISCOPE.key, text, reason))
        return
    weights = np.zeros(len(POLARISCOPE_WORDS))
    weights[codes] = 1 / len(codes)

    def term(population: Population) -> Term:
        return choice(population, population.tables.polariscope, weights)

    found.readings.append(
        Reading(POLARISCOPE.key, text, term, "crossed polars", DEPENDENCE, blunders=OFTEN_MISREAD)
    )


def _codes_in(text: str) -> set[int]:
    """Return what the words stand for; *anomalous double refraction* is not also *double*."""
    said = f" {re.sub(r'[^a-z]+', ' ', text.lower())} "
    held = [word for word in CODES if f" {word} " in said]
    return {CODES[w] for w in held if not any(w != other and w in other for other in held)}


def _character(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(CHARACTER.key) or "").strip().lower()
    if not text:
        return
    words = CHARACTERS[:4]
    named = _characters_in(text)
    if is_negated(text) or not named:
        reason = NO_FIGURE if text == "none found" else "none of " + ", ".join(words)
        found.ignored.append(Ignored(CHARACTER.key, text, DENIED if named else reason))
        return
    weights = np.zeros(4)
    weights[named] = 1 / len(named)

    def term(population: Population) -> Term:
        return choice(population, character_table(population), weights)

    found.readings.append(
        Reading(CHARACTER.key, text, term, "crossed polars", DEPENDENCE, blunders=OFTEN_MISREAD)
    )


def _characters_in(text: str) -> list[int]:
    if re.search(r"\bbull", text):
        return [CHARACTERS.index("uniaxial")]
    if "anisotropic" in text and "axial" not in text:
        return [CHARACTERS.index("uniaxial"), CHARACTERS.index("biaxial")]
    return [i for i, word in enumerate(CHARACTERS[:4]) if re.search(rf"\b{word}\b", text)]


def character_table(population: Population) -> Array:
    """Return the chance of each optic character being concluded."""
    written = np.array([*(CHARACTER_WRITTEN[word] for word in CHARACTERS), UNLISTED_WRITTEN])
    table: Array = written[population.tables.character]
    return table


def _sign(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(SIGN.key) or "").strip().lower().replace("\u2212", "-")
    if not text:
        return
    if text not in ("+", "-", "positive", "negative"):
        found.ignored.append(Ignored(SIGN.key, text, "neither + nor -"))
        return
    outcome = 0 if text in ("+", "positive") else 1

    def term(population: Population) -> Term:
        return choice(population, sign_table(population), outcome)

    found.readings.append(Reading(SIGN.key, text, term, "optic sign", blunders=OFTEN_MISREAD))


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
    """Return the chance of each conoscope answer, 'none found' last.

    That none is found is not counted as evidence, so here it is as likely for every stone:
    the planner must not promise more than the reading will bring.
    """
    written = FIGURE_FOUND * character_table(population)
    return np.concatenate((written, 1 - written.sum(axis=1, keepdims=True)), axis=1)


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
