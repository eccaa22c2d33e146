"""Which tests tell kinds of stone apart, and what each of them would show.

The planner's question put to kinds that are equally likely: every test of the bench is asked
what it is expected to add, with the errors it has on a real stone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce

import numpy as np
from numpy.typing import NDArray

from isogyre.desk.cards import SeparationAnswer
from isogyre.desk.expected import figure_shown
from isogyre.evidence.planner import information_bits
from isogyre.instruments import Instrument, PlannedTest
from isogyre.instruments.kits import KITS
from isogyre.population import Population

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

MOST_TESTS = 5
# A test expected to add less than this parts one pair of stones in twenty at best.
LEAST_GAIN_BITS = 0.05
# Shares of stones at which one step of the catalogue's frequencies passes into the next.
HOW_OFTEN = (
    (0.75, "nearly always"),
    (0.40, "often"),
    (0.13, "at times"),
    (0.03, "seldom"),
    (0.0, "hardly ever"),
)
# What a kind shows in words is told down to 'at times', and no more than these.
LEAST_SHOWN, MOST_SHOWN = 0.13, 3


@dataclass(frozen=True, eq=False)
class Kind:
    """Stones of one kind: rows of the population with weights that sum to 1."""

    rows: Rows
    weight: Array

    @classmethod
    def of(cls, population: Population, rows: Rows) -> "Kind":
        """Return the kind made up of ``rows``, each as common as in the population."""
        return cls(rows, population.prior[rows] / population.prior[rows].sum())

    def words(self, population: Population, test: PlannedTest) -> Array:
        """Return the chance of each outcome of a test in words, which asks for nothing else."""
        chances: Array = self.weight @ test.outcomes(population, NO_STONES, self.rows)
        return chances


# A test in words reads its answers off a table of rows and is handed no virtual stones.
NO_STONES = np.empty((0, 0))


def tests_at_hand(instruments: Iterable[Instrument]) -> list[PlannedTest]:
    """Return every test of the fullest kit."""
    tests = (test for instrument in instruments for test in instrument.tests)
    return [test for test in tests if test.field in KITS["full"].fields]


@dataclass(frozen=True, eq=False)
class Words:
    """All tests in words, their outcomes side by side, so that many kinds are met quickly."""

    tests: tuple[PlannedTest, ...]
    starts: Rows

    @classmethod
    def of(cls, tests: Sequence[PlannedTest]) -> "Words":
        """Return the tests that show a word, not a figure."""
        worded = tuple(test for test in tests if not test.shows)
        counts = [len(test.outcome_names) for test in worded]
        return cls(worded, np.concatenate(([0], np.cumsum(counts)[:-1])).astype(np.intp))

    def chances(self, population: Population, kind: Kind) -> Array:
        """Return the chance of every outcome of every test, one after the other."""
        return np.concatenate([kind.words(population, test) for test in self.tests])

    def gains(self, here: Array, there: Array) -> Array:
        """Return for each test the bits it adds between two kinds with such chances."""
        either = (here + there) / 2
        with np.errstate(divide="ignore", invalid="ignore"):
            terms = np.nan_to_num(here * np.log2(here / either)) + np.nan_to_num(
                there * np.log2(there / either)
            )
        gains: Array = np.add.reduceat(terms, self.starts) / 2
        return gains


class Separator:
    """One kind of stone against many others, on one bench: what parts it from each of them."""

    def __init__(
        self, here: Kind, population: Population, instruments: Iterable[Instrument]
    ) -> None:
        self.here = here
        self.population = population
        tests = tests_at_hand(instruments)
        self.figures = [test for test in tests if test.shows]
        self.words = Words.of(tests)

    @cached_property
    def _words_here(self) -> Array:
        return self.words.chances(self.population, self.here)

    def separations(self, there: Kind) -> list[SeparationAnswer]:
        """Return the tests that part ``there`` from the kind at hand, best first, if any does."""
        kinds = Kinds.of(self.population, self.here, there)
        words = self.words.gains(self._words_here, self.words.chances(self.population, there))
        gains = list(zip(self.words.tests, map(float, words), strict=True))
        gains += [(t, information_bits(kinds.chances(t) / 2)) for t in self.figures]
        telling = sorted((-gain, n) for n, (_, gain) in enumerate(gains) if gain >= LEAST_GAIN_BITS)
        return [self._answer(kinds, *gains[n]) for _, n in telling[:MOST_TESTS]]

    def _answer(self, kinds: "Kinds", test: PlannedTest, gain: float) -> SeparationAnswer:
        here, there = kinds.most_telling(test)
        return {"test": test.name, "gain_bits": gain, "here": here, "there": there}


def separations(
    here: Kind, there: Kind, population: Population, instruments: Iterable[Instrument]
) -> list[SeparationAnswer]:
    """Return the tests that part two kinds of stone, best first; none if no hand test does."""
    return Separator(here, population, instruments).separations(there)


@dataclass(frozen=True, eq=False)
class Kinds:
    """Two or more kinds of stone, equally likely, with the weight of their virtual stones."""

    kinds: tuple[Kind, ...]
    population: Population
    stone_weight: Array

    @classmethod
    def of(cls, population: Population, *kinds: Kind) -> "Kinds":
        """Return the kinds with their stones weighed by how common their rows are."""
        strata, stones = population.stones.n_alpha.shape
        by_stratum = reduce(
            np.add,
            (np.bincount(population.stratum[kind.rows], kind.weight, strata) for kind in kinds),
        )
        weight = np.repeat(by_stratum[:, None] / (len(kinds) * stones), stones, axis=1)
        return cls(kinds, population, weight)

    def chances(self, test: PlannedTest) -> Array:
        """Return the chance of each outcome of ``test`` for each kind, (kinds, outcomes)."""
        rows = np.concatenate([kind.rows for kind in self.kinds])
        table = test.outcomes(self.population, self.stone_weight, rows)
        ends = np.cumsum([len(kind.rows) for kind in self.kinds])[:-1]
        parts = zip(self.kinds, np.split(table, ends), strict=True)
        return np.stack([kind.weight @ part for kind, part in parts])

    def most_telling(self, test: PlannedTest) -> list[str]:
        """Return for each kind how often it shows the outcome that tells most, or its figures."""
        if test.shows:
            return [self._figures(test, kind) for kind in self.kinds]
        chances = self.chances(test)
        best = _most_telling(chances)
        name = test.outcome_names[best]
        return [f"{name} {how_often(float(chance))}" for chance in chances[:, best]]

    def shown(self, test: PlannedTest) -> list[str]:
        """Return for each kind what ``test`` shows on it: its figures, or its usual outcomes."""
        if test.shows:
            return [self._figures(test, kind) for kind in self.kinds]
        return [_usual(test.outcome_names, chances) for chances in self.chances(test)]

    def _figures(self, test: PlannedTest, kind: Kind) -> str:
        """Return the median of each array that a test shows, equal figures said once."""
        strata = np.unique(self.population.stratum[kind.rows])
        values = [getattr(self.population.stones, name)[strata] for name in test.shows]
        known = [float(np.median(value)) for value in values if np.isfinite(value).all()]
        shown = dict.fromkeys(figure_shown(test, figure) for figure in known)
        return " and ".join(shown) or "no figure"


def told_apart(chances: Array) -> float:
    """Return how often a test names the right one of two kinds that are equally likely.

    Parameters
    ----------
    chances
        The chance of each outcome for each kind, shape (2, outcomes); each row sums to 1.

    Returns
    -------
    probability
        0.5 (a guess) to 1. After each outcome the kind is named that shows it more often.
    """
    return float(np.clip(chances.max(axis=0).sum() / len(chances), 0.5, 1.0))


def _usual(names: Sequence[str], chances: Array) -> str:
    order = np.argsort(-chances, kind="stable")[:MOST_SHOWN]
    told = [n for place, n in enumerate(order) if place == 0 or chances[n] >= LEAST_SHOWN]
    return ", ".join(f"{names[n]} {how_often(float(chances[n]))}" for n in told)


def _most_telling(chances: Array) -> int:
    """Return the outcome that adds most to the information, of a table (two kinds, outcomes)."""
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = chances * np.log2(chances / chances.mean(axis=0))
    return int(np.nansum(terms, axis=0).argmax())


def how_often(share: float) -> str:
    """Return the catalogue's word for a share of stones (0 to 1)."""
    return next(word for least, word in HOW_OFTEN if share >= least)
