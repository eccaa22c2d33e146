"""A term of evidence: what one reading says about every hypothesis or every virtual stone.

There are two ways for a reading to meet the population. A *choice* is one of a few words and
has a table, hypothesis by word. A *measure* is a number and meets the virtual stones.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from isogyre.population import Population

Array = NDArray[np.float64]

ROOT_TWO_PI = float(np.sqrt(2 * np.pi))
DRAWS = 192
# Evenly spread normal errors in an order that has nothing to do with that of the stones.
NOISE = tuple(ndtri((np.arange(DRAWS) * step % DRAWS + 0.5) / DRAWS) for step in (71, 115, 149))


@dataclass(frozen=True, eq=False)
class Figure:
    """A number read, what each virtual stone would give, and with which standard deviation.

    ``blunder_sd`` is how far off a reading usually lies that went wrong; 0 if it cannot.
    """

    value: float
    expected: Array
    sd: Array | float
    blunder_sd: Array | float = 0.0

    def log_blundered(self, strata: NDArray[np.intp]) -> Array:
        """Return the log density of the figure on stones of ``strata``, had it gone wrong."""
        shape = self.expected.shape
        sd = np.hypot(
            np.broadcast_to(self.sd, shape)[strata], np.broadcast_to(self.blunder_sd, shape)[strata]
        )
        z = (self.value - self.expected[strata]) / sd
        log: Array = -0.5 * z**2 - np.log(ROOT_TWO_PI * sd)
        return log


@dataclass(frozen=True, eq=False)
class Term:
    """Log likelihood of one reading, by row or by stone, and what its tail is reckoned from.

    Exactly one of ``rows`` (hypotheses) and ``stones`` (strata, stones) is given. A choice
    carries its outcome ``table`` and the ``outcome`` weights; a measure its ``figures``, or the
    ``chance`` of the one answer that was given.
    """

    rows: Array | None = None
    stones: Array | None = None
    table: Array | None = None
    outcome: Array | None = None
    figures: tuple["Figure", ...] = ()
    chance: Array | None = None
    unspoilt: Array | float = 0.0

    @property
    def is_judged(self) -> bool:
        """Whether a tail can be reckoned: a comparison in words has none."""
        return self.table is not None or self.chance is not None or bool(self.figures)

    @property
    def can_be_misread(self) -> bool:
        """Whether it is known how far off such a reading lies when it has gone wrong."""
        return any(np.any(figure.blunder_sd) for figure in self.figures)

    def log_blundered(self, strata: NDArray[np.intp]) -> Array:
        """Return the log density on stones of ``strata``, had the reading gone wrong."""
        if self.stones is None:
            raise ValueError("a choice of words does not meet virtual stones")
        wrong = np.broadcast_to(self.unspoilt, self.stones.shape)[strata].copy()
        for figure in self.figures:
            wrong += figure.log_blundered(strata)
        return wrong


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


def measure(log_density: Array, *figures: Figure, unspoilt: Array | float = 0.0) -> Term:
    """Return the term of a number; unread indices (NaN) give the same density to all.

    ``unspoilt`` is the part of the log density that no misread figure can change, such as
    having seen one edge and not two.
    """
    floor = np.log(1e-3)
    stones = np.where(np.isfinite(log_density), log_density, floor)
    return Term(stones=stones, figures=figures, unspoilt=unspoilt)


def yes(chance: Array) -> Term:
    """Return the term of a yes with its ``chance`` for each stone, shape (strata, stones)."""
    return Term(stones=np.log(chance), chance=chance)


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
    if term.chance is not None:
        expected_yes = float((stone_weight * term.chance).sum())
        return expected_yes if expected_yes <= 0.5 else 1.0
    return _tail_of_figures(term.figures, stone_weight) if term.figures else 1.0


def _tail_of_figures(figures: tuple[Figure, ...], stone_weight: Array) -> float:
    """Return how much of what could be read is less likely than what was read.

    By density, not by distance from the middle: a figure in the gap between two kinds of stone
    is a surprise. Judged on ``DRAWS`` readings of stones drawn by their weight.
    """
    drawn = _drawn(stone_weight)
    log_expected = np.zeros((DRAWS, DRAWS))
    log_seen = np.zeros(DRAWS)
    for number, figure in enumerate(figures):
        mean = np.nan_to_num(figure.expected.ravel()[drawn], nan=9.0)
        sd = np.broadcast_to(figure.sd, figure.expected.shape).ravel()[drawn]
        read = mean + sd * NOISE[number]
        log_expected += -0.5 * ((read[:, None] - mean) / sd) ** 2 - np.log(sd)
        log_seen += -0.5 * ((figure.value - mean) / sd) ** 2 - np.log(sd)
    expected, seen = _mean_density(log_expected), float(_mean_density(log_seen[None])[0])
    rank = float((expected <= seen).mean())
    # Beyond the most surprising draw the tail falls with the density.
    return max(rank, float(np.exp(min(0.0, seen - expected.min()))) / (DRAWS + 1))


def _drawn(stone_weight: Array) -> NDArray[np.intp]:
    share = np.cumsum(stone_weight.ravel())
    drawn: NDArray[np.intp] = np.searchsorted(share, (np.arange(DRAWS) + 0.5) / DRAWS * share[-1])
    return np.minimum(drawn, share.size - 1)


def _mean_density(log: Array) -> Array:
    top = log.max(axis=1, keepdims=True)
    mean: Array = (np.log(np.exp(log - top).mean(axis=1, keepdims=True)) + top)[:, 0]
    return mean


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
