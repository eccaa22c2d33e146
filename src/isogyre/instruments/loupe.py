"""Loupe and microscope: features seen, looked for and not seen, or not looked for."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue.model import Feature
from isogyre.instruments.entry import clauses, is_negated
from isogyre.instruments.instrument import (
    Field,
    Ignored,
    Instrument,
    PlannedTest,
    Reading,
    Readings,
    table_outcomes,
)
from isogyre.instruments.phrases import Match, PhraseBook
from isogyre.instruments.term import Term, choice
from isogyre.population import Population

Array = NDArray[np.float64]

SEEN = Field("magnification", "seen with loupe or microscope", "phrases")
NOT_SEEN = Field("not_seen", "looked for and not seen", "phrases")

# Features of one cause come together: the second counts half, the third less.
DEPENDENCE = (1.0, 0.5, 0.3, 0.2, 0.1)
# Prose does not list what is absent: a small exponent, half where it would nearly always show.
UNMENTIONED_EXPONENT, UNMENTIONED_OBVIOUS_EXPONENT, OBVIOUS = 0.12, 0.5, 0.85
# No more than four of them: a list of features is a list of alternatives.
MOST_UNMENTIONED = 4
# A careful search finds nine of ten features that are there.
FOUND_WHEN_LOOKED_FOR = 0.9
PROSE_FIELDS = ("colour", "uv_lw", "uv_sw", "ri_text")
BLOCKED = "no sign of treatment by hand tests is no proof; it is not counted"


def loupe(features: Mapping[str, Feature]) -> Instrument:
    """Return the loupe for a vocabulary of features."""
    book = PhraseBook.of({name: feature.words for name, feature in features.items()})
    by_eye = PhraseBook.of(
        {name: f.words for name, f in features.items() if f.where in ("eye", "lamp")}
    )

    def read(record: Mapping[str, Any]) -> Readings:
        found = Readings()
        seen, unseen = _sort(record, book, found)
        _from_prose(record, by_eye, seen)
        found.readings += [_seen(features, name, sighting) for name, sighting in seen.items()]
        found.readings += [
            _not_seen(features, name, shown) for name, shown in unseen.items() if name not in seen
        ]
        # What was not understood may be the very feature: silence about it proves nothing.
        if (seen or unseen) and record.get(SEEN.key) and NOT_SEEN.key not in record:
            found.readings.append(_unmentioned({*seen, *unseen}))
        return found

    return Instrument(
        name="loupe and microscope",
        fields=(SEEN, NOT_SEEN),
        read=read,
        tests=tuple(_looked_for(cause, names) for cause, names in by_cause(features).items()),
        about="Not seen is not the same as not looked for: record both.",
    )


class Sighting(NamedTuple):
    """A feature as told: in which field, in which words, and how far the match is trusted."""

    field: str
    shown: str
    trust: float


def by_cause(features: Mapping[str, Feature]) -> dict[str, list[str]]:
    """Return the loupe's features under their causes."""
    causes: dict[str, list[str]] = {}
    for name, feature in features.items():
        if feature.where in ("loupe", "eye"):
            causes.setdefault(feature.cause, []).append(name)
    return causes


def _phrases(record: Mapping[str, Any], field: Field) -> list[str]:
    given = record.get(field.key) or []
    if isinstance(given, str):
        return clauses(given)
    return [str(phrase) for phrase in given] if isinstance(given, Sequence) else []


def _sort(
    record: Mapping[str, Any], book: PhraseBook, found: Readings
) -> tuple[dict[str, Sighting], dict[str, str]]:
    """Sort phrases into features seen (with trust) and features looked for and not seen."""
    seen: dict[str, Sighting] = {}
    unseen: dict[str, str] = {}
    for phrase in _phrases(record, SEEN):
        if "treatment" in phrase.lower() and is_negated(phrase):
            found.ignored.append(Ignored(SEEN.key, phrase, BLOCKED))
            continue
        matches = book.match(phrase)
        if not matches:
            found.ignored.append(Ignored(SEEN.key, phrase, "no feature of the vocabulary"))
        elif is_negated(phrase) and not _affirms(matches, phrase):
            unseen.update({match.feature: phrase for match in matches})
        else:
            _keep_best(seen, matches, SEEN.key, phrase)
    for phrase in _phrases(record, NOT_SEEN):
        matches = book.match(phrase)
        if not matches:
            found.ignored.append(Ignored(NOT_SEEN.key, phrase, "no feature of the vocabulary"))
        unseen.update({match.feature: phrase for match in matches})
    return seen, unseen


def _affirms(matches: list[Match], phrase: str) -> bool:
    """'No inclusions' and 'no doubling' are features in their own right."""
    return any(match.feature in ("very clean", "no doubling") for match in matches)


def _keep_best(
    seen: dict[str, Sighting], matches: Sequence[Match], field: str, phrase: str
) -> None:
    # A phrase with several readings is worth less for each of them.
    share = 1.0 if len(matches) == 1 else 0.85
    for match in matches:
        sighting = Sighting(field, phrase, match.trust * share)
        if match.feature not in seen or sighting.trust > seen[match.feature].trust:
            seen[match.feature] = sighting


def _from_prose(record: Mapping[str, Any], book: PhraseBook, seen: dict[str, Sighting]) -> None:
    """Phenomena and uneven glows are often told under colour or lamp."""
    for key in PROSE_FIELDS:
        for clause in clauses(str(record.get(key) or "")):
            matches = [m for m in book.match(clause) if m.trust > 0.8]
            if matches and not is_negated(clause):
                _keep_best(seen, matches, key, clause)


def _seen(features: Mapping[str, Feature], name: str, sighting: Sighting) -> Reading:
    def term(population: Population) -> Term:
        return choice(population, feature_table(population, name), 0, sighting.trust)

    return Reading(sighting.field, sighting.shown, term, features[name].cause, DEPENDENCE)


def _not_seen(features: Mapping[str, Feature], name: str, shown: str) -> Reading:
    def term(population: Population) -> Term:
        return choice(population, feature_table(population, name, FOUND_WHEN_LOOKED_FOR), 1)

    return Reading(NOT_SEEN.key, shown, term, f"not {features[name].cause}", DEPENDENCE)


def feature_table(population: Population, name: str, found: float = 1.0) -> Array:
    """Return the chance that a feature is reported, and that it is not."""
    present = found * population.tables.features[:, population.feature_names.index(name)]
    return np.stack((present, 1 - present), axis=1)


def _unmentioned(mentioned: set[str]) -> Reading:
    """What a written description leaves out, at a small exponent."""

    def term(population: Population) -> Term:
        order, absent = population.once("untold", lambda: _untold(population))
        told = np.array([name in mentioned for name in population.feature_names])
        # So many of the heaviest hold the heaviest that were not mentioned.
        first = slice(MOST_UNMENTIONED + len(mentioned))
        left = np.where(told[order[:, first]], 0.0, absent[:, first])
        return Term(rows=np.sort(left, axis=1)[:, :MOST_UNMENTIONED].sum(axis=1))

    return Reading(NOT_SEEN.key, "what the description does not mention", term, "unmentioned")


def _untold(population: Population) -> tuple[NDArray[np.intp], Array]:
    """Return for each hypothesis its features, heaviest by their absence first, and the weights."""
    present = population.tables.features
    exponent = np.where(present > OBVIOUS, UNMENTIONED_OBVIOUS_EXPONENT, UNMENTIONED_EXPONENT)
    absent = exponent * population.tables.log_absent * population.feature_is_told
    order = np.argsort(absent, axis=1)
    return order, np.take_along_axis(absent, order, axis=1)


def _looked_for(cause: str, names: Sequence[str]) -> PlannedTest:
    """A look for the features of one cause: any seen, or none."""

    def table(population: Population) -> Array:
        columns = [population.feature_names.index(name) for name in names]
        present = 0.85 * population.tables.features[:, columns]
        none = np.prod(1 - present, axis=1, keepdims=True)
        shares = present / present.sum(axis=1, keepdims=True) * (1 - none)
        return np.concatenate((shares, none), axis=1)

    outcomes = table_outcomes(lambda p: p.once(f"looked for {cause}", lambda: table(p)))
    return PlannedTest(
        f"loupe: look for {cause}", SEEN.key, 2.0, outcomes, (*names, "none of these")
    )
