"""Outcome tables of numbers for the planner: bins by the quantiles of what would be read.

Bins must follow the stones that stand. Fixed fine bins made a planner shun the refractometer
in a trial; quantile bins did not.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from isogyre.population import Population

Array = NDArray[np.float64]
STONES_LOOKED_AT = 4096
FEWEST_STONES = 16
# The edges are the quantiles of evenly spaced normal deviates: where one kind of stone prevails,
# the rare ones that a reading would part from it lie in the tails.
EDGE_Z = 2.3
Axis = tuple[Array, Array | float, int]  # true values, reading error, number of bins


def binned_outcomes(
    population: Population, stone_weight: Array, rows: NDArray[np.intp], axes: Sequence[Axis]
) -> Array:
    """Return the probability of each bin (or pair of bins) for each of ``rows``.

    Parameters
    ----------
    stone_weight
        Posterior over all virtual stones, shape (strata, stones).
    axes
        For each number read: its true values (strata, stones), its error, its bins.
    """
    strata = np.unique(population.stratum[rows])
    # While many kinds of stone stand, a few stones of each tell enough; the first are as evenly
    # spread as all of them.
    stones = slice(max(FEWEST_STONES, STONES_LOOKED_AT // len(strata)))
    weight = stone_weight[strata, stones]
    per_axis = [
        _bin_probabilities(values[strata, stones], _of(sd, strata, stones), bins, weight)
        for values, sd, bins in axes
    ]
    table = per_axis[0]
    for other in per_axis[1:]:
        table = (table[:, :, :, None] * other[:, :, None, :]).reshape(*table.shape[:2], -1)
    within = weight / np.maximum(weight.sum(axis=1, keepdims=True), 1e-300)
    expected = np.einsum("sn,sno->so", within, table)
    by_row: Array = expected[np.searchsorted(strata, population.stratum[rows])]
    return by_row


def _of(sd: Array | float, strata: NDArray[np.intp], stones: slice) -> Array | float:
    return sd[strata, stones] if isinstance(sd, np.ndarray) else sd


def _bin_probabilities(values: Array, sd: Array | float, bins: int, weight: Array) -> Array:
    known = np.nan_to_num(values, nan=2.9)
    # Bins share out the readings, error and all: the true values of a pure species lie so close
    # that bins between them would part nothing.
    inner = _quantiles((known + sd * _errors(known.shape)).ravel(), weight.ravel(), bins)
    below = ndtr(
        (inner[None, None, :] - known[:, :, None]) / np.expand_dims(np.asarray(sd), -1)
        if isinstance(sd, np.ndarray)
        else (inner - known[:, :, None]) / sd
    )
    edges = np.concatenate((np.zeros((*known.shape, 1)), below, np.ones((*known.shape, 1))), axis=2)
    return np.diff(edges, axis=2)


def _errors(shape: tuple[int, ...]) -> Array:
    """Return standard errors spread as evenly as can be, unrelated to the order of the stones."""
    golden = (np.sqrt(5) - 1) / 2
    spread: Array = ndtri((np.arange(np.prod(shape)) * golden + 0.5) % 1).reshape(shape)
    return spread


def _quantiles(values: Array, weight: Array, bins: int) -> Array:
    order = np.argsort(values)
    share = np.cumsum(weight[order])
    wanted = ndtr(np.linspace(-EDGE_Z, EDGE_Z, bins - 1)) * share[-1]
    quantiles: Array = values[order][np.minimum(np.searchsorted(share, wanted), len(order) - 1)]
    return quantiles
