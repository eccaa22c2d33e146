"""What others say: a laboratory's conclusion, the seller's claim. Words, with a stated trust."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue
from isogyre.instruments.entry import is_negated, number_in
from isogyre.instruments.instrument import Field, Ignored, Instrument, Reading, Readings
from isogyre.instruments.phrases import tokens
from isogyre.instruments.term import Term
from isogyre.population import Label, Population

Array = NDArray[np.float64]
# (species, variety) pairs under the words that name them, and the ways to name each treatment.
Names = Mapping[frozenset[str], set[tuple[str, str]]]
Treatments = Mapping[str, Sequence[frozenset[str]]]

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
# What is denied runs from its "no" to the next comma.
CLAUSE = re.compile(r"[;,.](?!\d)|\b(?=(?:no|not|without|never)\b)")
DENIED_IN_ONE_WORD = re.compile(r"\bun(?=heated|treated|dyed|filled|oiled|coated|irradiated)")
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
        if isinstance(report, Mapping) and report and not report.get("conclusion"):
            reason = "no conclusion in it: write what the laboratory says the stone is"
            found.ignored.append(Ignored(LABORATORY.key, str(dict(report)), reason))
        elif isinstance(report, Mapping) and report:
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


def _names(catalogue: Catalogue) -> Names:
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


class Said(NamedTuple):
    """What a statement says of a stone: its name, treatments, denied ones, whether it is grown."""

    meant: set[tuple[str, str]]
    treated: set[str]
    denied: set[str]
    grown: bool


def _said(text: str, names: Names, treatments: Treatments) -> Said:
    spelled = DENIED_IN_ONE_WORD.sub("not ", text.lower())
    words = frozenset(tokens(spelled))
    held = [name for name in names if name <= words]
    longest = [name for name in held if not any(name < other for other in held)]
    parts = [part for part in CLAUSE.split(spelled) if part and part.strip()]
    affirmed = " ".join(part for part in parts if not is_negated(part))
    denied = " ".join(part for part in parts if is_negated(part))
    treated, consumed = _treatments_in(affirmed, treatments)
    return Said(
        {pair for name in longest for pair in names[name]},
        treated,
        _denied(denied, treatments),
        any(w in affirmed for w in GROWN_WORDS if not frozenset(tokens(w)) <= consumed),
    )


def _treatments_in(text: str, treatments: Treatments) -> tuple[set[str], frozenset[str]]:
    """Return the treatments named and the words that name them: *glass-filled* is no glass."""
    words = frozenset(tokens(text))
    named = {name: [w for w in ways if w and w <= words] for name, ways in treatments.items()}
    consumed = frozenset(word for ways in named.values() for way in ways for word in way)
    return {name for name, ways in named.items() if ways}, consumed


def _denied(text: str, treatments: Treatments) -> set[str]:
    """Return the treatments denied; who denies heat denies gentle heat too."""
    if re.search(r"\b(treated|treatment|enhance)", text):
        return set(treatments)
    named, _ = _treatments_in(text, treatments)
    return {name for name in treatments if any(denied in name for denied in named)}


def _statement(
    field: Field, text: str, trust: float, names: Names, treatments: Treatments, found: Readings
) -> None:
    said = _said(text, names, treatments)
    if not any(said):
        found.ignored.append(Ignored(field.key, text, "no material or treatment recognised"))
        return

    def term(population: Population) -> Term:
        agrees = np.array([_agrees(label, said) for label in population.labels])
        return Term(rows=np.log(np.where(agrees, 1.0, 1.0 - trust)))

    found.readings.append(Reading(field.key, text, term, field.key))


def _comparison(key: str, text: str, names: Names, found: Readings) -> None:
    said = frozenset(tokens(text))
    species = {name for words, meant in names.items() if words <= said for name, _ in meant}
    if not species:
        return

    def term(population: Population) -> Term:
        agrees = np.array([label.species in species for label in population.labels])
        return Term(rows=np.log(np.where(agrees, 1.0, 1.0 - COMPARISON_TRUST)))

    found.readings.append(Reading(key, f"compared with {text}", term, "comparison"))


def _agrees(label: Label, said: Said) -> bool:
    if said.meant and not any(
        label.species == species and variety in ("", label.variety)
        for species, variety in said.meant
    ):
        return False
    if label.treatment in said.denied or (said.treated and label.treatment not in said.treated):
        return False
    is_grown = label.origin not in ("natural", "organic", "cultured")
    return is_grown == said.grown
