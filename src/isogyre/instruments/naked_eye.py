"""The naked eye: colour in stated light, transparency, lustre, phenomena."""

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
    Trouble,
    table_outcomes,
)
from isogyre.instruments.term import Term, choice
from isogyre.population import Population
from isogyre.population.words import HUES, LUSTRES, TRANSPARENCIES

Array = NDArray[np.float64]

LIGHTS = ("daylight", "incandescent", "white-led")
COLOUR = Field(
    "colour", "colour", "words", hint="for instance: slightly greyish blue", words="colour"
)
INCANDESCENT = Field("colour_incandescent", "colour in incandescent light", "words", words="colour")
LIGHT = Field("light", "light", "choice", choices=LIGHTS)
TRANSPARENCY = Field("transparency", "transparency", "choice", choices=TRANSPARENCIES)
LUSTRE = Field("lustre", "lustre", "choice", choices=LUSTRES)
FORM = Field(
    "form", "form", "choice", choices=("faceted", "cabochon", "bead", "carving", "rough", "mounted")
)
TONE = Field(
    "tone",
    "tone",
    "choice",
    choices=("very light", "light", "medium", "dark", "very dark"),
    is_seldom=True,
)
SATURATION = Field(
    "saturation",
    "saturation",
    "choice",
    choices=("greyish", "moderate", "strong", "vivid"),
    is_seldom=True,
)

COLOUR_TRUST = 0.95
# How stones are cut, by how clear they are (judgement): faceted, cabochon, bead, carving.
CUT_FORMS = ("faceted", "cabochon", "bead", "carving")
CUT_BY_TRANSPARENCY = np.array(
    [[0.80, 0.10, 0.06, 0.04], [0.25, 0.45, 0.18, 0.12], [0.10, 0.50, 0.22, 0.18]]
)
_TRANSPARENCY_SEEN = neighbours_in_order(len(TRANSPARENCIES), 0.82, 0.14)
_LUSTRE_SEEN = np.eye(len(LUSTRES)) * 0.6 + 0.4 / len(LUSTRES)


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of what the naked eye saw."""
    found = Readings()
    light = str(record.get(LIGHT.key) or "daylight").strip().lower()
    if light not in LIGHTS:
        message = f"'{light}' is no light we know: write one of {', '.join(LIGHTS)}"
        found.troubles.append(Trouble(LIGHT.key, message))
    _colour(record, COLOUR, light == "incandescent", found)
    _colour(record, INCANDESCENT, True, found)
    _transparency(record, found)
    _lustre(record, found)
    _form(record, found)
    for field in (TONE, SATURATION):
        if record.get(field.key):
            reason = "kept with the stone; the catalogue holds no shares for it yet"
            found.ignored.append(Ignored(field.key, str(record[field.key]), reason))
    return found


def _colour(record: Mapping[str, Any], field: Field, incandescent: bool, found: Readings) -> None:
    text = str(record.get(field.key) or "").strip()
    if not text:
        return
    weights = hue_weights(text)
    if weights is None:
        found.ignored.append(Ignored(field.key, text, "no colour word recognised"))
        return
    table = _incandescent_table if incandescent else colour_table

    def term(population: Population) -> Term:
        return choice(population, table(population), weights, COLOUR_TRUST)

    # Two lights see the same body colour: the second counts half.
    found.readings.append(Reading(field.key, text, term, "colour", (1.0, 0.5)))


def colour_table(population: Population) -> Array:
    """Return the chance of each hue being written, in daylight."""
    written: Array = population.tables.hue @ HUE_CONFUSION
    return written


def _incandescent_table(population: Population) -> Array:
    written: Array = population.tables.hue_incandescent @ HUE_CONFUSION
    return written


def _transparency(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(TRANSPARENCY.key) or "").strip().lower()
    if not text:
        return
    steps = _transparencies(text)
    if is_negated(text) or not steps:
        found.ignored.append(
            Ignored(TRANSPARENCY.key, text, "none of " + ", ".join(TRANSPARENCIES))
        )
        return
    weights = np.zeros(len(TRANSPARENCIES))
    weights[steps] = 1 / len(steps)

    def term(population: Population) -> Term:
        return choice(population, transparency_table(population), weights)

    found.readings.append(Reading(TRANSPARENCY.key, text, term, "transparency", (1.0, 0.5)))


def _transparencies(text: str) -> list[int]:
    """Return the steps that a word can mean: half of a step lies between two."""
    named = [index for index, word in enumerate(TRANSPARENCIES) if word in text]
    if named and text.startswith(("semi", "nearly", "sub")):
        return [0, 1] if named[0] == 0 else [1, 2]
    if named and " to " in text:
        return list(range(named[0], named[-1] + 1))
    return named[:1]


def transparency_table(population: Population) -> Array:
    """Return the chance of each transparency being written."""
    written: Array = population.tables.transparency @ _TRANSPARENCY_SEEN
    return written


def _lustre(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(LUSTRE.key) or "").strip().lower()
    if not text:
        return
    named = [word for word in LUSTRES if word in text.split() or word == text]
    if not named:
        found.ignored.append(Ignored(LUSTRE.key, text, "none of " + ", ".join(LUSTRES)))
        return
    weights = np.array([float(word in named) for word in LUSTRES]) / len(named)

    def term(population: Population) -> Term:
        return choice(population, lustre_table(population), weights)

    found.readings.append(Reading(LUSTRE.key, text, term, "lustre"))


def lustre_table(population: Population) -> Array:
    """Return the chance of each lustre being written."""
    written: Array = population.tables.lustre @ _LUSTRE_SEEN
    return written


def _form(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(FORM.key) or "").strip().lower()
    if not text or text in ("rough", "mounted"):
        return
    if text not in CUT_FORMS:
        found.ignored.append(Ignored(FORM.key, text, "none of " + ", ".join(FORM.choices)))
        return

    def term(population: Population) -> Term:
        table = population.tables.transparency @ CUT_BY_TRANSPARENCY
        return choice(population, table, CUT_FORMS.index(text))

    # Form and transparency tell much the same: the second counts half.
    found.readings.append(Reading(FORM.key, text, term, "transparency", (1.0, 0.5)))


NAKED_EYE = Instrument(
    name="naked eye",
    fields=(FORM, LIGHT, COLOUR, INCANDESCENT, TONE, SATURATION, TRANSPARENCY, LUSTRE),
    read=read,
    tests=(
        PlannedTest("colour in daylight", COLOUR.key, 0.3, table_outcomes(colour_table), HUES),
        PlannedTest(
            "colour in incandescent light",
            INCANDESCENT.key,
            0.5,
            table_outcomes(_incandescent_table),
            HUES,
        ),
        PlannedTest(
            "transparency",
            TRANSPARENCY.key,
            0.2,
            table_outcomes(transparency_table),
            TRANSPARENCIES,
        ),
        PlannedTest("lustre", LUSTRE.key, 0.3, table_outcomes(lustre_table), LUSTRES),
    ),
    about="Pink against red, and every border of a colour name, is judged against masters in "
    "stated light.",
)
