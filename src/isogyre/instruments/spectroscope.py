"""The hand spectroscope: positions of lines, and what they are recognised as."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.entry import NotANumberError, clauses, is_negated, parse_number
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
from isogyre.population.words import SPECTRUM_CAUSES

Array = NDArray[np.float64]

LINES = Field("spectrum_lines_nm", "lines", "numbers", "nm", 400, 700, 1)
TEXT = Field("spectrum_text", "spectrum in words", "words")

VISIBLE_NM = (400.0, 700.0)
# Reading error of a prism scale: fine in the blue, coarse in the red (judgement).
BLUE_SD_NM, RED_SD_NM = 2.0, 8.0
FALSE_LINES_A_SPECTRUM = 0.25
# What is not written down may still have been there: prose lists what struck the eye.
UNWRITTEN_EXPONENT = 0.3
CAUSE_WORDS = {
    "chromium": ("chromium", "chrome", " cr ", "ruby", "rubies"),
    "vanadium": ("vanadium",),
    "iron": ("iron", " fe "),
    "manganese": ("manganese",),
    "cobalt": ("cobalt",),
    "copper": ("copper",),
    "nickel": ("nickel",),
    "rare earths": ("rare earth", "rare-earth", "didymium", "neodymium"),
    "uranium": ("uranium",),
    "nitrogen": ("cape line", "cape spectrum", "nitrogen"),
    "dye": ("dye band", " dye "),
}
NOTHING = re.compile(r"\b(no (absorption|lines|bands|spectrum|features)|featureless)\b")
# "No line at 450": looked for and not seen.
_LINE, _GONE = r"(?:line|band|absorption)s?", r"(?:absent|missing|not (?:seen|visible|present))"
ABSENT_LINE = re.compile(
    rf"\bno (?:\w+ )?{_LINE} (?:at|near|around) (\d{{3}})"
    rf"|\bno (\d{{3}})(?: ?nm)? {_LINE}"
    rf"|\b(\d{{3}})(?: ?nm)? {_LINE} {_GONE}"
    rf"|\b{_LINE} at (\d{{3}})(?: ?nm)? {_GONE}"
)
# A comma before one or two digits is a decimal comma; before three it parts two lines.
BETWEEN_LINES = re.compile(r"[;\s]+|,(?!\d{1,2}(?!\d))|\band\b|\bnm\b")
FOUND_WHEN_LOOKED_FOR = 0.9
CAUSE_TRUST = 0.85
# Lines and the name given to them are one look through one slit.
DEPENDENCE = (1.0, 0.3)


def read(record: Mapping[str, Any]) -> Readings:
    """Make readings of what the spectroscope showed."""
    found = Readings()
    lines = _numbers(record, found)
    if lines:
        shown = ", ".join(f"{nm:g}" for nm in lines)
        found.readings.append(
            Reading(
                LINES.key,
                shown,
                lambda population: _lines(population, lines),
                "spectrum",
                DEPENDENCE,
            )
        )
    _words(record, found)
    return found


def _numbers(record: Mapping[str, Any], found: Readings) -> list[float]:
    given = record.get(LINES.key)
    if given is None or given == "":
        return []
    if not isinstance(given, Sequence) or isinstance(given, str):
        given = [part for part in BETWEEN_LINES.split(str(given)) if part]
    lines = []
    for entry in given:
        try:
            nm = parse_number(entry)
        except NotANumberError as error:
            found.troubles.append(Trouble(LINES.key, str(error)))
            continue
        if VISIBLE_NM[0] <= nm <= VISIBLE_NM[1]:
            lines.append(nm)
        else:
            reason = "outside 400 to 700 nm: not a reading by hand"
            found.ignored.append(Ignored(LINES.key, f"{nm:g}", reason))
    return list(dict.fromkeys(lines))


def line_sd_nm(nm: Array, width_nm: Array) -> Array:
    """Return the error of a line's position: prism scale and the width of a band."""
    scale = np.interp(nm, (420.0, 680.0), (BLUE_SD_NM, RED_SD_NM))
    return np.hypot(scale, width_nm / 4)


def _lines(population: Population, lines: Sequence[float]) -> Term:
    """Match lines read to lines listed; unexplained ones and absent ones both cost."""
    tables = population.tables
    span = VISIBLE_NM[1] - VISIBLE_NM[0]
    sd = population.once(
        "error of lines",
        lambda: line_sd_nm(np.nan_to_num(tables.line_nm, nan=500.0), tables.line_width_nm),
    )
    false = FALSE_LINES_A_SPECTRUM / span
    log = np.zeros(len(population.labels))
    explained = np.zeros_like(tables.line_nm)
    for nm in lines:
        z = np.where(np.isfinite(tables.line_nm), (nm - tables.line_nm) / sd, 99.0)
        density = tables.line_seen * np.exp(-0.5 * z**2) / (np.sqrt(2 * np.pi) * sd)
        log += np.log(false + density.sum(axis=1)) - np.log(false)
        explained = np.maximum(explained, np.exp(-0.5 * (z / 1.5) ** 2))
    missing = np.log1p(-np.clip(tables.line_seen * (1 - explained), 0, 0.95)).sum(axis=1)
    return Term(rows=log + UNWRITTEN_EXPONENT * missing)


def _words(record: Mapping[str, Any], found: Readings) -> None:
    text = str(record.get(TEXT.key) or "").strip()
    if not text:
        return
    absent = {float(nm) for said in ABSENT_LINE.findall(text.lower()) for nm in said if nm}
    looked_for = sorted(nm for nm in absent if VISIBLE_NM[0] <= nm <= VISIBLE_NM[1])
    found.readings += [_line_absent(text, nm) for nm in looked_for]
    rest = ABSENT_LINE.sub(" ", text.lower())
    causes = _causes_told(rest)
    if NOTHING.search(rest):
        found.readings.append(Reading(TEXT.key, text, _nothing_seen, "spectrum", DEPENDENCE))
    elif causes:
        found.readings += [_cause(text, cause, seen) for cause, seen in causes.items()]
    elif not looked_for:
        found.ignored.append(Ignored(TEXT.key, text, "no cause of lines recognised in it"))


def _causes_told(text: str) -> dict[str, bool]:
    """Return the causes named, and whether their lines were seen or told to be absent."""
    told: dict[str, bool] = {}
    for clause in (f" {clause} " for clause in clauses(text)):
        for cause, words in CAUSE_WORDS.items():
            if any(word in clause for word in words):
                told[cause] = told.get(cause, False) or not is_negated(clause)
    return told


def _cause(text: str, cause: str, seen: bool) -> Reading:
    column, outcome = SPECTRUM_CAUSES.index(cause), 0 if seen else 1

    def term(population: Population) -> Term:
        return choice(population, cause_table(population, column), outcome, CAUSE_TRUST)

    return Reading(TEXT.key, text, term, "spectrum", DEPENDENCE)


def _line_absent(text: str, nm: float) -> Reading:
    def term(population: Population) -> Term:
        tables = population.tables
        sd = line_sd_nm(np.full(1, nm), np.zeros(1))[0]
        there = tables.line_seen * np.exp(-0.5 * (np.nan_to_num(tables.line_nm) - nm) ** 2 / sd**2)
        seen = np.clip(FOUND_WHEN_LOOKED_FOR * there.max(axis=1), 0.01, 0.95)
        return choice(population, np.stack((seen, 1 - seen), axis=1), 1)

    return Reading(TEXT.key, f"no line at {nm:g}", term, f"line {nm:g}")


def cause_table(population: Population, column: int) -> Array:
    """Return the chance that lines of one cause are recognised, and that they are not."""
    seen = population.tables.spectrum_cause[:, column]
    return np.stack((seen, 1 - seen), axis=1)


def _nothing_seen(population: Population) -> Term:
    unseen = np.log1p(-0.9 * np.clip(population.tables.line_seen, 0, 0.98)).sum(axis=1)
    chance = np.clip(np.exp(unseen), 0.02, 0.95)
    return choice(population, np.stack((chance, 1 - chance), axis=1), 0, CAUSE_TRUST)


def _planned(population: Population) -> Array:
    """Return the chance that each cause is the one recognised, and that none is."""
    seen = population.tables.spectrum_cause
    none = np.prod(1 - seen, axis=1, keepdims=True)
    shares = seen / seen.sum(axis=1, keepdims=True) * (1 - none)
    return np.concatenate((shares, none), axis=1)


SPECTROSCOPE = Instrument(
    name="hand spectroscope",
    fields=(LINES, TEXT),
    read=read,
    tests=(
        PlannedTest(
            "hand spectroscope",
            TEXT.key,
            2.0,
            table_outcomes(_planned),
            (*SPECTRUM_CAUSES, "none"),
            touches="hot light",
        ),
    ),
    cautions=(
        "A strong lamp heats the stone: not on opal, amber, filled or light-sensitive "
        "stones. A white-LED or tube lamp has bands of its own.",
    ),
)
