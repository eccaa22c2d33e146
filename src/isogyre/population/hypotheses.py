"""Every hypothesis the program weighs: material x growth x look x treatment, with its prior."""

from collections.abc import Iterator
from dataclasses import dataclass

from isogyre.catalogue import Catalogue
from isogyre.catalogue.model import (
    STEP_PROBABILITY,
    Body,
    Constants,
    Look,
    Material,
    Step,
    TreatmentPractice,
)

# A treatment met outside the growths it is practised on: rare, never impossible, so that the
# grid of growth x treatment has no hole (a filled synthetic must be able to win).
UNPRACTISED_SHARE = 0.01
MOST_TREATED_SHARE = 0.97
# For a material the steps say how often a working bench meets it: every day, every week, every
# month, a few times a year, once in a career. In stones a year (judgement):
STONES_A_YEAR: dict[Step, float] = {
    "nearly always": 250.0,
    "often": 50.0,
    "at times": 12.0,
    "seldom": 3.0,
    "hardly ever": 0.05,
}
# Collector stones are over-represented among stones that need testing, hence the square root.
COMMONNESS_EXPONENT = 0.5
INDEX_FIELDS = ("n", "n_o", "n_e", "n_alpha", "n_beta", "n_gamma")


@dataclass(frozen=True)
class Hypothesis:
    """One kind of stone: what it is, how it came about, its colour type and what was done to it."""

    material: Material
    body: Body
    look: Look
    treatment: TreatmentPractice | None
    prior: float

    @property
    def stratum(self) -> tuple[str, int, int]:
        """Return the key of the constants this kind of stone shares with others.

        Material, number of the body, number of the treatment if it changes constants (else -1).
        """
        treatments = self.material.treatments
        changed = self.treatment is not None and _changes_constants(self.treatment)
        number = treatments.index(self.treatment) if self.treatment and changed else -1
        return (self.material.name, self.material.bodies.index(self.body), number)

    @property
    def treatment_name(self) -> str:
        """Return the treatment, or the empty string for none."""
        return self.treatment.name if self.treatment else ""


def hypotheses(catalogue: Catalogue) -> list[Hypothesis]:
    """Expand the catalogue; priors sum to 1 and do not grow when a species is split finely."""
    by_species: dict[str, list[Material]] = {}
    for material in catalogue.materials.values():
        by_species.setdefault(material.species, []).append(material)
    # How often a species is met is the sum over its materials: glass is many goods, not one.
    weights = {
        species: sum(STONES_A_YEAR[m.how_common] for m in materials) ** COMMONNESS_EXPONENT
        for species, materials in by_species.items()
    }
    total = sum(weights.values())
    return [
        hypothesis
        for species, materials in by_species.items()
        for hypothesis in _of_species(materials, weights[species] / total)
    ]


def _of_species(materials: list[Material], prior: float) -> Iterator[Hypothesis]:
    shares = _shares([STONES_A_YEAR[m.how_common] ** COMMONNESS_EXPONENT for m in materials])
    for material, share in zip(materials, shares, strict=True):
        yield from _of_material(material, prior * share)


def _of_material(material: Material, prior: float) -> Iterator[Hypothesis]:
    bodies = _shares([STEP_PROBABILITY[body.how_common] for body in material.bodies])
    for body, body_share in zip(material.bodies, bodies, strict=True):
        grown_looks = looks_of(material, body)
        looks = _shares([STEP_PROBABILITY[look.how_common] for look in grown_looks])
        for look, look_share in zip(grown_looks, looks, strict=True):
            for treatment, treated_share in _treatments(material, body, look):
                share = prior * body_share * look_share * treated_share
                yield Hypothesis(material, body, look, treatment, share)


def looks_of(material: Material, body: Body) -> list[Look]:
    """Return the looks of ``body``, with what they leave unsaid taken from the first body."""
    first = {look.variety: look for look in material.bodies[0].looks}
    if not body.looks:
        return list(first.values())
    return [_completed(look, first.get(look.like)) for look in body.looks]


def _completed(look: Look, model: Look | None) -> Look:
    if model is None:
        return look
    unsaid = {name for name in Look.model_fields if name not in look.model_fields_set}
    return look.model_copy(update={name: getattr(model, name) for name in unsaid})


def constants_of(material: Material, body: Body, treatment: TreatmentPractice | None) -> Constants:
    """Return the constants that hold: the treatment's before the body's before the material's."""
    said = material.constants
    for layer in (body.constants, treatment.constants if treatment else Constants()):
        update = {name: getattr(layer, name) for name in layer.model_fields_set}
        if any(name in INDEX_FIELDS for name in update):
            # A layer that gives any index gives them all: o and e belong together.
            update = dict.fromkeys((*INDEX_FIELDS, "birefringence"), ()) | update
        said = said.model_copy(update=update)
    return said


def _changes_constants(treatment: TreatmentPractice) -> bool:
    return bool(treatment.constants.model_fields_set)


def _treatments(
    material: Material, body: Body, look: Look
) -> list[tuple[TreatmentPractice | None, float]]:
    """Return the treatments such a stone may have had, each once, with its share, and none."""
    possible = [
        treatment
        for treatment in material.treatments
        if not treatment.looks or look.variety in treatment.looks or look.like in treatment.looks
    ]
    # A row for another growth stands in only where this growth has no row of its own.
    ordered = sorted(possible, key=lambda one: _is_practised(material, body, one))
    once = {one.name: one for one in ordered}.values()
    shares = [(treatment, _practised_share(material, body, treatment)) for treatment in once]
    total = sum(share for _, share in shares)
    scale = min(1.0, MOST_TREATED_SHARE / total) if total else 1.0
    treated = [(treatment, share * scale) for treatment, share in shares]
    return [(None, 1.0 - total * scale), *treated]


def _practised_share(material: Material, body: Body, treatment: TreatmentPractice) -> float:
    share = STEP_PROBABILITY[treatment.how_common]
    is_rare = not _is_practised(material, body, treatment)
    return min(UNPRACTISED_SHARE, share) if is_rare else share


def _is_practised(material: Material, body: Body, treatment: TreatmentPractice) -> bool:
    return body.growth in (treatment.growths or (material.bodies[0].growth,))


def _shares(weights: list[float]) -> list[float]:
    total = sum(weights)
    return [weight / total for weight in weights]
