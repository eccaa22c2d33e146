"""Unit cells, their volume, and the density of a perfect crystal."""

from collections import defaultdict
from math import cos, radians, sqrt
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

import isogyre.crystal
from isogyre.crystal.cell import Cell, formula_units, theoretical_density
from isogyre.crystal.errors import ImpossibleCellError
from isogyre.crystal.formula import formula_mass, read_atomic_masses

MASSES = read_atomic_masses(
    (Path(isogyre.crystal.__file__).parent / "atomic_masses.csv").read_text("utf-8").splitlines()
)
# Formula units in the conventional cell, as any textbook of mineralogy has them.
TEXTBOOK_UNITS = {
    "corundum": 6,
    "quartz": 3,
    "calcite": 6,
    "diamond": 8,
    "beryl": 2,
    "topaz": 4,
    "zircon": 4,
    "almandine": 8,
    "spodumene": 4,
    "chrysoberyl": 4,
}
edges = st.floats(2, 30)
angles = st.floats(35, 145)


def crystals(reference, source: str, density_text: str):
    """Return cell, formula and density of every material of which a source gives all three."""
    found = defaultdict(dict)
    for row in reference("open_minerals.csv"):
        if row["source_id"] != source:
            continue
        if row["property"].startswith("cell_"):
            found[row["material"]][row["property"].removeprefix("cell_")] = float(row["low"])
        elif row["property"] == "formula":
            found[row["material"]]["formula"] = row["text"]
        elif row["property"] == "density_calc" and row["text"].startswith(density_text):
            found[row["material"]]["density"] = float(row["low"])
    return {
        material: (Cell(**{k: v[k] for k in Cell.__annotations__}), v["formula"], v["density"])
        for material, v in found.items()
        if {*Cell.__annotations__, "formula", "density"} <= set(v)
    }


def test_published_crystals_hold_a_whole_number_of_formula_units(reference):
    # AMCSD, each row with the paper that solved the structure.
    published = crystals(reference, "AMCSD", "X-ray density")
    assert len(published) == 81
    units = {}
    for material, (cell, formula, density) in published.items():
        z = formula_units(cell, formula_mass(formula, MASSES), density)
        units[material] = round(z)
        # One per cent: rounded occupancies of the published structures.
        assert units[material] >= 1 and z == approx(units[material], rel=0.01), material
    assert {material: units[material] for material in TEXTBOOK_UNITS} == TEXTBOOK_UNITS


def test_most_published_x_ray_densities_are_met_to_their_last_figures(reference):
    published = crystals(reference, "AMCSD", "X-ray density")
    errors = []
    for cell, formula, density in published.values():
        mass = formula_mass(formula, MASSES)
        z = round(formula_units(cell, mass, density))
        errors.append(abs(theoretical_density(cell, mass, z) / density - 1))
    # Nine in ten within 0.1 %: newer atomic masses and rounded densities.
    assert sorted(errors)[int(0.9 * len(errors))] < 0.001


def test_densities_worked_out_elsewhere_from_handbook_cells_are_met(reference):
    # GEBPY: the density was worked out there from the same cell and formula.
    published = crystals(reference, "GEBPY", "computed here")
    assert len(published) == 37
    for material, (cell, formula, density) in published.items():
        mass = formula_mass(formula, MASSES)
        z = round(formula_units(cell, mass, density))
        assert z >= 1
        assert theoretical_density(cell, mass, z) == approx(density, rel=0.01), material


def test_a_cubic_cell_has_the_cube_of_its_edge():
    assert Cell(5.43, 5.43, 5.43).volume() == approx(5.43**3, rel=1e-12)
    assert Cell(4.76, 4.76, 12.99, gamma=120).volume() == approx(
        4.76**2 * 12.99 * sqrt(3) / 2, rel=1e-12
    )


@given(a=edges, b=edges, c=edges, alpha=angles, beta=angles, gamma=angles)
def test_a_triclinic_cell_has_the_volume_of_its_parallelepiped(a, b, c, alpha, beta, gamma):
    assume(alpha + beta + gamma < 350)
    assume(2 * max(alpha, beta, gamma) < alpha + beta + gamma - 10)
    x, y, z = (cos(radians(angle)) for angle in (alpha, beta, gamma))
    expected = a * b * c * sqrt(1 - x * x - y * y - z * z + 2 * x * y * z)
    # Flat cells lose digits in the difference; 1e-9 is a millionth of any measured volume.
    assert Cell(a, b, c, alpha, beta, gamma).volume() == approx(expected, rel=1e-9)


@given(a=edges, b=edges, c=edges, alpha=st.floats(70, 110), gamma=st.floats(70, 110))
def test_volume_does_not_depend_on_which_edge_is_named_first(a, b, c, alpha, gamma):
    one = Cell(a, b, c, alpha, 95, gamma)
    other = Cell(c, a, b, gamma, alpha, 95)
    assert one.volume() == approx(other.volume(), rel=1e-12)


@pytest.mark.parametrize(
    "parameters",
    [
        (0, 5, 5, 90, 90, 90),
        (5, 5, 5, 0, 90, 90),
        (5, 5, 5, 180, 90, 90),
        (5, 5, 5, 150, 40, 60),
        (5, 5, 5, 120, 120, 120),
    ],
)
def test_a_cell_that_cannot_be_built_is_refused(parameters):
    with pytest.raises(ImpossibleCellError, match="check the order alpha, beta, gamma"):
        Cell(*parameters)
