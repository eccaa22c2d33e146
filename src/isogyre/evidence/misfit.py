"""Does anything not fit, and if so, which reading is the suspect."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.evidence.posterior import Evidence, Likelihood
from isogyre.instruments import tail_probability
from isogyre.population import Population

Array = NDArray[np.float64]

NO_STONES: Array = np.empty((0, 0))


@dataclass(frozen=True)
class Suspect:
    """How surprising one reading is, given all the others."""

    field: str
    shown: str
    tail_probability_without: float


@dataclass(frozen=True)
class Misfit:
    """How surprising the readings are even for the best species, and what sticks out."""

    tail_probability: float
    suspects: tuple[Suspect, ...]


def misfit(evidence: Evidence, log_prior: Array, posterior: Array) -> Misfit:
    """Return the misfit of the readings.

    A suspect is judged by the stones that the *other* readings leave standing, of whatever
    species. The whole is judged within the leading species: the smallest tail there, corrected
    for the number of readings looked at.
    """
    judged = [i for i, t in enumerate(evidence.terms) if t.is_judged]
    suspects, inside = [], []
    leader = _leading_species(evidence.population, posterior)
    for index in judged:
        without = evidence.likelihood(without=index)
        rows = without.posterior(log_prior)
        reading = evidence.readings[index]
        tail = _tail(evidence, index, rows, without)
        suspects.append(Suspect(reading.field, reading.shown, tail))
        inside.append(_tail_inside(evidence, index, rows, without, leader))
    suspects.sort(key=lambda suspect: suspect.tail_probability_without)
    whole = 1 - (1 - min(inside)) ** len(inside) if inside else 1.0
    return Misfit(float(np.clip(whole, 0, 1)), tuple(suspects))


def _leading_species(population: Population, posterior: Array) -> NDArray[np.bool_]:
    names, codes = population.groups("species")
    totals = np.bincount(codes, posterior, len(names))
    mask: NDArray[np.bool_] = codes == int(totals.argmax())
    return mask


def _tail_inside(
    evidence: Evidence, index: int, rows: Array, without: Likelihood, leader: NDArray[np.bool_]
) -> float:
    """Return the tail of one reading among the stones of the leading species only."""
    held = rows * leader
    if held.sum() < 1e-12:
        held = evidence.population.prior * leader
    held = held / held.sum()
    return _tail(evidence, index, held, without)


def _tail(evidence: Evidence, index: int, rows: Array, without: Likelihood) -> float:
    # A choice is judged by the hypotheses alone.
    stones = (
        without.stone_posterior(rows) if evidence.terms[index].stones is not None else NO_STONES
    )
    return tail_probability(evidence.terms[index], rows, stones)
