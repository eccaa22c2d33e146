"""A stone in the dark under ultraviolet lamps: its outline and its glow."""

from dataclasses import dataclass

import numpy as np

from isogyre.drawing.colour import GLOW_POWER, WHITE, glow_rgb, lit, mix
from isogyre.drawing.errors import CountError, UnknownWordError
from isogyre.drawing.faceting import draw_stone, silhouette
from isogyre.drawing.outlines import CUTS
from isogyre.drawing.svg import (
    FIRM,
    Frame,
    Point,
    blur,
    circle,
    element,
    ellipse,
    figure,
    group,
    label,
    lines_of,
    number,
    use,
)
from isogyre.drawing.svg import (
    glow as radial,
)

LAMPS_NM = (365, 254, 395)
LAMP_WORDS = {365: "long wave", 254: "short wave", 395: "violet torch"}
WIDTH, MOST_GLOWS, RADIUS = 336.0, 3, 52.0
DARK = "#07060a"
# A torch at 395 nm spills light that is seen: everything near it looks violet.
SPILL = "#4a2a9c"


@dataclass(frozen=True)
class Glow:
    """What one lamp shows: ``hue`` and ``strength`` in the lamps' words, evenly or in patches."""

    lamp_nm: int
    strength: str = "inert"
    hue: str = "white"
    is_patchy: bool = False

    def __post_init__(self) -> None:
        if self.lamp_nm not in LAMPS_NM:
            raise UnknownWordError("lamp", f"{self.lamp_nm} nm", map(str, LAMPS_NM))
        glow_rgb(self.hue, self.strength)

    @property
    def words(self) -> str:
        """The answer as one writes it down."""
        if self.strength == "inert":
            return "inert"
        return f"{self.strength} {self.hue}" + (", patchy" if self.is_patchy else "")


@dataclass(frozen=True)
class GlowView:
    """A stone of a cut under one to three lamps; ``seed`` settles the patches."""

    glows: tuple[Glow, ...]
    cut: str = "oval"
    length_to_width: float = 1.25
    seed: int = 1

    def __post_init__(self) -> None:
        if not 1 <= len(self.glows) <= MOST_GLOWS:
            raise CountError("lamps", len(self.glows), 1, MOST_GLOWS)
        if self.cut not in CUTS:
            raise UnknownWordError("cut", self.cut, CUTS)


def draw_glow(view: GlowView, prefix: str) -> str:
    """Return a dark field for each lamp, with its answer in words below."""
    cell = WIDTH / MOST_GLOWS
    parts = [
        _field(view, glow, f"{prefix}-{i}", (cell * (i + 0.5), RADIUS + 4), prefix)
        for i, glow in enumerate(view.glows)
    ]
    seen = "; ".join(
        f"under the {LAMP_WORDS[glow.lamp_nm]}, {glow.lamp_nm} nm: {glow.words}"
        for glow in view.glows
    )
    return figure(
        prefix,
        Frame(cell * len(view.glows), 2 * RADIUS + 70),
        "Glow under ultraviolet lamps, drawn",
        f"A stone in the dark, {seen}.",
        *parts,
        definitions=blur(f"{prefix}-halo", 7) + blur(f"{prefix}-soft", 2.5),
    )


def _field(view: GlowView, glow: Glow, own: str, centre: Point, prefix: str) -> str:
    half = 30.0, 30.0 / max(view.length_to_width, 1)
    stone = _glowing(view, glow, own, half, prefix)
    x, y = centre
    night = mix(DARK, SPILL, 0.4) if glow.lamp_nm == 395 else DARK
    inside = group(
        circle((0, 0), RADIUS, fill=night),
        stone,
        transform=f"translate({number(x)} {number(y)})",
    )
    words = [(f"{glow.lamp_nm} nm", FIRM), *((row, None) for row in lines_of(glow.words, 104))]
    return (
        inside
        + circle(centre, RADIUS, fill="none", stroke="currentColor", stroke_width=3)
        + "".join(
            label((x, y + RADIUS + 21 + 18 * row), text, "middle", weight=weight)
            for row, (text, weight) in enumerate(words)
        )
    )


def _glowing(view: GlowView, glow: Glow, own: str, half: Point, prefix: str) -> str:
    power = GLOW_POWER[glow.strength]
    # What the lamp itself shows of a stone: the faint violet of its spilt light on the facets.
    spilt = mix(DARK, SPILL, 0.85 if glow.lamp_nm == 395 else 0.3)
    unlit = draw_stone(f"{own}-unlit", view.cut, half, spilt, view.seed)
    rim = silhouette(view.cut, half, stroke="#8a7fb8", stroke_opacity=0.5, stroke_width=0.7)
    if not power:
        return unlit + rim
    colour = glow_rgb(glow.hue)
    name = f"{own}-glow"
    light = radial(
        name, [(0, mix(colour, WHITE, 0.3 * power), 1), (0.6, colour, 1), (1, lit(colour, 0.6), 1)]
    )
    halo = silhouette(
        view.cut,
        (half[0] * 1.15, half[1] * 1.2),
        fill=colour,
        fill_opacity=0.55 * power,
        filter=use(f"{prefix}-halo"),
    )
    facets = draw_stone(f"{own}-lit", view.cut, half, mix(DARK, colour, min(1, 0.2 + power)), 1)
    body = group(facets, opacity=min(1.0, 0.25 + power))
    body += silhouette(view.cut, half, fill=use(name), fill_opacity=0.75 * power)
    if glow.is_patchy:
        body += _patches(view, half, prefix)
    return element("defs", light) + unlit + halo + body + rim


def _patches(view: GlowView, half: Point, prefix: str) -> str:
    """Return places where the glow fails."""
    dice = np.random.default_rng(view.seed)
    spots = "".join(
        ellipse(
            (half[0] * float(dice.uniform(-0.6, 0.6)), half[1] * float(dice.uniform(-0.6, 0.6))),
            (half[0] * float(dice.uniform(0.14, 0.34)), half[1] * float(dice.uniform(0.14, 0.3))),
            float(dice.uniform(0, 180)),
            fill=DARK,
            fill_opacity=0.75,
        )
        for _ in range(5)
    )
    return group(spots, filter=use(f"{prefix}-soft"))
