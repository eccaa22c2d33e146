"""The standing of a stone: what it can be, how sure, why, and what does not fit."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.evidence.grouping import NO_TREATMENT, sums
from isogyre.evidence.misfit import Misfit, misfit
from isogyre.evidence.posterior import Evidence, Likelihood
from isogyre.evidence.prior import SETTINGS, Setting, log_prior
from isogyre.instruments import Reading
from isogyre.population import Population

Array = NDArray[np.float64]

LN10 = float(np.log(10.0))
# Below this many effective virtual stones the figures are not worth their digits.
FEWEST_EFFECTIVE_STONES = 10.0


@dataclass(frozen=True)
class Weight:
    """What one reading adds to the leader's odds against the runner-up, in powers of ten."""

    field: str
    shown: str
    log10_odds: float


@dataclass(frozen=True)
class Candidate:
    """A kind of stone still standing."""

    row: int
    probability: float


@dataclass(frozen=True)
class Standing:
    """The whole answer to 'what is it', with everything that it rests on.

    ``species_odds`` and the like are probabilities that sum to 1. ``weights`` do not add up to
    ``total_log10_odds``: redundant readings each look idle when one of them is left out.
    """

    population: Population
    setting: Setting
    posterior: Array
    stone_weight: Array
    species: dict[str, float]
    origin: dict[str, float]
    treated: dict[str, float]
    candidates: tuple[Candidate, ...]
    leader: str
    runner_up: str
    weights: tuple[Weight, ...]
    total_log10_odds: float
    prior_odds_to_tip: float
    span: dict[str, float]
    misfit: Misfit
    effective_stones: float  # Kish's effective number of virtual stones that carry the answer

    @property
    def is_thin(self) -> bool:
        """Whether too few virtual stones carry the answer for its digits to mean much."""
        return self.effective_stones < FEWEST_EFFECTIVE_STONES


def stand(population: Population, readings: Sequence[Reading], setting: Setting) -> Standing:
    """Return the standing of a stone with these readings, met in this setting."""
    evidence = Evidence.gather(population, readings)
    likelihood = evidence.likelihood()
    prior = log_prior(population, setting)
    posterior = likelihood.posterior(prior)
    stones = likelihood.stone_posterior(posterior)
    species = sums(population, posterior, "species")
    leader, runner_up = list(species)[:2]
    total = _log10_bayes_factor(population, likelihood, prior, leader, runner_up)
    return Standing(
        population=population,
        setting=setting,
        posterior=posterior,
        stone_weight=stones,
        species=species,
        origin=sums(population, posterior, "origin"),
        treated=_treated(population, posterior),
        candidates=_candidates(posterior),
        leader=leader,
        runner_up=runner_up,
        weights=_weights(evidence, prior, leader, runner_up, total),
        total_log10_odds=total,
        prior_odds_to_tip=_prior_odds_to_tip(population, likelihood, prior, leader),
        span=_span(population, likelihood, leader),
        misfit=misfit(evidence, prior, posterior),
        effective_stones=float(1 / (stones**2).sum()),
    )


def _treated(population: Population, posterior: Array) -> dict[str, float]:
    treated = sums(population, posterior, "treatment")
    return {name or NO_TREATMENT: share for name, share in treated.items()}


def _candidates(posterior: Array, most: int = 40) -> tuple[Candidate, ...]:
    order = np.argsort(-posterior, kind="stable")[:most]
    return tuple(
        Candidate(int(row), float(posterior[row])) for row in order if posterior[row] > 1e-5
    )


def _log10_bayes_factor(
    population: Population, likelihood: Likelihood, prior: Array, first: str, second: str
) -> float:
    """Return the weight of evidence for one species against another, the prior taken out."""
    by_row = likelihood.by_row
    marginal = [
        _log_mean(by_row, prior, population.rows_of("species", name)) for name in (first, second)
    ]
    return (marginal[0] - marginal[1]) / LN10


def _log_mean(by_row: Array, prior: Array, held: NDArray[np.bool_]) -> float:
    weights = np.exp(prior[held] - prior[held].max())
    top = by_row[held].max()
    mean = (weights * np.exp(by_row[held] - top)).sum() / weights.sum()
    return float(np.log(mean) + top)


def _weights(
    evidence: Evidence, prior: Array, leader: str, runner_up: str, total: float
) -> tuple[Weight, ...]:
    weights = []
    for index, reading in enumerate(evidence.readings):
        without = _log10_bayes_factor(
            evidence.population, evidence.likelihood(without=index), prior, leader, runner_up
        )
        weights.append(Weight(reading.field, reading.shown, total - without))
    return tuple(weights)


def _prior_odds_to_tip(
    population: Population, likelihood: Likelihood, prior: Array, leader: str
) -> float:
    """Return the prior odds for the leader at which it would be even with all others."""
    held = population.rows_of("species", leader)
    by_row = likelihood.by_row
    log_factor = _log_mean(by_row, prior, held) - _log_mean(by_row, prior, ~held)
    return float(np.exp(-np.clip(log_factor, -60, 60)))


def _span(population: Population, likelihood: Likelihood, leader: str) -> dict[str, float]:
    """Return the leader's probability in every setting of the prior."""
    held = population.rows_of("species", leader)
    return {
        name: float(likelihood.posterior(log_prior(population, setting))[held].sum())
        for name, setting in SETTINGS.items()
    }
