"""One virtual stone, complete with its own constants: what an instrument can be pointed at."""

from dataclasses import dataclass

import numpy as np

from isogyre.population.population import Population


@dataclass(frozen=True)
class VirtualStone:
    """A stone drawn from a population. Indices are for sodium light, density is relative.

    ``row`` is the hypothesis it was drawn from: what it really is.
    """

    row: int
    n_alpha: float
    n_beta: float
    n_gamma: float
    sg: float
    hardness: float

    @property
    def n_mean(self) -> float:
        """Return the mean of the extreme indices."""
        return (self.n_alpha + self.n_gamma) / 2

    @property
    def birefringence(self) -> float:
        """Return the greatest difference of the indices."""
        return self.n_gamma - self.n_alpha


def draw_stone(
    population: Population, rng: np.random.Generator, row: int | None = None
) -> VirtualStone:
    """Draw a stone of hypothesis ``row``, or of any hypothesis as often as the prior meets it.

    A stone drawn here shares its indices with one that inference weighs. To measure inference,
    draw from a denser population than the one that answers: its rows are the same.
    """
    if row is None:
        row = int(rng.choice(len(population.prior), p=population.prior / population.prior.sum()))
    stones = population.stones
    stratum = population.stratum[row]
    place = (stratum, int(rng.integers(stones.n_alpha.shape[1])))
    sg = stones.sg_mean[place] + stones.sg_sd[place] * rng.standard_normal()
    return VirtualStone(
        row=row,
        n_alpha=float(stones.n_alpha[place]),
        n_beta=float(stones.n_beta[place]),
        n_gamma=float(stones.n_gamma[place]),
        sg=float(sg),
        hardness=float(stones.hardness[place]),
    )
