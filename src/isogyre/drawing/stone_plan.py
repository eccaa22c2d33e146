"""A stone seen from above, to scale, with its measures or beside a ruler of 10 mm."""

from dataclasses import dataclass

from isogyre.drawing.colour import hue_rgb
from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.faceting import PHENOMENA, draw_stone
from isogyre.drawing.outlines import CUTS
from isogyre.drawing.svg import Frame, figure, group, label, line, path

SMALLEST_MM, LARGEST_MM = 0.5, 80.0
RULER_MM = 10
# A page counts 96 units to the inch of 25.4 mm.
CSS_UNITS_PER_MM = 96 / 25.4
# Room for a line of measures or a ruler below and beside the stone, in units.
MARGIN, MEASURES, RULER = 4.0, 27.0, 34.0
# The width of "12.5 mm", below which its line would be narrower than its word.
NARROWEST = 60.0


@dataclass(frozen=True)
class StonePlan:
    """What is drawn: a cut, its measures and its colour.

    All stones of a list are given one ``units_per_mm`` and, to stand in one column, one
    ``box_mm``. ``true_size`` gives the sheet its size in millimetres, so that on a checked screen
    or on paper the stone is as large as it is, whatever the scale says.
    """

    cut: str
    length_mm: float
    width_mm: float
    hue: str = "colourless"
    tone: float = 0.5
    seed: int = 1
    phenomenon: str = ""
    units_per_mm: float = 9.0
    box_mm: tuple[float, float] | None = None
    has_measures: bool = False
    has_ruler: bool = False
    true_size: bool = False

    def __post_init__(self) -> None:
        if self.cut not in CUTS:
            raise UnknownWordError("cut", self.cut, CUTS)
        if self.phenomenon not in PHENOMENA:
            raise UnknownWordError("phenomenon", self.phenomenon, PHENOMENA[1:])
        for what, measure in (("the length", self.length_mm), ("the width", self.width_mm)):
            if not SMALLEST_MM <= measure <= LARGEST_MM:
                raise OutOfRangeError(f"{what} in mm", measure, SMALLEST_MM, LARGEST_MM)
        if not 0 < self.units_per_mm <= 100:
            raise OutOfRangeError("the scale in units per mm", self.units_per_mm, 0.01, 100)
        hue_rgb(self.hue, self.tone)


def draw_stone_plan(stone: StonePlan, prefix: str) -> str:
    """Return the figure of a stone in plan."""
    scale = CSS_UNITS_PER_MM if stone.true_size else stone.units_per_mm
    half = stone.length_mm * scale / 2, stone.width_mm * scale / 2
    box = stone.box_mm or (stone.length_mm, stone.width_mm)
    room = max(box[0] * scale, 2 * half[0]) + 2 * MARGIN, max(box[1] * scale, 2 * half[1])
    right = MEASURES if stone.has_measures else 0.0
    below = MARGIN + (MEASURES if stone.has_measures else 0.0) + (RULER if stone.has_ruler else 0.0)
    width = max(room[0], RULER_MM * scale + 3 * MARGIN if stone.has_ruler else 0)
    if stone.has_measures:
        width = max(width, NARROWEST)
    frame = Frame(
        width=width + right,
        height=room[1] + MARGIN + below,
        left=-width / 2,
        top=-room[1] / 2 - MARGIN,
        units_in_one=scale if stone.true_size else 1.0,
        unit="mm" if stone.true_size else "",
    )
    colour = hue_rgb(stone.hue, stone.tone)
    parts = [
        group(
            draw_stone(prefix, stone.cut, half, colour, stone.seed, stone.phenomenon),
            class_="gem",
        )
    ]
    if stone.has_measures:
        parts.append(_measures(stone, half))
    if stone.has_ruler:
        parts.append(_ruler(frame, scale))
    return figure(prefix, frame, _title(stone), _description(stone), *parts)


def _title(stone: StonePlan) -> str:
    return f"{stone.cut} of {stone.length_mm:g} × {stone.width_mm:g} mm, drawn"


def _description(stone: StonePlan) -> str:
    hue = stone.hue if not stone.hue.startswith("#") else "coloured"
    seen = f"A stone seen from above: {stone.cut}, {hue}, {stone.length_mm:g} mm long, "
    seen += f"{stone.width_mm:g} mm wide"
    seen += f", with {stone.phenomenon}." if stone.phenomenon else "."
    if stone.has_ruler:
        seen += f" Below it a ruler of {RULER_MM} mm at the same scale."
    return seen


def _measures(stone: StonePlan, half: tuple[float, float]) -> str:
    across, down = half
    low, right = down + 10, across + 10
    marks = path(
        f"M{-across:.1f} {low - 4:.1f}v8M{across:.1f} {low - 4:.1f}v8M{-across:.1f} {low:.1f}"
        f"H{across:.1f}M{right - 4:.1f} {-down:.1f}h8M{right - 4:.1f} {down:.1f}h8"
        f"M{right:.1f} {-down:.1f}V{down:.1f}",
        stroke="currentColor",
        stroke_opacity=0.6,
    )
    words = label((0, low + 16), f"{stone.length_mm:.1f} mm", "middle")
    upright = f"rotate(90 {right + 7:.1f} 0)"
    words += label((right + 7, 0), f"{stone.width_mm:.1f}", "middle", transform=upright)
    return marks + words


def _ruler(frame: Frame, scale: float) -> str:
    start = frame.left + (frame.width - RULER_MM * scale) / 2
    y = frame.top + frame.height - RULER + 4
    ticks = "".join(
        f"M{start + mm * scale:.2f} {y:.1f}v{10 if mm % 5 == 0 else 6}"
        for mm in range(RULER_MM + 1)
    )
    ruler = path(ticks, stroke="currentColor", stroke_width=max(scale / 12, 0.3))
    ruler += line(
        (start, y), (start + RULER_MM * scale, y), stroke="currentColor", stroke_width=scale / 12
    )
    return ruler + label((start + RULER_MM * scale / 2, y + 25), f"{RULER_MM} mm", "middle")
