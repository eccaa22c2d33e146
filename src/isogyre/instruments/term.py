"""A term of evidence: what one reading says about every hypothesis or every virtual stone.

There are two ways for a reading to meet the population. A *choice* is one of a few words and
has a table, hypothesis by word. A *measure* is a number and meets the virtual stones.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from isogyre.population import Population

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Term:
    """Log likelihood of one reading, by row or by stone, and what its tail is reckoned from.

    Exactly one of ``rows`` (hypotheses) and ``stones`` (strata, stones) is given. A choice
    carries its outcome ``table`` and the ``outcome`` weights; a measure its standardised
    residuals ``z``, one array for each number read.
    """

    rows: Array | None = None
    stones: Array | None = None
    table: Array | None = None
    outcome: Array | None = None
    z: tuple[Array, ...] = ()


def choice(population: Population, table: Array, outcome: Array | int, trust: float = 1.0) -> Term:
    """Return the term of a word chosen from a few.

    Parameters
    ----------
    table
        Probability of each word for each hypothesis, shape (hypotheses, words).
    outcome
        The column chosen, or weights over the columns where the word is ambiguous.
    trust
        Chance that the word means what the vocabulary means by it. The rest is spread as in an
        average stone, which bounds how much one misunderstood word can do.
    """
    weights = np.eye(table.shape[1])[outcome] if isinstance(outcome, int) else outcome
    average = population.prior @ table
    blurred = trust * table + (1 - trust) * average
    return Term(rows=np.log(blurred @ weights), table=blurred, outcome=weights)


def measure(log_density: Array, *z: Array) -> Term:
    """Return the term of a number; unread indices (NaN) give the same density to all."""
    floor = np.log(1e-3)
    return Term(stones=np.where(np.isfinite(log_density), log_density, floor), z=z)


def tail_probability(term: Term, row_weight: Array, stone_weight: Array) -> float:
    """Return the chance of a reading at least as surprising as this one.

    Parameters
    ----------
    row_weight
        Weights of the hypotheses, summing to 1.
    stone_weight
        Weights of the stones, shape (strata, stones), summing to 1.
    """
    if term.table is not None and term.outcome is not None:
        expected = row_weight @ term.table
        seen = float(expected @ term.outcome / term.outcome.sum())
        total = expected.sum()
        return float(expected[expected <= seen * (1 + 1e-9)].sum() / total) or seen / total
    tails = [_two_sided(float((stone_weight * ndtr(np.nan_to_num(z))).sum())) for z in term.z]
    return 1 - (1 - min(tails)) ** len(tails) if tails else 1.0


def _two_sided(below: float) -> float:
    return 2 * min(below, 1 - below)


def mixture(
    x: float, mean: Array, sd: Array | float, parts: tuple[tuple[float, float], ...], floor: float
) -> Array:
    """Return the log density at ``x`` of normals of ``parts`` (weight, widening) plus a floor.

    ``floor`` is the density of a blunder: a reading that has nothing to do with the stone.
    """
    z = (x - mean) / sd
    density = floor + sum(
        weight / wider * np.exp(-0.5 * (z / wider) ** 2) for weight, wider in parts
    ) / (np.sqrt(2 * np.pi) * sd)
    log: Array = np.log(density)
    return log
