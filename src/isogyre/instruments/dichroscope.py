"""The dichroscope: how strong the pleochroism is and which colours it shows."""

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.confusion import HUE_CONFUSION, neighbours_in_order
from isogyre.instruments.entry import is_negated
from isogyre.instruments.hues import hue_weights
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
from isogyre.population.words import CHARACTERS, PLEOCHROISM_STRENGTHS

Array = NDArray[np.float64]

PLEOCHROISM = Field(
    "pleochroism",
    "pleochroism",
    "words",
    hint="none, weak, distinct or strong; then the colours, a / between them",
    words="pleochroism",
)

STRENGTH_WORDS = {
    "none": 0,
    "no": 0,
    "absent": 0,
    "weak": 1,
    "slight": 1,
    "faint": 1,
    "distinct": 2,
    "moderate": 2,
    "medium": 2,
    "clear": 2,
    "strong": 3,
    "pronounced": 3,
    "conspicuous": 3,
}
NONE_WHEN_ISOTROPIC = 0.93
# The colours seen go with the body colour: they count half beside it.
COLOURS_EXPONENT = 0.5
COLOURS_TRUST = 0.8

_SEEN = neighbours_in_order(len(PLEOCHROISM_STRENGTHS), 0.72, 0.22)
_SEEN[0] = (NONE_WHEN_ISOTROPIC, 0.05, 0.015, 0.005)


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of what the dichroscope showed."""
    found = Readings()
    text = str(record.get(PLEOCHROISM.key) or "").strip()
    if not text:
        return found
    lowered = text.lower()
    strength = [code for word, code in STRENGTH_WORDS.items() if re.search(rf"\b{word}\b", lowered)]
    colours = [w for part in re.split(r"[/,:;]", lowered) if (w := hue_weights(part)) is not None]
    if is_negated(lowered) and not lowered.startswith("none"):
        # "No distinct pleochroism" leaves none and weak.
        found.readings.append(_strength(text, list(range(min(filter(None, strength), default=1)))))
        return found
    if strength:
        found.readings.append(_strength(text, strength))
    elif colours or "seen" in lowered or "present" in lowered:
        found.readings.append(_strength(text, [1, 2, 3]))
    else:
        found.ignored.append(
            Ignored(PLEOCHROISM.key, text, "no strength and no colours recognised")
        )
    if len(colours) >= 2:
        found.readings.append(_colours(text, colours))
    if len(colours) == 3:
        found.readings.append(_three(text))
    return found


def _strength(text: str, codes: list[int]) -> Reading:
    weights = np.zeros(len(PLEOCHROISM_STRENGTHS))
    weights[codes] = 1 / len(codes)

    def term(population: Population) -> Term:
        return choice(population, strength_table(population), weights)

    return Reading(PLEOCHROISM.key, text, term, "pleochroism")


def strength_table(population: Population) -> Array:
    """Return the chance of each strength being written."""
    written: Array = population.tables.pleochroism @ _SEEN
    return written


def _colours(text: str, colours: list[Array]) -> Reading:
    def term(population: Population) -> Term:
        hues = population.tables.pleochroism_hues @ HUE_CONFUSION
        terms = [choice(population, hues, weights, COLOURS_TRUST).rows for weights in colours]
        return Term(rows=np.mean([rows for rows in terms if rows is not None], axis=0))

    return Reading(
        PLEOCHROISM.key, f"colours {text}", term, "pleochroic colours", exponent=COLOURS_EXPONENT
    )


def _three(text: str) -> Reading:
    """Three colours belong to a biaxial stone; few see all three."""

    def term(population: Population) -> Term:
        three = np.full(len(CHARACTERS) + 1, 0.01)
        three[CHARACTERS.index("biaxial")] = 0.25
        three[CHARACTERS.index("uniaxial")] = 0.02
        three[-1] = 0.08
        chance = three[population.tables.character]
        return choice(population, np.stack((1 - chance, chance), axis=1), 1)

    return Reading(PLEOCHROISM.key, f"three colours in {text}", term, "three colours")


DICHROSCOPE = Instrument(
    name="dichroscope",
    fields=(PLEOCHROISM,),
    read=read,
    tests=(
        PlannedTest(
            "dichroscope",
            PLEOCHROISM.key,
            1.0,
            table_outcomes(strength_table),
            PLEOCHROISM_STRENGTHS,
        ),
    ),
    about="Look from several directions: along an optic axis there is no pleochroism to see.",
)
