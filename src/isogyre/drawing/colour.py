"""From the trade's colour words to what a screen shows. Chosen by eye: no colour grade."""

import re
from collections.abc import Iterable

from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.spectral_colours import FIRST_NM, SPECTRAL_COLOURS, STEP_NM

WHITE, BLACK = "#ffffff", "#000000"

# The fifteen hues of the catalogue in a middle tone.
MIDDLE_TONES = {
    "colourless": "#eef0f0",
    "white": "#fafaf8",
    "grey": "#8c8f92",
    "black": "#1c1b1b",
    "brown": "#754928",
    "red": "#ba1626",
    "pink": "#e27496",
    "orange": "#e2761c",
    "yellow": "#ecc836",
    "yellow-green": "#98b630",
    "green": "#188248",
    "blue-green": "#0a8086",
    "blue": "#1e4ca8",
    "violet": "#563aa8",
    "purple": "#862a8a",
}
# What glows sends out light of its own: purer and lighter than a body colour.
GLOWS = {
    "red": "#ff3a30",
    "pink": "#ff8fb4",
    "orange": "#ff9440",
    "yellow": "#ffe663",
    "green": "#6dff8c",
    "blue": "#5c9dff",
    "violet": "#a275ff",
    "white": "#e4ecff",
}
GLOW_POWER = {"inert": 0.0, "very weak": 0.16, "weak": 0.32, "moderate": 0.62, "strong": 1.0}
WRITTEN_COLOUR = re.compile(r"#[0-9a-f]{6}\Z")
LIGHTEST, DARKEST = 0.8, 0.75


def parts_of(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of 255 from ``#rrggbb``."""
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue


def written(parts: Iterable[float]) -> str:
    """Return ``#rrggbb`` from red, green and blue of 255."""
    return "#" + "".join(f"{round(part):02x}" for part in parts)


def mix(one: str, other: str, share: float) -> str:
    """Return the colour that lies a share (0 to 1) of the way from one to the other."""
    return written(a + (b - a) * share for a, b in zip(parts_of(one), parts_of(other), strict=True))


def lit(colour: str, power: float) -> str:
    """Return a colour under more (above 1) or less (below 1) light, never quite white or black."""
    if power <= 1:
        return mix(BLACK, colour, max(power, 0.0))
    return mix(colour, WHITE, min(1 - 1 / power, 0.92))


def hue_rgb(hue: str, tone: float = 0.5) -> str:
    """Return ``#rrggbb`` of one of the fifteen hues, or of a colour that is written so already.

    ``tone`` runs from 0, very light, to 1, very dark. Raises UnknownWordError, OutOfRangeError.
    """
    if not 0 <= tone <= 1:
        raise OutOfRangeError("the tone", tone, 0, 1)
    if hue not in MIDDLE_TONES and not WRITTEN_COLOUR.match(hue):
        raise UnknownWordError("hue", hue, MIDDLE_TONES)
    middle = MIDDLE_TONES.get(hue, hue)
    if tone <= 0.5:
        return mix(middle, WHITE, (0.5 - tone) * 2 * LIGHTEST)
    return mix(middle, BLACK, (tone - 0.5) * 2 * DARKEST)


def glow_rgb(hue: str, strength: str = "strong") -> str:
    """Return ``#rrggbb`` of a glow seen in the dark; an inert stone is black.

    Raises UnknownWordError for another hue or strength than the lamps' own words.
    """
    if strength not in GLOW_POWER:
        raise UnknownWordError("strength of a glow", strength, GLOW_POWER)
    if strength == "inert":
        return BLACK
    if hue not in GLOWS:
        raise UnknownWordError("hue of a glow", hue, GLOWS)
    return mix(BLACK, GLOWS[hue], GLOW_POWER[strength])


def spectral_rgb(wavelength_nm: float) -> str:
    """Return ``#rrggbb`` of pure light of 380 to 780 nm; raises OutOfRangeError."""
    last = FIRST_NM + STEP_NM * (len(SPECTRAL_COLOURS) - 1)
    if not FIRST_NM <= wavelength_nm <= last:
        raise OutOfRangeError("the wavelength in nm", wavelength_nm, FIRST_NM, last)
    step, rest = divmod((wavelength_nm - FIRST_NM) / STEP_NM, 1)
    below = SPECTRAL_COLOURS[int(step)]
    return mix(below, SPECTRAL_COLOURS[min(int(step) + 1, len(SPECTRAL_COLOURS) - 1)], rest)
