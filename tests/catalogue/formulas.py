"""Whether two formulas speak of the same compound."""

import re

from isogyre.crystal.errors import FormulaError
from isogyre.crystal.formula import read_formula

# Formulas are compared by the share of each element among the atoms: a crystal that was measured
# is never quite ideal, and a third of a mixed place may be taken by the next element.
ATOM_SHARE_ERROR = 0.05


def ours_and_theirs_agree(ours: str, theirs: str) -> bool:
    """Return whether any of our formulas has the published elements in like proportions."""
    published = shares(theirs)
    parts = re.split(
        r" to |; | and |, (?=[A-Z])| with | after ", re.sub(r" \(\w[a-z ]+\)", "", ours)
    )
    return any(_alike(part, published) for part in parts)


def _alike(ours: str, published: dict[str, float]) -> bool:
    try:
        mine = shares(ours)
    except FormulaError:
        return False
    return all(
        abs(mine.get(atom, 0.0) - published.get(atom, 0.0)) <= ATOM_SHARE_ERROR
        for atom in mine.keys() | published.keys()
    )


def shares(formula: str) -> dict[str, float]:
    """Return the share of each element among the atoms other than hydrogen.

    Where elements share a place without proportions, as in (Mg,Fe), the first is taken for all;
    hydrogen is left out because measured crystals often do not report it.
    """
    plain = re.sub(r"(?<=[\w)])\.(?=\d*[A-Z])", "·", formula).replace("*", "·")
    first = re.sub(r"\(([A-Z][a-z]?)(?:,[A-Z][a-z]?)+\)", r"\1", plain)
    first = re.sub(r"\(([^(),]+|OH)(?:,[^(),]+)+\)", r"(\1)", first).replace("·n", "·")
    atoms = {atom: count for atom, count in read_formula(first).items() if atom != "H"}
    return {atom: count / sum(atoms.values()) for atom, count in atoms.items()}
