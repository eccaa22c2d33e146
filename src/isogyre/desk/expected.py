"""What a test would show for the two leading candidates, in words."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.desk.answers import ExpectedAnswer
from isogyre.evidence import Standing
from isogyre.instruments import PlannedTest

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Seeing:
    """What a test would show of one candidate.

    ``row`` is its likeliest kind of stone; ``figures`` are what would be read, for tests that
    read numbers; ``outcome`` is the likeliest word, for tests that answer in words.
    """

    candidate: str
    row: int
    words: str
    figures: tuple[float, ...] = ()
    outcome: str = ""
    limit: str = ""


def would_show(test: PlannedTest, standing: Standing) -> list[ExpectedAnswer]:
    """Return in words what would be seen for the leader and for the runner-up."""
    return [{"candidate": s.candidate, "seen": s.words} for s in seen_by(test, standing)]


def seen_by(test: PlannedTest, standing: Standing) -> list[Seeing]:
    """Return what would be seen for the leader and for the runner-up.

    If the species is hardly in doubt, the two leading origins or treatments are told apart.
    """
    for field in ("species", "origin", "treatment"):
        pair = _two_leading(standing, field)
        if pair:
            return [seen_of(test, standing, name, rows) for name, rows in pair]
    everything = np.arange(len(standing.posterior))
    return [seen_of(test, standing, standing.leader, everything)]


def _two_leading(
    standing: Standing, field: str
) -> tuple[tuple[str, NDArray[np.intp]], tuple[str, NDArray[np.intp]]] | None:
    names, codes = standing.population.groups(field)
    totals = np.bincount(codes, standing.posterior, len(names))
    order = np.argsort(-totals, kind="stable")[:2]
    if len(order) < 2 or totals[order[1]] < 0.01:
        return None
    first, second = ((names[o] or "no treatment shown", np.flatnonzero(codes == o)) for o in order)
    return first, second


def seen_of(
    test: PlannedTest, standing: Standing, candidate: str, rows: NDArray[np.intp]
) -> Seeing:
    """Return what would be seen of some kinds of stone, each by how likely it stands."""
    weight = standing.posterior[rows]
    held = rows[weight > 1e-3 * weight.max()]
    weight = standing.posterior[held] / standing.posterior[held].sum()
    row = int(held[weight.argmax()])
    if test.shows:
        figures = tuple(_mean(standing, name, held, weight) for name in test.shows)
        words = " and ".join(dict.fromkeys(figure_shown(test, figure) for figure in figures))
        return Seeing(candidate, row, words, figures, limit="on average; single stones differ")
    if not test.outcome_names:
        return Seeing(candidate, row, "see the materials' cards")
    table = weight @ test.outcomes(standing.population, standing.stone_weight, held)
    best = int(table.argmax())
    outcome = test.outcome_names[best]
    words = f"{outcome} ({table[best]:.0%})".replace("100%", "nearly always")
    return Seeing(candidate, row, words, outcome=outcome, limit="as most often seen")


def _mean(standing: Standing, name: str, rows: NDArray[np.intp], weight: Array) -> float:
    values: Array = getattr(standing.population.stones, name)
    strata = standing.population.stratum[rows]
    stones = standing.stone_weight[strata]
    means = np.nansum(values[strata] * stones, axis=1) / stones.sum(axis=1)
    return float(weight @ means)


def figure_shown(test: PlannedTest, figure: float) -> str:
    """Return a figure as the test would show it, with the decimals it is read to."""
    if figure > test.end_of_scale:
        return f"beyond {test.end_of_scale:g}"
    return f"{figure:.{2 if 'sg_mean' in test.shows else 3}f}"
