"""Grains, veins, nets and fibres: the textures of rocks and of what imitates them."""

from collections.abc import Sequence
from functools import partial
from math import pi, sin

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.fissures import net
from isogyre.drawing.scenes.guests import specks
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    HEXAGON,
    blob,
    cells,
    dots,
    flowing,
    outlines,
    placed,
    rounded,
    segment,
    shrunk,
    strewn,
    strokes,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, group, outline, polar


def grains(
    sheet: Sheet,
    across: int = 7,
    fills: Sequence[str] = (),
    gap: float = 1.0,
    width: float = 0.9,
    edge: str | None = None,
    ground: str | None = None,
    is_round: bool = False,
) -> str:
    """Return interlocking grains in the fills by turns, or in tones of the host."""
    tones = fills or tuple(
        mix(sheet.ground.deeper, sheet.ground.paler, share) for share in (0.35, 0.75, 0.5, 0.95)
    )
    across = max(4, across - 2) if sheet.is_small else across
    shapes: dict[str, list[list[Point]]] = {tone: [] for tone in tones}
    for shape in cells(strewn(sheet.dice, across, 0.42)):
        if len(shape) > 2:
            shapes[sheet.dice.pick(tones)].append(shrunk(shape, gap) if gap < 1 else shape)
    drawn = [circle(CENTRE, 104, fill=ground)] if ground else []
    for tone, group_ in shapes.items():
        data = "".join(flowing(s, True) for s in group_) if is_round else outlines(group_)
        drawn.append(sheet.ink(data, width, edge or sheet.ground.shade, fill=tone))
    return group(*drawn)


def undercut(sheet: Sheet) -> str:
    """Return grains at different heights, each lit on one side and shaded on the other."""
    shapes = [
        shrunk(c, 0.9)
        for c in cells(strewn(sheet.dice, 5 if sheet.is_small else 6, 0.36))
        if len(c) > 2
    ]
    data = "".join(flowing(shape, True) for shape in shapes)
    return group(
        sheet.ink(data, 1.8, sheet.ground.shade), transform="translate(1.6 1.6)"
    ) + sheet.ink(data, 1.5, sheet.ground.bright, fill=sheet.ground.body)


def patches(
    sheet: Sheet,
    fill: str,
    edge: str,
    count: int = 5,
    size: tuple[float, float] = (14, 26),
    stretch: float = 1.5,
    wobble: float = 0.4,
    has_veins: bool = False,
    is_angular: bool = False,
) -> str:
    """Return patches of another mineral, and veins that join them if asked for."""
    dice = sheet.dice
    places = sheet.apart(count, 76)
    shapes = [
        blob(dice, p, dice.between(*size), wobble, stretch, dice.bell(-0.4, 0.5), 10)
        for p in places
    ]
    data = "".join(outline(s) if is_angular else rounded(s) for s in shapes)
    veins = ""
    if has_veins:
        veins = "".join(
            flowing(wavy(dice, polar(CENTRE, 104, way), polar(CENTRE, 104, way + 2.5), 9, 6))
            for way in (0.4, 2.2, 4.4)
        )
    return sheet.ink(veins, 5, fill) + sheet.ink(data, 0.9, edge, fill=fill)


def calcite(sheet: Sheet) -> str:
    """Return white patches and veins, with specks of brass among them."""
    white = patches(sheet, "#f3f0e8", "#8d897e", has_veins=True)
    brass = [blob(sheet.dice, p, sheet.sized(1.6, 3), 0.4, corners=5) for p in sheet.apart(16)]
    return white + sheet.ink("".join(map(outline, brass)), 0.4, "#5d4a12", fill="#d9b84a")


def web(sheet: Sheet) -> str:
    """Return a net of dark matrix, thick at the knots."""
    points = strewn(sheet.dice, 4 if sheet.is_small else 5, 0.42)
    shapes = [shrunk(c, 0.93) for c in cells(points) if len(c) > 2]
    stones = "".join(flowing(shape, True) for shape in shapes)
    return circle(CENTRE, 104, fill="#241812") + sheet.ink(
        stones, 1.0, "#120b08", fill=sheet.ground.body
    )


def fibres(
    sheet: Sheet,
    inks: Sequence[str] = (),
    sway: float = 5.0,
    way: float = -0.25,
    count: int = 44,
    width: float = 1.3,
) -> str:
    """Return a body of fine fibres that run together."""
    tones = inks or (sheet.ground.deeper, sheet.ground.bright, sheet.ground.shade)
    lines = dict.fromkeys(tones, "")
    count = sheet.some(count)
    for k in range(count):
        middle = polar(CENTRE, -98 + 196 * k / (count - 1), way + pi / 2)
        start, end = segment(middle, 106, way)
        bend = polar(middle, sway * sin(k * 0.5), way + pi / 2)
        quarter = polar(polar(middle, -50, way), -sway * sin(k * 0.5 + 0.9), way + pi / 2)
        lines[tones[k % len(tones)]] += flowing([start, quarter, bend, end])
    return group(*(sheet.ink(data, width, tone) for tone, data in lines.items()))


def iron_fibres(sheet: Sheet) -> str:
    """Return wavy layers of golden brown fibres, set across the layer, with a band of light."""
    drawn = []
    tones = ("#a86a1c", "#5a3410", "#e0a83e", "#3d4f6e")
    for layer in range(4):
        y = -96 + 48 * layer
        lines = "".join(
            f"M{-106 + 5 * k} {y + 7 * sin(k * 0.33 + layer):.1f}l{4 + 3 * sin(k * 0.2):.1f} 48"
            for k in range(0, 43, 2)
        )
        drawn.append(sheet.ink(lines, 8.4, tones[layer]))
        drawn.append(sheet.ink(lines, 1.0, "#f6d68a", 0.75))
    light = sheet.ink("M-104 -6Q-50 -30 0 -8T104 -12", 12, "#ffe9a8", 0.5)
    return circle(CENTRE, 104, fill="#4a2a0e") + group(*drawn) + light


def sheaves(sheet: Sheet, ink: str | None = None, spread: float = 0.5, ground: str = "") -> str:
    """Return plumes: sheaves of curved silky fibres from several roots, this way and that."""
    data = ""
    for k, root in enumerate(sheet.apart(8, 70)):
        way = 1.9 * k
        for i in range(sheet.some(10)):
            lean = (i / max(sheet.some(10) - 1, 1) - 0.5) * 2 * spread
            bend = polar(root, 30, way + lean)
            end = polar(bend, 34 * (1 - 0.3 * abs(lean)), way + lean * 2 + 0.35)
            data += flowing([root, bend, end])
    shadow = group(sheet.ink(data, 1.6, sheet.ground.shade, 0.7), transform="translate(1 1.4)")
    below = circle(CENTRE, 104, fill=ground) if ground else ""
    return below + shadow + sheet.ink(data, 1.2, ink or sheet.ground.bright)


def larimar(sheet: Sheet) -> str:
    """Return white rounded cells and clouds in a net over blue, like light on a sea bed."""
    shapes = [c for c in cells(strewn(sheet.dice, 4 if sheet.is_small else 5, 0.4)) if len(c) > 2]
    data = "".join(flowing(shrunk(shape, 0.9), True) for shape in shapes)
    return (
        circle(CENTRE, 104, fill="#55b4d4")
        + sheet.ink(data, 8, "#ffffff", 0.45, stroke_linejoin="round")
        + sheet.ink(data, 2.6, "#ffffff")
    )


def dyed_pits(sheet: Sheet, dye: str = "#1746b8") -> str:
    """Return colour gathered along grain borders, in pits and about a drill hole."""
    borders = net(sheet, 6, 1.2, dye, dye, glow_width=4.5)
    pits = "".join(rounded(blob(sheet.dice, p, sheet.sized(2.5, 5), 0.4)) for p in sheet.apart(13))
    hole = circle((26, -20), 23, fill=dye, fill_opacity=0.55) + circle(
        (26, -20), 13, fill="#0a1024"
    )
    pale = circle(CENTRE, 104, fill=mix(dye, WHITE, 0.68))
    return pale + borders + sheet.ink(pits, 0.8, "#0a1a55", fill=dye) + hole


def pressed(sheet: Sheet) -> str:
    """Return outlines of lumps pressed together, each with its own flow and tone."""
    tones = tuple(
        mix(sheet.ground.deeper, sheet.ground.bright, share) for share in (0.3, 0.55, 0.75)
    )
    lumps = grains(sheet, 4, tones, 0.95, 1.4, ground=sheet.ground.deeper, is_round=True)
    flow = "".join(
        flowing(wavy(sheet.dice, *segment(p, 14, sheet.dice.turn()), 3, 3)) for p in sheet.apart(18)
    )
    return lumps + sheet.ink(flow, 0.9, sheet.ground.shade, 0.6)


def powder(sheet: Sheet) -> str:
    """Return fine even powder of two tones in a binder, with a few bubbles and no grain borders."""
    fine = specks(sheet, 190, 1.7, sheet.ground.paler, 0) + specks(
        sheet, 170, 1.5, sheet.ground.shade, 0
    )
    bubbles = group(
        *(
            circle(
                p,
                sheet.sized(3, 5),
                fill=sheet.ground.bright,
                stroke=sheet.ground.shade,
                stroke_width=sheet.pen(1.2),
            )
            for p in sheet.apart(5, 66)
        )
    )
    return fine + bubbles


def wheat(sheet: Sheet) -> str:
    """Return tiny dark blue rounded specks, close and even, on a pale ground."""
    pale = circle(CENTRE, 104, fill="#d5e6ea")
    places = strewn(sheet.dice, 10 if sheet.is_small else 15, 0.3)
    return (
        pale
        + sheet.ink(dots(places), 4.4 if sheet.is_small else 4.0, "#2f6fae", stroke_linecap="round")
        + sheet.ink(dots(places[::3]), 2.2, "#17457c", stroke_linecap="round")
    )


def spherulites(sheet: Sheet) -> str:
    """Return white rounded flakes, each of rays from a middle, like snow on dark glass."""
    drawn = []
    for place in sheet.apart(9, 72):
        size = sheet.sized(12, 22)
        rays = [polar(place, size * sheet.dice.between(0.6, 1.0), k * pi / 10) for k in range(20)]
        drawn.append(
            sheet.ink(flowing(rays, True), 0.7, "#6c6c70", fill="#dcdcdc", fill_opacity=0.9)
        )
        drawn.append(sheet.ink(strokes([(place, end) for end in rays[::2]]), 0.9, "#7d7d82"))
    return circle(CENTRE, 104, fill="#1a1a1d") + group(*drawn)


def flashing_grains(sheet: Sheet) -> str:
    """Return grains of which a few flash white from a flat face."""
    base = grains(sheet, 7)
    drawn = []
    for place in sheet.apart(8, 74):
        facet = blob(sheet.dice, place, sheet.sized(8, 13), 0.25, 1.2, sheet.dice.turn(), 5)
        lines = strokes([segment((place[0] + 3 * j, place[1] + 2 * j), 5, 2.2) for j in (-1, 0, 1)])
        drawn.append(sheet.ink(outline(facet), 0.8, sheet.ground.shade, fill="#ffffff"))
        drawn.append(sheet.ink(lines, 0.7, "#8c949c"))
    return base + group(*drawn)


def potch(sheet: Sheet) -> str:
    """Return seams of colour between brown ironstone, with a grey edge of common opal."""
    rock = grains(sheet, 6, ("#5c3a20", "#6e4828", "#4a2c18"), width=0.8, edge="#2c180c")
    tints = ("#ff5a4a", "#3fd07a", "#31b7ff", "#f2d24a", "#7a5cff")
    seams = []
    for k, (start, end, reach) in enumerate(
        (((-104, 30), (104, -44), 20), ((-60, 104), (76, 20), 11))
    ):
        top = wavy(sheet.dice, start, end, 5, 7)
        foot = [(x + 4, y + reach + sheet.dice.bell(0, 2)) for x, y in top]
        seams.append(sheet.ink(flowing([*top, *foot[::-1]], True), 7, "#b9b4a6", fill="#b9b4a6"))
        for i in range(7):
            piece = [top[i], top[i + 1], foot[i + 1], foot[i]]
            seams.append(sheet.ink(outline(piece), 0, "none", fill=tints[(2 * i + k) % 5]))
    return rock + group(*seams)


def scaly_net(sheet: Sheet) -> str:
    """Return pale raised veins about scale-like pieces."""
    return net(sheet, 5, 4.6, "#e9e2d2", sheet.ground.shade, 0.3, glow_width=7)


def mottled(sheet: Sheet, tones: Sequence[str], edge: str) -> str:
    """Return patches of two or three colours that run into each other."""
    base = grains(sheet, 5, tones, 1.0, 0.8, edge)
    spots = [
        blob(sheet.dice, p, sheet.sized(6, 14), 0.4, 1.3, sheet.dice.turn(), 9)
        for p in sheet.apart(12)
    ]
    drawn = [
        sheet.ink(rounded(s), 0.5, edge, fill=tones[k % len(tones)]) for k, s in enumerate(spots)
    ]
    return base + group(*drawn)


def copper_mottle(sheet: Sheet) -> str:
    """Return red and green clouds, with glittering points where they meet."""
    soft_red, red = sheet.faded("red", "#c8321e", 0.4)
    soft_green, green = sheet.faded("green", "#3d8a4e", 0.4)
    base = circle(CENTRE, 104, fill="#e2bf92")
    clouds = [
        circle(p, 46, fill=(red, green)[k % 2], fill_opacity=0.9)
        for k, p in enumerate(((-50, -34), (30, -44), (52, 34), (-26, 48)))
    ]
    seam = [(sheet.dice.bell(0, 8) + 0.5 * t, t + sheet.dice.bell(0, 6)) for t in range(-80, 84, 4)]
    glint = sheet.ink(dots(seam), 2.4, "#fff3b8", stroke_linecap="round") + sheet.ink(
        dots(seam[::2]), 1.2, "#b8641c", stroke_linecap="round"
    )
    return soft_red + soft_green + base + group(*clouds) + glint


def ruby_rock(sheet: Sheet) -> str:
    """Return opaque red hexagons with pale rims in a green grainy rock."""
    rock = grains(sheet, 7, ("#4f8a4a", "#3d7440", "#69a05a"), edge="#24482a")
    drawn = []
    for place in sheet.apart(5, 60):
        size, way = sheet.sized(17, 26), sheet.dice.turn()
        hexagon = outline(placed(HEXAGON.silhouette, place, size, way))
        parting = outline(placed(HEXAGON.silhouette, place, size * 0.6, way))
        drawn.append(sheet.ink(hexagon, 2.4, "#1c2418", fill="#a01f4a"))
        drawn.append(sheet.ink(parting, 0.9, "#e07a98"))
    return rock + group(*drawn)


def mixed_rock(sheet: Sheet) -> str:
    """Return grains of several minerals, different in colour, size and outline."""
    base = grains(sheet, 5, ("#e8e2d4", "#c98a7a", "#8e979c", "#5f7a52"), edge="#3a342c")
    dark = [
        blob(sheet.dice, p, sheet.sized(4, 9), 0.4, 1.5, sheet.dice.turn(), 6)
        for p in sheet.apart(16)
    ]
    return base + sheet.ink("".join(map(outline, dark)), 0.6, "#0f0e0d", fill="#231f1c")


def eyes(sheet: Sheet) -> str:
    """Return round eyes: rings by turns light and dark about a core, with radiating fibres."""
    drawn = []
    for place in sheet.apart(5, 60):
        size = sheet.sized(27, 35)
        for k, tone in enumerate(
            (
                sheet.ground.deeper,
                sheet.ground.paler,
                sheet.ground.shade,
                sheet.ground.bright,
                sheet.ground.deeper,
            )
        ):
            loop = blob(sheet.dice, place, size * (1 - 0.2 * k), 0.05, corners=7)
            drawn.append(sheet.ink(rounded(loop), 0.8, sheet.ground.shade, fill=tone))
        rays = [
            (polar(place, size * 0.3, a), polar(place, size * 0.96, a))
            for a in (k * pi / 6 for k in range(12))
        ]
        drawn.append(sheet.ink(strokes(rays), 0.6, sheet.ground.shade, 0.6))
    return group(*drawn)


def blood_spots(sheet: Sheet) -> str:
    """Return red spots of every size in a dark green opaque ground."""
    ground = circle(CENTRE, 104, fill="#1f4a36")
    drops = [
        blob(sheet.dice, p, sheet.dice.between(2.5, 10), 0.3, 1.3, sheet.dice.turn(), 8)
        for p in sheet.apart(30, 88)
    ]
    fine = [sheet.anywhere(92) for _ in range(sheet.some(60))]
    return (
        ground
        + sheet.ink("".join(map(rounded, drops)), 0.8, "#5a0f0c", fill="#b5261c")
        + sheet.ink(dots(fine), 2, "#b5261c", stroke_linecap="round")
    )


ROCKS = {
    "calcite patches": Row("white patches and veins with specks of brass", calcite),
    "spider-web matrix": Row("a net of dark matrix", web),
    "granular aggregate structure": Row("interlocking grains", grains),
    "undercut grains, no fissure net": Row("grains at slightly different heights", undercut),
    "fibrous structure": Row("fine fibres that run together", fibres),
    "brown iron fibres": Row("wavy layers of golden brown fibres", iron_fibres),
    "swirling fibre pattern": Row("sheaves of silky fibres, this way and that", sheaves),
    "feathery silver pattern": Row(
        "silvery plumes on a green ground",
        partial(sheaves, ink="#dfe6e4", spread=1.0, ground="#2f5a44"),
    ),
    "cellular white pattern": Row("a net of white cells and clouds over blue", larimar),
    "dye in veins and pits": Row("colour along grains, in pits and a drill hole", dyed_pits),
    "grain boundaries of pressed pieces": Row("outlines of lumps pressed together", pressed),
    "powder and binder texture": Row("fine even powder with a few bubbles", powder),
    "cream-of-wheat texture": Row("tiny blue specks on a pale ground", wheat),
    "snowflake spherulites": Row("white rounded flakes with rays on dark glass", spherulites),
    "flashes from grain faces": Row("grains, some with a white flash", flashing_grains),
    "host rock or potch": Row("seams of colour and grey opal in brown rock", potch),
    "calcite-filled net": Row("pale veins about scale-like pieces", scaly_net),
    "red-green mottling": Row("red and green clouds with glittering points", copper_mottle),
    "pink and green mottling": Row(
        "patches of pink and yellowish green with grey",
        partial(mottled, tones=("#d98a80", "#8a9a4a", "#e3a99a", "#9a9a96"), edge="#5a4a3a"),
    ),
    "red crystals in green rock": Row("red hexagons in a green grainy rock", ruby_rock),
    "mixed grains of several minerals": Row("grains of different colour and size", mixed_rock),
    "black amphibole patches": Row(
        "black ragged grains in the rock",
        partial(
            patches,
            fill="#141613",
            edge="#3c463a",
            count=9,
            size=(7, 15),
            stretch=1.8,
            is_angular=True,
        ),
    ),
    "concentric eyes": Row("round eyes with rings and rays", eyes),
    "red spots in green": Row("red spots in a dark green ground", blood_spots),
}
