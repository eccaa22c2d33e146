"""From the trade's colour words to what a screen shows. Chosen by eye: no colour grade."""

import re
from itertools import pairwise

from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.spectral_colours import FIRST_NM, SPECTRAL_COLOURS, STEP_NM

WHITE, BLACK = "#ffffff", "#000000"

# The fifteen hues of the catalogue in a middle tone.
HUES = {
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
# A quartz wedge between crossed polars: retardation in parts of 680 nm, and its tint.
FIRST_ORDER_NM = 680.0
FIRST_ORDER = (
    (0.00, "#202428"),
    (0.09, "#4f5f73"),
    (0.15, "#7d94af"),
    (0.22, "#afc8e3"),
    (0.29, "#d6ecfd"),
    (0.38, "#f5fff8"),
    (0.44, "#fffadb"),
    (0.49, "#ffedb7"),
    (0.56, "#fed574"),
    (0.63, "#e8a400"),
    (0.71, "#c1633c"),
    (0.74, "#a7396f"),
    (0.79, "#7c00a1"),
    (0.81, "#6200b5"),
    (0.83, "#4112c6"),
    (0.88, "#0058e7"),
    (0.94, "#0091fd"),
    (1.00, "#00bcff"),
)
WRITTEN_COLOUR = re.compile(r"#[0-9a-f]{6}\Z")
LIGHTEST, DARKEST = 0.8, 0.75


def parts_of(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of 255 from ``#rrggbb``."""
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue


def mix(one: str, other: str, share: float) -> str:
    """Return the colour that lies a share (0 to 1) of the way from one to the other."""
    between = (
        round(a + (b - a) * share) for a, b in zip(parts_of(one), parts_of(other), strict=True)
    )
    return "#" + "".join(f"{part:02x}" for part in between)


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
    if hue not in HUES and not WRITTEN_COLOUR.match(hue):
        raise UnknownWordError("hue", hue, HUES)
    middle = HUES.get(hue, hue)
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


def first_order_rgb(retardation_nm: float) -> str:
    """Return ``#rrggbb`` of a tint between crossed polars, retardation 0 to 680 nm."""
    if not 0 <= retardation_nm <= FIRST_ORDER_NM:
        raise OutOfRangeError("the retardation in nm", retardation_nm, 0, FIRST_ORDER_NM)
    share = retardation_nm / FIRST_ORDER_NM
    for (low, below), (high, above) in pairwise(FIRST_ORDER):
        if share <= high:
            return mix(below, above, (share - low) / (high - low))
    return FIRST_ORDER[-1][1]
