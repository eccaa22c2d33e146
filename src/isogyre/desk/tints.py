"""About what a screen shows of a colour that is told in words."""

import re

import numpy as np

from isogyre.drawing.colour import BLACK, MIDDLE_TONES, WHITE, mix, parts_of, written
from isogyre.instruments.hues import hue_weights
from isogyre.population.words import HUES

LIGHTER = re.compile(r"\b(very light|light|pale|faint|very weak|weak)\b", re.IGNORECASE)
DARKER = re.compile(r"\b(dark|deep)\b", re.IGNORECASE)
TOWARDS_LIGHT, TOWARDS_DARK = 0.45, 0.4
GAMMA = 2.2


def tint(words: str) -> str:
    """Return a colour as ``#rrggbb``, or the empty string if the words name none."""
    weights = hue_weights(words)
    if weights is None:
        return ""
    hues = np.array([parts_of(MIDDLE_TONES[hue]) for hue in HUES])
    # Lights mix in proportion to their power, screens show a power of about 2.2 of the figure.
    mixed = written(255 * (weights @ (hues / 255) ** GAMMA) ** (1 / GAMMA))
    if LIGHTER.search(words):
        mixed = mix(mixed, WHITE, TOWARDS_LIGHT)
    if DARKER.search(words):
        mixed = mix(mixed, BLACK, TOWARDS_DARK)
    return mixed
