"""Shapes that several scenes share: rounds, cracks, cells, and small solids."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, pi, sin

from isogyre.drawing.scenes.sheet import FIELD, Dice
from isogyre.drawing.svg import Point, at, direction, outline, polar, ring

Piece = tuple[Point, Point]
CENTRE: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Solid:
    """A solid in outline, of size one about the origin: silhouette, and edges across it."""

    silhouette: tuple[Point, ...]
    edges: tuple[Piece, ...]

    @property
    def front(self) -> Point:
        """The corner that comes towards the eye."""
        return self.edges[0][0]


def _boxed(u: Point, v: Point, w: Point) -> Solid:
    """Return a box by its three edges that meet at the front."""
    around = [u, _sum(u, v), v, _sum(v, w), w, _sum(w, u)]
    return Solid(tuple(around), ((CENTRE, u), (CENTRE, v), (CENTRE, w)))


def _sum(one: Point, other: Point) -> Point:
    return one[0] + other[0], one[1] + other[1]


def _crossed(front: Point, *corners: Point) -> Solid:
    return Solid(corners, tuple((front, corner) for corner in corners))


def _long(half_width: float, tip: float) -> Solid:
    """Return a six-sided prism, lying, with a point at each end."""
    sides = [(1.0, 0.0), (tip, half_width), (-tip, half_width)]
    sides += [(-1.0, 0.0), (-tip, -half_width), (tip, -half_width)]
    ridge = ((tip, -half_width * 0.25), (-tip, -half_width * 0.25))
    edges = [ridge, *((ridge[0], sides[k]) for k in (0, 1, 5))]
    edges += [(ridge[1], sides[k]) for k in (2, 3, 4)]
    return Solid(tuple(sides), tuple(edges))


OCTAHEDRON = _crossed((0.16, 0.2), (0, -1), (0.86, 0.1), (0, 1), (-0.86, -0.12))
CUBE = _boxed((0.82, 0.42), (0.06, -0.92), (-0.84, 0.42))
RHOMB = _boxed((0.95, 0.22), (0.1, -0.72), (-0.78, 0.4))
PRISM = _long(0.42, 0.72)
ROD = _long(0.2, 0.86)
HEXAGON = Solid(tuple(ring(CENTRE, 1, 6)), ())
TRIANGLE = Solid(tuple(ring(CENTRE, 1, 3)), ())


def placed(points: Sequence[Point], place: Point, size: float, way: float = 0.0) -> list[Point]:
    """Return points of a shape of size one, enlarged, turned by radians and moved."""
    turn, lean = cos(way) * size, sin(way) * size
    return [(place[0] + x * turn - y * lean, place[1] + x * lean + y * turn) for x, y in points]


def tilted(points: Sequence[Point], squash: float) -> list[Point]:
    """Return a shape about the origin, in a plane that leans away from the eye."""
    return [(x, y * squash) for x, y in points]


def segment(middle: Point, half_length: float, way: float) -> Piece:
    """Return both ends of a straight piece by its middle and direction in radians."""
    return polar(middle, -half_length, way), polar(middle, half_length, way)


def strokes(pieces: Sequence[Piece]) -> str:
    """Return path data of many straight pieces."""
    return "".join(f"M{at(start)}L{at(end)}" for start, end in pieces)


def dots(places: Sequence[Point]) -> str:
    """Return path data of points; a round pen makes them specks."""
    return "".join(f"M{at(place)}h0" for place in places)


def rounds(places: Sequence[Point], radius: float) -> str:
    """Return path data of small circles."""
    r, across = f"{radius:.1f}", f"{2 * radius:.1f}"
    return "".join(
        f"M{at((x - radius, y))}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0-{across} 0"
        for x, y in places
    )


def blob(
    dice: Dice,
    centre: Point,
    radius: float,
    wobble: float = 0.2,
    stretch: float = 1.0,
    way: float = 0.0,
    corners: int = 9,
) -> list[Point]:
    """Return points of an irregular round, drawn out along a direction."""
    unit = [
        (reach * cos(turn) * stretch, reach * sin(turn))
        for turn, reach in (
            (2 * pi * i / corners, 1 + dice.between(-wobble, wobble)) for i in range(corners)
        )
    ]
    return placed(unit, centre, radius, way)


def flowing(points: Sequence[Point], closed: bool = False) -> str:
    """Return path data of a curve that follows the points (a quadratic B-spline).

    It is written by its joints alone, a third of the text of a curve through the points.
    """
    if closed:
        joints = [between(points[i - 1], point, 0.5) for i, point in enumerate(points)]
        first, rest, end = joints[0], joints[1:], joints[:1]
        return f"M{at(first)}Q{at(points[0])} {at(rest[0])}" + _onward([*rest[1:], *end]) + "Z"
    if len(points) < 3:
        return outline(points, closed=False)
    joints = [between(a, b, 0.5) for a, b in pairwise(points[1:-1])]
    ends = [*joints, points[-1]]
    return f"M{at(points[0])}Q{at(points[1])} {at(ends[0])}" + _onward(ends[1:])


def _onward(ends: Sequence[Point]) -> str:
    return "".join(f"T{at(end)}" for end in ends)


def rounded(points: Sequence[Point]) -> str:
    """Return path data of a closed shape without corners."""
    return flowing(points, closed=True)


def wavy(dice: Dice, start: Point, end: Point, sway: float, pieces: int = 6) -> list[Point]:
    """Return points of a line that sways to both sides of the straight way."""
    length, way = direction(start, end)
    along = [polar(start, length * i / pieces, way) for i in range(pieces + 1)]
    return [polar(point, dice.between(-sway, sway), way + pi / 2) for point in along]


def strewn(dice: Dice, across: int, jitter: float = 0.36, reach: float = 112) -> list[Point]:
    """Return the points of a jittered net that covers the field, ``across`` of them in a row."""
    step = 2 * reach / across
    half = across / 2
    return [
        (
            (column - half + 0.5 * (row % 2) + dice.between(-jitter, jitter)) * step,
            (row - half + 0.5 + dice.between(-jitter, jitter)) * step,
        )
        for row in range(across)
        for column in range(across + 1)
    ]


def cells(points: Sequence[Point], reach: float = 130) -> list[list[Point]]:
    """Return the polygons that lie nearer to one point than to any other (Voronoi).

    Those that do not come into the field are left out.
    """
    shapes = (_cell(point, points, reach) for point in points)
    return [shape for shape in shapes if len(shape) > 2 and _nearest_corner(shape) < FIELD + 4]


def _nearest_corner(shape: Sequence[Point]) -> float:
    return min(hypot(x, y) for x, y in shape)


def _cell(point: Point, points: Sequence[Point], reach: float) -> list[Point]:
    shape = [(-reach, -reach), (reach, -reach), (reach, reach), (-reach, reach)]
    for other in points:
        if other != point:
            shape = _nearer(shape, point, other)
    return shape


def _nearer(shape: list[Point], one: Point, other: Point) -> list[Point]:
    """Return the part of a convex shape that lies nearer to one point than to the other."""
    nx, ny = other[0] - one[0], other[1] - one[1]
    limit = (other[0] ** 2 + other[1] ** 2 - one[0] ** 2 - one[1] ** 2) / 2
    kept: list[Point] = []
    for i, end in enumerate(shape):
        start = shape[i - 1]
        before, after = (nx * x + ny * y - limit for x, y in (start, end))
        if (before < 0) != (after < 0):
            share = before / (before - after)
            x, y = (a + (b - a) * share for a, b in zip(start, end, strict=True))
            kept.append((x, y))
        if after < 0:
            kept.append(end)
    return kept


def shrunk(points: Sequence[Point], share: float) -> list[Point]:
    """Return a shape drawn together about its middle."""
    middle = mean(points)
    return [between(middle, point, share) for point in points]


def mean(points: Sequence[Point]) -> Point:
    """Return the middle of points."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def between(one: Point, other: Point, share: float) -> Point:
    """Return the point a share of the way from one to the other."""
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share


def outlines(shapes: Sequence[Sequence[Point]]) -> str:
    """Return path data of several closed shapes."""
    return "".join(outline(shape) for shape in shapes)
