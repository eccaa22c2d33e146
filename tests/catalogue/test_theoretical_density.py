"""The density of the perfect crystal, from cell and formula, beside the followed range of SG."""

from collections import defaultdict
from functools import cache
from pathlib import Path

import pytest

import isogyre.crystal
from isogyre.crystal.cell import Cell, formula_units, theoretical_density
from isogyre.crystal.formula import formula_mass, read_atomic_masses
from tests.catalogue.stones import our_range, reading_of, table

MASSES = read_atomic_masses(
    (Path(isogyre.crystal.__file__).parent / "atomic_masses.csv").read_text("utf-8").splitlines()
)
# One per cent is what hydrostatic weighing of a small stone is worth, half of one what the
# composition of a chosen crystal moves an otherwise pure mineral.
SHARE = 0.015
EXPLAINED = {
    "cordierite (iolite)": "the crystal is without the water and iron that gems hold",
    "cubic zirconia": "pure zirconia; the gem is stabilised with lighter oxides of another cell",
    "ekanite": "the gem is metamict: radiation has swollen the crystal",
    "gaspéite": "pure nickel carbonate; the gem is magnesian and massive",
}


@cache
def densities() -> dict[tuple[str, str], float]:
    """Return the density in g/cm3 by (material, source) for each crystal with cell and formula."""
    found: dict[tuple[str, str], dict[str, str]] = defaultdict(dict)
    for row in table("open_minerals.csv"):
        name = row["property"]
        spread = name == "density_calc" and row["low"] != row["high"]
        if row["source_id"] in ("AMCSD", "GEBPY") and not spread:
            found[row["material"], row["source_id"]].setdefault(name, row["low"] or row["text"])
    wanted = {f"cell_{name}" for name in Cell.__annotations__} | {"formula", "density_calc"}
    return {key: _density(cells) for key, cells in found.items() if wanted <= set(cells)}


def _density(cells: dict[str, str]) -> float:
    cell = Cell(**{name: float(cells[f"cell_{name}"]) for name in Cell.__annotations__})
    mass = formula_mass(cells["formula"], MASSES)
    # The published density only says how many formula units the cell holds.
    units = round(formula_units(cell, mass, float(cells["density_calc"])))
    return theoretical_density(cell, mass, units)


def outside(material: str, density: float) -> float:
    """Return by which share of itself a density lies outside our range; 0 inside."""
    ours = our_range(material, "sg")
    assert ours is not None, f"{material} has no SG"
    return max(ours[0] / density - 1, 1 - ours[1] / density, 0.0)


@pytest.mark.parametrize(("material", "source"), sorted(densities()))
def test_the_perfect_crystal_is_as_dense_as_the_gem(material, source):
    if reading_of(material)["why_not"]:
        pytest.skip(reading_of(material)["why_not"])
    share = outside(material, densities()[material, source])
    assert share <= SHARE or material in EXPLAINED, f"{share:.1%} outside"


def test_every_explained_density_still_lies_outside():
    """A material is explained only while one of its crystals disagrees."""
    shares = {key: outside(key[0], rho) for key, rho in densities().items() if key[0] in EXPLAINED}
    assert {material for (material, _), share in shares.items() if share > SHARE} == set(EXPLAINED)


def test_enough_crystals_are_compared():
    # 81 crystals of one source and 37 of the other have cell, formula and density.
    assert len(densities()) >= 115
