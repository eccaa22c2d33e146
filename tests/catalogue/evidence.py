"""How probable a feature is in the kinds of stone that a selector picks out of the population."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from isogyre.population import Population, build_population
from tests.catalogue.stones import catalogue, words

UNTREATED = "-"
FEW_STONES = 2  # features do not depend on how many virtual stones are drawn


@cache
def population() -> Population:
    return build_population(catalogue(), FEW_STONES)


def rows_of(selectors: str) -> NDArray[np.bool_]:
    """Return which hypotheses the selectors pick out.

    A selector reads ``material/growth/look/treatment``; an empty part means any, ``+`` joins
    alternatives and ``-`` as treatment means none. Semicolons join selectors.
    """
    picked = np.zeros(len(population().labels), dtype=bool)
    for selector in words(selectors):
        rows = _rows_of_one(selector)
        if not rows.any():
            raise LookupError(f"no kind of stone is '{selector}'")
        picked |= rows
    return picked


@cache
def _rows_of_one(selector: str) -> NDArray[np.bool_]:
    names, growths, looks, treatments = (part.split("+") for part in selector.split("/"))
    return np.array(
        [
            label.material in names
            and (growths == [""] or label.growth in growths)
            and (looks == [""] or label.variety in looks)
            and (treatments == [""] or (label.treatment or UNTREATED) in treatments)
            for label in population().labels
        ]
    )


def chance(features: str, rows: NDArray[np.bool_]) -> float:
    """Return the chance that at least one of the features is there and noticed in these stones."""
    everything = population()
    columns = [everything.feature_names.index(name) for name in words(features)]
    absent = np.prod(1 - everything.tables.features[:, columns], axis=1)
    return float(1 - np.average(absent[rows], weights=everything.prior[rows]))
