"""Chemical formulas and their mass."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

import isogyre.crystal
from isogyre.crystal.errors import FormulaError, UnknownElementError
from isogyre.crystal.formula import formula_mass, read_atomic_masses, read_formula

MASSES = read_atomic_masses(
    (Path(isogyre.crystal.__file__).parent / "atomic_masses.csv").read_text("utf-8").splitlines()
)

formulas = st.lists(
    st.tuples(st.sampled_from(sorted(MASSES)), st.integers(1, 12)), min_size=1, max_size=6
).map(lambda atoms: "".join(f"{symbol}{count}" for symbol, count in atoms))


@pytest.mark.parametrize(
    ("formula", "atoms"),
    [
        ("Al₂O₃", {"Al": 2, "O": 3}),
        ("Fe²⁺₃Al₂(SiO₄)₃", {"Fe": 3, "Al": 2, "Si": 3, "O": 12}),
        ("CuAl₆(PO₄)₄(OH)₈·4H₂O", {"Cu": 1, "Al": 6, "P": 4, "O": 28, "H": 16}),
        ("(K.84 Na.16) Ca4 Si8 O28 F H16", {"K": 0.84, "Na": 0.16, "Ca": 4, "Si": 8, "O": 28}),
        ("{Ca₂}{Al₂Fe³⁺}(Si₂O₇)(SiO₄)O(OH)", {"Ca": 2, "Al": 2, "Fe": 1, "Si": 3, "O": 13}),
        ("Na[(AlSiO4)SO4]", {"Na": 1, "Al": 1, "Si": 1, "O": 8, "S": 1}),
        ("Na₂Al₂Si₃O₁₀ * 2H₂O", {"Na": 2, "Al": 2, "Si": 3, "O": 12, "H": 4}),
        ("Ca Mg (CO3)2", {"Ca": 1, "Mg": 1, "C": 2, "O": 6}),
    ],
)
def test_a_formula_is_read_as_mineralogists_write_it(formula, atoms):
    read = read_formula(formula)
    assert {symbol: read[symbol] for symbol in atoms} == approx(atoms)


def test_every_published_formula_is_read_or_refused_for_its_open_composition(reference):
    rows = [r for r in reference("open_minerals.csv") if r["property"] == "formula"]
    assert len(rows) > 200
    refused = []
    for row in rows:
        try:
            assert formula_mass(row["text"], MASSES) > 0
        except FormulaError:
            refused.append(row["material"])
    assert refused == [r["material"] for r in rows if re.search(r"\(Mg,Fe\)", r["text"])]
    assert set(refused) == {"actinolite", "enstatite"}


def test_masses_agree_with_handbook_figures():
    # From memory of any chemist's table, to its two decimals.
    assert formula_mass("SiO2", MASSES) == approx(60.08, abs=0.006)
    assert formula_mass("CaCO₃", MASSES) == approx(100.09, abs=0.006)
    assert formula_mass("CaSO₄·2H₂O", MASSES) == approx(172.17, abs=0.006)


@given(one=formulas, other=formulas, times=st.integers(1, 9))
def test_mass_adds_up_over_groups(one, other, times):
    whole = formula_mass(f"{one}({other}){times}", MASSES)
    parts = formula_mass(one, MASSES) + times * formula_mass(other, MASSES)
    assert whole == approx(parts, rel=1e-12)


@given(one=formulas, times=st.integers(2, 9))
def test_an_addition_counts_its_molecules(one, times):
    assert formula_mass(f"{one}·{times}H₂O", MASSES) == approx(
        formula_mass(one, MASSES) + times * formula_mass("H2O", MASSES), rel=1e-12
    )


@pytest.mark.parametrize(
    ("formula", "reason"),
    [
        ("Ca2 (Mg,Fe)5 O4", "proportions"),
        ("Al2(SiO4", r"lacks its '\)'"),
        ("Al2SiO4)2", "closes no bracket"),
        ("Al2[SiO4)", "closes no bracket"),
        ("Al2 3", "follows no element"),
        ("Al2O3?", "not understood"),
        ("al2o3", "not understood"),
        ("", "names no element"),
    ],
)
def test_a_formula_without_one_fixed_composition_is_refused(formula, reason):
    with pytest.raises(FormulaError, match=reason):
        read_formula(formula)


def test_an_element_without_a_mass_is_refused_by_name():
    with pytest.raises(UnknownElementError, match="'Xx'"):
        formula_mass("Xx2O3", MASSES)
