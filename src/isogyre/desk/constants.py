"""A material's constants: what each source says, what is followed, what the stones show."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from isogyre.catalogue.follow import VOICES_FOR_CONSENSUS, claims_heard, followed_range, voices
from isogyre.catalogue.model import Claim, Constants, Source
from isogyre.desk.cards import ClaimAnswer, ConstantAnswer, DrawnAnswer
from isogyre.optics.indicatrix import two_v
from isogyre.population import Population

Array = NDArray[np.float64]
Strata = NDArray[np.intp]

# Word and unit of each constant, in the order of a card.
LABELS = {
    "n": ("refractive index", ""),
    "n_o": ("ordinary index", ""),
    "n_e": ("extraordinary index", ""),
    "n_alpha": ("lowest index", ""),
    "n_beta": ("middle index", ""),
    "n_gamma": ("highest index", ""),
    "birefringence": ("birefringence", ""),
    "sg": ("relative density", ""),
    "hardness": ("hardness (Mohs)", ""),
    "dispersion": ("dispersion, 686.7 to 430.8 nm", ""),
    "two_v_deg": ("optic axial angle 2V", "°"),
}
# Evenly spaced places of a normal distribution: density scatters about each stone's mean.
SCATTER = ndtri((np.arange(16) + 0.5) / 16)


def constant_answers(
    constants: Constants,
    population: Population,
    strata: Strata,
    sources: Mapping[str, Source],
    names: Sequence[str] = tuple(LABELS),
) -> list[ConstantAnswer]:
    """Return the constants in ``names`` that somebody makes a claim about."""
    return [
        _constant(name, getattr(constants, name), population, strata, sources)
        for name in names
        if getattr(constants, name)
    ]


def _constant(
    name: str,
    claims: Sequence[Claim],
    population: Population,
    strata: Strata,
    sources: Mapping[str, Source],
) -> ConstantAnswer:
    followed = followed_range(claims, sources)
    assert followed is not None, "a constant without a claim is left out"
    heard = claims_heard(claims)
    answers = [_claim(claim, claim in heard, followed) for claim in claims]
    label, unit = LABELS[name]
    return {
        "name": name,
        "label": label,
        "unit": unit,
        "followed": {"low": followed[0], "high": followed[1]},
        "rule": _rule(claims, heard, sources),
        "disagree": not all(answer["agrees"] for answer in answers),
        "claims": sorted(answers, key=lambda answer: (answer["low"], answer["high"])),
        "drawn": _spread(drawn(name, population, strata)),
    }


def _claim(claim: Claim, is_followed: bool, followed: tuple[float, float]) -> ClaimAnswer:
    return {
        "low": claim.low,
        "high": claim.high,
        "source": claim.source,
        "at": claim.at,
        "note": claim.note,
        "is_followed": is_followed,
        "agrees": followed[0] <= claim.low and claim.high <= followed[1],
    }


def _rule(claims: Sequence[Claim], heard: Sequence[Claim], sources: Mapping[str, Source]) -> str:
    """Return in words how :func:`followed_range` came to its range."""
    if len(claims) == 1:
        return "the only claim"
    count = len(voices(heard, sources))
    who = f"{count} independent voices" if count > 1 else "one voice"
    if len(heard) < len(claims):
        who += " that the catalogue follows; the others are kept beside them"
    if count >= VOICES_FOR_CONSENSUS:
        return f"the second most extreme ends of {who}"
    return f"the widest range of {who}"


def drawn(name: str, population: Population, strata: Strata) -> Array:
    """Return the values of one constant in the virtual stones of ``strata``, in one row.

    Empty where the stones do not carry the constant, or carry no figure for it.
    """
    stones = population.stones
    if name == "sg":
        scattered = stones.sg_mean[strata][..., None] + stones.sg_sd[strata][..., None] * SCATTER
        found = scattered.ravel()
    elif name == "hardness":
        found = stones.hardness[strata].ravel()
    else:
        rays = (stones.n_alpha, stones.n_beta, stones.n_gamma)
        found = _optical(name, *(ray[strata].ravel() for ray in rays))
    finite: Array = found[np.isfinite(found)]
    return finite


def _optical(name: str, alpha: Array, beta: Array, gamma: Array) -> Array:
    match name:
        case "n":
            return (alpha + gamma) / 2
        case "n_alpha" | "n_beta" | "n_gamma":
            return {"n_alpha": alpha, "n_beta": beta, "n_gamma": gamma}[name]
        case "n_o" | "n_e" if np.allclose(np.minimum(beta - alpha, gamma - beta), 0):
            # In a uniaxial stone beta has run into the ordinary ray, whatever the sign.
            return beta if name == "n_o" else alpha + gamma - beta
        case "birefringence":
            return gamma - alpha
        case "two_v_deg":
            rays = zip(alpha, beta, gamma, strict=True)
            return np.array([two_v(*indices) for indices in rays if indices[0] < indices[2]])
    return np.empty(0)


def _spread(values: Array) -> DrawnAnswer | None:
    if not values.size:
        return None
    low, median, high = (float(value) for value in np.quantile(values, (0.05, 0.5, 0.95)))
    return {"low90": low, "median": median, "high90": high}
