"""Which tests tell two kinds of stone apart, and what each of them would show.

The planner's question put to two kinds that are equally likely: every test of the bench is asked
what it is expected to add, with the errors it has on a real stone.
"""

from collections.abc import Iterable
from dataclasses import dataclass

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


@dataclass(frozen=True, eq=False)
class Kind:
    """Stones of one kind: rows of the population with weights that sum to 1."""

    rows: Rows
    weight: Array

    @classmethod
    def of(cls, population: Population, rows: Rows) -> "Kind":
        """Return the kind made up of ``rows``, each as common as in the population."""
        return cls(rows, population.prior[rows] / population.prior[rows].sum())


def separations(
    here: Kind, there: Kind, population: Population, instruments: Iterable[Instrument]
) -> list[SeparationAnswer]:
    """Return the tests that part two kinds of stone, best first; none if no hand test does."""
    pair = Pair.of(here, there, population)
    tests = (test for instrument in instruments for test in instrument.tests)
    answers = [pair.tried(test) for test in tests if test.field in KITS["full"].fields]
    telling = [answer for answer in answers if answer["gain_bits"] >= LEAST_GAIN_BITS]
    return sorted(telling, key=lambda answer: -answer["gain_bits"])[:MOST_TESTS]


@dataclass(frozen=True, eq=False)
class Pair:
    """Two kinds of stone, equally likely, with the weight of each of their virtual stones."""

    here: Kind
    there: Kind
    population: Population
    stone_weight: Array

    @classmethod
    def of(cls, here: Kind, there: Kind, population: Population) -> "Pair":
        """Return the pair with its stones weighed by how common their rows are."""
        strata, stones = population.stones.n_alpha.shape
        by_stratum = sum(
            np.bincount(population.stratum[kind.rows], kind.weight, strata)
            for kind in (here, there)
        )
        weight = np.repeat(np.asarray(by_stratum)[:, None] / (2 * stones), stones, axis=1)
        return cls(here, there, population, weight)

    def tried(self, test: PlannedTest) -> SeparationAnswer:
        """Return what ``test`` is expected to add, and what it would show for each kind."""
        rows = np.concatenate((self.here.rows, self.there.rows))
        table = test.outcomes(self.population, self.stone_weight, rows)
        split = len(self.here.rows)
        chances = np.stack((self.here.weight @ table[:split], self.there.weight @ table[split:]))
        here, there = self._shown(test, chances)
        return {
            "test": test.name,
            "gain_bits": max(0.0, information_bits(chances / 2)),
            "here": here,
            "there": there,
        }

    def _shown(self, test: PlannedTest, chances: Array) -> tuple[str, str]:
        if test.shows:
            figures = (self._figures(test, kind) or "no figure" for kind in (self.here, self.there))
            here, there = figures
            return here, there
        best = _most_telling(chances)
        name = test.outcome_names[best]
        here, there = (f"{name} {how_often(float(chance))}" for chance in chances[:, best])
        return here, there

    def _figures(self, test: PlannedTest, kind: Kind) -> str:
        """Return the median of each array that a test shows, equal figures said once."""
        strata = np.unique(self.population.stratum[kind.rows])
        values = [getattr(self.population.stones, name)[strata] for name in test.shows]
        known = [float(np.median(value)) for value in values if np.isfinite(value).all()]
        return " and ".join(dict.fromkeys(figure_shown(test, figure) for figure in known))


def _most_telling(chances: Array) -> int:
    """Return the outcome that adds most to the information, of a table (two kinds, outcomes)."""
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = chances * np.log2(chances / chances.mean(axis=0))
    return int(np.nansum(terms, axis=0).argmax())


def how_often(share: float) -> str:
    """Return the catalogue's word for a share of stones (0 to 1)."""
    return next(word for least, word in HOW_OFTEN if share >= least)
