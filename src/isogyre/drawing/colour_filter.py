"""A stone beside its look through the colour filter, which lets deep red and some green pass."""

from dataclasses import dataclass

from isogyre.drawing.colour import hue_rgb, mix
from isogyre.drawing.errors import UnknownWordError
from isogyre.drawing.faceting import draw_stone
from isogyre.drawing.outlines import CUTS
from isogyre.drawing.svg import (
    FIRM,
    Frame,
    circle,
    figure,
    group,
    label,
    lines_of,
    number,
)

WIDTH, RADIUS, HALF_LENGTH = 336.0, 66.0, 44.0
# Paper as it looks plain and through the filter.
PAPER, FILTERED_PAPER = "#f3f2ef", "#8c8a3a"
# Seen in words, to what is shown: hue and tone.
LOOKS = {
    "red": ("#b3122a", 0.5),
    "pink": ("#d4506e", 0.5),
    "weak red": ("#7d3434", 0.5),
    "orange": ("#c2591c", 0.5),
    "greenish": ("#5f7a2c", 0.5),
    "dull": ("#5c5a2c", 0.5),
    "dark": ("#26281a", 0.5),
}


@dataclass(frozen=True)
class FilterView:
    """A stone of a hue, and what it looks like through the filter, one of `LOOKS`."""

    hue: str
    seen: str
    tone: float = 0.5
    cut: str = "oval"
    length_to_width: float = 1.25
    seed: int = 1

    def __post_init__(self) -> None:
        if self.seen not in LOOKS:
            raise UnknownWordError("look through the filter", self.seen, LOOKS)
        if self.cut not in CUTS:
            raise UnknownWordError("cut", self.cut, CUTS)
        hue_rgb(self.hue, self.tone)


def draw_colour_filter(view: FilterView, prefix: str) -> str:
    """Return the stone on paper, plain and through the filter."""
    plain = hue_rgb(view.hue, view.tone)
    seen = hue_rgb(*LOOKS[view.seen])
    half = HALF_LENGTH, HALF_LENGTH / max(view.length_to_width, 1)
    parts = []
    sides = (
        (plain, PAPER, "plain", view.hue if not view.hue.startswith("#") else ""),
        (seen, FILTERED_PAPER, "through the filter", view.seen),
    )
    for i, (colour, paper, words, named) in enumerate(sides):
        centre = (WIDTH * (0.25 + 0.5 * i), RADIUS + 4)
        stone = draw_stone(f"{prefix}-{i}", view.cut, half, colour, view.seed)
        parts.append(
            group(
                circle((0, 0), RADIUS, fill=paper),
                circle((3, 5), half[1] * 0.9, fill=mix(paper, "#000000", 0.3), fill_opacity=0.4),
                stone,
                transform=f"translate({number(centre[0])} {number(centre[1])})",
                class_="eyepiece",
            )
        )
        parts.append(circle(centre, RADIUS, fill="none", stroke="currentColor", stroke_width=3))
        caption = [(words, FIRM), *((row, None) for row in lines_of(named, WIDTH / 2))]
        for row, (text, weight) in enumerate(caption):
            y = centre[1] + RADIUS + 21 + 18 * row
            parts.append(label((centre[0], y), text, "middle", weight=weight))
    return figure(
        prefix,
        Frame(WIDTH, 2 * RADIUS + 54),
        "Colour filter, drawn",
        f"The stone on paper, {sides[0][3] or 'coloured'}, and beside it the same stone through "
        f"the colour filter: {view.seen}.",
        *parts,
    )
