"""What others say: a laboratory's conclusion, the seller's claim. Words, with a stated trust."""

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue
from isogyre.instruments.entry import number_in
from isogyre.instruments.instrument import Field, Ignored, Instrument, Reading, Readings
from isogyre.instruments.phrases import tokens
from isogyre.instruments.term import Term
from isogyre.population import Population

Array = NDArray[np.float64]

LABORATORY = Field(
    "laboratory",
    "laboratory result",
    "object",
    hint="{conclusion, degree, date, matched}",
    parts=(
        Field("conclusion", "its conclusion", "words"),
        Field("degree", "degree of the treatment", "words", hint="as the report words it"),
        Field("date", "date of the report", "words"),
        Field("matched", "shown to be this stone's", "choice", choices=("yes",)),
    ),
)
CLAIM = Field(
    "claim",
    "what the seller says",
    "words",
    parts=(
        Field("words", "what was said", "words"),
        Field("trust", "trust in it", "number", low=0.0, high=0.95),
    ),
)

# A report that is shown to belong to this stone is near proof; one that is not is hearsay.
MATCHED_TRUST, UNMATCHED_TRUST = 0.97, 0.5
CLAIM_TRUST = 0.3
# "Spectrum consistent with jadeite": a comparison made by the tester, without a figure.
COMPARISON = re.compile(r"(?:consistent with|typical (?:of|for)|agrees with|as in) (.+)")
COMPARED_FIELDS = ("spectrum_text",)
COMPARISON_TRUST = 0.6
GROWN_WORDS = (
    "synthetic",
    "laboratory",
    "grown",
    "created",
    "man made",
    "imitation",
    "glass",
    "plastic",
    "doublet",
    "triplet",
    "composite",
)


def testimony(catalogue: Catalogue) -> Instrument:
    """Return the 'instrument' that reads reports and claims, for the words of a catalogue."""
    names = _names(catalogue)
    treatments = {
        name: [frozenset(tokens(word)) for word in (name, *row.words)]
        for name, row in catalogue.treatments.items()
    }

    def read(record: Mapping[str, Any]) -> Readings:
        found = Readings()
        report = record.get(LABORATORY.key)
        if isinstance(report, Mapping) and report.get("conclusion"):
            matched = _is_yes(report.get("matched"))
            trust = MATCHED_TRUST if matched else UNMATCHED_TRUST
            _statement(LABORATORY, str(report["conclusion"]), trust, names, treatments, found)
            if not matched:
                reason = (
                    "counts as a claim only: match it to the stone by weight, measures, "
                    "photograph or inscription"
                )
                found.ignored.append(Ignored(LABORATORY.key, str(report["conclusion"]), reason))
        for key in COMPARED_FIELDS:
            compared = COMPARISON.search(str(record.get(key) or "").lower())
            if compared:
                _comparison(key, compared.group(1), names, found)
        claim = record.get(CLAIM.key)
        if claim:
            text, trust = _claim(claim, found)
            _statement(CLAIM, text, trust, names, treatments, found)
        return found

    return Instrument(
        name="what others say",
        fields=(LABORATORY, CLAIM),
        read=read,
        about="A claim is weak evidence. A report counts when it is shown to be this stone's.",
    )


def _is_yes(matched: Any) -> bool:
    """Whether a report is said to belong to this stone: 'no', in words too, is not a yes."""
    return matched is True or str(matched).strip().lower() in ("yes", "true")


def _claim(claim: Any, found: Readings) -> tuple[str, float]:
    """Return the words of a claim and the trust in it; trouble goes to ``found``."""
    if not isinstance(claim, Mapping):
        return str(claim), CLAIM_TRUST
    said, trust = CLAIM.parts
    text = str(claim.get(said.key) or claim.get("text") or "")
    given = number_in(claim, trust, found)
    return text, CLAIM_TRUST if given is None else given


def _names(catalogue: Catalogue) -> dict[frozenset[str], set[tuple[str, str]]]:
    """Return (species, variety) pairs under the words that name them; '' is any variety."""
    names: dict[frozenset[str], set[tuple[str, str]]] = {}
    for material in catalogue.materials.values():
        for word in (material.name, material.species, *material.also_called):
            names.setdefault(frozenset(tokens(word)), set()).add((material.species, ""))
        for body in material.bodies:
            for look in body.looks:
                words = frozenset(tokens(look.variety))
                names.setdefault(words, set()).add((material.species, look.variety))
    return {words: meant for words, meant in names.items() if words}


def _statement(
    field: Field,
    text: str,
    trust: float,
    names: Mapping[frozenset[str], set[tuple[str, str]]],
    treatments: Mapping[str, list[frozenset[str]]],
    found: Readings,
) -> None:
    said = frozenset(tokens(text))
    held = [words for words in names if words <= said]
    meant = {
        pair for words in held if not any(words < other for other in held) for pair in names[words]
    }
    treated = {name for name, words in treatments.items() if any(w and w <= said for w in words)}
    grown = any(word in text.lower() for word in GROWN_WORDS)
    if not meant and not treated and not grown:
        found.ignored.append(Ignored(field.key, text, "no material or treatment recognised"))
        return

    def term(population: Population) -> Term:
        agrees = np.array([_agrees(label, meant, treated, grown) for label in population.labels])
        return Term(rows=np.log(np.where(agrees, 1.0, 1.0 - trust)))

    found.readings.append(Reading(field.key, text, term, field.key))


def _comparison(
    key: str, text: str, names: Mapping[frozenset[str], set[tuple[str, str]]], found: Readings
) -> None:
    said = frozenset(tokens(text))
    species = {name for words, meant in names.items() if words <= said for name, _ in meant}
    if not species:
        return

    def term(population: Population) -> Term:
        agrees = np.array([label.species in species for label in population.labels])
        return Term(rows=np.log(np.where(agrees, 1.0, 1.0 - COMPARISON_TRUST)))

    found.readings.append(Reading(key, f"compared with {text}", term, "comparison"))


def _agrees(label: Any, meant: set[tuple[str, str]], treated: set[str], grown: bool) -> bool:
    if meant and not any(
        label.species == species and variety in ("", label.variety) for species, variety in meant
    ):
        return False
    if treated and label.treatment not in treated:
        return False
    is_grown = label.origin not in ("natural", "organic", "cultured")
    return is_grown == grown
