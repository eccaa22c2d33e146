"""The candidate 'none of these': a dense cloud about the whole catalogue.

It is weak by nature: a foreign stone usually has a listed double. It must never be presented
as a safeguard.
"""

from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from isogyre.population.stones import Stones

Array = NDArray[np.float64]

# Widths about the catalogue's own cloud that told foreign stones best in a trial on stones left
# out of the catalogue: index 0.03 to 0.05, density 6 to 10 %.
INDEX_SD = 0.035
SG_SHARE = 0.08
BIREFRINGENCE_FACTOR_SD = 0.5
STRATA = 40


def unlisted_stones(listed: Stones, stratum_weight: Array) -> Stones:
    """Return ``STRATA`` rows of stones, each a listed stone moved off its place."""
    rng = np.random.default_rng(2718)
    strata, count = listed.n_alpha.shape
    total = STRATA * count
    known = np.isfinite(listed.n_alpha).all(axis=1)
    weight = stratum_weight * known
    row = rng.choice(strata, total, p=weight / weight.sum())
    column = rng.integers(0, count, total)
    source = {field.name: getattr(listed, field.name)[row, column] for field in fields(Stones)}
    return _moved(source, rng, (STRATA, count))


def _moved(stones: dict[str, Array], rng: np.random.Generator, shape: tuple[int, int]) -> Stones:
    total = shape[0] * shape[1]
    width = (stones["n_gamma"] - stones["n_alpha"]) * np.exp(
        BIREFRINGENCE_FACTOR_SD * rng.standard_normal(total)
    )
    share = (stones["n_beta"] - stones["n_alpha"]) / np.maximum(
        stones["n_gamma"] - stones["n_alpha"], 1e-9
    )
    mean = (stones["n_alpha"] + stones["n_gamma"]) / 2 + INDEX_SD * rng.standard_normal(total)
    sg_sd = np.hypot(stones["sg_sd"], SG_SHARE * stones["sg_mean"])
    columns = (
        mean - width / 2,
        mean - width / 2 + share * width,
        mean + width / 2,
        stones["sg_mean"],
        sg_sd,
        stones["hardness"] + rng.standard_normal(total),
    )
    return Stones(*(column.reshape(shape) for column in columns))
