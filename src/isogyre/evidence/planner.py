"""What to test next: how much each test at hand is expected to change the answer.

The worth of a decision is handed in, so that bits, money and practice scores can all be asked
of one planner.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.evidence.grouping import SETTLE
from isogyre.evidence.standing import Standing
from isogyre.instruments import PlannedTest

Array = NDArray[np.float64]
# From (groups, outcomes) joint probabilities to the expected gain.
Worth = Callable[[Array], float]

LEAST_POSTERIOR = 2e-4
SETTLED_AT = 0.95
LEAST_GAIN_BITS = 0.01
# To say whether a question can be settled, so many stones are shown to all tests at once.
DRAWS, ROWS_LOOKED_AT = 64, 256
LEAST_CHANCE = 1e-6
# With fewer than this share settled the kit cannot be expected to do it. On 418 simulated stones
# a quarter tells 0.82 of those that stay open, and wrongly gives up 0.02 of the others.
LEAST_SHARE_SETTLED = 0.25


@dataclass(frozen=True)
class Proposal:
    """A test worth making: its expected gain, its time, and what speaks against it."""

    test: PlannedTest
    gain_bits: float
    minutes: float


@dataclass(frozen=True)
class Plan:
    """Tests ranked, and whether all of them together can be expected to settle the question.

    ``missing`` are ranked alike but are not at hand, so they settle nothing.
    """

    proposals: tuple[Proposal, ...]
    settles: bool
    missing: tuple[Proposal, ...] = ()


def information_bits(joint: Array) -> float:
    """Return the mutual information between group and outcome, in bits."""
    joint = joint[joint.any(axis=1)]
    outcome = joint.sum(axis=0, keepdims=True)
    group = joint.sum(axis=1, keepdims=True)
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = np.where(joint > 0, joint * np.log2(joint / (outcome * group)), 0.0)
    return float(terms.sum())


def plan(
    standing: Standing,
    tests: Sequence[PlannedTest],
    settle: str = "name",
    worth: Worth = information_bits,
    per_minute: bool = False,
    missing: Sequence[PlannedTest] = (),
) -> Plan:
    """Rank ``tests`` on the stones still standing by what they would add to one question.

    Parameters
    ----------
    settle
        ``name``, ``natural`` or ``treated``.
    missing
        Tests that are not at hand, ranked by themselves.
    """
    names, codes = standing.population.groups(SETTLE[settle])
    rows = np.flatnonzero(standing.posterior > LEAST_POSTERIOR)
    rows = rows[np.argsort(codes[rows], kind="stable")]
    starts = np.flatnonzero(np.diff(codes[rows], prepend=-1))
    weight = standing.posterior[rows] / standing.posterior[rows].sum()

    def by_group(shares: Array) -> Array:
        summed = np.zeros((len(names), shares.shape[1]))
        summed[codes[rows[starts]]] = np.add.reduceat(weight[:, None] * shares, starts)
        return summed

    def outcomes(test: PlannedTest) -> Array:
        return test.outcomes(standing.population, standing.stone_weight, rows)

    def ranked(tests: Sequence[PlannedTest], tables: Iterable[Array]) -> tuple[Proposal, ...]:
        proposals = (
            Proposal(test, max(0.0, worth(by_group(table))), test.minutes)
            for test, table in zip(tests, tables, strict=True)
        )
        return tuple(sorted(proposals, key=rank))

    tables = [outcomes(test) for test in tests]
    rank = (lambda p: -p.gain_bits / p.minutes) if per_minute else (lambda p: -p.gain_bits)
    now = by_group(np.ones((len(rows), 1)))[:, 0]
    settles = (
        now.max() >= SETTLED_AT
        or _share_settled(weight, codes[rows], tables) >= LEAST_SHARE_SETTLED
    )
    return Plan(ranked(tests, tables), bool(settles), ranked(missing, map(outcomes, missing)))


def _share_settled(weight: Array, codes: NDArray[np.intp], tables: Sequence[Array]) -> float:
    """Return in how many of the stones still standing all tests together settle the question.

    Stones are drawn evenly by their weight and shown to every test; what the tests answer is
    independent within one kind of stone. ``codes`` are ascending.
    """
    held = np.sort(np.argsort(-weight, kind="stable")[:ROWS_LOOKED_AT])
    share = np.cumsum(weight[held] / weight[held].sum())
    drawn = np.searchsorted(share, (np.arange(DRAWS) + 0.5) / DRAWS).clip(max=len(held) - 1)
    chance = np.random.default_rng(95).random((len(tables), DRAWS))
    log = np.tile(np.log(weight[held]), (DRAWS, 1))
    for table, luck in zip(tables, chance, strict=True):
        shown = table[held]
        below = np.cumsum(shown[drawn], axis=1)
        outcome = (below < luck[:, None] * below[:, -1:]).sum(axis=1)
        log += np.log(np.maximum(shown[:, outcome].T, LEAST_CHANCE))
    standing = np.exp(log - log.max(axis=1, keepdims=True))
    starts = np.flatnonzero(np.diff(codes[held], prepend=-1))
    groups = np.add.reduceat(standing, starts, axis=1)
    return float((groups.max(axis=1) >= SETTLED_AT * groups.sum(axis=1)).mean())
