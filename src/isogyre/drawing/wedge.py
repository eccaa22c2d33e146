"""A quartz wedge between crossed polars, cut into pieces of which one is lit."""

from dataclasses import dataclass

from isogyre.drawing.colour import FIRST_ORDER
from isogyre.drawing.errors import CountError, OutOfRangeError
from isogyre.drawing.svg import Frame, figure, gradient, line, rect, use

WIDTH, HEIGHT = 336.0, 6.0
MOST_PIECES = 20


@dataclass(frozen=True)
class Wedge:
    """``pieces`` equal pieces from retardation 0 to 680 nm; ``lit`` counts from 0, None is all."""

    pieces: int = 7
    lit: int | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.pieces <= MOST_PIECES:
            raise CountError("pieces", self.pieces, 1, MOST_PIECES)
        if self.lit is not None and not 0 <= self.lit < self.pieces:
            raise OutOfRangeError("the lit piece", self.lit, 0, self.pieces - 1)


def draw_wedge(wedge: Wedge, prefix: str) -> str:
    """Return the wedge as a line; where it is not lit, a hair of ink stays."""
    piece = WIDTH / wedge.pieces
    left, width = (0.0, WIDTH) if wedge.lit is None else (piece * wedge.lit, piece)
    tints = gradient(
        f"{prefix}-tints",
        [(share, tint, 1.0) for share, tint in FIRST_ORDER],
        gradient_units="userSpaceOnUse",
        x1=0,
        x2=WIDTH,
        y1=0,
        y2=0,
    )
    y = HEIGHT - 0.5
    ink = line((0, y), (WIDTH, y), stroke="currentColor", stroke_opacity=0.3)
    which = "all of it" if wedge.lit is None else f"piece {wedge.lit + 1} of {wedge.pieces}"
    return figure(
        prefix,
        Frame(WIDTH, HEIGHT),
        "Quartz wedge, drawn",
        f"First-order tints between crossed polars, grey, yellow, violet and blue; lit: {which}.",
        ink,
        rect(left, 0, width, HEIGHT - 1, fill=use(f"{prefix}-tints")),
        definitions=tints,
    )
