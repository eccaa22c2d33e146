"""The closed lists of words that tables are laid out by; the order is the order of columns."""

from typing import get_args

from isogyre.catalogue.model import (
    Character,
    Hue,
    Lustre,
    PleochroismStrength,
    PolariscopeWord,
    Transparency,
)

HUES: tuple[str, ...] = get_args(Hue)
TRANSPARENCIES: tuple[str, ...] = get_args(Transparency)
LUSTRES: tuple[str, ...] = get_args(Lustre)
CHARACTERS: tuple[str, ...] = get_args(Character)
PLEOCHROISM_STRENGTHS: tuple[str, ...] = get_args(PleochroismStrength)
POLARISCOPE_WORDS: tuple[str, ...] = get_args(PolariscopeWord)
GLOW_STRENGTHS = ("inert", "very weak", "weak", "moderate", "strong")
GLOW_HUES = ("red", "pink", "orange", "yellow", "green", "blue", "violet", "white")
# "inert" stands once; every other strength is combined with each hue.
GLOWS: tuple[str, ...] = (
    "inert",
    *(f"{strength} {hue}" for strength in GLOW_STRENGTHS[1:] for hue in GLOW_HUES),
)
MAGNET_STRENGTHS = ("none", "weak", "strong")
THERMAL_CLASSES = ("low", "middling", "diamond-like")
SPECTRUM_CAUSES = (
    "chromium",
    "vanadium",
    "iron",
    "manganese",
    "cobalt",
    "copper",
    "nickel",
    "rare earths",
    "uranium",
    "nitrogen",
    "dye",
    "selenium",
    "other",
)
UNLISTED = "unlisted"
