"""The unit cell: its volume, and the density a perfect crystal would have."""

from dataclasses import dataclass
from math import cos, radians, sqrt

import numpy as np
from numpy.typing import NDArray

from isogyre.crystal.errors import ImpossibleCellError

FloatArray = NDArray[np.float64]

# 10^24 / N_A: turns g/mol per Å3 into g/cm3. N_A is exact since the SI of 2019.
G_CM3_PER_G_MOL_A3 = 1e24 / 6.02214076e23


@dataclass(frozen=True)
class Cell:
    """A unit cell: edges in ångström, angles in degrees, alpha between b and c.

    Raises ImpossibleCellError if no such cell can be built.
    """

    a: float
    b: float
    c: float
    alpha: float = 90.0
    beta: float = 90.0
    gamma: float = 90.0

    def __post_init__(self) -> None:
        edges, angles = (self.a, self.b, self.c), (self.alpha, self.beta, self.gamma)
        sharp = all(0 < angle < 180 for angle in angles)
        closes = sum(angles) < 360 and 2 * max(angles) < sum(angles)
        if min(edges) <= 0 or not sharp or not closes:
            raise ImpossibleCellError(edges, angles)

    def metric(self) -> FloatArray:
        """Return the metric tensor in Å2: scalar products of the edges with each other."""
        edges = np.array([self.a, self.b, self.c])
        cos_alpha, cos_beta, cos_gamma = (
            # Exactly 0 at 90°, so that rectangular cells keep round answers.
            0.0 if angle == 90 else cos(radians(angle))
            for angle in (self.alpha, self.beta, self.gamma)
        )
        cosines = [
            [1.0, cos_gamma, cos_beta],
            [cos_gamma, 1.0, cos_alpha],
            [cos_beta, cos_alpha, 1.0],
        ]
        return np.asarray(np.outer(edges, edges) * cosines)

    def volume(self) -> float:
        """Return the volume in Å3, the root of the metric tensor's determinant."""
        return sqrt(np.linalg.det(self.metric()))


def theoretical_density(cell: Cell, formula_mass_g_mol: float, formula_units: float) -> float:
    """Return the density in g/cm3 of a crystal with Z formula units in every cell.

    A natural stone is often lighter: water, voids and substitutions are not in the formula.
    """
    return G_CM3_PER_G_MOL_A3 * formula_units * formula_mass_g_mol / cell.volume()


def formula_units(cell: Cell, formula_mass_g_mol: float, density_g_cm3: float) -> float:
    """Return Z, the number of formula units in the cell that a density speaks for.

    Not rounded: a figure far from a whole number says that cell, formula and density do not
    belong to the same crystal.
    """
    return density_g_cm3 / theoretical_density(cell, formula_mass_g_mol, 1)
