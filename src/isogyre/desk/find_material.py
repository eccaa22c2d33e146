"""Find a material by whatever the trade calls it, a slip of spelling forgiven."""

import re
from collections.abc import Iterator, Mapping

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from isogyre.catalogue import Catalogue, UnknownMaterialError
from isogyre.catalogue.model import STEP_PROBABILITY, Material

# A slip is a letter wrong, missing, too many, or two of them swapped.
ONE_SLIP_FROM_LETTERS, TWO_SLIPS_FROM_LETTERS = 5, 8
NEAR, MOST_NEAR = 55.0, 5
LONGEST_NAME = 80


def find_material(catalogue: Catalogue, name: str) -> tuple[str, Material]:
    """Return the name that ``name`` was read as, and the material it belongs to.

    Raises
    ------
    UnknownMaterialError
        With the nearest names, if none is near enough to be meant or several are.
    """
    known = names_of(catalogue)
    wanted = _plain(name)[:LONGEST_NAME]
    if wanted in known:
        return known[wanted]
    slips = (len(wanted) >= ONE_SLIP_FROM_LETTERS) + (len(wanted) >= TWO_SLIPS_FROM_LETTERS)
    meant = process.extract(wanted, known.keys(), scorer=OSA.distance, score_cutoff=slips)
    nearest = [key for key, distance, _ in meant if distance == meant[0][1]]
    if len({known[key][1].name for key in nearest}) == 1:
        return known[nearest[0]]
    alike = process.extract(wanted, known.keys(), scorer=fuzz.ratio, limit=MOST_NEAR)
    near = [*nearest, *(key for key, score, _ in alike if score >= NEAR)]
    shown = dict.fromkeys(known[key][0] for key in near)
    raise UnknownMaterialError(" ".join(name.split())[:LONGEST_NAME], list(shown)[:MOST_NEAR])


def names_of(catalogue: Catalogue) -> Mapping[str, tuple[str, Material]]:
    """Return every name in plain spelling with the name as written and its material.

    A material's own name comes before a species, that before other names and varieties; of
    several materials under one word the commonest is meant.
    """
    materials = sorted(catalogue.materials.values(), key=lambda m: -STEP_PROBABILITY[m.how_common])
    known: dict[str, tuple[str, Material]] = {}
    for names in (_own, _species, _others):
        for material in materials:
            for name in names(material):
                known.setdefault(_plain(name), (name, material))
    return known


def _own(material: Material) -> Iterator[str]:
    yield material.name


def _species(material: Material) -> Iterator[str]:
    yield material.species


def _others(material: Material) -> Iterator[str]:
    yield from material.also_called
    for body in material.bodies:
        yield from filter(None, (body.name, *(look.variety for look in body.looks)))
    yield from filter(None, (material.group,))


def _plain(name: str) -> str:
    """Return a name in lower case, its words alone and in their order."""
    return " ".join(re.findall(r"\w+", name.lower()))
