"""One feature in a loupe's field, or up to four of them side by side in one."""

from collections.abc import Sequence
from math import pi, sin
from typing import Literal

from isogyre.drawing.colour import BLACK, WHITE, mix
from isogyre.drawing.errors import CountError, UnknownWordError
from isogyre.drawing.scenes.shapes import CENTRE
from isogyre.drawing.scenes.sheet import FIELD, Dice, Ground, Row, Sheet, ground_of
from isogyre.drawing.scenes.table import ROWS
from isogyre.drawing.svg import (
    Frame,
    Point,
    at,
    checked,
    circle,
    clip,
    element,
    figure,
    glow,
    group,
    number,
    polar,
    use,
)

Size = Literal["list", "view"]

# Width of a picture in pixels, by where it stands.
WIDTHS_PX = {"list": 96.0, "view": 300.0}
MOST_FEATURES = 4
# Paper about the field, for the ring of the loupe.
MARGIN = 5.0
# How much of its place a feature of a scene fills; the rest keeps neighbours apart.
FILLED = 0.94
SEED = 7


def drawn_features() -> frozenset[str]:
    """Return the names of all features that have a drawing."""
    return frozenset(ROWS)


def draw_feature(
    name: str, prefix: str, hue: str = "colourless", tone: float = 0.5, size: Size = "view"
) -> str:
    """Return a schematic of one feature in a round field of the host's colour.

    ``hue`` is one of the fifteen or ``#rrggbb``, ``tone`` 0 to 1; ``size`` is ``list`` (96 px) or
    ``view`` (300 px). Raises UnknownWordError, OutOfRangeError, PrefixError.
    """
    row = _row(name)
    if size not in WIDTHS_PX:
        raise UnknownWordError("size of a scene", size, WIDTHS_PX)
    ground = ground_of(hue, tone)
    sheet = Sheet(ground, Dice(SEED), checked(prefix), size == "list")
    seen = f"Schematic, as in the field of a loupe: {row.seen}."
    return _field(prefix, ground, size, _headed(name), seen, row.draw(sheet))


def draw_empty_field(prefix: str, hue: str = "colourless", tone: float = 0.5) -> str:
    """Return the loupe's field in the host's colour with nothing in it.

    Raises OutOfRangeError, PrefixError.
    """
    seen = "Schematic, as in the field of a loupe: nothing of what was looked for."
    return _field(checked(prefix), ground_of(hue, tone), "view", "Nothing seen", seen)


def draw_scene(
    names: Sequence[str], prefix: str, hue: str = "colourless", tone: float = 0.5
) -> str:
    """Return up to four features, each in its own part of one field.

    Raises UnknownWordError, CountError, OutOfRangeError, PrefixError.
    """
    rows = [_row(name) for name in names]
    if not 1 <= len(rows) <= MOST_FEATURES:
        raise CountError("features", len(rows), 1, MOST_FEATURES)
    ground = ground_of(hue, tone)
    if len(rows) == 1:
        return draw_feature(names[0], prefix, hue, tone)
    parts = [_edge(checked(prefix))]
    for i, (row, (place, reach)) in enumerate(zip(rows, places(len(rows)), strict=True)):
        sheet = Sheet(ground, Dice(SEED), f"{prefix}-{i}", is_small=True)
        share = reach * FILLED / FIELD
        move = f"translate({at(place)}) scale({number(share)})"
        inside = group(row.draw(sheet), mask=use(f"{prefix}-edge"))
        parts.append(group(inside, transform=move, class_="part"))
    seen = "; ".join(f"{name}, {row.seen}" for name, row in zip(names, rows, strict=True))
    title = ", ".join([_headed(names[0]), *names[1:]])
    return _field(
        prefix, ground, "view", title, f"Schematic, as in the field of a loupe: {seen}.", *parts
    )


def places(count: int) -> list[tuple[Point, float]]:
    """Return middles and radii of the largest equal circles side by side in the field."""
    if count == 1:
        return [(CENTRE, FIELD)]
    # Each circle touches the rim and both sides of its sector.
    half = sin(pi / count)
    reach = FIELD * half / (1 + half)
    start = pi if count == 2 else -pi / 2 - (pi / 4 if count == 4 else 0)
    return [(polar(CENTRE, FIELD - reach, start + 2 * pi * i / count), reach) for i in range(count)]


def _row(name: str) -> Row:
    if name not in ROWS:
        raise UnknownWordError("feature", name, sorted(ROWS))
    return ROWS[name]


def _headed(name: str) -> str:
    return name[:1].upper() + name[1:]


def _edge(prefix: str) -> str:
    """Return a mask that lets each part of a scene fade out at its rim."""
    fade = glow(f"{prefix}-fade", [(0, WHITE, 1), (0.86, WHITE, 1), (1, WHITE, 0)])
    disc = circle(CENTRE, FIELD, fill=use(f"{prefix}-fade"))
    return element("defs", fade + element("mask", disc, id=f"{prefix}-edge"))


def _field(prefix: str, ground: Ground, size: Size, title: str, seen: str, *content: str) -> str:
    """Return the loupe's field with its ring, and what lies in it."""
    shade = glow(
        f"{prefix}-ground",
        [
            (0, mix(ground.body, WHITE, 0.14), 1),
            (0.6, ground.body, 1),
            (1, mix(ground.body, BLACK, 0.3), 1),
        ],
    )
    bounds = clip(f"{prefix}-field", circle(CENTRE, FIELD))
    paper = circle(CENTRE, FIELD, fill=use(f"{prefix}-ground"))
    across = 2 * (FIELD + MARGIN)
    rim = circle(CENTRE, FIELD + 1, fill="none", stroke="currentColor", stroke_width=4)
    return figure(
        prefix,
        Frame(across, across, -across / 2, -across / 2, across / WIDTHS_PX[size]),
        title,
        seen,
        group(paper, *content, clip_path=use(f"{prefix}-field"), class_="eyepiece"),
        rim,
        definitions=shade + bounds,
    )
