"""SVG text from numbers and words: elements, paths, labels and the frame of a figure.

Everything is said by presentation attributes and classes, so that a page which forbids inline
style shows it. Ink is `currentColor`; hue is written only where it is a colour in the trade.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from math import atan2, cos, hypot, pi, sin
from textwrap import wrap

from isogyre.drawing.errors import PrefixError

Point = tuple[float, float]

# The page sets text in figures at this size; a label of another size says so in a span of its own.
LABEL = 15
SMALL = 13
FIRM = 620
# Mean width of a letter or figure of the page's face, in parts of its size (measured).
LETTER_WIDTH = 0.5
# Ink and field of an eyepiece. They do not change with the light of the page.
BONE, CASING = "#f4efe6", "#0b0a0a"

PREFIX = re.compile(r"[A-Za-z][\w-]*\Z", re.ASCII)
# Attributes that SVG writes in two words run together.
RUN_TOGETHER = {
    "viewbox": "viewBox",
    "gradient_units": "gradientUnits",
    "gradient_transform": "gradientTransform",
    "pattern_units": "patternUnits",
    "pattern_transform": "patternTransform",
    "std_deviation": "stdDeviation",
    "class_": "class",
}


def number(value: float) -> str:
    """Return a figure with at most two decimals and no idle noughts."""
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def element(name: str, inside: str = "", /, **attributes: float | str | None) -> str:
    """Return one element; ``stroke_width`` is written ``stroke-width``, None is left out."""
    written = "".join(
        f' {RUN_TOGETHER.get(key, key.replace("_", "-"))}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def _value(value: float | str) -> str:
    return escape(value) if isinstance(value, str) else number(value)


def group(*parts: str, **attributes: float | str | None) -> str:
    """Return parts under common attributes, or nothing if there are none."""
    inside = "".join(parts)
    return element("g", inside, **attributes) if inside else ""


def line(start: Point, end: Point, **attributes: float | str | None) -> str:
    """Return a straight line."""
    return path(f"M{at(start)}L{at(end)}", **attributes)


def path(data: str, **attributes: float | str | None) -> str:
    """Return a path; without a fill of its own it is only stroked."""
    return element("path", d=data, **{"fill": "none", **attributes})


def at(point: Point) -> str:
    """Return a place as path data, to a tenth of a unit."""
    x, y = point
    return f"{_tenths(x)} {_tenths(y)}"


def _tenths(value: float) -> str:
    shown = f"{value:.1f}".removesuffix(".0")
    return "0" if shown == "-0" else shown


def polygon(points: Iterable[Point], **attributes: float | str | None) -> str:
    """Return a closed polygon."""
    return path(outline(points), **attributes)


def outline(points: Iterable[Point], closed: bool = True) -> str:
    """Return path data through the points by straight lines."""
    return "M" + "L".join(map(at, points)) + ("Z" if closed else "")


def smooth(points: Sequence[Point], closed: bool = False) -> str:
    """Return path data of a smooth curve through the points (Catmull and Rom's spline)."""
    count = len(points)
    data = f"M{at(points[0])}"
    for i in range(count if closed else count - 1):
        before, start, end, after = (
            points[(i + k) % count] if closed else points[min(max(i + k, 0), count - 1)]
            for k in (-1, 0, 1, 2)
        )
        leave = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        arrive = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        data += f"C{at(leave)} {at(arrive)} {at(end)}"
    return data + ("Z" if closed else "")


def circle(centre: Point, radius: float, **attributes: float | str | None) -> str:
    """Return a circle."""
    return element("circle", cx=centre[0], cy=centre[1], r=radius, **attributes)


def ellipse(
    centre: Point, across: Point, turn_deg: float = 0, **attributes: float | str | None
) -> str:
    """Return an ellipse by its two half axes, turned clockwise on the screen."""
    turned = f"rotate({number(turn_deg)} {at(centre)})" if turn_deg else None
    return element(
        "ellipse",
        cx=centre[0],
        cy=centre[1],
        rx=across[0],
        ry=across[1],
        transform=turned,
        **attributes,
    )


def rect(x: float, y: float, width: float, height: float, **attributes: float | str | None) -> str:
    """Return an upright rectangle by its upper left corner."""
    return element("rect", x=x, y=y, width=width, height=height, **attributes)


def label(
    place: Point,
    words: str,
    anchor: str = "start",
    size: float = LABEL,
    ink: str | None = None,
    weight: int | None = None,
    **attributes: float | str | None,
) -> str:
    """Return a line of text in the page's face.

    The page gives all text in figures one size and one quiet ink; what differs is written on a
    span inside, which the page leaves alone.
    """
    inside = escape(words, quote=False)
    if size != LABEL or ink or weight:
        inside = element(
            "tspan",
            inside,
            font_size=size if size != LABEL else None,
            fill=ink,
            font_weight=weight,
        )
    x, y = place
    return element("text", inside, x=x, y=y, text_anchor=anchor, **attributes)


def text_width(words: str, size: float = LABEL) -> float:
    """Return about how wide a line of text is, in units."""
    return len(words) * size * LETTER_WIDTH


def lines_of(words: str, width: float, size: float = LABEL) -> list[str]:
    """Return words broken into lines that fit a width in units."""
    return wrap(words, max(1, int(width / (size * LETTER_WIDTH)))) or [""]


def spread(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return places in ascending order moved as little as need be to stand ``gap`` apart.

    They stay between ``low`` and ``high`` as long as there is room for all of them.
    """
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + gap if moved else low))
    limit = high
    for i in range(len(moved) - 1, -1, -1):
        moved[i] = min(moved[i], limit)
        limit = moved[i] - gap
    return moved


def turned(point: Point, turn_rad: float, about: Point = (0.0, 0.0)) -> Point:
    """Return a point turned about another, clockwise on the screen."""
    x, y = point[0] - about[0], point[1] - about[1]
    return (
        about[0] + x * cos(turn_rad) - y * sin(turn_rad),
        about[1] + x * sin(turn_rad) + y * cos(turn_rad),
    )


def polar(centre: Point, radius: float, angle_rad: float) -> Point:
    """Return the point at a distance and an angle from a centre."""
    return centre[0] + radius * cos(angle_rad), centre[1] + radius * sin(angle_rad)


def ring(centre: Point, radius: float, count: int, start_rad: float = -pi / 2) -> list[Point]:
    """Return points spaced evenly on a circle."""
    return [polar(centre, radius, start_rad + 2 * pi * i / count) for i in range(count)]


def direction(start: Point, end: Point) -> tuple[float, float]:
    """Return length and angle of the way from one point to another."""
    x, y = end[0] - start[0], end[1] - start[1]
    return hypot(x, y), atan2(y, x)


def gradient(
    name: str, stops: Sequence[tuple[float, str, float]], **attributes: float | str | None
) -> str:
    """Return a linear gradient of (offset, colour, opacity), left to right unless said."""
    return element("linearGradient", _stops(stops), id=name, **attributes)


def glow(name: str, stops: Sequence[tuple[float, str, float]], **attributes: float | str) -> str:
    """Return a radial gradient of (offset, colour, opacity), centre to rim."""
    return element("radialGradient", _stops(stops), id=name, **attributes)


def _stops(stops: Sequence[tuple[float, str, float]]) -> str:
    return "".join(
        element(
            "stop",
            offset=f"{offset:.3f}",
            stop_color=colour,
            stop_opacity=opacity if opacity < 1 else None,
        )
        for offset, colour, opacity in stops
    )


def blur(name: str, units: float) -> str:
    """Return a filter that blurs by a standard deviation in units."""
    inside = element("feGaussianBlur", std_deviation=units)
    return element("filter", inside, id=name, x="-20%", y="-20%", width="140%", height="140%")


def clip(name: str, shape: str) -> str:
    """Return a clipping path."""
    return element("clipPath", shape, id=name)


def use(name: str) -> str:
    """Return a reference to a definition, as an attribute takes it."""
    return f"url(#{name})"


def checked(prefix: str) -> str:
    """Return a prefix that can open ids; raises PrefixError."""
    if not PREFIX.match(prefix):
        raise PrefixError(prefix)
    return prefix


@dataclass(frozen=True)
class Frame:
    """The sheet of a figure in its own units; ``unit`` is added to its size, as in ``mm``."""

    width: float
    height: float
    left: float = 0.0
    top: float = 0.0
    units_in_one: float = 1.0
    unit: str = ""


def figure(
    prefix: str,
    frame: Frame,
    title: str,
    description: str,
    *content: str,
    definitions: str = "",
    **attributes: float | str | None,
) -> str:
    """Return a whole figure with its title and its description in words.

    Ids begin with ``prefix``, so that several figures share a page; raises PrefixError.
    """
    checked(prefix)
    head = element("title", escape(title, quote=False), id=f"{prefix}-title")
    head += element("desc", escape(description, quote=False), id=f"{prefix}-desc")
    return element(
        "svg",
        head + (element("defs", definitions) if definitions else "") + "".join(content),
        xmlns="http://www.w3.org/2000/svg",
        class_="drawn",
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-desc",
        viewbox=" ".join(map(number, (frame.left, frame.top, frame.width, frame.height))),
        width=number(frame.width / frame.units_in_one) + frame.unit,
        height=number(frame.height / frame.units_in_one) + frame.unit,
        font_size=LABEL,
        fill="currentColor",
        **attributes,
    )
