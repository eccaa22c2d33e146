"""What a stone shows between crossed polars while it is turned once round."""

from dataclasses import dataclass
from math import pi

import numpy as np

from isogyre.drawing.colour import BLACK, WHITE, hue_rgb, mix
from isogyre.drawing.errors import UnknownWordError
from isogyre.drawing.faceting import silhouette
from isogyre.drawing.outlines import plan
from isogyre.drawing.svg import (
    CASING,
    Frame,
    Point,
    at,
    blur,
    circle,
    clip,
    element,
    figure,
    glow,
    group,
    label,
    line,
    number,
    outline,
    path,
    polar,
    smooth,
    use,
)

ANSWERS = ("single", "double", "aggregate", "anomalous")
SEEN = {
    "single": "The stone stays dark at every turn.",
    "double": "The stone is light and dark by turns, four times each in a full turn.",
    "aggregate": "The stone stays light at every turn.",
    "anomalous": "Crossed and wavy bands of light wander over a dark stone; it is never dark "
    "nor light as a whole.",
}
POSITIONS = 8
STEP_DEG = 360 // POSITIONS
COLUMNS, CELL, RADIUS, ROW = 4, 84.0, 37.0, 104.0
HALF = (27.0, 20.0)
CUT = "oval"
# The sheets of a polariscope leak a little: the field is not quite black.
FIELD = "#12110f"


@dataclass(frozen=True)
class PolariscopeView:
    """One of the four answers, for a stone of a hue; ``seed`` settles the strain."""

    answer: str
    hue: str = "colourless"
    tone: float = 0.5
    seed: int = 1

    def __post_init__(self) -> None:
        if self.answer not in ANSWERS:
            raise UnknownWordError("answer of the polariscope", self.answer, ANSWERS)
        hue_rgb(self.hue, self.tone)


def draw_polariscope(view: PolariscopeView, prefix: str) -> str:
    """Return eight positions of a full turn, two rows of four."""
    frame = Frame(COLUMNS * CELL, 2 * ROW)
    colour = hue_rgb(view.hue, view.tone)
    definitions = blur(f"{prefix}-soft", 1.6)
    definitions += clip(f"{prefix}-stone", silhouette(CUT, HALF))
    parts = [_position(view, prefix, colour, i * STEP_DEG) for i in range(POSITIONS)]
    title = f"Polariscope, drawn: {_short(view.answer, 0)[1]}"
    return figure(
        prefix,
        frame,
        title,
        f"{SEEN[view.answer]} Eight positions, {STEP_DEG} degrees apart.",
        *parts,
        definitions=definitions,
    )


def _short(answer: str, turn_deg: int) -> tuple[str, str]:
    """Return the word under a position, and the word for the whole turn."""
    if answer == "double":
        return ("light" if turn_deg % 90 else "dark"), "light and dark by turns"
    return {
        "single": ("dark", "dark throughout"),
        "aggregate": ("light", "light throughout"),
        "anomalous": ("strained", "strain that wanders"),
    }[answer]


def _position(view: PolariscopeView, prefix: str, colour: str, turn_deg: int) -> str:
    index = turn_deg // STEP_DEG
    centre = (CELL * (index % COLUMNS + 0.5), ROW * (index // COLUMNS) + RADIUS + 4)
    inside = _stone(view, f"{prefix}-{index}", prefix, colour, turn_deg)
    eyepiece = group(
        circle(centre, RADIUS, fill=FIELD),
        group(
            inside,
            transform=f"translate({number(centre[0])} {number(centre[1])}) rotate({turn_deg})",
        ),
        class_="eyepiece",
    )
    rim = circle(centre, RADIUS, fill="none", stroke="currentColor", stroke_width=2.5)
    words = f"{turn_deg}° {_short(view.answer, turn_deg)[0]}"
    return eyepiece + rim + label((centre[0], centre[1] + RADIUS + 18), words, "middle", size=14)


def _stone(view: PolariscopeView, own: str, prefix: str, colour: str, turn_deg: int) -> str:
    """Return the stone on its table, as light or as dark as it is at one turn."""
    dark = mix(FIELD, colour, 0.09)
    facets = _facet_lines(mix(FIELD, colour, 0.45))
    if view.answer == "single" or (view.answer == "double" and turn_deg % 90 == 0):
        return silhouette(CUT, HALF, fill=dark) + facets
    if view.answer == "anomalous":
        bands = _strain(colour, view.seed, turn_deg)
        veil = group(bands, clip_path=use(f"{prefix}-stone"))
        return silhouette(CUT, HALF, fill=dark) + group(veil, filter=use(f"{prefix}-soft")) + facets
    bright = mix(colour, WHITE, 0.35)
    light = glow(f"{own}-lit", [(0, mix(bright, WHITE, 0.3), 1), (1, bright, 1)])
    stone = element("defs", light) + silhouette(CUT, HALF, fill=use(f"{own}-lit"))
    if view.answer == "aggregate":
        stone += _grains(view.seed, prefix)
    return stone + _facet_lines(mix(bright, BLACK, 0.45))


def _facet_lines(ink: str) -> str:
    """Return girdle, table and the edges between them."""
    table = [(x * 0.54, y * 0.54) for x, y in plan(CUT, HALF, 8)]
    edges = "".join(
        f"M{at(inner)}L{at(outer)}" for inner, outer in zip(table, plan(CUT, HALF, 8), strict=True)
    )
    lines = outline(plan(CUT, HALF)) + outline(table) + edges
    return path(lines, stroke=ink, stroke_width=0.8)


def _strain(colour: str, seed: int, turn_deg: int) -> str:
    """Return cross-hatched and snaking bands; they lie elsewhere at every turn."""
    dice = np.random.default_rng((seed, turn_deg))
    light = mix(colour, WHITE, 0.45)
    parts = []
    for way, step in ((pi / 4, 5.2), (3 * pi / 4, 6.0)):
        for i in range(-6, 7):
            foot = polar((0, 0), i * step + dice.uniform(-1.2, 1.2), way + pi / 2)
            ends = polar(foot, -32, way), polar(foot, 32, way)
            parts.append(
                line(
                    *ends,
                    stroke=light,
                    stroke_opacity=float(dice.uniform(0.08, 0.4)),
                    stroke_width=float(dice.uniform(1.0, 2.2)),
                )
            )
    for width, opacity, ink in ((8, 0.85, BLACK), (5, 0.6, light)):
        parts.append(
            path(smooth(_snake(dice)), stroke=ink, stroke_opacity=opacity, stroke_width=width)
        )
    return "".join(parts)


def _snake(dice: np.random.Generator) -> list[Point]:
    start = dice.uniform(0, 2 * pi)
    return [
        (x, 9 * float(np.sin(start + x / 9)) + float(dice.uniform(-2, 2)))
        for x in np.linspace(-30.0, 30.0, 7)
    ]


def _grains(seed: int, prefix: str) -> str:
    """Return the grains of an aggregate: light in every direction, not all alike."""
    dice = np.random.default_rng(seed)
    spots = "".join(
        circle(
            (float(dice.uniform(-25, 25)), float(dice.uniform(-18, 18))),
            float(dice.uniform(1, 3.4)),
            fill=WHITE if dice.random() < 0.55 else CASING,
            fill_opacity=float(dice.uniform(0.08, 0.3)),
        )
        for _ in range(70)
    )
    return group(element("g", spots, clip_path=use(f"{prefix}-stone")))
