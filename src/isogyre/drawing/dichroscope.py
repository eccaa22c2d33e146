"""The two windows of the dichroscope, for one direction or for each axis of a crystal."""

from dataclasses import dataclass

from isogyre.drawing.colour import hue_rgb
from isogyre.drawing.errors import CountError
from isogyre.drawing.svg import (
    CASING,
    FIRM,
    Frame,
    Point,
    circle,
    figure,
    group,
    label,
    lines_of,
    rect,
    text_width,
)

MOST_PAIRS = 3
# Width of the place of each pair, by how many there are; one alone stands beside another figure.
CELLS = {1: 168.0, 2: 168.0, 3: 112.0}
RADII = {1: 70.0, 2: 64.0, 3: 50.0}
LINE_HEIGHT = 18.0


@dataclass(frozen=True)
class Window:
    """One window: its colour as a hue or ``#rrggbb``, its tone, and the words that name it."""

    hue: str
    tone: float = 0.5
    words: str = ""

    def __post_init__(self) -> None:
        hue_rgb(self.hue, self.tone)

    @property
    def named(self) -> str:
        """The colour in words."""
        return self.words or self.hue


@dataclass(frozen=True)
class Pair:
    """Both windows as seen in one direction, and what that direction is called."""

    left: Window
    right: Window
    direction: str = ""


@dataclass(frozen=True)
class DichroscopeView:
    """One to three pairs, each seen in its own direction."""

    pairs: tuple[Pair, ...]

    def __post_init__(self) -> None:
        if not 1 <= len(self.pairs) <= MOST_PAIRS:
            raise CountError("pairs of windows", len(self.pairs), 1, MOST_PAIRS)


def along_axes(x: Window, y: Window, z: Window) -> DichroscopeView:
    """Return what a crystal of three colours shows along each axis: the other two colours."""
    return DichroscopeView((Pair(y, z, "along X"), Pair(x, z, "along Y"), Pair(x, y, "along Z")))


def draw_dichroscope(view: DichroscopeView, prefix: str) -> str:
    """Return the pairs side by side, with the names of their colours below."""
    cell = CELLS[len(view.pairs)]
    radius = RADII[len(view.pairs)]
    captions = [_caption(pair, cell) for pair in view.pairs]
    height = 2 * radius + 12 + LINE_HEIGHT * max(map(len, captions)) + 4
    parts = []
    for i, (pair, caption) in enumerate(zip(view.pairs, captions, strict=True)):
        centre = (cell * (i + 0.5), radius + 4)
        parts.append(_eyepiece(pair, centre, radius))
        for row, (words, weight) in enumerate(caption):
            y = centre[1] + radius + 20 + row * LINE_HEIGHT
            parts.append(label((centre[0], y), words, "middle", weight=weight))
    seen = "; ".join(
        f"{pair.direction or 'in this direction'}: {pair.left.named} and {pair.right.named}"
        for pair in view.pairs
    )
    return figure(
        prefix,
        Frame(cell * len(view.pairs), height),
        "Dichroscope, drawn",
        f"Two windows side by side, {seen}.",
        *parts,
    )


def _caption(pair: Pair, width: float) -> list[tuple[str, int | None]]:
    firm = [(pair.direction, FIRM)] if pair.direction else []
    both = [f"{pair.left.named} | {pair.right.named}"]
    if text_width(both[0]) > width - 4:
        both = [*lines_of(pair.left.named, width - 4), *lines_of(pair.right.named, width - 4)]
    return [*firm, *((words, None) for words in both)]


def _eyepiece(pair: Pair, centre: Point, radius: float) -> str:
    side, height = radius * 0.62, radius * 0.94
    x, y = centre
    windows = circle(centre, radius, fill=CASING)
    for window, left in ((pair.left, x - side - 1), (pair.right, x + 1)):
        windows += rect(left, y - height / 2, side, height, fill=hue_rgb(window.hue, window.tone))
    rim = circle(centre, radius, fill="none", stroke="currentColor", stroke_width=3)
    return group(windows, class_="eyepiece") + rim
