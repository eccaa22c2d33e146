"""From colour words to weights over the fifteen hues."""

import re

import numpy as np
from numpy.typing import NDArray
from rapidfuzz import process

from isogyre.population.words import HUES

Array = NDArray[np.float64]

# Words of the trade and of everyday, to the hues they stand for. Common practice.
PLAIN: dict[str, dict[str, float]] = {
    **{hue: {hue: 1.0} for hue in HUES},
    "colorless": {"colourless": 1.0},
    "gray": {"grey": 1.0},
    "lavender": {"violet": 0.5, "purple": 0.5},
    "lilac": {"violet": 0.4, "purple": 0.6},
    "mauve": {"purple": 1.0},
    "magenta": {"purple": 0.6, "pink": 0.4},
    "crimson": {"red": 1.0},
    "teal": {"blue-green": 1.0},
    "turquoise": {"blue-green": 0.5, "blue": 0.5},
    "cyan": {"blue-green": 0.5, "blue": 0.5},
    "golden": {"yellow": 0.8, "orange": 0.2},
    "gold": {"yellow": 0.8, "orange": 0.2},
    "honey": {"yellow": 0.5, "brown": 0.3, "orange": 0.2},
    "cream": {"white": 0.6, "yellow": 0.4},
    "beige": {"brown": 0.5, "white": 0.5},
    "champagne": {"brown": 0.5, "yellow": 0.5},
    "peach": {"orange": 0.6, "pink": 0.4},
    "salmon": {"pink": 0.5, "orange": 0.5},
    "rose": {"pink": 1.0},
    "olive": {"yellow-green": 0.7, "green": 0.3},
    "emerald": {"green": 1.0},
    "silver": {"grey": 1.0},
    "silvery": {"grey": 1.0},
    "nearcolourless": {"colourless": 0.9, "white": 0.05, "yellow": 0.05},
    "multicolour": {hue: 1 / 15 for hue in HUES},
    "multicoloured": {hue: 1 / 15 for hue in HUES},
}
# "bluish", "reddish" ...: a tinge, to be followed by the hue that rules.
TINGES = {
    "reddish": "red",
    "pinkish": "pink",
    "orangy": "orange",
    "orangey": "orange",
    "orangish": "orange",
    "yellowish": "yellow",
    "greenish": "green",
    "bluish": "blue",
    "violetish": "violet",
    "violetic": "violet",
    "purplish": "purple",
    "brownish": "brown",
    "greyish": "grey",
    "grayish": "grey",
    "whitish": "white",
    "blackish": "black",
}
TINGE_WEIGHT = 0.35
# Two hues side by side on the circle have a word of their own.
BLENDS = {
    frozenset(("blue", "green")): "blue-green",
    frozenset(("yellow", "green")): "yellow-green",
    frozenset(("red", "purple")): "pink",
    frozenset(("blue", "purple")): "violet",
}
BLEND_SHARE = 0.5
FUZZY_CUTOFF = 88.0


def hue_weights(text: str) -> Array | None:
    """Return weights over the fifteen hues, summing to 1, or None if no colour is named.

    A tinge before a hue pulls the weight part of the way: *bluish green* lies between *green*
    and *blue-green*. Several colours in one stone share the weight.
    """
    named = [weights for part in _colours(text) if (weights := _one_colour(part)) is not None]
    if not named:
        return None
    total = np.sum(named, axis=0)
    shared: Array = total / total.sum()
    return shared


def _colours(text: str) -> list[list[str]]:
    """Split into colours, each a list of words."""
    lowered = re.sub(r"near[- ]colou?rless", "nearcolourless", text.lower())
    lowered = lowered.replace("colorless", "colourless")
    lowered = re.sub(r"\b(blue|yellow)[- ]green\b", r"\1~green", lowered)
    parts = re.split(r"[/,;()]|\band\b|\bto\b|\bwith\b|\bor\b", lowered)
    return [[word.replace("~", "-") for word in re.findall(r"[a-z~]+", part)] for part in parts]


def _one_colour(words: list[str]) -> Array | None:
    weights = np.zeros(len(HUES))
    tinge = ""
    ruling = ""
    for word in words:
        if word in TINGES:
            tinge = TINGES[word]
        elif (plain := _plain(word)) is not None:
            ruling = max(plain, key=lambda hue: plain[hue])
            for hue, weight in plain.items():
                weights[HUES.index(hue)] += weight
    if not ruling:
        if not tinge:
            return None
        weights[HUES.index(tinge)] = 1.0
        return weights
    if tinge and tinge != ruling:
        _add_tinge(weights, tinge, ruling)
    normalised: Array = weights / weights.sum()
    return normalised


def _add_tinge(weights: Array, tinge: str, ruling: str) -> None:
    weights *= 1 - TINGE_WEIGHT
    blend = BLENDS.get(frozenset((tinge, ruling)))
    share = BLEND_SHARE if blend else 0.0
    weights[HUES.index(tinge)] += TINGE_WEIGHT * (1 - share)
    if blend:
        weights[HUES.index(blend)] += TINGE_WEIGHT * share


def _plain(word: str) -> dict[str, float] | None:
    if word in PLAIN:
        return PLAIN[word]
    if len(word) < 5:
        return None
    near = process.extractOne(word, list(PLAIN), score_cutoff=FUZZY_CUTOFF)
    return PLAIN[near[0]] if near else None
