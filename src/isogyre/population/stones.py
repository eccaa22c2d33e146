"""Draw virtual stones: for each set of constants, a cloud of complete, plausible stones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from isogyre.catalogue.follow import followed_range
from isogyre.catalogue.model import Claim, Constants, Optic, Source

Array = NDArray[np.float64]

# A published range is taken as 1.6 standard deviations to either side: it holds nine stones in
# ten. Narrower costs more than wider: trials with 0.2 to 2.5 times this width lost at both ends.
HALF_RANGE_IN_SD = 1.6
LEAST_INDEX_SD = 0.0010
LEAST_BIREFRINGENCE_SHARE = 0.015
LEAST_SG_SHARE = 0.004
LEAST_HARDNESS_SD = 0.2
BETA_SHARE_SD = 0.06
DIMENSIONS = 6  # mean index, birefringence, beta share, sign, low-density tail, hardness


@dataclass(frozen=True)
class Stones:
    """Virtual stones as arrays of shape (strata, stones). Density is kept in closed form.

    ``sg_mean`` is the expected relative density of a stone given its indices; real stones of
    these indices scatter about it with ``sg_sd``, which is integrated exactly, not sampled.
    Indices are NaN where a material gives none (opaque without a reading).
    """

    n_alpha: Array
    n_beta: Array
    n_gamma: Array
    sg_mean: Array
    sg_sd: Array
    hardness: Array

    @property
    def n_mean(self) -> Array:
        """Return the mean of the extreme indices, what a pair of edges centres on."""
        return (self.n_alpha + self.n_gamma) / 2

    @property
    def birefringence(self) -> Array:
        """Return the greatest difference of the indices."""
        return self.n_gamma - self.n_alpha


def draw_stones(
    strata: Sequence[tuple[Constants, Optic]], sources: Mapping[str, Source], count: int
) -> Stones:
    """Draw ``count`` stones (a power of two) for each stratum, the same way at every call."""
    # Imported here: it costs half a second, and with cached tables nobody needs it.
    from scipy.stats import qmc

    unit = qmc.Sobol(DIMENSIONS, scramble=True, rng=np.random.default_rng(589)).random(count)
    unit = np.clip(unit, 1e-4, 1 - 1e-4)
    drawn = [_draw(constants, optic, sources, unit) for constants, optic in strata]
    columns = zip(*drawn, strict=True)
    return Stones(*(np.stack(column) for column in columns))


def _draw(
    constants: Constants, optic: Optic, sources: Mapping[str, Source], unit: Array
) -> tuple[Array, ...]:
    z = ndtri(unit)
    middle, birefringence, beta_share = _index_ranges(constants, optic, sources)
    mean = _spread(middle, z[:, 0], LEAST_INDEX_SD)
    width = np.abs(
        _spread(birefringence, z[:, 1], LEAST_BIREFRINGENCE_SHARE * sum(birefringence) / 2)
    )
    share = _beta_shares(optic, beta_share, z[:, 2], unit[:, 3])
    alpha, gamma = mean - width / 2, mean + width / 2
    sg_mean, sg_sd = _densities(constants, sources, z[:, 0], unit[:, 4])
    hardness = _spread(_range(constants.hardness, sources) or (6, 6), z[:, 5], LEAST_HARDNESS_SD)
    return alpha, alpha + share * width, gamma, sg_mean, sg_sd, hardness


def _index_ranges(
    constants: Constants, optic: Optic, sources: Mapping[str, Source]
) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Return the ranges of mean index and birefringence, and beta's place between its extremes."""
    low, high = _extreme_ranges(constants, sources)
    birefringence = _range(constants.birefringence, sources)
    if low is None or high is None:
        single = low or high or _range(constants.n, sources) or (np.nan, np.nan)
        width = birefringence or (0.0, 0.0)
        if optic.character in ("isotropic", "aggregate", "opaque"):
            return single, width if optic.character == "aggregate" else (0.0, 0.0), 0.5
        return single, width, 0.5
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    width = birefringence or _between(low, high)
    return middle, width, _beta_place(constants, sources, low, high)


def _extreme_ranges(
    constants: Constants, sources: Mapping[str, Source]
) -> tuple[tuple[float, float] | None, tuple[float, float] | None]:
    if constants.n_alpha or constants.n_gamma:
        return _range(constants.n_alpha, sources), _range(constants.n_gamma, sources)
    ordinary, extraordinary = _range(constants.n_o, sources), _range(constants.n_e, sources)
    if ordinary is None or extraordinary is None:
        return ordinary, extraordinary
    low, high = sorted((ordinary, extraordinary), key=sum)
    return low, high


def _between(low: tuple[float, float], high: tuple[float, float]) -> tuple[float, float]:
    """Birefringence from index ranges whose ends rise together."""
    ends = sorted((high[0] - low[0], high[1] - low[1]))
    return max(ends[0], 0.0005), max(ends[1], 0.001)


def _beta_place(
    constants: Constants,
    sources: Mapping[str, Source],
    low: tuple[float, float],
    high: tuple[float, float],
) -> float:
    beta = _range(constants.n_beta, sources)
    if beta is None or sum(high) <= sum(low):
        return 0.5
    return float(np.clip((sum(beta) - sum(low)) / (sum(high) - sum(low)), 0.02, 0.98))


def _beta_shares(optic: Optic, place: float, z: Array, unit: Array) -> Array:
    """Return where beta lies between alpha (0) and gamma (1), stone by stone."""
    if optic.character == "biaxial":
        return np.clip(place + BETA_SHARE_SD * z, 0.01, 0.99)
    if optic.character != "uniaxial":
        return np.full_like(z, 0.5)
    # A uniaxial stone is a biaxial one whose beta has run into alpha (positive) or gamma.
    positive = {"+": 1.0, "-": 0.0}.get(optic.sign, 0.5)
    return np.where(unit < positive, 0.0, 1.0)


def _densities(
    constants: Constants, sources: Mapping[str, Source], z: Array, unit: Array
) -> tuple[Array, Array]:
    low, high = _range(constants.sg, sources) or (np.nan, np.nan)
    follow = _single(constants.index_density_correlation, 0.3)
    sd = max((high - low) / 2 / HALF_RANGE_IN_SD, LEAST_SG_SHARE * (low + high) / 2)
    tail = _single(constants.sg_tail_below, 0.0) * -np.log(unit)
    mean = (low + high) / 2 + sd * follow * z - tail
    return mean, np.full_like(z, sd * np.sqrt(1 - follow**2))


def _spread(ends: tuple[float, float], z: Array, least_sd: float) -> Array:
    low, high = ends
    sd = max((high - low) / 2 / HALF_RANGE_IN_SD, least_sd)
    return (low + high) / 2 + sd * z


def _range(claims: Sequence[Claim], sources: Mapping[str, Source]) -> tuple[float, float] | None:
    return followed_range(claims, sources)


def _single(claims: Sequence[Claim], default: float) -> float:
    return (claims[0].low + claims[0].high) / 2 if claims else default
