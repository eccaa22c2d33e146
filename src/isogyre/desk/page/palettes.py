"""The words a text of colours is made of, in rows to pick from; every one is understood.

The words themselves are the engine's own lists, so that whatever is picked can be weighed.
"""

from dataclasses import dataclass

from isogyre.desk.page.chips import chips
from isogyre.population.words import GLOW_HUES, GLOW_STRENGTHS, HUES, PLEOCHROISM_STRENGTHS

TONES = ("very light", "light", "medium", "dark", "very dark")
DEGREES = ("slightly", "strongly")
TINGES = (
    *("greyish", "brownish", "reddish", "orangish", "yellowish", "greenish"),
    *("bluish", "violetish", "purplish", "pinkish", "whitish", "blackish"),
)


@dataclass(frozen=True)
class PaletteWord:
    """A word to pick, with about its colour as #rrggbb if it names one."""

    word: str
    chip: str = ""


@dataclass(frozen=True)
class PaletteRow:
    """Words of one kind, of which a colour takes one.

    A row that ``leads`` says something of the whole text and stands at its beginning, once; one
    that ``rules`` ends the colour it is said of. The others follow each other in speech.
    """

    name: str
    words: tuple[PaletteWord, ...]
    leads: bool = False
    rules: bool = False


@dataclass(frozen=True)
class Palette:
    """Rows of words for one text; ``alone`` is a word beside which nothing else stands."""

    rows: tuple[PaletteRow, ...]
    alone: str = ""
    parted_by: str = ""


def _row(name: str, words: tuple[str, ...], leads: bool = False) -> PaletteRow:
    return PaletteRow(name, tuple(PaletteWord(word) for word in words), leads)


def _hues(words: tuple[str, ...]) -> PaletteRow:
    """Return hues with their chips, each the colour that the engine takes the word for."""
    return PaletteRow("hue", tuple(PaletteWord(w, chips(w)[0]) for w in words), rules=True)


PALETTES = {
    "colour": Palette(
        (_hues(HUES), _row("tone", TONES), _row("how much", DEGREES), _row("tinge", TINGES)),
        parted_by="/",
    ),
    # "medium" would be taken for a strength here, so the tones are the two that cannot be.
    "pleochroism": Palette(
        (
            _row("strength", PLEOCHROISM_STRENGTHS, leads=True),
            _hues(HUES),
            _row("tone", ("light", "dark")),
            _row("tinge", TINGES),
        ),
        alone=PLEOCHROISM_STRENGTHS[0],
        parted_by="/",
    ),
    "glow": Palette(
        (_row("strength", GLOW_STRENGTHS, leads=True), _hues(GLOW_HUES), _row("look", ("chalky",))),
        alone=GLOW_STRENGTHS[0],
    ),
}
