"""The prior: how often each kind of stone is met, by where the stone was met.

Stated, shown, and never hidden in the answer: beside every probability stands the bare weight of
evidence, and the span of the answer over all these settings.
"""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from isogyre.population import Population

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Setting:
    """A place where stones are met: how much more common than on average each origin is there."""

    name: str
    about: str
    by_origin: dict[str, float]
    treated: float = 1.0
    words: tuple[str, ...] = ()


# Factors are judgements; they only move odds between kinds that the readings leave open.
SETTINGS: dict[str, Setting] = {
    setting.name: setting
    for setting in (
        Setting("bench", "an average working bench", {}),
        Setting(
            "market",
            "a fair, a market, a stranger's table",
            {
                "natural": 0.8,
                "synthetic": 1.5,
                "imitation": 1.6,
                "composite": 1.5,
                "reconstructed": 1.4,
            },
            treated=1.2,
            words=("fair", "stranger"),
        ),
        Setting(
            "known dealer",
            "a dealer who takes stones back",
            {"synthetic": 0.5, "imitation": 0.4, "composite": 0.4, "reconstructed": 0.5},
            words=("takes stones back",),
        ),
        Setting(
            "old piece",
            "jewellery from before about 1950",
            {"synthetic": 0.7, "imitation": 1.5, "composite": 2.5},
            treated=0.6,
            words=("antique", "heirloom", "inherited"),
        ),
        Setting(
            "parcel of rough",
            "rough or a parcel from near the ground",
            {"synthetic": 0.4, "imitation": 0.6, "composite": 0.1, "reconstructed": 0.5},
            treated=0.5,
            words=("parcel", "rough"),
        ),
    )
}
DEFAULT_SETTING = "bench"


def setting_of(met: str) -> Setting | None:
    """Return the setting named by ``met``, or None if no word of it is known."""
    said = met.lower()
    for words_of in (lambda s: (s.name,), lambda s: s.words):
        for setting in SETTINGS.values():
            # Whole words only: "unknown" is no known dealer, and "sold" no old piece.
            if any(re.search(rf"\b{word}\b", said) for word in words_of(setting)):
                return setting
    return None


def log_prior(population: Population, setting: Setting) -> Array:
    """Return the natural logarithm of the prior of each hypothesis in this setting.

    Origins are re-weighted within a species and over all; *unlisted* keeps its share.
    """
    return population.once(f"log prior, {setting.name}", lambda: _log_prior(population, setting))


def _log_prior(population: Population, setting: Setting) -> Array:
    factor = np.array(
        [
            setting.by_origin.get(label.origin, 1.0) * (setting.treated if label.treatment else 1.0)
            for label in population.labels
        ]
    )
    weight = population.prior * factor
    listed = slice(0, population.listed)
    weight[listed] *= population.prior[listed].sum() / weight[listed].sum()
    log: Array = np.log(weight)
    return log
