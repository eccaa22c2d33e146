"""The use case 'material card': everything the catalogue holds on one material, with its sources.

What the sources say, what is followed and what the virtual stones then show stand side by side.
"""

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel

from isogyre.catalogue.memory import memory_share
from isogyre.catalogue.model import (
    Body,
    Care,
    Constants,
    FilterReaction,
    Glow,
    Look,
    Material,
    Pleochroism,
    Seen,
    Statement,
    Step,
    TreatmentPractice,
)
from isogyre.desk.cards import (
    BodyAnswer,
    CareAnswer,
    CautionAnswer,
    ConstantAnswer,
    FilterAnswer,
    GlowAnswer,
    LookalikeAnswer,
    LookAnswer,
    MaterialCard,
    PleochroismAnswer,
    SeenAnswer,
    SeparationAnswer,
    SourceAnswer,
    SpectrumAnswer,
    StatementAnswer,
    TreatmentAnswer,
)
from isogyre.desk.constants import constant_answers
from isogyre.desk.find_material import find_material
from isogyre.desk.separation import Kind, Separator
from isogyre.desk.workbench import Workbench
from isogyre.population.hypotheses import Hypothesis, constants_of, hypotheses, looks_of
from isogyre.trade import harm

Rows = NDArray[np.intp]

CARE_WORDS = ("torch", "pickle", "ultrasonic", "steam", "light")


def material_card(workbench: Workbench, name: str) -> MaterialCard:
    """Return the card of the material called ``name``, whose spelling may be a little off.

    ``name`` may be a material, another name of it, a variety or a species; of a species with
    several materials the commonest is shown and the others are named.

    Raises
    ------
    UnknownMaterialError
        If nothing in the catalogue comes near ``name``; the error names what comes nearest.
    """
    found_as, material = find_material(workbench.catalogue, name)
    return Card(workbench, material).card(name, found_as)


def drawn_from(workbench: Workbench) -> list[Hypothesis]:
    """Return, row for row, what the population was drawn from: two bodies may share a growth."""
    return workbench.population.once(
        "hypotheses", lambda: [h for h in hypotheses(workbench.catalogue) if h.prior > 0]
    )


class Card:
    """One material on one workbench, told part by part."""

    def __init__(self, workbench: Workbench, material: Material) -> None:
        self.workbench = workbench
        self.material = material
        self.catalogue = workbench.catalogue
        self.population = workbench.population
        self.rows = np.flatnonzero(self.population.rows_of("material", material.name))
        self.drawn_from = drawn_from(workbench)

    def card(self, asked: str, found_as: str) -> MaterialCard:
        """Return the whole card."""
        said = self.material
        first = said.bodies[0]
        care = care_answer(said.care)
        return {
            "asked": asked,
            "found_as": found_as,
            "name": said.name,
            "species": said.species,
            "family": said.family,
            "group": said.group,
            "kind": said.kind,
            "also_called": list(said.also_called),
            "same_species": self.others_with("species"),
            "same_group": self.others_with("group"),
            "how_common": said.how_common,
            "formula": _statement(said.formula),
            "system": _statement(said.system),
            "optic_character": said.optic.character,
            "optic_sign": said.optic.sign,
            "constants": self.constants(constants_of(said, first, None), first),
            "transparency": _words(said.transparency),
            "lustre": list(said.lustre),
            "bodies": [self.body(body) for body in said.bodies],
            "treatments": [self.treatment(treatment) for treatment in said.treatments],
            "lookalikes": self.lookalikes(),
            "care": care,
            "cautions": self.cautions(),
            "traits": list(said.traits),
            "toughness": _statement(said.durability.toughness),
            "cleavage": _statement(said.durability.cleavage),
            "note": said.note,
            "sources": self.sources(),
            "from_memory": memory_share(said),
        }

    def others_with(self, field: str) -> list[str]:
        """Return the other materials with the same word in ``field``, none if it is empty."""
        word = getattr(self.material, field)
        return [
            other.name
            for other in self.catalogue.materials.values()
            if word and getattr(other, field) == word and other.name != self.material.name
        ]

    def grown(self, body: Body) -> Rows:
        """Return the rows of this material that belong to one of its bodies."""
        rows = [row for row in self.rows if self.drawn_from[row].body is body]
        return np.array(rows, dtype=np.intp)

    def share(self, rows: Rows, whole: Rows) -> float:
        """Return what part of the stones in ``whole`` those in ``rows`` make up."""
        return float(self.population.prior[rows].sum() / self.population.prior[whole].sum())

    def constants(
        self, said: Constants, body: Body, treatment: TreatmentPractice | None = None
    ) -> list[ConstantAnswer]:
        """Return the constants of the stones of one body, after one treatment or none."""
        rows = [r for r in self.grown(body) if self.drawn_from[r].treatment is treatment]
        strata = np.unique(self.population.stratum[rows])
        return constant_answers(said, self.population, strata, self.catalogue.sources)

    def body(self, body: Body) -> BodyAnswer:
        """Return the material grown in one way."""
        growth = self.catalogue.growths[body.growth]
        return {
            "growth": body.growth,
            "origin": growth.origin,
            "name": body.name,
            "what": growth.what,
            "how_common": body.how_common,
            "share": self.share(self.grown(body), self.rows),
            "constants": self.constants(self.differing(body), body),
            "looks": [self.look(look, body) for look in looks_of(self.material, body)],
            "features": [self.seen(seen) for seen in body.features],
            "told_from_first": self.told_from_first(body),
            "source": body.source,
        }

    def differing(self, body: Body) -> Constants:
        """Return the constants of ``body`` whose claims are not those of the first body."""
        first = constants_of(self.material, self.material.bodies[0], None)
        here = constants_of(self.material, body, None)
        names = [n for n in Constants.model_fields if getattr(here, n) != getattr(first, n)]
        return Constants(**{name: getattr(here, name) for name in names})

    def look(self, look: Look, body: Body) -> LookAnswer:
        """Return one colour type of a body."""
        labels, whole = self.population.labels, self.grown(body)
        rows = np.array([r for r in whole if labels[r].variety == look.variety], dtype=np.intp)
        return {
            "variety": look.variety,
            "how_common": look.how_common,
            "share": self.share(rows, whole),
            "colours": _words(look.colours),
            "incandescent": _words(look.incandescent),
            "transparency": _words(look.transparency or self.material.transparency),
            "pleochroism": _pleochroism(look.pleochroism),
            "spectrum": [self.spectrum(seen) for seen in look.spectrum],
            "long_wave": [_glow(glow) for glow in look.long_wave],
            "short_wave": [_glow(glow) for glow in look.short_wave],
            "filter": _filter(look.filter),
            "phenomena": [self.seen(seen) for seen in look.phenomena],
            "features": [self.seen(seen) for seen in look.features],
            "magnet": look.magnet,
            "source": look.source,
        }

    def treatment(self, practice: TreatmentPractice) -> TreatmentAnswer:
        """Return one treatment as practised on this material."""
        word = self.catalogue.treatments[practice.name]
        return {
            "name": practice.name,
            "what": word.what,
            "how_common": practice.how_common,
            "growths": list(practice.growths or (self.material.bodies[0].growth,)),
            "looks": list(practice.looks),
            "leaves": [self.seen(seen) for seen in practice.features],
            "hides": [self.seen(seen) for seen in practice.hides],
            "long_wave": [_glow(glow) for glow in practice.long_wave],
            "short_wave": [_glow(glow) for glow in practice.short_wave],
            "spectrum": [self.spectrum(seen) for seen in practice.spectrum],
            "filter": _filter(practice.filter),
            "constants": self.changed_constants(practice),
            "hand_tests": word.hand_tests,
            "laboratory": word.laboratory,
            "care": care_answer(word.care) if word.care else None,
            "note": practice.note,
            "source": practice.source,
        }

    def changed_constants(self, practice: TreatmentPractice) -> list[ConstantAnswer]:
        """Return the constants that a treatment changes, as they are after it."""
        bodies = self.material.bodies
        treated = (body for body in bodies if body.growth in practice.growths)
        return self.constants(practice.constants, next(treated, bodies[0]), practice)

    def seen(self, seen: Seen) -> SeenAnswer:
        """Return a feature or a phenomenon with what the vocabulary says of it."""
        feature = self.catalogue.features[seen.name]
        return {
            "name": seen.name,
            "seen": seen.seen,
            "what": feature.what,
            "how_to_see": feature.how_to_see,
            "source": seen.source,
        }

    def spectrum(self, seen: Seen) -> SpectrumAnswer:
        """Return a spectrum with its lines."""
        spectrum = self.catalogue.spectra[seen.name]
        return {
            "name": seen.name,
            "cause": spectrum.cause,
            "seen": seen.seen,
            "text": spectrum.text,
            "lines": [
                {
                    "nm": line.nm,
                    "width_nm": line.width_nm,
                    "strength": line.strength,
                    "source": line.source,
                }
                for line in spectrum.lines
            ],
            "source": seen.source,
        }

    def lookalikes(self) -> list[LookalikeAnswer]:
        """Return what is taken for this material: what it names, and what names it."""
        separator = self.separator(self.rows)
        materials = self.catalogue.materials
        naming = (m.name for m in materials.values() if self.material.name in m.lookalikes)
        return [
            {
                "name": name,
                "species": materials[name].species,
                "kind": materials[name].kind,
                "separated_by": separator.separations(
                    Kind.of(
                        self.population, np.flatnonzero(self.population.rows_of("material", name))
                    )
                ),
            }
            for name in dict.fromkeys((*self.material.lookalikes, *naming))
            if name != self.material.name
        ]

    def separator(self, here: Rows) -> Separator:
        """Return what parts the stones in ``here`` from others on this bench."""
        kind = Kind.of(self.population, here)
        return Separator(kind, self.population, self.workbench.instruments)

    def told_from_first(self, body: Body) -> list[SeparationAnswer]:
        """Return the tests that part one way of growth from the first, best first."""
        first = self.material.bodies[0]
        if body is first:
            return []
        model = Kind.of(self.population, self.grown(first))
        return self.separator(self.grown(body)).separations(model)

    def cautions(self) -> list[CautionAnswer]:
        """Return the tests of the bench that could hurt this material as it comes."""
        stone = (1.0, frozenset((*self.material.traits, self.material.kind)), self.material.name)
        tests = (test for instrument in self.workbench.instruments for test in instrument.tests)
        touching = dict.fromkeys(test.touches for test in tests if test.touches)
        found = (harm(test, [stone], frozenset(), self.workbench.rules) for test in touching)
        return [
            {
                "test": hurt.test,
                "verdict": hurt.verdict,
                "reason": hurt.reason,
                "lifted_by": hurt.lifted_by,
                "source": hurt.source,
            }
            for hurt in found
            if hurt
        ]

    def sources(self) -> list[SourceAnswer]:
        """Return every source the material's own rows cite, in the order of their keys."""
        cited = {key for given, _ in values_with_source(self.material) for key in given.split(";")}
        return [
            {
                "key": source.key,
                "author": source.author,
                "title": source.title,
                "year": source.year,
                "where": source.where,
                "group": source.group,
                "how_seen": source.how_seen,
            }
            for source in (self.catalogue.sources[key] for key in sorted(cited))
        ]


def values_with_source(row: BaseModel) -> Iterator[tuple[str, bool]]:
    """Yield, for each value in ``row``, its sources and whether it is from memory alone."""
    given = getattr(row, "source", None)
    if isinstance(row, Care):
        yield from ((row.source, word in row.from_memory) for word in CARE_WORDS)
    elif given is not None:
        yield given, given == "memory"
    for name in type(row).model_fields:
        value = getattr(row, name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, BaseModel):
                yield from values_with_source(item)


def _words(steps: Mapping[Any, Step]) -> dict[str, str]:
    return {str(word): str(step) for word, step in steps.items()}


def _statement(said: Statement | None) -> StatementAnswer | None:
    return {"text": said.text, "source": said.source} if said else None


def _glow(glow: Glow) -> GlowAnswer:
    return {"look": glow.look, "seen": glow.seen, "source": glow.source}


def _pleochroism(said: Pleochroism | None) -> PleochroismAnswer | None:
    if said is None:
        return None
    return {"strength": said.strength, "colours": list(said.colours), "source": said.source}


def _filter(said: FilterReaction | None) -> FilterAnswer | None:
    return {"red": said.red, "source": said.source} if said else None


def care_answer(care: Care) -> CareAnswer:
    """Return what the bench may do, as plain values."""
    return {
        "torch": care.torch,
        "pickle": care.pickle,
        "ultrasonic": care.ultrasonic,
        "steam": care.steam,
        "light": care.light,
        "hazard": care.hazard,
        "source": care.source,
        "from_memory": list(care.from_memory),
    }
