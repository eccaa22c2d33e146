"""Parts joined, backed or fused, seen from the side or through an eyepiece."""

from isogyre.drawing.colour import mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    cells,
    dots,
    shrunk,
    strewn,
    strokes,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, element, group, outline, ring, use

# A stone from the side: table, girdle with its lower edge, and culet.
SIDE: tuple[Point, ...] = (
    (-46, -56),
    (46, -56),
    (88, -14),
    (88, -8),
    (0, 82),
    (-88, -8),
    (-88, -14),
)
GIRDLE_Y = -11.0
RED_GLASS = "#c0142c"


def side(
    sheet: Sheet, crown: str, pavilion: str, line_y: float = GIRDLE_Y, line: float = 1.8
) -> str:
    """Return a stone from the side, the part above a line in one colour, that below in another."""
    above = [(-46, -56), (46, -56), (88, -14), *_across(line_y)[::-1], (-88, -14)]
    below = [*_across(line_y), (0, 82)]
    if line_y < -14:
        above = [(-46, -56), (46, -56), *_across(line_y)[::-1]]
        below = [*_across(line_y), (88, -14), (88, -8), (0, 82), (-88, -8), (-88, -14)]
    parts = sheet.ink(outline(above), 0, "none", fill=crown) + sheet.ink(
        outline(below), 0, "none", fill=pavilion
    )
    edges = strokes(
        [
            ((-46, -56), (-20, GIRDLE_Y)),
            ((46, -56), (20, GIRDLE_Y)),
            ((-20, GIRDLE_Y), (0, 82)),
            ((20, GIRDLE_Y), (0, 82)),
        ]
    )
    join = sheet.ink(strokes([_across(line_y)]), line, sheet.ground.shade) if line else ""
    return (
        parts
        + sheet.ink(edges, 0.8, sheet.ground.shade, 0.6)
        + sheet.ink(outline(SIDE), 1.6)
        + join
    )


def _across(y: float) -> tuple[Point, Point]:
    """Return where a level line meets the outline of the stone from the side."""
    reach = 88 if y >= -14 else 88 + (y + 14)
    return (-reach, y), (reach, y)


def join_plane(sheet: Sheet) -> str:
    """Return a stone from the side with a flat line through it, and the edge of the glue."""
    glue = sheet.ink(strokes([_across(-24)]), 4.5, "#f4ecd6") + sheet.ink(
        strokes([((-78, -26), (78, -26))]), 1.2, "#2a2420"
    )
    beads = dots([(-70 + 17 * k, -22.0) for k in range(9)])
    return (
        side(sheet, sheet.ground.paler, sheet.ground.paler, -24, 2.2)
        + glue
        + sheet.ink(beads, 3, "#2a2420", stroke_linecap="round")
    )


def unlike_parts(sheet: Sheet) -> str:
    """Return a stone from the side: crown dark red with needles, pavilion pale with bubbles."""
    parts = side(sheet, "#8d2430", "#5b9fd0", -22)
    needles = strokes([((-34 + 12 * k, -50), (-26 + 12 * k, -30)) for k in range(6)])
    bubbles = group(
        *(
            circle((x, y), r, fill="#eef6fb", stroke="#1b3a55", stroke_width=sheet.pen(1))
            for x, y, r in ((-26, 12, 6), (10, 26, 5), (20, 2, 4), (-4, 46, 4))
        )
    )
    return parts + sheet.ink(needles, 1.4, "#f2c9b8") + bubbles


def unlike_glows(sheet: Sheet) -> str:
    """Return a stone from the side in the dark: the crown inert, the pavilion aglow."""
    dark = circle(CENTRE, 104, fill="#0a0810")
    return dark + sheet.ink(outline(SIDE), 2, "#6a5f86") + side(sheet, "#1d1730", "#7fe08a", -22)


def two_axes(sheet: Sheet) -> str:
    """Return two axis figures side by side, rings and cross, set in different directions."""
    drawn = [circle(CENTRE, 104, fill="#17181c")]
    for x, turn in ((-44, 10), (44, 38)):
        rings = [
            circle(CENTRE, r, fill="none", stroke=tint, stroke_width=4)
            for r, tint in ((12, "#e8e2c8"), (20, "#c98a3a"), (28, "#6a3aa8"), (35, "#2f7fd0"))
        ]
        cross = sheet.ink("M-40 0H40M0-40V40", 5, "#08080a")
        drawn.append(
            group(
                circle(CENTRE, 41, fill="#4a4d55"),
                *rings,
                cross,
                transform=f"translate({x} 0) rotate({turn})",
            )
        )
    return group(*drawn)


def bulls_eye(sheet: Sheet) -> str:
    """Return one axis figure with coloured rings whose cross does not reach its hollow middle."""
    rings = [
        circle(CENTRE, r, fill="none", stroke=tint, stroke_width=11)
        for r, tint in (
            (36, "#e4c04a"),
            (48, "#b0482f"),
            (60, "#6b2fa0"),
            (72, "#2f6fd0"),
            (84, "#46a87a"),
            (96, "#d9b04a"),
        )
    ]
    arms = "M-104 0H-32M32 0H104M0-104V-32M0 32V104"
    return group(
        circle(CENTRE, 104, fill="#3a3c42"),
        *rings,
        sheet.ink(arms, 9, "#0b0b0d"),
        circle(CENTRE, 30, fill="#e88ab0"),
    )


def foil_back(sheet: Sheet) -> str:
    """Return a stone from the side with a bright foil, wrinkled and peeling, on its back."""
    stone = side(sheet, sheet.ground.paler, sheet.ground.paler, line=0)
    back = "M-92 -8L-66 22L-58 20L-40 48L-30 46L-4 88L4 88L34 44L42 48L62 18L70 22L92 -8"
    foil = sheet.ink(back, 8, "#6d737a", stroke_linejoin="round") + sheet.ink(
        back, 4.5, "#e9edf0", stroke_linejoin="round"
    )
    peel = sheet.ink("M34 44Q58 62 74 50", 4.5, "#c2a24a")
    return stone + foil + peel


def middle_layer(sheet: Sheet) -> str:
    """Return a stone from the side: pale above and below, its colour in one thin layer."""
    colour = "#12864a"
    stone = side(sheet, "#e3ebe6", "#e3ebe6", line=0)
    layer = outline([(-84, -18), (84, -18), (88, -14), (88, -9), (-88, -9), (-88, -14)])
    return stone + sheet.ink(layer, 1.0, "#06331c", fill=colour)


def clear_dome(sheet: Sheet) -> str:
    """Return a dome from the side: a clear cap, a thin layer of many colours, a dark back."""
    cap = sheet.ink("M-90 18C-78 -84 78 -84 90 18Z", 1.6, fill="#f3f6f8", fill_opacity=0.85)
    gleam = sheet.ink("M-54 -20Q-34 -46 -4 -50", 4, "#ffffff", stroke_linecap="round")
    tints = ("#ff5a4a", "#f2d24a", "#3fd07a", "#31b7ff", "#8a5cff")
    slices = [
        sheet.ink(
            outline(
                [(-90 + 18 * k, 18), (-72 + 18 * k, 18), (-72 + 18 * k, 30), (-90 + 18 * k, 30)]
            ),
            0,
            "none",
            fill=tints[(2 * k) % 5],
        )
        for k in range(10)
    ]
    base = sheet.ink("M-90 30H90L80 52H-80Z", 1.4, fill="#1c1a1c")
    return (
        cap
        + gleam
        + group(*slices)
        + sheet.ink(strokes([((-90, 18), (90, 18))]), 1.4, "#1c1a1c")
        + base
    )


def mosaic(sheet: Sheet) -> str:
    """Return small flat pieces of many colours, fitted side by side with dark joints."""
    tints = ("#ff6a4a", "#4fb8ff", "#52d08a", "#f3d64e", "#8d6aff", "#f08ac0")
    drawn = [circle(CENTRE, 104, fill="#141214")]
    for k, shape in enumerate(cells(strewn(sheet.dice, 5, 0.4))):
        drawn.append(
            sheet.ink(
                outline(shrunk(shape, 0.86)),
                0.8,
                "#000000",
                fill=mix(tints[(5 * k) % 6], sheet.ground.body, 0.25),
            )
        )
    return group(*drawn)


def red_ring(sheet: Sheet) -> str:
    """Return a stone face down on white paper, with a faint red ring about its girdle."""
    paper = circle(CENTRE, 104, fill="#f7f5f0")
    stone = circle(CENTRE, 70, fill="#3f9a68", stroke="#1c4a32", stroke_width=1.2)
    ring_ = circle(CENTRE, 68, fill="none", stroke=RED_GLASS, stroke_width=9, stroke_opacity=0.75)
    back = strokes([(CENTRE, end) for end in ring(CENTRE, 62, 8)]) + outline(ring(CENTRE, 32, 8))
    return paper + stone + sheet.ink(back, 1.0, "#0f3a24") + ring_


def honeycomb(sheet: Sheet) -> str:
    """Return fused fibres end on: a close honeycomb of six-sided cells."""
    edge = 10.5 if sheet.is_small else 7.5
    wide = edge * 3**0.5
    comb = (
        f"M{wide / 2:.2f} 0L{wide:.2f} {edge / 2:.2f}v{edge}L{wide / 2:.2f} {2 * edge}"
        f"L0 {1.5 * edge:.2f}v-{edge}ZM{wide / 2:.2f} {2 * edge}v{edge}"
    )
    cores = dots([(wide / 2, edge), (0, 2.5 * edge), (wide, 2.5 * edge)])
    tile = sheet.ink(comb, 1.1) + sheet.ink(cores, 3, sheet.ground.bright, stroke_linecap="round")
    name = f"{sheet.prefix}-comb"
    pattern = element(
        "pattern", tile, id=name, width=wide, height=3 * edge, pattern_units="userSpaceOnUse"
    )
    return element("defs", pattern) + circle(CENTRE, 104, fill=use(name))


def raised_image(sheet: Sheet) -> str:
    """Return printed bars below, and the same bars lying on the upper face of a fibrous slab."""
    bars = "M-84 44H84M-84 58H84M-84 72H84"
    slab = sheet.ink(
        "M-56 -62H40L62 -40V30H-34L-56 8Z", 1.6, "#6d675c", fill="#f2f3f1", fill_opacity=0.95
    )
    fibres = strokes([((-34 + 9 * k, -40), (-34 + 9 * k, 30)) for k in range(11)])
    top = sheet.ink("M-56 -62L-34 -40H62L40 -62Z", 1.2, "#6d675c", fill="#ffffff")
    image = sheet.ink("M-50 -56H46M-43 -50H53M-38 -44H58", 2.2, "#141214")
    return sheet.ink(bars, 4) + slab + sheet.ink(fibres, 0.8, "#9a958a") + top + image


ASSEMBLY = {
    "join plane": Row("a stone from the side with a flat line of glue", join_plane),
    "parts differ in colour or lustre": Row(
        "a stone from the side: crown red with needles, pavilion blue with bubbles", unlike_parts
    ),
    "glow differs between parts": Row(
        "a stone from the side in the dark: only the pavilion glows", unlike_glows
    ),
    "two optic axes": Row("two axis figures, set in different directions", two_axes),
    "bull's-eye figure": Row("coloured rings and a cross with a hollow middle", bulls_eye),
    "foil or mirror back": Row("a stone from the side with a bright wrinkled foil", foil_back),
    "colour only in a middle layer": Row("a pale stone with one thin green layer", middle_layer),
    "clear dome over the colour": Row("a clear cap over a thin coloured layer", clear_dome),
    "mosaic of pieces": Row("small pieces of many colours side by side", mosaic),
    "red ring face down on white": Row("a stone on white paper with a red ring", red_ring),
    "fibre-optic honeycomb": Row("a close honeycomb of six-sided cells", honeycomb),
    "image carried to the surface": Row(
        "bars below a slab seem to lie on its upper face", raised_image
    ),
}
