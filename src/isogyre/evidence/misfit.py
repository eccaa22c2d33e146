"""Does anything not fit, and if so, which reading is the suspect."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.evidence.posterior import Evidence, Likelihood
from isogyre.instruments import tail_probability
from isogyre.population import Population

Array = NDArray[np.float64]

# Hypotheses e^15 less probable than the leader cannot change which reading is suspected.
NEGLIGIBLE = 15.0
NO_STONES: Array = np.empty((0, 0))


@dataclass(frozen=True)
class Suspect:
    """How surprising one reading is, given all the others."""

    field: str
    shown: str
    tail_probability_without: float
    blunder_probability: float


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
    blunders = _blunder_probabilities(evidence, judged, log_prior)
    for index, blunder in zip(judged, blunders, strict=True):
        without = evidence.likelihood(without=index)
        rows = without.posterior(log_prior)
        reading = evidence.readings[index]
        tail = _tail(evidence, index, rows, without)
        suspects.append(Suspect(reading.field, reading.shown, tail, blunder))
        inside.append(_tail_inside(evidence, index, rows, without, leader))
    suspects.sort(key=lambda suspect: -suspect.blunder_probability)
    whole = 1 - (1 - min(inside)) ** len(inside) if inside else 1.0
    return Misfit(float(np.clip(whole, 0, 1)), tuple(suspects))


def _blunder_probabilities(
    evidence: Evidence, judged: Sequence[int], log_prior: Array
) -> list[float]:
    """Return how probable it is that one reading, and no other, has gone wrong."""
    sound = _log_sum(log_prior + evidence.likelihood().by_row)
    weights = np.array([sound, *(_log_blundered(evidence, i, log_prior) for i in judged)])
    shares = np.exp(weights - weights.max())
    return [float(share) for share in shares[1:] / shares.sum()]


def _log_blundered(evidence: Evidence, index: int, log_prior: Array) -> float:
    """Return the log of: the others hold, and this one went wrong by as much as it shows."""
    population, term = evidence.population, evidence.terms[index]
    without = evidence.likelihood(without=index)
    log = log_prior + without.by_row + np.log(evidence.readings[index].blunders)
    if not term.can_be_misread:
        # Gone wrong, it is any reading that stones at large would give.
        at_large = _at_large(evidence, index)
        return _log_sum(log) + _log_sum(log_prior + at_large)
    held = log > log.max() - NEGLIGIBLE
    strata, place = np.unique(population.stratum[held], return_inverse=True)
    wrong = without.stone_weight[strata] * np.exp(term.log_blundered(strata))
    return _log_sum(log[held] + np.log(wrong.sum(axis=1) + 1e-300)[place])


def _at_large(evidence: Evidence, index: int) -> Array:
    """Return the log likelihood of one reading alone, hypothesis by hypothesis."""
    term = evidence.terms[index]
    if term.rows is not None:
        return term.rows
    return Evidence(evidence.population, (evidence.readings[index],), (term,)).likelihood().by_row


def _log_sum(log: Array) -> float:
    top = log.max()
    return float(top + np.log(np.exp(log - top).sum()))


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
