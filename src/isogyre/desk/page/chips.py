"""Colour words as chips: a round of about the colour that the words name."""

import re

import numpy as np

from isogyre.instruments.hues import hue_weights
from isogyre.population.words import HUES

# How each hue is shown on a screen, as red, green and blue of 255. Chosen by eye: a chip helps to
# find a stone again and is no colour grade.
SHOWN = {
    "colourless": (238, 240, 240),
    "white": (250, 250, 248),
    "grey": (140, 143, 146),
    "black": (28, 27, 27),
    "brown": (117, 73, 40),
    "red": (186, 22, 38),
    "pink": (226, 116, 150),
    "orange": (226, 118, 28),
    "yellow": (236, 200, 54),
    "yellow-green": (152, 182, 48),
    "green": (24, 130, 72),
    "blue-green": (10, 128, 134),
    "blue": (30, 76, 168),
    "violet": (86, 58, 168),
    "purple": (134, 42, 138),
}
WHITE, BLACK = np.array((255.0, 255.0, 255.0)), np.array((0.0, 0.0, 0.0))
LIGHTER = re.compile(r"\b(very light|light|pale|faint|very weak|weak)\b", re.IGNORECASE)
DARKER = re.compile(r"\b(dark|deep)\b", re.IGNORECASE)
TOWARDS_LIGHT, TOWARDS_DARK = 0.45, 0.4
MOST_CHIPS = 3
GAMMA = 2.2


def chips(text: str) -> tuple[str, ...]:
    """Return a colour, as #rrggbb, for each colour that the words name; none if they name none."""
    shown = [chip for part in re.split(r"[/,;]", text) if (chip := _chip(part))]
    return tuple(dict.fromkeys(shown))[:MOST_CHIPS]


def _chip(words: str) -> str:
    weights = hue_weights(words)
    if weights is None:
        return ""
    colours = np.array([SHOWN[hue] for hue in HUES], dtype=float)
    # Lights mix in proportion to their power, screens show a power of about 2.2 of the figure.
    mixed = 255 * (weights @ (colours / 255) ** GAMMA) ** (1 / GAMMA)
    if LIGHTER.search(words):
        mixed = mixed + TOWARDS_LIGHT * (WHITE - mixed)
    if DARKER.search(words):
        mixed = mixed + TOWARDS_DARK * (BLACK - mixed)
    red, green, blue = (round(float(part)) for part in mixed)
    return f"#{red:02x}{green:02x}{blue:02x}"
