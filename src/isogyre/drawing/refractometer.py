"""The refractometer's scale as it is seen through the eyepiece in yellow light.

The field is dark at low figures and bright above the edge, because light that meets the facet
flatter than the critical angle is thrown back. Between two edges half of the light is thrown
back: the field is half dark. Above the contact liquid's own index nothing of the stone is seen.
"""

from dataclasses import dataclass
from math import ceil, floor, sqrt

from isogyre.drawing.errors import EdgeOrderError, OutOfRangeError, SpotAndEdgesError
from isogyre.drawing.svg import (
    FIRM,
    SMALL,
    Frame,
    blur,
    circle,
    clip,
    element,
    ellipse,
    figure,
    glow,
    gradient,
    group,
    label,
    line,
    number,
    path,
    rect,
    spread,
    use,
)

# The scale's end on the sheet and the eyepiece about it, in units.
TOP, BOTTOM = 18.0, 238.0
CENTRE, RADIUS = (126.0, 128.0), 122.0
VALUES_X = CENTRE[0] + RADIUS + 34
WIDTH, HEIGHT = 340.0, 260.0
VALUE_HEIGHT = 58.0
# Yellow light, 589 nm, from dark to bright.
DARK, HALF_DARK, BRIGHT, BEYOND = "#2c2410", "#a07d29", "#e3b63f", "#efcb68"
# Where a spot is read the eye stands back: the field is dim, and only the spot is bright.
SPOT_FIELD, BEYOND_SPOT, SPOT_BRIGHT = "#94742a", "#a3812f", "#f6dc88"
ON_DARK, ON_BRIGHT = "#f2e3b8", "#1a1508"
LOWEST, HIGHEST = 1.30, 2.00
NARROWEST_SCALE = 0.02
# Half of the way over which an edge fades, in units: even a sharp edge is no knife's cut.
SOFTNESS = 1.6
# Half of the width of a thumb.
THUMB = 22.0


@dataclass(frozen=True)
class Edge:
    """A shadow edge, or the balance point of a spot, with the error of reading it."""

    n: float
    error: float = 0.0

    def __post_init__(self) -> None:
        if not 1 <= self.n <= 4:
            raise OutOfRangeError("the index", self.n, 1, 4)
        if not 0 <= self.error <= 0.1:
            raise OutOfRangeError("the error of an index", self.error, 0, 0.1)

    @property
    def decimals(self) -> int:
        """Figures after the point that the error allows."""
        return 4 if 0 < self.error < 0.001 else 2 if self.error >= 0.01 else 3


@dataclass(frozen=True)
class RefractometerScale:
    """What is seen: up to two edges, or a spot, on a piece of the scale.

    ``limit`` is the index of the contact liquid (or of the prism's own end); an edge above it is
    not seen, and the field stays dark up to the limit. ``scale_from`` and ``scale_to`` are the
    ends of the piece that is shown; ``has_handles`` adds shapes that a script may move.
    """

    low: Edge | None = None
    high: Edge | None = None
    spot: Edge | None = None
    limit: float = 1.79
    scale_from: float = 1.35
    scale_to: float = 1.85
    has_handles: bool = False

    def __post_init__(self) -> None:
        if not LOWEST <= self.scale_from <= self.scale_to - NARROWEST_SCALE <= HIGHEST:
            raise OutOfRangeError("the end of the scale", self.scale_to, LOWEST, HIGHEST)
        if self.spot and (self.low or self.high):
            raise SpotAndEdgesError
        if self.low and self.high and self.low.n > self.high.n:
            raise EdgeOrderError(self.low.n, self.high.n)
        for edge in (self.low, self.high, self.spot):
            if edge and edge.n < self.limit and not self.scale_from <= edge.n <= self.scale_to:
                raise OutOfRangeError("an edge", edge.n, self.scale_from, self.scale_to)

    @property
    def edges(self) -> tuple[tuple[str, Edge], ...]:
        """The edges that can be seen, with the word for each, lowest first."""
        named = [("lower edge", self.low), ("upper edge", self.high)]
        if self.low is None or self.high is None or self.low.n == self.high.n:
            named = [("edge", self.low or self.high)]
        return tuple((word, edge) for word, edge in named if edge and edge.n < self.limit)

    @property
    def is_beyond(self) -> bool:
        """Whether an edge lies above the limit."""
        return any(edge and edge.n >= self.limit for edge in (self.low, self.high, self.spot))


def height_of(scale: RefractometerScale, n: float) -> float:
    """Return where an index stands on the sheet: higher figures lie lower, as in the eyepiece."""
    return TOP + (n - scale.scale_from) / (scale.scale_to - scale.scale_from) * (BOTTOM - TOP)


def draw_refractometer(scale: RefractometerScale, prefix: str) -> str:
    """Return the eyepiece, its scale and the figures led out to the side."""
    inside = _field(scale, prefix) + _ticks(scale) + _errors(scale)
    if scale.spot:
        inside += _spot(scale, scale.spot, prefix)
    inside += circle(CENTRE, RADIUS, fill=use(f"{prefix}-shade"))
    definitions = (
        clip(f"{prefix}-eye", circle(CENTRE, RADIUS))
        + glow(f"{prefix}-shade", [(0.72, "#000000", 0), (1, "#000000", 0.5)])
        + blur(f"{prefix}-soft", 1.8)
        + "".join(
            gradient(f"{prefix}-edge-{i}", [(0, above, 1), (1, below, 1)], x2=0, y2=1)
            for i, (_, above, below) in enumerate(_boundaries(scale))
        )
    )
    eyepiece = group(inside, clip_path=use(f"{prefix}-eye"), class_="eyepiece")
    rim = circle(CENTRE, RADIUS, fill="none", stroke="currentColor", stroke_width=4)
    return figure(
        prefix,
        Frame(WIDTH, HEIGHT),
        "Refractometer, drawn",
        describe(scale),
        eyepiece,
        rim,
        _values(scale),
        definitions=definitions,
        data_scale_from=f"{scale.scale_from:.4f}",
        data_scale_to=f"{scale.scale_to:.4f}",
        data_top=TOP,
        data_bottom=BOTTOM,
    )


def describe(scale: RefractometerScale) -> str:
    """Return what is seen, in words."""
    piece = f"Scale from {scale.scale_from:.2f} to {scale.scale_to:.2f}, growing downwards. "
    end = f"the liquid's edge at {scale.limit:.2f}"
    if scale.spot and _shows_spot(scale):
        return (
            f"{piece}A blurred spot, half dark and half bright at {_figure(scale.spot)}; "
            "above it dark, below it bright."
        )
    if not scale.edges:
        return f"{piece}No edge of a stone: dark up to {end}, bright beyond it."
    seen = " and ".join(f"the {word} at {_figure(edge)}" for word, edge in scale.edges)
    if scale.is_beyond:
        return f"{piece}Dark up to {seen}, half dark from there up to {end}: the other is beyond."
    between = ", half dark between the two" if len(scale.edges) == 2 else ""
    return f"{piece}Dark up to {seen}{between}, bright beyond; {end} is faint."


def _figure(edge: Edge) -> str:
    shown = f"{edge.n:.{edge.decimals}f}"
    return f"{shown} ± {edge.error:.{edge.decimals}f}" if edge.error else shown


def _boundaries(scale: RefractometerScale) -> list[tuple[float, str, str]]:
    """Return (index, field above, field below) wherever the field changes, from the top."""
    if _shows_spot(scale):
        return [(scale.limit, SPOT_FIELD, BEYOND_SPOT)]
    seen = [edge.n for _, edge in scale.edges]
    fields = [DARK, HALF_DARK] if len(seen) == 2 or (seen and scale.is_beyond) else [DARK]
    if not seen or scale.is_beyond:
        return _steps([*seen, scale.limit], [*fields, BEYOND])
    return _steps([*seen, scale.limit], [*fields, BRIGHT, BEYOND])


def _shows_spot(scale: RefractometerScale) -> bool:
    return scale.spot is not None and not scale.is_beyond


def _steps(indices: list[float], fields: list[str]) -> list[tuple[float, str, str]]:
    return list(zip(indices, fields, fields[1:], strict=False))


def _field(scale: RefractometerScale, prefix: str) -> str:
    """Return the dark, half dark and bright parts of the field, with the soft run of each edge."""
    left, width, foot = CENTRE[0] - RADIUS, 2 * RADIUS, CENTRE[1] + RADIUS
    steps = _boundaries(scale)
    parts = [rect(left, CENTRE[1] - RADIUS, width, 2 * RADIUS, fill=steps[0][1])]
    for i, (n, _, below) in enumerate(steps):
        y = height_of(scale, n)
        if y < foot:
            fade = use(f"{prefix}-edge-{i}")
            parts.append(rect(left, y, width, foot - y, fill=below))
            parts.append(rect(left, y - SOFTNESS, width, 2 * SOFTNESS, fill=fade))
    return "".join(parts)


def _errors(scale: RefractometerScale) -> str:
    """Return the band of each edge's error, beside the ticks so that the edge stays clear."""
    parts = []
    for _, edge in scale.edges:
        if edge.error:
            low, high = (height_of(scale, edge.n + k * edge.error) for k in (-1, 1))
            parts.append(
                rect(
                    CENTRE[0] - 62,
                    low,
                    16,
                    high - low,
                    fill="#ffffff",
                    fill_opacity=0.3,
                    stroke="#ffffff",
                    stroke_width=0.8,
                )
            )
    return "".join(parts)


def _ticks(scale: RefractometerScale) -> str:
    """Return ticks and figures; on a short piece of the scale a tick is 0.001, else 0.01."""
    fine = scale.scale_to - scale.scale_from <= 0.15
    step, middle, big = (0.001, 5, 10) if fine else (0.01, 5, 10 if _is_long(scale) else 5)
    first, last = ceil(scale.scale_from / step - 1e-6), floor(scale.scale_to / step + 1e-6)
    brightest = max((edge.n for _, edge in scale.edges), default=scale.limit)
    marks: dict[str, str] = {ON_DARK: "", ON_BRIGHT: ""}
    figures = ""
    for i in range(first, last + 1):
        n = i * step
        y = height_of(scale, n)
        ink = ON_DARK if n < brightest and not _shows_spot(scale) else ON_BRIGHT
        length = 36 if i % big == 0 else 26 if i % middle == 0 else 16
        marks[ink] += f"M{number(CENTRE[0] - 40)} {number(y)}h{length}"
        if i % big == 0:
            figures += label((CENTRE[0] + 4, y + 5), f"{n:.2f}", ink=ink, weight=FIRM)
    ticks = "".join(path(data, stroke=ink, stroke_width=1.2) for ink, data in marks.items() if data)
    return ticks + figures


def _is_long(scale: RefractometerScale) -> bool:
    return scale.scale_to - scale.scale_from > 0.55


def _spot(scale: RefractometerScale, spot: Edge, prefix: str) -> str:
    """Return the drop's round spot where it balances, and how it looks higher and lower."""
    x = CENTRE[0] - 72
    if scale.is_beyond:
        places = [(height_of(scale, scale.limit) - step, DARK, DARK) for step in (26, 70, 114)]
    else:
        y = height_of(scale, spot.n)
        places = [(y - 44, DARK, DARK), (y, DARK, SPOT_BRIGHT), (y + 44, SPOT_BRIGHT, SPOT_BRIGHT)]
    drops = "".join(
        _drop(x, y, upper, lower, f"{prefix}-drop-{i}")
        for i, (y, upper, lower) in enumerate(places)
    )
    return group(drops, filter=use(f"{prefix}-soft"))


def _drop(x: float, y: float, upper: str, lower: str, name: str) -> str:
    stops = [(0.0, upper, 1.0), (0.3, upper, 1.0), (0.7, lower, 1.0), (1.0, lower, 1.0)]
    shade = element("defs", gradient(name, stops, x2=0, y2=1))
    return shade + ellipse((x, y), (21, 16), fill=use(name))


def _values(scale: RefractometerScale) -> str:
    """Return the figures led out to the side, and the liquid's edge."""
    spots = [("spot", scale.spot)] if scale.spot and not scale.is_beyond else []
    read = [*scale.edges, *((word, edge) for word, edge in spots if edge)]
    rows = [(height_of(scale, edge.n), word, edge) for word, edge in read]
    liquid_y = min(height_of(scale, scale.limit), BOTTOM)
    places = spread([y for y, *_ in rows] + [liquid_y], VALUE_HEIGHT, 22, HEIGHT - 22)
    parts = [
        _value(y, place, word, edge, has_handle=scale.has_handles)
        for (y, word, edge), place in zip(rows, places, strict=False)
    ]
    parts.append(_leader(liquid_y, places[-1], opacity=0.45))
    end = "beyond" if scale.is_beyond else "liquid"
    parts.append(label((VALUES_X, places[-1] - 2), end, size=SMALL))
    parts.append(label((VALUES_X, places[-1] + 15), f"{scale.limit:.2f}", size=SMALL))
    return "".join(parts)


def _rim_x(y: float) -> float:
    """Return where the rim of the eyepiece stands at a height, on the right."""
    return CENTRE[0] + sqrt(max(RADIUS**2 - (y - CENTRE[1]) ** 2, 0))


def _leader(y: float, place: float, opacity: float = 1) -> str:
    bend = CENTRE[0] + RADIUS + 16
    return path(
        f"M{number(_rim_x(y))} {number(y)}H{number(bend)}L{number(VALUES_X - 6)} {number(place)}",
        stroke="currentColor",
        stroke_opacity=opacity if opacity < 1 else None,
        stroke_width=1.5,
    )


def _value(y: float, place: float, word: str, edge: Edge, has_handle: bool) -> str:
    error = f"± {edge.error:.{edge.decimals}f}" if edge.error else ""
    words = label((VALUES_X, place - 13), word, size=SMALL)
    words += label(
        (VALUES_X, place + 6), f"{edge.n:.{edge.decimals}f}", size=20, ink="currentColor"
    )
    words += label((VALUES_X, place + 22), error, size=SMALL) if error else ""
    return _leader(y, place) + words + (_handle(y, word, edge) if has_handle else "")


def _handle(y: float, word: str, edge: Edge) -> str:
    """Return what a thumb takes hold of; the script moves it and reads the index off the scale."""
    x = CENTRE[0] + RADIUS
    return group(
        line(
            (CENTRE[0] - RADIUS, 0),
            (x, 0),
            stroke="#ffffff",
            stroke_width=1,
            stroke_dasharray="2 5",
        ),
        circle((x, 0), 8, class_="hollow", stroke="currentColor", stroke_width=2.5),
        circle((x, 0), THUMB, fill="transparent"),
        transform=f"translate(0 {number(y)})",
        data_edge=word.split()[0],
        data_n=f"{edge.n:.4f}",
    )
