"""Chemical formulas, read as mineralogists write them, and the mass of a formula unit."""

import csv
import re
from collections.abc import Iterable, Mapping

from isogyre.crystal.errors import FormulaError, UnknownElementError

Atoms = dict[str, float]

SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
CHARGES = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹]*[⁺⁻]")
# The dot or star before water of crystallisation; a full stop is a decimal point, as in ".84".
ADDITION = re.compile("[·•*]")
NUMBER = r"\d*\.\d+|\d+"
TOKEN = re.compile(rf"\s*(?:([A-Z][a-z]?)|([(\[{{])|([)\]}}])|({NUMBER}))\s*")
CLOSING = {"(": ")", "[": "]", "{": "}"}


def read_atomic_masses(lines: Iterable[str]) -> dict[str, float]:
    """Return atomic masses in g/mol by symbol, from the lines of `atomic_masses.csv`.

    That table holds the abridged standard atomic weights of 2021 (Prohaska and others, Pure
    and Applied Chemistry 94, 2022), read through the package periodictable 2.1.0.
    """
    return {row["symbol"]: float(row["mass_g_mol"]) for row in csv.DictReader(lines)}


def read_formula(formula: str) -> Atoms:
    """Return how many atoms of each element one formula unit holds.

    Reads brackets of any kind, decimal counts ("Mg.77"), subscripts, charges (dropped) and
    additions such as "·2H₂O". Raises FormulaError if brackets do not close, or if elements
    share a place without saying in which proportion, as in "(Mg,Fe)".
    """
    plain = CHARGES.sub("", formula).translate(SUBSCRIPTS)
    atoms: Atoms = {}
    for part in ADDITION.split(plain):
        # An addition may open with the number of its molecules.
        count = re.match(rf"\s*({NUMBER})", part)
        times = float(count[1]) if count else 1.0
        _add(atoms, _read_part(part[count.end() :] if count else part, formula), times)
    return atoms


def formula_mass(formula: str, atomic_masses: Mapping[str, float]) -> float:
    """Return the mass of one formula unit in g/mol; raises also UnknownElementError.

    Natural variation of the elements' isotopes leaves it good to a few parts in 10,000.
    """
    atoms = read_formula(formula)
    for symbol in atoms:
        if symbol not in atomic_masses:
            raise UnknownElementError(symbol)
    return sum(count * atomic_masses[symbol] for symbol, count in atoms.items())


def _read_part(part: str, formula: str) -> Atoms:
    """Return the atoms of a formula without additions, working bracket by bracket."""
    open_groups: list[Atoms] = [{}]
    awaited: list[str] = []
    # What the last element or bracket brought in, until a number after it is known.
    last: Atoms = {}
    for symbol, opened, closed, number in _tokens(part, formula):
        if number and not last:
            raise FormulaError(formula, f"the number {number} follows no element or bracket")
        _add(open_groups[-1], last, float(number) if number else 1.0)
        last = {symbol: 1.0} if symbol else {}
        if opened:
            open_groups.append({})
            awaited.append(CLOSING[opened])
        elif closed:
            if not awaited or awaited.pop() != closed:
                raise FormulaError(formula, f"'{closed}' closes no bracket")
            last = open_groups.pop()
    _add(open_groups[-1], last, 1.0)
    if awaited:
        raise FormulaError(formula, f"a bracket lacks its '{awaited[-1]}'")
    if not open_groups[0]:
        raise FormulaError(formula, "it names no element")
    return open_groups[0]


def _tokens(part: str, formula: str) -> Iterable[tuple[str, str, str, str]]:
    """Yield symbol, opening bracket, closing bracket and number; one of them is not empty."""
    place = 0
    while place < len(part):
        token = TOKEN.match(part, place)
        if not token:
            rest = part[place:].strip()
            reason = f"'{rest}' is not understood"
            if rest.startswith(","):
                reason = "elements that share a place need their proportions, as in (Mg.9 Fe.1)"
            raise FormulaError(formula, reason)
        symbol, opened, closed, number = token.groups(default="")
        yield symbol, opened, closed, number
        place = token.end()


def _add(atoms: Atoms, more: Atoms, times: float) -> None:
    for symbol, count in more.items():
        atoms[symbol] = atoms.get(symbol, 0.0) + count * times
