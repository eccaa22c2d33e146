"""Stones of our own invention, to try the page with."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from isogyre.desk.page import StonePage


@dataclass(frozen=True)
class Example:
    """An invented stone: what it is shown for, and what to type for it."""

    key: str
    title: str
    shows: str
    entries: Mapping[str, str]

    @property
    def address(self) -> str:
        """Return the page with this stone typed in."""
        return f"/?{urlencode({**self.entries, 'example': self.key})}"


@dataclass(frozen=True)
class StoneView:
    """The page of a stone, and the invented stone it began with, if it did."""

    stone: StonePage
    example: Example | None

    @property
    def examples(self) -> tuple[Example, ...]:
        """Return the stones that an empty page offers."""
        return tuple(EXAMPLES.values())


EXAMPLES = {
    example.key: example
    for example in (
        Example(
            "teal",
            "Teal cushion, 1.14 ct",
            "sold as sapphire, not heated; one reading is at odds with the rest",
            {
                "id": "Teal cushion",
                "form": "faceted",
                "met": "market",
                "colour": "bluish green",
                "transparency": "transparent",
                "magnification": "straight growth bands",
                "not_seen": "curved striae\ngas bubbles",
                "ri_low": "1.762",
                "ri_high": "1.770",
                "ri_turn": "full",
                "polariscope": "DR",
                "weight_ct": "1.14",
                "pleochroism": "distinct, blue / yellowish green",
                "uv_sw": "weak chalky blue",
                "claim": "sapphire, not heated",
            },
        ),
        Example(
            "red",
            "Red oval from an old ring, 0.82 ct",
            "single refraction and lines of chromium: natural or grown?",
            {
                "id": "Red oval",
                "form": "faceted",
                "met": "old piece",
                "colour": "red",
                "transparency": "transparent",
                "ri_low": "1.718",
                "ri_high": "1.718",
                "polariscope": "SR",
                "uv_lw": "strong red",
                "spectrum_text": "chromium lines",
                "chelsea": "red",
            },
        ),
        Example(
            "blue",
            "Blue drop, 2.30 ct, one figure mistyped",
            "what happens when an entry cannot be",
            {
                "id": "Blue drop",
                "form": "faceted",
                "colour": "light blue",
                "transparency": "transparent",
                "ri_low": "1.619",
                "ri_high": "1.609",
                "weight_air_ct": "2.30",
                "weight_liquid_ct": "3.655",
            },
        ),
    )
}
