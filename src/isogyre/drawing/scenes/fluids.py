"""Liquids, gas and discs of stress: what lies in cavities, bubbles and healed films."""

from math import pi

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.guests import solid
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    CUBE,
    OCTAHEDRON,
    PRISM,
    blob,
    flowing,
    placed,
    rounded,
    rounds,
    strokes,
    tilted,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, ellipse, group, outline, polar, ring


def two_phase(sheet: Sheet) -> str:
    """Return flat-ended cavities in one direction, each with its bubble."""
    drawn = []
    for place in sheet.apart(6, 58):
        size = sheet.sized(18, 28)
        hole = placed(
            ((-1, -0.1), (-0.7, -0.3), (1, -0.26), (1, 0.24), (-0.8, 0.3)), place, size, 0.5
        )
        drawn.append(_cavity(sheet, outline(hole)))
        drawn.append(_bubble(sheet, polar(place, size * 0.35, 0.5), size * 0.17))
    return group(*drawn)


def three_phase(sheet: Sheet) -> str:
    """Return jagged cavities, each with a bubble and a small cube of salt."""
    drawn = []
    for place in sheet.apart(5, 52):
        size, dice = sheet.sized(25, 34), sheet.dice
        jagged = [(-1, 0.1), (-0.62, -0.22), (-0.3, -0.2), (0, -0.42), (0.36, -0.26), (1, -0.34)]
        jagged += [(0.66, -0.02), (0.78, 0.3), (0.24, 0.24), (-0.1, 0.38), (-0.5, 0.2)]
        way = dice.pick((0.25, 0.35, 0.15))
        drawn.append(_cavity(sheet, outline(placed(jagged, place, size, way))))
        drawn.append(_bubble(sheet, polar(place, size * 0.36, way), size * 0.15))
        cube = polar(place, -size * 0.22, way)
        drawn.append(
            solid(sheet, CUBE, cube, size * 0.17, 0.3, sheet.ground.paler, sheet.ground.shade)
        )
    return group(*drawn)


def _cavity(sheet: Sheet, data: str) -> str:
    return sheet.ink(data, 1.5, fill=sheet.ground.bright, fill_opacity=0.5, stroke_linejoin="round")


def _bubble(sheet: Sheet, place: Point, radius: float) -> str:
    """Return a bubble in a liquid: a bold dark border and a bright middle."""
    ring_ = circle(place, radius, fill=WHITE, stroke=sheet.ground.shade, stroke_width=radius * 0.42)
    return ring_


def gas_bubbles(sheet: Sheet) -> str:
    """Return round and drawn-out bubbles with bold borders and a bright spot, some in a string."""
    dice, drawn = sheet.dice, []
    for i, place in enumerate(sheet.apart(10, 70)):
        size = sheet.sized(6, 13)
        stretch = 1.0 if i % 3 else 2.2
        drawn.append(_gas(sheet, place, size, stretch))
    string = [(-58 + 11 * k, 60 - 3 * k + dice.bell(0, 1)) for k in range(sheet.some(8))]
    return group(*drawn) + sheet.ink(rounds(string, 2.6), 1.5, fill=sheet.ground.bright)


def _gas(sheet: Sheet, place: Point, size: float, stretch: float) -> str:
    shade, bright = sheet.ground.shade, mix(sheet.ground.bright, WHITE, 0.6)
    across = (size * stretch, size)
    outer = ellipse(place, across, -24, fill=shade, stroke=sheet.mark, stroke_width=sheet.pen(0.7))
    inner = ellipse(place, (across[0] - size * 0.36, size * 0.64), -24, fill=sheet.ground.paler)
    spot = circle((place[0] - size * 0.2, place[1] - size * 0.2), size * 0.22, fill=bright)
    return outer + inner + spot


def bubbles_in_plane(sheet: Sheet) -> str:
    """Return a stone from the side: one line through it, with flat bubbles all along the line."""
    plane = sheet.ink(strokes([((-98, 14), (98, 14))]), 1.2)
    faces = sheet.ink(
        strokes(
            [
                ((-98, 14), (-46, -62)),
                ((98, 14), (46, -62)),
                ((-46, -62), (46, -62)),
                ((-98, 14), (-14, 98)),
                ((98, 14), (14, 98)),
            ]
        ),
        1.0,
        None,
        0.55,
    )
    drawn = []
    for k in range(sheet.some(15)):
        x = -80 + 160 * k / max(sheet.some(15) - 1, 1)
        size = sheet.sized(4, 7.5)
        drawn.append(
            ellipse(
                (x, 14),
                (size, size * 0.5),
                0,
                fill=sheet.ground.bright,
                stroke=sheet.ground.shade,
                stroke_width=sheet.pen(1.1),
            )
        )
    return faces + plane + group(*drawn)


def zircon_halos(sheet: Sheet) -> str:
    """Return small bright crystals, each amid a disc of cracks that ray out."""
    soft, halo = sheet.faded("halo", sheet.ground.bright, 0.1)
    dice, drawn = sheet.dice, [soft]
    for place in sheet.apart(5, 56):
        size = sheet.sized(5, 7)
        cracks = [
            (polar(place, size, way), polar(place, size * dice.between(2, 3.8), way + 0.08))
            for way in (2 * pi * k / 18 + dice.bell(0, 0.1) for k in range(18))
        ]
        drawn += [
            circle(place, size * 4, fill=halo, fill_opacity=0.7),
            sheet.ink(strokes(cracks), 0.9),
            solid(sheet, PRISM, place, size * 1.3, dice.turn(), "#fffdf6", "#3a332a"),
        ]
    return group(*drawn)


def lily_pads(sheet: Sheet) -> str:
    """Return round discs, each tilted its own way, with a dark crystal in the middle."""
    drawn = []
    for place, rim in _discs(sheet):
        drawn += [
            sheet.ink(rounded(rim), 1.6, fill=sheet.ground.bright, fill_opacity=0.34),
            sheet.ink(_veins(place, rim, 0.35, 0.9), 0.7, None, 0.7),
            solid(sheet, OCTAHEDRON, place, 6, 0.4, "#100e0e", "#8d8a86"),
        ]
    return group(*drawn)


def discoid_fractures(sheet: Sheet) -> str:
    """Return discs with a fringe of drops along the rim, about a white altered crystal."""
    drawn = []
    for place, rim in _discs(sheet):
        for share, width, gap in ((1.0, 3.0, 5), (0.86, 2.2, 4.6), (0.72, 1.5, 4.2)):
            inner = [
                (place[0] + (x - place[0]) * share, place[1] + (y - place[1]) * share)
                for x, y in rim
            ]
            drawn.append(
                sheet.ink(
                    rounded(inner),
                    width,
                    stroke_dasharray=f"0.1 {sheet.pen(gap):.1f}",
                    stroke_linecap="round",
                )
            )
        drawn.append(
            sheet.ink(rounded(rim), 0, "none", fill=sheet.ground.bright, fill_opacity=0.25)
        )
        core = rounded(blob(sheet.dice, place, 6, 0.25))
        drawn.append(sheet.ink(core, 1.2, "#7d7972", fill="#ffffff"))
    return group(*drawn)


def _discs(sheet: Sheet) -> list[tuple[Point, list[Point]]]:
    """Return middles and rims of discs that lean away from the eye."""
    found = []
    for k, place in enumerate(sheet.apart(5, 54)):
        flat = tilted(ring(CENTRE, 1, 11), (0.9, 0.45, 0.7)[k % 3])
        found.append((place, placed(flat, place, sheet.sized(24, 32), sheet.dice.turn())))
    return found


def _veins(place: Point, rim: list[Point], near: float, far: float) -> str:
    """Return fine lines that run from near the middle of a disc towards its rim."""
    pieces = [
        (
            (place[0] + (x - place[0]) * near, place[1] + (y - place[1]) * near),
            (place[0] + (x - place[0]) * far, place[1] + (y - place[1]) * far),
        )
        for x, y in rim
    ]
    return strokes(pieces)


def snow_stars(sheet: Sheet) -> str:
    """Return thin round films with a lobed rim, like snow stars, all flat in one plane."""
    drawn = []
    for place in sheet.apart(8, 64):
        lobes = [polar(CENTRE, 1.0 if k % 2 else 0.62, pi * k / 8) for k in range(16)]
        size = sheet.sized(13, 20)
        star = rounded(placed(tilted(lobes, 0.85), place, size))
        rays = strokes(
            [(place, end) for end in placed(tilted(lobes[1::2], 0.85), place, size * 0.9)]
        )
        drawn.append(sheet.ink(star, 1.2, fill=sheet.ground.bright, fill_opacity=0.45))
        drawn.append(sheet.ink(rays, 0.7))
    return group(*drawn)


def stretched_bubbles(sheet: Sheet) -> str:
    """Return sheets of bubbles drawn out along the flow, between bands of light and dark glass."""
    drawn = []
    for k in range(7):
        y = -84 + 28 * k
        flow = [(-104, y + 8), (-40, y - 6), (30, y + 5), (104, y - 8)]
        tone = sheet.ground.deeper if k % 2 else sheet.ground.paler
        drawn.append(sheet.ink(flowing(flow), 10, tone, 0.6))
        drawn.append(
            sheet.ink(
                flowing(flow),
                3.2,
                sheet.mark,
                0.85,
                stroke_dasharray="9 7 3 8 14 10",
                stroke_linecap="round",
            )
        )
    return group(*drawn)


FLUIDS = {
    "two-phase inclusions": Row("cavities with a liquid and a bubble", two_phase),
    "three-phase inclusions": Row(
        "jagged cavities with a liquid, a bubble and a small cube", three_phase
    ),
    "liquid discs": Row("thin round films with lobed rims, like snow stars", snow_stars),
    "gas bubbles": Row("round and drawn-out bubbles with bold borders", gas_bubbles),
    "bubbles in a plane": Row(
        "a stone from the side with flat bubbles all in one plane", bubbles_in_plane
    ),
    "zircon halos": Row("small bright crystals, each in a disc of cracks", zircon_halos),
    "lily pads": Row("round tilted discs, each about a dark crystal", lily_pads),
    "discoid fractures": Row(
        "discs fringed with drops, each about a white crystal", discoid_fractures
    ),
    "flow banding": Row("bands along the flow with drawn-out bubbles", stretched_bubbles),
}
