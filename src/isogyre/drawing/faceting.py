"""A cut stone in plan: facets of crown and table, domes and beads, in the tones of one colour."""

from itertools import pairwise
from math import atan2, cos, pi, radians

import numpy as np

from isogyre.drawing.colour import WHITE, lit, mix
from isogyre.drawing.errors import UnknownWordError
from isogyre.drawing.outlines import plan
from isogyre.drawing.svg import (
    Point,
    circle,
    clip,
    element,
    ellipse,
    glow,
    group,
    line,
    polar,
    polygon,
    use,
)

# Where the lamp stands: above and to the left, as on most benches.
LAMP_RAD = radians(225)
# Radii of a brilliant's table, of its star points and of the net seen through the table.
TABLE, STARS, NET, HEART = 0.54, 0.76, 0.38, 0.2
STEPS = (1.0, 0.84, 0.68, 0.54)
PHENOMENA = ("", "six-rayed star", "four-rayed star", "chatoyancy")
RAYS = {"six-rayed star": 3, "four-rayed star": 2, "chatoyancy": 1}
DOMES = ("round cabochon", "oval cabochon")


def draw_stone(
    prefix: str, cut: str, half: Point, colour: str, seed: int = 1, phenomenon: str = ""
) -> str:
    """Return a stone in plan about the origin, in the tones of ``#rrggbb``.

    ``prefix`` opens the ids of what it defines; ``seed`` settles which facets flash. Raises
    UnknownWordError for a cut or a phenomenon that is not drawn.
    """
    if phenomenon not in PHENOMENA:
        raise UnknownWordError("phenomenon", phenomenon, PHENOMENA[1:])
    if cut in DOMES or cut == "bead" or phenomenon:
        return _dome(prefix, cut, half, colour, phenomenon)
    dice = np.random.default_rng(seed)
    if cut == "emerald cut":
        return _steps(half, colour, dice)
    return _brilliant(cut, half, colour, dice)


def silhouette(cut: str, half: Point, **attributes: float | str | None) -> str:
    """Return the bare outline of a stone about the origin."""
    return polygon(plan(cut, half), **attributes)


def _facet(points: list[Point], colour: str, power: float) -> str:
    tone = lit(colour, power)
    # A hair of its own tone closes the seams between neighbours.
    return polygon(points, fill=tone, stroke=tone, stroke_width=0.4)


def _towards_lamp(points: list[Point]) -> float:
    x, y = (sum(part) for part in zip(*points, strict=True))
    return 0.84 + 0.34 * cos(atan2(y, x) - LAMP_RAD)


def _brilliant(cut: str, half: Point, colour: str, dice: np.random.Generator) -> str:
    mains = 6 if cut == "triangle" else 8
    girdle = plan(cut, half, 2 * mains)
    edge = plan(cut, half)
    parts = [polygon(edge, fill=lit(colour, 0.62))]
    for i in range(mains):
        parts += _crown_part(girdle, 2 * i, edge, colour, dice)
    parts += _through_table(girdle, colour, dice)
    table = [_inwards(point, TABLE) for point in girdle[::2]]
    parts.append(polygon(table, stroke=WHITE, stroke_opacity=0.4, stroke_width=0.6))
    return "".join(parts)


def _inwards(point: Point, share: float) -> Point:
    return point[0] * share, point[1] * share


def _crown_part(
    girdle: list[Point], main: int, edge: list[Point], colour: str, dice: np.random.Generator
) -> list[str]:
    """Return a star, the kite before it, and the two halves that run to the girdle."""
    count = len(girdle)
    before, here, beyond, there = (girdle[(main + k) % count] for k in (-1, 0, 1, 2))
    star, star_before = _inwards(beyond, STARS), _inwards(before, STARS)
    table, table_there = _inwards(here, TABLE), _inwards(there, TABLE)
    step = len(edge) // count
    arc = [edge[(main * step + k) % len(edge)] for k in range(2 * step + 1)]
    facets = [
        ([table, table_there, star], 1.16),
        ([star, *arc[: step + 1]], 0.9),
        ([star, *arc[step:]], 0.78),
        ([table, star, here, star_before], 1.0),
    ]
    return [
        _facet(points, colour, _towards_lamp(points) * power * dice.uniform(0.86, 1.16))
        for points, power in facets
    ]


def _through_table(girdle: list[Point], colour: str, dice: np.random.Generator) -> list[str]:
    """Return the star of back facets seen through the table, light and dark side by side."""
    count = len(girdle)
    corner = [_inwards(point, TABLE) for point in girdle]
    parts = []
    for main in range(0, count, 2):
        before, beyond, there = main - 1, (main + 1) % count, (main + 2) % count
        # Between two corners the table's edge runs straight.
        edge = _between(corner[main], corner[there])
        net, heart = _inwards(girdle[beyond], NET), _inwards(girdle[beyond], HEART)
        arrow = _inwards(girdle[main], NET)
        heart_before = _inwards(girdle[before], HEART)
        flash = 0.66 if main % 4 else 1.0
        for points, power in (
            ([heart, corner[main], net], 1.42),
            ([heart, corner[there], net], 1.12),
            ([net, corner[main], edge], 0.74),
            ([net, corner[there], edge], 0.92),
            ([heart_before, corner[main], heart, arrow], 1.5 - 0.5 * flash),
            ([heart_before, arrow, heart, (0.0, 0.0)], 0.5 + 0.62 * flash),
        ):
            parts.append(_facet(points, colour, power * dice.uniform(0.9, 1.1)))
    return parts


def _between(one: Point, other: Point) -> Point:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _steps(half: Point, colour: str, dice: np.random.Generator) -> str:
    """Return an emerald cut: rows of facets along the sides, and the keel through the table."""
    narrow = min(half)
    rows = [_step_row(half, narrow * (1 - step)) for step in STEPS]
    parts = []
    for row, (outer, inner) in enumerate(pairwise(rows)):
        for i in range(8):
            j = (i + 1) % 8
            side = [outer[i], outer[j], inner[j], inner[i]]
            power = _towards_lamp(side) * (1.0, 1.14, 0.92)[row] * dice.uniform(0.9, 1.1)
            parts.append(_facet(side, colour, power))
    parts.append(_facet(rows[-1], colour, 1.1))
    for row, inset in enumerate((0.56, 0.68, 0.82)):
        below = _step_row(half, narrow * inset)
        deeper = _step_row(half, narrow * min(inset + 0.1, 0.97))
        for i in range(8):
            j = (i + 1) % 8
            power = (0.78, 1.34)[(i // 2 + row) % 2] * dice.uniform(0.88, 1.12)
            parts.append(_facet([below[i], below[j], deeper[j], deeper[i]], colour, power))
    parts.append(polygon(rows[-1], stroke=WHITE, stroke_opacity=0.45, stroke_width=0.6))
    return "".join(parts)


def _step_row(half: Point, inset: float) -> list[Point]:
    """Return the eight corners of a row, each side moved inwards by the same way."""
    shrunk = (max(half[0] - inset, 0.01), max(half[1] - inset, 0.01))
    return plan("emerald cut", shrunk, 8)


def _dome(prefix: str, cut: str, half: Point, colour: str, phenomenon: str) -> str:
    """Return a cabochon or a bead: a dome with its shade, its highlight and its ray of light."""
    edge = plan(cut, half)
    across, down = half
    name = f"{prefix}-dome"
    shades = glow(
        name,
        [(0, lit(colour, 1.5), 1), (0.45, lit(colour, 1.1), 1), (1, lit(colour, 0.5), 1)],
        cx="0.4",
        cy="0.36",
        r="0.72",
    )
    inside = polygon(edge, fill=use(name))
    if phenomenon:
        bounds = clip(f"{prefix}-edge", polygon(edge))
        inside += element("defs", bounds)
        inside += group(_rays(half, RAYS[phenomenon]), clip_path=use(f"{prefix}-edge"))
    else:
        inside += ellipse(
            (-0.32 * across, -0.38 * down),
            (0.2 * across, 0.12 * down),
            -28,
            fill=WHITE,
            fill_opacity=0.55,
        )
    if cut == "bead":
        inside += _drill_hole(half, colour)
    return element("defs", shades) + inside


def _rays(half: Point, count: int) -> str:
    """Return bands of light that cross on the dome; one band is a cat's eye."""
    across, down = half
    centre = (-0.08 * across, -0.1 * down)
    start = 0.0 if count == 1 else pi / 2
    reach = max(half) * 1.3
    parts = []
    for i in range(count):
        way = start + pi * i / count
        ends = polar(centre, -reach, way), polar(centre, reach, way)
        for width, opacity in ((0.2, 0.14), (0.09, 0.3), (0.035, 0.8)):
            parts.append(
                line(
                    *ends,
                    stroke=WHITE,
                    stroke_opacity=opacity,
                    stroke_width=width * min(half) * (2.2 if count == 1 else 1),
                )
            )
    return group(*parts)


def _drill_hole(half: Point, colour: str) -> str:
    across, down = half
    dark = mix(colour, "#000000", 0.78)
    return ellipse((0.86 * across, 0), (0.05 * across, 0.11 * down), fill=dark) + circle(
        (0.9 * across, 0), 0.02 * down, fill=lit(colour, 1.3)
    )
