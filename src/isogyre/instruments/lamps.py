"""Ultraviolet lamps: 365 nm (long wave), 254 nm (short wave) and the violet 395 nm torch."""

import re
from collections.abc import Mapping
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.confusion import GLOW_CONFUSION
from isogyre.instruments.entry import number_in
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
from isogyre.population.words import GLOW_HUES, GLOW_STRENGTHS, GLOWS

Array = NDArray[np.float64]

GLOW_HINT = "inert, or for instance: weak red"
LONG_WAVE_NM = 365
PEAK = Field(
    "uv_peak_nm", "peak of the long-wave lamp", "number", "nm", 340, 420, 5, usual=LONG_WAVE_NM
)
LONG = Field(
    "uv_lw", "long wave, 365 nm", "words", hint=GLOW_HINT, words="glow", needs_key=PEAK.key
)
SHORT = Field("uv_sw", "short wave, 254 nm", "words", hint=GLOW_HINT, words="glow")

# Long and short wave often tell the same tale.
DEPENDENCE = (1.0, 0.6)
# What a species answers under a lamp was seen on few stones and varies with traces: hence 0.8.
TRUST = 0.8
# A torch at 395 nm spills visible violet and excites less: read with more doubt than a 365.
VIOLET_TORCH_NM, VIOLET_TORCH_TRUST = 385, 0.5

STRENGTH_WORDS = {
    "very weak": 1,
    "faint": 1,
    "very faint": 1,
    "weak": 2,
    "slight": 2,
    "dull": 2,
    "moderate": 3,
    "medium": 3,
    "distinct": 3,
    "strong": 4,
    "intense": 4,
    "vivid": 4,
    "bright": 4,
    "very strong": 4,
}
HUE_WORDS = {
    **{hue: hue for hue in GLOW_HUES},
    "chalky": "white",
    "whitish": "white",
    "milky": "white",
    "purple": "violet",
    "purplish": "violet",
    "bluish": "blue",
    "greenish": "green",
    "yellowish": "yellow",
    "reddish": "red",
    "orangy": "orange",
    "orangey": "orange",
    "pinkish": "pink",
}
INERT = re.compile(r"(?<!not )\b(inert|none|no (reaction|fluorescence|response)|nil)\b")


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of what the lamps showed."""
    found = Readings()
    peak = number_in(record, PEAK, found)
    torch = peak is not None and peak > VIOLET_TORCH_NM
    _lamp(record, LONG, "glow_long", VIOLET_TORCH_TRUST if torch else TRUST, found)
    _lamp(record, SHORT, "glow_short", TRUST, found)
    return found


def _lamp(
    record: Mapping[str, Any], field: Field, table: str, trust: float, found: Readings
) -> None:
    text = str(record.get(field.key) or "").strip()
    if not text:
        return
    weights = glow_weights(text)
    if weights is None:
        found.ignored.append(Ignored(field.key, text, "neither inert nor a colour recognised"))
        return

    def term(population: Population) -> Term:
        return choice(population, _written(population, table), weights, trust)

    found.readings.append(Reading(field.key, text, term, "glow", DEPENDENCE))


def glow_weights(text: str) -> Array | None:
    """Return weights over the glows that the words can mean, or None if they mean none.

    Clauses about different parts of a stone share the weight: *crown inert, pavilion red*.
    """
    parts = [part for part in re.split(r"[,;(/]|\bto\b", text.lower()) if part.strip()]
    total = np.zeros(len(GLOWS))
    strengths: list[int] = []
    hues: list[str] = []
    for part in parts:
        if INERT.search(part):
            total[0] += 1.0
            continue
        strengths += _strengths(part)
        hues += [HUE_WORDS[word] for word in re.findall(r"[a-z]+", part) if word in HUE_WORDS]
    if strengths or hues:
        total += _combined(strengths or [2, 3], hues)
    return total / total.sum() if total.any() else None


def _strengths(part: str) -> list[int]:
    named = [word for word in STRENGTH_WORDS if re.search(rf"\b{word}\b", part)]
    longest = [w for w in named if not any(w != other and w in other for other in named)]
    return [STRENGTH_WORDS[word] for word in longest]


def _combined(strengths: list[int], hues: list[str]) -> Array:
    weights = np.zeros(len(GLOWS))
    for strength in strengths:
        for hue in hues or GLOW_HUES:
            weights[GLOWS.index(f"{GLOW_STRENGTHS[strength]} {hue}")] += 1
    if hues:
        # The last hue word rules: chalky green is green, with white beside it.
        last = [GLOWS.index(f"{GLOW_STRENGTHS[s]} {hues[-1]}") for s in strengths]
        weights[last] += len(hues) - 1
    combined: Array = weights / weights.sum()
    return combined


def _written(population: Population, table: str) -> Array:
    return population.once(
        f"{table} as written", lambda: getattr(population.tables, table) @ GLOW_CONFUSION
    )


LAMPS = Instrument(
    name="ultraviolet lamps",
    fields=(PEAK, LONG, SHORT),
    read=read,
    tests=(
        PlannedTest(
            "long-wave ultraviolet",
            LONG.key,
            1.0,
            table_outcomes(partial(_written, table="glow_long")),
            GLOWS,
        ),
        PlannedTest(
            "short-wave ultraviolet",
            SHORT.key,
            1.0,
            table_outcomes(partial(_written, table="glow_short")),
            GLOWS,
        ),
    ),
    cautions=(
        "Never look into an ultraviolet lamp. Short wave harms eyes and skin: filter goggles, "
        "covered skin, the maker's instructions. Keep light-sensitive colours out of it.",
    ),
)
