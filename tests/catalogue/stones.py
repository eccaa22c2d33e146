"""Which kinds of stone of the catalogue a name in the reference tables means."""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from isogyre.catalogue import Catalogue, load_catalogue
from isogyre.catalogue.follow import Range, followed_range
from isogyre.catalogue.model import Body, Claim, Constants, Look, Material, TreatmentPractice
from isogyre.population.hypotheses import constants_of, looks_of

REFERENCE = Path(__file__).parents[1] / "reference"
INDICES = ("n", "n_o", "n_e", "n_alpha", "n_beta", "n_gamma")


@cache
def catalogue() -> Catalogue:
    return load_catalogue()


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of one reference table."""
    with (REFERENCE / name).open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(lines))


@dataclass(frozen=True)
class Kind:
    """One kind of stone: a material, grown in one way, of one colour type, untreated."""

    material: Material
    body: Body
    look: Look
    treatments: tuple[TreatmentPractice, ...] = ()

    @property
    def constants(self) -> Constants:
        return constants_of(self.material, self.body, None)


def words(cell: str) -> list[str]:
    """Return the parts of a cell, separated by semicolons."""
    return [part.strip() for part in cell.split(";") if part.strip()]


@cache
def reading_of(name: str) -> dict[str, str]:
    """Return the row of names.csv, or one that says that our name is the same."""
    same = {"materials": name, "bodies": "", "looks": "", "treatments": "", "why_not": ""}
    return next((row for row in table("names.csv") if row["name"] == name), same)


@cache
def kinds(name: str) -> tuple[Kind, ...]:
    """Return what ``name`` means here; nothing if the catalogue leaves it out on purpose."""
    row = reading_of(name)
    found = tuple(
        Kind(material, body, look, _treatments(material, row["treatments"]))
        for material in (catalogue().materials[part] for part in words(row["materials"]))
        for body in _bodies(material, words(row["bodies"]))
        for look in looks_of(material, body)
        if not row["looks"] or look.variety in words(row["looks"])
    )
    missing = set(words(row["looks"])) - {kind.look.variety for kind in found}
    if missing:
        raise LookupError(f"names.csv: '{name}' names looks that are not there: {missing}")
    return found


def _bodies(material: Material, said: list[str]) -> list[Body]:
    """Return the bodies named by growth, name, or both; the first growth if nothing is said."""
    wanted = said or [material.bodies[0].growth]
    found = [
        body
        for body in material.bodies
        if {body.growth, body.name, f"{body.growth} {body.name}"} & set(wanted)
    ]
    if not found:
        raise LookupError(f"names.csv: {material.name} has no body {said}")
    return found


def _treatments(material: Material, said: str) -> tuple[TreatmentPractice, ...]:
    return tuple(t for t in material.treatments if t.name in words(said))


def followed(claims: Iterable[Claim]) -> Range | None:
    return followed_range(tuple(claims), catalogue().sources)


def hull(ranges: Iterable[Range | None]) -> Range | None:
    """Return the range that just holds all the others."""
    known = [ends for ends in ranges if ends is not None]
    return (min(low for low, _ in known), max(high for _, high in known)) if known else None


@cache
def our_range(name: str, constant: str) -> Range | None:
    """Return the followed range of a constant over all kinds that ``name`` means.

    ``n`` is the range of all indices; another index is that one, or all if it is not known apart.
    """
    different = {id(kind.body): kind for kind in kinds(name)}.values()
    return hull(_one_range(kind, constant) for kind in different)


def _one_range(kind: Kind, constant: str) -> Range | None:
    constants = kind.constants
    all_indices = hull(followed(getattr(constants, index)) for index in INDICES)
    if constant == "n":
        return all_indices
    if constant == "birefringence":
        return _birefringence(kind)
    said = followed(getattr(constants, constant))
    return said or (all_indices if constant in INDICES else None)


def _birefringence(kind: Kind) -> Range | None:
    """Return what is followed, else the differences of the indices' ends, else 0 if isotropic."""
    constants = kind.constants
    said = followed(constants.birefringence)
    if said or kind.material.optic.character == "isotropic":
        return said or (0.0, 0.0)
    pair = ("n_alpha", "n_gamma") if constants.n_alpha else ("n_o", "n_e")
    one, other = (followed(getattr(constants, index)) for index in pair)
    if one is None or other is None:
        return None
    low, high = sorted(abs(b - a) for a, b in zip(one, other, strict=True))
    return low, high
