"""Sum a posterior over the names that answers are given in."""

import numpy as np
from numpy.typing import NDArray

from isogyre.population import Population

Array = NDArray[np.float64]

# What the user may want to settle, and the field of a label that answers it.
SETTLE = {"name": "species", "natural": "origin", "treated": "treatment"}
NO_TREATMENT = "none shown"


def sums(population: Population, posterior: Array, name: str) -> dict[str, float]:
    """Return the probability of each value of a label's field, greatest first."""
    values, codes = population.groups(name)
    totals = np.bincount(codes, posterior, len(values))
    order = np.argsort(-totals, kind="stable")
    return {values[index]: float(totals[index]) for index in order}
