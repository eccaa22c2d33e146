"""What to test next: how much each test at hand is expected to change the answer.

The worth of a decision is handed in, so that bits, money and practice scores can all be asked
of one planner.
"""

from collections.abc import Callable, Sequence
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


@dataclass(frozen=True)
class Proposal:
    """A test worth making: its expected gain, its time, and what speaks against it."""

    test: PlannedTest
    gain_bits: float
    minutes: float


@dataclass(frozen=True)
class Plan:
    """Tests ranked, and whether all of them together can be expected to settle the question."""

    proposals: tuple[Proposal, ...]
    settles: bool


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
) -> Plan:
    """Rank ``tests`` on the stones still standing by what they would add to one question.

    Parameters
    ----------
    settle
        ``name``, ``natural`` or ``treated``.
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

    tables = [test.outcomes(standing.population, standing.stone_weight, rows) for test in tests]
    joints = [by_group(table) for table in tables]
    proposals = [
        Proposal(test, max(0.0, worth(joint)), test.minutes)
        for test, joint in zip(tests, joints, strict=True)
    ]
    rank = (lambda p: -p.gain_bits / p.minutes) if per_minute else (lambda p: -p.gain_bits)
    now = by_group(np.ones((len(rows), 1)))[:, 0]
    settled = now.max() >= SETTLED_AT
    return Plan(tuple(sorted(proposals, key=rank)), bool(settled or _would_settle(now, joints)))


def _would_settle(now: Array, joints: Sequence[Array]) -> bool:
    """Whether all tests together can be expected to lift the leader over its runner-up.

    Expected log odds of the leader against the runner-up add up over independent tests; they
    must cover what is missing to ``SETTLED_AT``.
    """
    order = np.argsort(-now)
    if len(order) < 2:
        return True
    first, second = order[0], order[1]
    gained = sum(_divergence(joint[first], joint[second]) for joint in joints)
    needed = np.log(SETTLED_AT / (1 - SETTLED_AT)) - np.log(now[first] / max(now[second], 1e-12))
    return bool(gained >= needed)


def _divergence(first: Array, second: Array) -> float:
    p, q = first / first.sum(), np.maximum(second / second.sum(), 1e-6)
    held = p > 0
    return float((p[held] * np.log(p[held] / q[held])).sum())
