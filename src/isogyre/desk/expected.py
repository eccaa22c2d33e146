"""What a test would show for the two leading candidates, in words."""

import numpy as np
from numpy.typing import NDArray

from isogyre.desk.answers import ExpectedAnswer
from isogyre.evidence import Standing
from isogyre.instruments import PlannedTest

Array = NDArray[np.float64]


def would_show(test: PlannedTest, standing: Standing) -> list[ExpectedAnswer]:
    """Return what would be seen for the leader and for the runner-up.

    If the species is hardly in doubt, the two leading origins or treatments are told apart.
    """
    for field in ("species", "origin", "treatment"):
        pair = _two_leading(standing, field)
        if pair:
            return [{"candidate": n, "seen": _seen(test, standing, rows)} for n, rows in pair]
    everything = np.arange(len(standing.posterior))
    return [{"candidate": standing.leader, "seen": _seen(test, standing, everything)}]


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


def _seen(test: PlannedTest, standing: Standing, rows: NDArray[np.intp]) -> str:
    weight = standing.posterior[rows]
    held = rows[weight > 1e-3 * weight.max()]
    weight = standing.posterior[held] / standing.posterior[held].sum()
    if test.shows:
        figures = [_mean(standing, name, held, weight) for name in test.shows]
        return " and ".join(dict.fromkeys(figure_shown(test, figure) for figure in figures))
    if not test.outcome_names:
        return "see the materials' cards"
    table = weight @ test.outcomes(standing.population, standing.stone_weight, held)
    best = int(table.argmax())
    return f"{test.outcome_names[best]} ({table[best]:.0%})".replace("100%", "nearly always")


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
