"""The sheet a feature is drawn on: a round field in the host's colour, and dice that fall alike."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import hypot, pi, sqrt
from typing import TypeVar

import numpy as np

from isogyre.drawing.colour import BLACK, WHITE, hue_rgb, mix, parts_of
from isogyre.drawing.svg import Point, element, glow, gradient, path, polar, use

Choice = TypeVar("Choice")

# Every feature is drawn in a circle of this radius about the origin.
FIELD = 100.0
INK, BONE = "#141214", "#f6f1e6"
# A ground between these shows bone white as well as ink.
DARKEST_GROUND, LIGHTEST_GROUND, DARK_BELOW = 0.14, 0.8, 0.5
# Two colours nearer than this in lightness run into each other.
LEAST_APART = 0.16
# In a list a scene is a third as wide: pens are broader, things larger and fewer.
PEN_IN_LIST, SIZE_IN_LIST, COUNT_IN_LIST = 1.75, 1.25, 0.6


@dataclass(frozen=True)
class Ground:
    """The host's colour, and the inks that stand out from it."""

    body: str

    @property
    def is_dark(self) -> bool:
        """Whether bone white shows better on it than ink."""
        return lightness(self.body) < DARK_BELOW

    @property
    def mark(self) -> str:
        """The ink in which a line shows best."""
        return BONE if self.is_dark else INK

    @property
    def bright(self) -> str:
        """What scatters light: nearly white, with a breath of the body colour."""
        return mix(self.body, WHITE, 0.86)

    @property
    def shade(self) -> str:
        """What lies in shadow: nearly black, with a breath of the body colour."""
        return mix(self.body, BLACK, 0.76)

    @property
    def paler(self) -> str:
        """A zone of less colour."""
        return mix(self.body, WHITE, 0.42)

    @property
    def deeper(self) -> str:
        """A zone of more colour."""
        return mix(self.body, BLACK, 0.42)


def lightness(colour: str) -> float:
    """Return how light ``#rrggbb`` looks, from 0 to 1."""
    red, green, blue = parts_of(colour)
    return (0.3 * red + 0.59 * green + 0.11 * blue) / 255


def ground_of(hue: str, tone: float) -> Ground:
    """Return the ground for a host; the very light and the very dark are eased.

    Raises UnknownWordError for another hue, OutOfRangeError for a tone outside 0 to 1.
    """
    body = hue_rgb(hue, tone)
    light = lightness(body)
    if light > LIGHTEST_GROUND:
        body = mix(body, BLACK, 1 - LIGHTEST_GROUND / light)
    elif light < DARKEST_GROUND:
        body = mix(body, WHITE, (DARKEST_GROUND - light) / (1 - light))
    return Ground(body)


class Dice:
    """Chance that always falls alike: settled by numbers alone."""

    def __init__(self, *seeds: int) -> None:
        self._roll = np.random.default_rng(seeds)

    def between(self, low: float, high: float) -> float:
        """Return a number between two, evenly."""
        return float(self._roll.uniform(low, high))

    def bell(self, mean: float, sd: float) -> float:
        """Return a number about a mean."""
        return float(self._roll.normal(mean, sd))

    def count(self, low: int, high: int) -> int:
        """Return a whole number, both ends included."""
        return int(self._roll.integers(low, high + 1))

    def chance(self, share: float) -> bool:
        """Return yes for a share of the throws."""
        return bool(self._roll.random() < share)

    def pick(self, choices: Sequence[Choice]) -> Choice:
        """Return one of several."""
        return choices[self.count(0, len(choices) - 1)]

    def turn(self) -> float:
        """Return any direction, in radians."""
        return self.between(0, 2 * pi)


@dataclass(frozen=True)
class Sheet:
    """Where one feature is drawn: the ground, the dice, the opening of ids, and the size."""

    ground: Ground
    dice: Dice
    prefix: str
    is_small: bool = False

    @property
    def mark(self) -> str:
        """The ink in which a line shows best on this ground."""
        return self.ground.mark

    def pen(self, width: float) -> float:
        """Return the width of a line, broader in a list."""
        return width * PEN_IN_LIST if self.is_small else width

    def some(self, count: int) -> int:
        """Return how many of a thing, fewer in a list."""
        return max(1, round(count * COUNT_IN_LIST)) if self.is_small else count

    def sized(self, low: float, high: float) -> float:
        """Return a size between two, larger in a list."""
        return self.dice.between(low, high) * (SIZE_IN_LIST if self.is_small else 1)

    def anywhere(self, reach: float = 86) -> Point:
        """Return a place in the field, evenly."""
        return polar((0, 0), reach * sqrt(self.dice.between(0, 1)), self.dice.turn())

    def apart(self, count: int, reach: float = 78) -> list[Point]:
        """Return places that keep away from each other (the best of twelve throws each)."""
        found: list[Point] = []
        for _ in range(self.some(count)):
            throws = [self.anywhere(reach) for _ in range(12)]
            found.append(max(throws, key=lambda throw: _nearest(throw, found)))
        return found

    def ink(
        self,
        data: str,
        width: float = 1.0,
        colour: str | None = None,
        opacity: float | None = None,
        **attributes: float | str | None,
    ) -> str:
        """Return path data as a line, in the mark's ink unless another is given."""
        return path(
            data,
            stroke=colour or self.mark,
            stroke_width=self.pen(width),
            stroke_opacity=opacity,
            **attributes,
        )

    def film(self, colour: str) -> str:
        """Return the tint of a thin film as it shows on this ground."""
        return colour if self.ground.is_dark else mix(colour, self.ground.shade, 0.86)

    def told(self, colour: str) -> str:
        """Return a guest's own colour, with a sheen where it would sink into a dark ground."""
        stands_out = abs(lightness(colour) - lightness(self.ground.body)) > LEAST_APART
        return colour if stands_out or not self.ground.is_dark else mix(colour, WHITE, 0.45)

    def faded(self, name: str, colour: str, solid: float = 0.0) -> tuple[str, str]:
        """Return the definition of a round fade from a colour to nothing, and its use."""
        ident = f"{self.prefix}-{name}"
        stops = [(0.0, colour, 1.0), (solid, colour, 1.0), (1.0, colour, 0.0)]
        return element("defs", glow(ident, stops if solid else stops[::2])), use(ident)

    def ramp(self, name: str, *colours: str, **attributes: float | str | None) -> tuple[str, str]:
        """Return the definition of an even run through colours, and its use."""
        ident = f"{self.prefix}-{name}"
        last = max(len(colours) - 1, 1)
        stops = [(i / last, colour, 1.0) for i, colour in enumerate(colours)]
        return element("defs", gradient(ident, stops, **attributes)), use(ident)


Drawing = Callable[[Sheet], str]


@dataclass(frozen=True)
class Row:
    """One line of a table of features: what the picture shows, in words, and who draws it."""

    seen: str
    draw: Drawing


def _nearest(point: Point, others: list[Point]) -> float:
    return min((hypot(point[0] - x, point[1] - y) for x, y in others), default=0.0)
