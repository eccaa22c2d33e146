"""Outlines of cut stones in plan, inside a box of two half axes about the origin."""

from collections.abc import Callable
from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt

from isogyre.drawing.errors import UnknownWordError
from isogyre.drawing.svg import Point

# A cushion is a superellipse: an ellipse has the exponent 2, a square an endless one.
CUSHION_EXPONENT = 3.1
# An emerald cut loses this part of its narrower half axis at each corner.
CORNER = 0.3
# How far the sides of a triangle bulge, in parts of a side.
BULGE = 0.09


def _oval(turn: float) -> Point:
    return cos(turn), sin(turn)


def _cushion(turn: float) -> Point:
    power = 2 / CUSHION_EXPONENT
    x, y = cos(turn), sin(turn)
    return abs(x) ** power * (1 if x > 0 else -1), abs(y) ** power * (1 if y > 0 else -1)


def _pear(turn: float) -> Point:
    # The point lies to the right, at no turn; 0.77 is the curve's own greatest half width.
    return cos(turn), sin(turn) * sin(turn / 2) / 0.77


def _marquise(turn: float, length_to_width: float) -> Point:
    # Two arcs of one circle meet in the points; the circle depends on how slender the stone is.
    radius = (length_to_width**2 + 1) / 2
    x = cos(turn)
    y = sqrt(max(radius**2 - (x * length_to_width) ** 2, 0)) - (radius - 1)
    return x, y if sin(turn) >= 0 else -y


CURVES: dict[str, Callable[[float], Point]] = {
    "round": _oval,
    "oval": _oval,
    "cushion": _cushion,
    "pear": _pear,
    "round cabochon": _oval,
    "oval cabochon": _oval,
    "bead": _oval,
}
CUTS = (*CURVES, "marquise", "heart", "emerald cut", "square", "triangle")


def plan(cut: str, half: Point, count: int = 96) -> list[Point]:
    """Return ``count`` points of an outline; corners and points of the stone are among them.

    Raises UnknownWordError for a cut that has no outline here.
    """
    across, down = half
    if cut not in CUTS:
        raise UnknownWordError("cut", cut, CUTS)
    if cut == "heart":
        unit = _evenly(_half_heart(), count // 2)
        unit += [(-x, y) for x, y in reversed(unit[1:])]
    elif cut == "marquise":
        unit = [_marquise(2 * pi * i / count, across / down) for i in range(count)]
    elif cut in CURVES:
        unit = [CURVES[cut](2 * pi * i / count) for i in range(count)]
    else:
        unit = _along(_corners(cut, half), count)
    return [(x * across, y * down) for x, y in unit]


def _half_heart() -> list[Point]:
    """Return the right half of a heart, from the cleft above round the lobe to the tip below."""
    lobe, radius = (0.52, -0.36), 0.48
    start, end = radians(-152), radians(28)
    turns = [start + (end - start) * i / 24 for i in range(25)]
    arc = [(lobe[0] + radius * cos(turn), lobe[1] + 1.333 * radius * sin(turn)) for turn in turns]
    x, y = arc[-1]
    side = [(x * (1 - i / 12), y + (1 - y) * i / 12) for i in range(1, 13)]
    bulging = [(a + 0.09 * sin(pi * i / 12), b) for i, (a, b) in enumerate(side, 1)]
    return [(0.0, -0.62), *arc[1:], *bulging]


def _evenly(points: list[Point], steps: int) -> list[Point]:
    """Return points at even distances along a line, both ends included."""
    lengths = [0.0]
    for (x, y), (next_x, next_y) in pairwise(points):
        lengths.append(lengths[-1] + hypot(next_x - x, next_y - y))
    out, side = [], 0
    for i in range(steps + 1):
        goal = lengths[-1] * i / steps
        while side < len(lengths) - 2 and lengths[side + 1] < goal:
            side += 1
        share = (goal - lengths[side]) / (lengths[side + 1] - lengths[side])
        start, end = points[side], points[side + 1]
        out.append((start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share))
    return out


def _corners(cut: str, half: Point) -> list[Point]:
    """Return the corners of an outline of straight or bulging sides, in half axes of 1."""
    if cut == "square":
        return [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)]
    if cut == "emerald cut":
        across, down = half
        cut_x, cut_y = 1 - CORNER * min(half) / across, 1 - CORNER * min(half) / down
        low = [(1, cut_y), (cut_x, 1), (-cut_x, 1), (-1, cut_y)]
        return [*low, *((-x, -y) for x, y in low)]
    tips = [(0.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
    bulging = [point for i in range(3) for point in _bulging(tips[i], tips[(i + 1) % 3])]
    widest = max(abs(x) for x, _ in bulging)
    lowest = max(y for _, y in bulging)
    return [(x / widest, y if y < 0 else y / lowest) for x, y in bulging]


def _bulging(start: Point, end: Point, steps: int = 16) -> list[Point]:
    """Return points of a side that bulges outwards, without its end."""
    x, y = end[0] - start[0], end[1] - start[1]
    out = []
    for i in range(steps):
        share = i / steps
        swell = BULGE * 4 * share * (1 - share)
        out.append((start[0] + x * share + y * swell, start[1] + y * share - x * swell))
    return out


def _along(corners: list[Point], count: int) -> list[Point]:
    """Return points shared out evenly to the sides, each side beginning at its corner."""
    sides = len(corners)
    points = []
    for i in range(count):
        side, share = divmod(i * sides / count, 1)
        start, end = corners[int(side)], corners[(int(side) + 1) % sides]
        points.append(
            (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
        )
    return points
