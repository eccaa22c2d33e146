"""Add up what all readings say: the posterior over hypotheses and over virtual stones."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments import Reading, Term
from isogyre.population import Population

Array = NDArray[np.float64]

LEAST_LOG = -700.0  # a probability of nothing, kept a number


@dataclass(frozen=True, eq=False)
class Evidence:
    """Readings with their terms on one population, and the exponent each of them counts with."""

    population: Population
    readings: tuple[Reading, ...]
    terms: tuple[Term, ...]
    measured: dict[tuple[tuple[int, float], ...], "Measured"] = field(default_factory=dict)

    @classmethod
    def gather(cls, population: Population, readings: Sequence[Reading]) -> "Evidence":
        """Reckon the term of every reading on ``population``."""
        terms = tuple(reading.term(population) for reading in readings)
        return cls(population, tuple(readings), terms)

    @cached_property
    def spreads(self) -> tuple[float, ...]:
        """How much each reading tells; of one cause, the one that tells most counts full."""
        return tuple(_spread(self.population, term) for term in self.terms)

    def exponents(self, without: int | None = None) -> Array:
        """Return the exponent of each reading; ``without`` one, others of its cause move up."""
        exponents = np.array([reading.exponent for reading in self.readings])
        by_cause: dict[str, list[int]] = {}
        for index, reading in enumerate(self.readings):
            if reading.cause and index != without:
                by_cause.setdefault(reading.cause, []).append(index)
        for members in by_cause.values():
            members.sort(key=lambda index: -self.spreads[index])
            for rank, index in enumerate(members):
                dependence = self.readings[index].dependence
                exponents[index] *= dependence[min(rank, len(dependence) - 1)]
        if without is not None:
            exponents[without] = 0.0
        return exponents

    def likelihood(self, without: int | None = None) -> "Likelihood":
        """Return the log likelihood of all readings, or of all but one."""
        return self._whole if without is None else self._left_out[without]

    @cached_property
    def _whole(self) -> "Likelihood":
        exponents = self.exponents()
        rows: Array = exponents @ self._choices
        return Likelihood(self.population, rows, self._measured(exponents))

    @cached_property
    def _left_out(self) -> tuple["Likelihood", ...]:
        """What is said without each reading in turn: the same terms at other exponents."""
        exponents = np.array([self.exponents(without) for without in range(len(self.readings))])
        return tuple(
            Likelihood(self.population, rows, self._measured(used))
            for rows, used in zip(exponents @ self._choices, exponents, strict=True)
        )

    @cached_property
    def _choices(self) -> Array:
        """Log likelihood of each choice by hypothesis, (readings, rows); zero for a measure."""
        table = np.zeros((len(self.terms), len(self.population.labels)))
        for place, term in enumerate(self.terms):
            if term.rows is not None:
                table[place] = np.maximum(term.rows, LEAST_LOG)
        return table

    def _measured(self, exponents: Array) -> "Measured":
        """Return what the measures say; most readings left out leave it as it is."""
        used = tuple(
            (index, float(exponent))
            for index, exponent in enumerate(exponents)
            if self.terms[index].stones is not None and exponent
        )
        if used not in self.measured:
            self.measured[used] = Measured.of(self.population, self.terms, used)
        return self.measured[used]


def _spread(population: Population, term: Term) -> float:
    """Return the standard deviation of a term over the stones as the prior meets them."""
    weight, log = population.prior, term.rows
    if log is None:
        log = np.asarray(term.stones)
        weight = np.bincount(population.stratum, weight, len(log))[:, None] / log.shape[1]
    mean = (weight * log).sum()
    return float(np.sqrt((weight * (log - mean) ** 2).sum()))


@dataclass(frozen=True, eq=False)
class Measured:
    """What the measures say: log likelihood by stratum and the weight of each stone within it."""

    by_stratum: Array
    stone_weight: Array

    @classmethod
    def of(
        cls, population: Population, terms: Sequence[Term], used: Sequence[tuple[int, float]]
    ) -> "Measured":
        """Sum the terms ``used`` (number of the term, exponent) over the virtual stones."""
        log = np.zeros_like(population.stones.n_alpha)
        for index, exponent in used:
            log += exponent * np.asarray(terms[index].stones)
        top = log.max(axis=1, keepdims=True)
        weight = np.exp(log - top)
        total = weight.sum(axis=1, keepdims=True)
        return cls((np.log(total / log.shape[1]) + top)[:, 0], weight / total)


@dataclass(frozen=True, eq=False)
class Likelihood:
    """Log likelihood by hypothesis (choices), and by stratum and stone (measures)."""

    population: Population
    rows: Array
    measured: Measured

    @property
    def stone_weight(self) -> Array:
        """Return the posterior over the stones of each stratum; each row sums to 1."""
        return self.measured.stone_weight

    @cached_property
    def by_row(self) -> Array:
        """Return the log likelihood of each hypothesis, its stones averaged out."""
        combined: Array = self.rows + self.measured.by_stratum[self.population.stratum]
        return combined

    def posterior(self, log_prior: Array) -> Array:
        """Return the posterior of each hypothesis, summing to 1."""
        log = log_prior + self.by_row
        weight = np.exp(log - log.max())
        posterior: Array = weight / weight.sum()
        return posterior

    def stone_posterior(self, posterior: Array) -> Array:
        """Return the posterior of every virtual stone, (strata, stones), given that of the rows."""
        by_stratum = np.bincount(self.population.stratum, posterior, len(self.stone_weight))
        stones: Array = by_stratum[:, None] * self.stone_weight
        return stones
