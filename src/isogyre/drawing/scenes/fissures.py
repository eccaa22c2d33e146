"""Cracks, healed fissures and veils, and what is put into them."""

from collections.abc import Sequence
from functools import partial
from math import pi, sin

from isogyre.drawing.colour import mix, parts_of
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    Piece,
    between,
    blob,
    cells,
    flowing,
    outlines,
    rounded,
    rounds,
    segment,
    shrunk,
    strewn,
    strokes,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, group, outline, polar

RAINBOW = ("#ff5d6c", "#ffb340", "#f4ee6a", "#54d28a", "#4aa8ff", "#b06cff")
IRON = "#a85a12"

# The outline of a fissure that is seen from the side on, and the way its front ran.
FRONT: tuple[Point, ...] = (
    (-94, 40),
    (-66, -10),
    (-28, -46),
    (20, -72),
    (72, -72),
    (94, -40),
    (78, 4),
    (38, 30),
    (-6, 46),
    (-56, 68),
)


def fingerprint(sheet: Sheet) -> str:
    """Return a veil of drops in nested loops, as in the print of a finger."""
    drawn = []
    for k in range(sheet.some(11) + 2):
        share = 0.16 + 0.075 * k * (1.4 if sheet.is_small else 1)
        if share > 1.02:
            break
        loop = [
            between((8, -4), point, share * (1 + sheet.dice.between(-0.07, 0.07)))
            for point in FRONT
        ]
        dashes = f"0.1 {3.6 + 0.3 * (k % 3):.1f} {1.6 + k % 2:.1f} 4.4 0.1 4.8"
        drawn.append(
            sheet.ink(
                flowing(loop, closed=True),
                2.2 - 0.09 * k,
                stroke_dasharray=dashes,
                stroke_linecap="round",
            )
        )
    return group(*drawn)


def shredded_veil(sheet: Sheet) -> str:
    """Return wavy torn lace: bands of drops that sway, with holes between."""
    dice, drawn = sheet.dice, []
    for k in range(9):
        start = (-84 + 3 * k, 42 - 11 * k)
        lace = [
            (start[0] + 14 * i, start[1] + 11 * sin(i * 0.95 + k * 0.45) + dice.bell(0, 1.6))
            for i in range(12)
        ]
        width = (1.4, 3.0, 2.0)[k % 3]
        drawn.append(
            sheet.ink(
                flowing(lace),
                width,
                stroke_linecap="round",
                stroke_dasharray=("7 5 0.1 5 12 9", "0.1 5 0.1 6 3 7", "4 6 0.1 4")[k % 3],
            )
        )
    return group(*drawn)


def flux_veil(sheet: Sheet) -> str:
    """Return twisted whitish wisps: ribbons of fine drops that cross themselves like smoke."""
    strands = []
    for ribbon, (start, way) in enumerate(
        (((-88, 40), -0.8), ((-76, 78), -0.3), ((-46, -70), 0.55))
    ):
        strands += [_strand(sheet, start, way, ribbon, (k - 2.5) / 2.5) for k in range(6)]
    drawn = []
    for k, data in enumerate(strands):
        width = (1.3, 2.6, 1.8)[k % 3]
        dots_ = f"0.1 {(3.6, 4.6, 4)[k % 3] * (1.5 if sheet.is_small else 1)}"
        if not sheet.ground.is_dark:
            drawn.append(_dotted(sheet, data, width + 1.3, "#77736b", dots_))
        drawn.append(_dotted(sheet, data, width, "#ffffff", dots_))
    return group(*drawn, stroke_linecap="round")


def _strand(sheet: Sheet, start: Point, way: float, ribbon: int, aside: float) -> str:
    """Return one strand of a ribbon that twists, and frays towards its end."""
    points = []
    for i in range(8):
        twist = (22 + 3 * sheet.dice.bell(0, 1)) * sin(i * 0.8 + 1.3 * ribbon + 0.5 * aside) * aside
        middle = polar(polar(start, 23 * i, way), 9 * sin(0.7 * i + ribbon), way + pi / 2)
        points.append(polar(middle, twist + sheet.dice.bell(0, 2.5), way + pi / 2))
    return flowing(points)


def _dotted(sheet: Sheet, data: str, width: float, colour: str, dashes: str) -> str:
    return sheet.ink(data, width, colour, stroke_dasharray=dashes)


def flux_drops(sheet: Sheet) -> str:
    """Return large drops and crooked tubes, white to orange, with a dark outline."""
    dice, drawn = sheet.dice, []
    for k, place in enumerate(sheet.apart(15, 72)):
        fill = ("#f8f2e2", "#e9b25a", "#f5dcae")[k % 3]
        size, way = sheet.sized(4, 8), dice.bell(-0.5, 0.25)
        if k % 2:
            shape = rounded(blob(dice, place, size, 0.2, 1.5, way, 8))
            drawn.append(sheet.ink(shape, 1.2, "#5b3c14", fill=fill))
        else:
            tube = flowing(wavy(dice, *segment(place, size * 3.2, way), 4, 3))
            drawn.append(sheet.ink(tube, size * 0.9 + 1.6, "#5b3c14", stroke_linecap="round"))
            drawn.append(sheet.ink(tube, size * 0.9, fill, stroke_linecap="round"))
    return group(*drawn)


def tiger_stripes(sheet: Sheet) -> str:
    """Return a rippled veil: parallel stripes that thin towards both ends and break up."""
    drawn = ""
    for k in range(sheet.some(14) + 2):
        x = -66 + 132 * k / (sheet.some(14) + 1)
        half = 52 * (1 - (x / 88) ** 2) ** 0.5 * sheet.dice.between(0.75, 1)
        spine = [(x - 12 + 4 * sin(k + i) + 6 * i, -half + half * i / 2) for i in range(5)]
        left = [
            (px - 2.6 * w, py) for (px, py), w in zip(spine, (0, 0.8, 1.1, 0.7, 0), strict=True)
        ]
        right = [
            (px + 2.6 * w, py) for (px, py), w in zip(spine, (0, 0.8, 1.1, 0.7, 0), strict=True)
        ]
        drawn += flowing([*left, *right[-2::-1]], closed=True)
    return sheet.ink(drawn, 0.6, fill=sheet.mark, fill_opacity=0.8)


def feather(sheet: Sheet, opacity: float = 0.4) -> str:
    """Return an open crack: a bright sheet, ragged at its front, with barbs that run towards it."""
    dice, root = sheet.dice, (-74, 44)
    rim = [
        polar(root, (64 + 82 * sin(pi * k / 21) ** 0.6) * dice.between(0.8, 1.06), -1.2 + 0.062 * k)
        for k in range(22)
    ]
    barbs = [
        (between(root, end, dice.between(0.3, 0.75)), between(root, end, dice.between(0.86, 1)))
        for end in rim
    ]
    film = outline([root, *rim])
    return sheet.ink(film, 1.2, fill=sheet.ground.bright, fill_opacity=opacity) + sheet.ink(
        strokes(barbs), 0.8, None, 0.8
    )


def feathers(sheet: Sheet) -> str:
    """Return two open cracks that meet, a large and a small one."""
    small = group(feather(sheet, opacity=0.5), transform="translate(44 44) rotate(62) scale(.6)")
    return group(feather(sheet), transform="translate(6 4)") + small


def cleavages(sheet: Sheet) -> str:
    """Return flat cracks in two directions, stepped, some of them mirror-bright."""
    drawn = []
    for k, place in enumerate(sheet.apart(9, 60)):
        way, size = (-0.5, 0.85)[k % 2], sheet.sized(18, 34)
        start, end = segment(place, size, way)
        step = polar(end, 7, way + pi / 2)
        far = polar(step, size * 0.8, way)
        lean = (9.0, -15.0)
        film = [
            start,
            end,
            (end[0] + lean[0], end[1] + lean[1]),
            (start[0] + lean[0], start[1] + lean[1]),
        ]
        drawn.append(
            sheet.ink(outline(film), 0, "none", fill=sheet.ground.bright, fill_opacity=0.6)
        )
        drawn.append(sheet.ink(outline([start, end, step, far], closed=False), 1.5))
    return group(*drawn)


def partings(sheet: Sheet) -> str:
    """Return long flat cracks that all lie alike and run right across, like sheets of a block."""
    drawn = []
    for k in range(5):
        x = -58 + 29 * k + sheet.dice.between(-3, 3)
        lean = (x + 26, -90.0), (x - 26, 90.0)
        film = [*lean, (lean[1][0] + 15, 82), (lean[0][0] + 15, -86)]
        drawn.append(
            sheet.ink(outline(film), 0, "none", fill=sheet.ground.bright, fill_opacity=0.3)
        )
        drawn.append(sheet.ink(strokes([lean]), 1.7))
    return group(*drawn)


def stained(sheet: Sheet) -> str:
    """Return fissures that reach the rim, stained brown there and yellow further in."""
    drawn = []
    cracks = [
        wavy(sheet.dice, start, end, 8, 9)
        for start, end in (((-96, 30), (40, -34)), ((30, 98), (6, -8)), ((92, -40), (20, 44)))
    ]
    for width, colour, count in ((17, "#e6ad3c", 8), (13, IRON, 6), (8, "#6b3208", 4)):
        data = "".join(flowing(crack[:count]) for crack in cracks)
        drawn.append(sheet.ink(data, width, colour, 0.65, stroke_linecap="round"))
    lines = "".join(outline(crack, closed=False) for crack in cracks)
    return group(*drawn) + sheet.ink(lines, 1.2, "#2c1404")


def centipedes(sheet: Sheet) -> str:
    """Return ladders: a long crack with short cracks square to it on both sides."""
    drawn = ""
    legs: list[Piece] = []
    for start, end, count in (((-76, 40), (54, -40), 13), ((-30, 78), (70, 24), 10)):
        drawn += flowing([start, between(start, end, 0.5), end])
        for k in range(1, count):
            joint = between(start, end, k / count)
            reach = sheet.sized(8, 15) * sin(pi * k / count) ** 0.4
            legs += [(joint, polar(joint, reach, way)) for way in (-0.55 - 1.35, -0.55 + 1.75)]
    return sheet.ink(drawn, 2.6) + sheet.ink(strokes(legs), 2.0, stroke_linecap="round")


def glassy_residue(sheet: Sheet) -> str:
    """Return a healed fissure whose loops are filled with smooth, bright, joined drops."""
    veil = [blob(sheet.dice, p, sheet.sized(4, 9), 0.35, 1.4, -0.6, 8) for p in _within(sheet, 26)]
    glints = [(shape[5][0] + 2, shape[5][1] + 2) for shape in veil]
    edge = sheet.ink(flowing(FRONT, closed=True), 1, None, 0.6, stroke_dasharray="3 4")
    drops = sheet.ink(
        "".join(map(rounded, veil)), 1.6, sheet.ground.shade, fill=sheet.ground.bright
    )
    return edge + drops + sheet.ink(rounds(glints, 0.9), 0, "none", fill="#ffffff")


def _within(sheet: Sheet, count: int) -> list[Point]:
    """Return places within the fissure's outline."""
    return [
        between(
            (2, -4),
            between(FRONT[k % 10], FRONT[(k + 1) % 10], sheet.dice.between(0, 1)),
            sheet.dice.between(0.1, 0.9) ** 0.6,
        )
        for k in range(sheet.some(count))
    ]


def flash(sheet: Sheet) -> str:
    """Return a fissure, edge on, that flashes violet-blue, and one that flashes orange."""
    drawn = []
    for name, tints, move in (
        ("cool", ("#2b3cff", "#7a3cff", "#3ac6ff"), "translate(-6 -22) rotate(-12)"),
        ("warm", ("#ff8a1f", "#ffd24a", "#ff4fa0"), "translate(12 46) rotate(24) scale(.8)"),
    ):
        paint, film = sheet.ramp(name, *tints)
        slim = rounded(
            [(x, y * 0.42) for x, y in blob(sheet.dice, CENTRE, 62, 0.2, 1.25, corners=11)]
        )
        ribs = strokes([((x, -14), (x + 12, 12)) for x in range(-48, 50, 16)])
        crack = sheet.ink(slim, 1.2, fill=film, fill_opacity=0.9) + sheet.ink(
            ribs, 0.8, "#ffffff", 0.7
        )
        drawn += [paint, group(crack, transform=move)]
    return group(*drawn)


def rainbow_cracks(sheet: Sheet) -> str:
    """Return a crack with rings of rainbow colour, as of a film of air."""
    drawn = []
    for k in range(9):
        share = 1 - 0.1 * k
        shape = flowing([between((-20, 8), point, share) for point in FRONT], closed=True)
        drawn.append(sheet.ink(shape, 0, "none", fill=RAINBOW[k % 6], fill_opacity=0.8))
    return group(*drawn) + sheet.ink(flowing(FRONT, closed=True), 1.4)


def flat_bubbles(sheet: Sheet) -> str:
    """Return a filled fissure: a faint sheet with flattened, branching bubbles in it."""
    sheet_ = sheet.ink(
        flowing(FRONT, closed=True), 1.0, None, 0.7, fill=sheet.ground.paler, fill_opacity=0.6
    )
    holes = [blob(sheet.dice, p, sheet.sized(4, 8), 0.45, 1.5, -0.5, 8) for p in _within(sheet, 12)]
    return sheet_ + sheet.ink(
        "".join(map(rounded, holes)), 2.0, sheet.ground.shade, fill=sheet.ground.bright
    )


def coloured_filler(sheet: Sheet) -> str:
    """Return a fissure filled with a green or yellow substance, with a pale gap in it."""
    fill = "#e0cf3a" if _is_green(sheet) else "#1f9a4a"
    filled = sheet.ink(flowing(FRONT, True), 1.4, fill=fill, fill_opacity=0.85)
    flow = "".join(
        flowing([between(CENTRE, point, share) for point in FRONT[1:6]])
        for share in (0.3, 0.55, 0.8)
    )
    gap = rounded(blob(sheet.dice, (-44, 24), 13, 0.35, 1.6, -0.6))
    return filled + sheet.ink(flow, 0.8, None, 0.7) + sheet.ink(gap, 1.2, fill=sheet.ground.bright)


def _is_green(sheet: Sheet) -> bool:
    red, green, blue = parts_of(sheet.ground.body)
    return green > max(red, blue) + 16


def oil_films(sheet: Sheet) -> str:
    """Return a fissure with uneven films: patches with tide-marks where the oil drew back."""
    edge = sheet.ink(flowing(FRONT, closed=True), 1.2, fill=sheet.ground.bright, fill_opacity=0.25)
    patches = []
    for p, size in zip(_within(sheet, 9), (22, 13, 18, 10, 16, 12, 19, 9, 14), strict=False):
        tide = blob(sheet.dice, p, size, 0.35, 1.3, -0.5, 9)
        patches.append(sheet.ink(rounded(tide), 1.0, "#5a4a1a", fill="#d8c27a", fill_opacity=0.42))
        patches.append(sheet.ink(rounded(shrunk(tide, 0.62)), 0.7, "#5a4a1a", 0.8))
    return edge + group(*patches)


def net(
    sheet: Sheet,
    across: int = 5,
    width: float = 1.2,
    colour: str | None = None,
    glow: str | None = None,
    jitter: float = 0.42,
    sway: float = 0.0,
    glow_width: float = 6.0,
) -> str:
    """Return the borders of cells; ``glow`` is the colour that gathers along them."""
    shapes = cells(strewn(sheet.dice, across if not sheet.is_small else max(4, across - 2), jitter))
    if sway:
        shapes = [_swaying(sheet, shape, sway) for shape in shapes]
    data = outlines(shapes)
    under = sheet.ink(data, glow_width, glow, 0.6, stroke_linejoin="round") if glow else ""
    return under + sheet.ink(data, width, colour, stroke_linejoin="round")


def _swaying(sheet: Sheet, shape: Sequence[Point], sway: float) -> list[Point]:
    return [(x + sheet.dice.bell(0, sway), y + sheet.dice.bell(0, sway)) for x, y in shape]


def dyed_cracks(sheet: Sheet, dye: str = "#d3125e") -> str:
    """Return branching cracks in which a vivid colour has gathered."""
    dice, data = sheet.dice, ""
    for start, end in (
        ((-96, 20), (70, -58)),
        ((-40, 94), (20, -92)),
        ((96, 44), (-50, 10)),
        ((40, 92), (60, -20)),
    ):
        points = wavy(dice, start, end, 9, 6)
        data += outline(points, closed=False)
        data += outline([points[3], *wavy(dice, points[3], polar(points[3], 34, 2.0), 4, 2)], False)
    dye = dye if not _is_red(sheet) else "#1646c8"
    return (
        sheet.ink(data, 7, dye, 0.4)
        + sheet.ink(data, 3.2, dye)
        + sheet.ink(data, 0.8, INK_OF_CRACK)
    )


INK_OF_CRACK = "#1a0a12"


def _is_red(sheet: Sheet) -> bool:
    red, green, _ = parts_of(sheet.ground.body)
    return red > green + 60


def iridescent_crackle(sheet: Sheet) -> str:
    """Return a net of empty cracks that run as sheets, here and there with rainbow colours."""
    shapes = cells(strewn(sheet.dice, 4 if sheet.is_small else 5, 0.42))
    films = []
    for k, shape in enumerate(shapes[::3]):
        lean = [
            shape[0],
            shape[1],
            between(shape[1], shape[2], 0.35),
            between(shape[0], shape[-1], 0.35),
        ]
        films.append(sheet.ink(outline(lean), 0, "none", fill=RAINBOW[k % 6], fill_opacity=0.55))
    return group(*films) + sheet.ink(outlines(shapes), 1.5)


def crazed(sheet: Sheet) -> str:
    """Return surface cracks that meet at right angles, wide cells cut up by finer ones."""
    wide = net(sheet, 3, 1.8, None, None, 0.4)
    return wide + net(sheet, 7, 0.7, None, None, 0.45)


def laser(sheet: Sheet) -> str:
    """Return a straight fine tube from the surface down to a bleached crystal in a small disc."""
    surface = sheet.ink(strokes([((-90, -46), (90, -46))]), 1.2)
    pit = circle(
        (-34, -46), 4.5, fill=sheet.ground.bright, stroke=sheet.mark, stroke_width=sheet.pen(1.2)
    )
    way = [((-34, -46), (26, 50))]
    tube = sheet.ink(strokes(way), 4.2) + sheet.ink(strokes(way), 1.6, sheet.ground.paler)
    disc = rounded(blob(sheet.dice, (30, 56), 18, 0.2, 1.4, 0.4))
    bleached = rounded(blob(sheet.dice, (29, 55), 8, 0.3))
    return (
        surface
        + sheet.ink(disc, 1.0, fill=sheet.ground.bright, fill_opacity=0.35)
        + sheet.ink(bleached, 1.2, fill="#ffffff")
        + tube
        + pit
    )


def shell_chips(sheet: Sheet, is_splintery: bool = False) -> str:
    """Return chips along an edge: rippled shells, or splinters on a metallic ground."""
    edge = sheet.ink("M-104 -30L104 -58V-110H-104Z", 1.4, fill=sheet.ground.paler)
    if is_splintery:
        return edge + _splinters(sheet)
    drawn = []
    for x, y, size in ((-44, -35, 46), (36, -49, 62)):
        for k in range(6):
            reach = size * (1 - 0.16 * k)
            arc = [
                polar((x, y), reach * sheet.dice.between(0.96, 1.04), 0.06 + 0.425 * i)
                for i in range(8)
            ]
            tone = mix(sheet.ground.deeper, sheet.ground.bright, 0.14 * k)
            drawn.append(sheet.ink(flowing(arc) + "Z", 1.1, sheet.mark, fill=tone))
    return edge + group(*drawn)


def _splinters(sheet: Sheet) -> str:
    dice, drawn = sheet.dice, []
    steel = ("#4a4d52", "#8d9298", "#d6dade", "#2c2e32")
    for k in range(sheet.some(26)):
        x = -96 + 192 * dice.between(0, 1)
        tip = (x + dice.bell(10, 8), -30 + dice.between(30, 118))
        base = -44 - 0.13 * x
        shard = [(x - dice.between(5, 13), base), (x + dice.between(5, 13), base), tip]
        drawn.append(sheet.ink(outline(shard), 0.8, "#17181a", fill=steel[k % 4]))
    return group(*drawn)


FISSURES = {
    "fingerprint": Row("a veil of drops in nested loops", fingerprint),
    "wavy liquid feathers": Row("wavy shredded bands of drops, like lace", shredded_veil),
    "flux veil": Row("twisted whitish wisps of drops, like smoke", flux_veil),
    "coarse flux drops": Row("large drops and tubes, white to orange", flux_drops),
    "tiger stripes": Row("parallel stripes of a rippled fissure", tiger_stripes),
    "feathers": Row("open cracks, bright, with barbs like a feather's", feathers),
    "incipient cleavage": Row("flat stepped cracks in two directions", cleavages),
    "parting planes": Row("long flat cracks, all parallel", partings),
    "iron-stained fissures": Row("fissures stained yellow to brown", stained),
    "centipede cracks": Row("long cracks with short ones square to them", centipedes),
    "glassy residue in fissures": Row(
        "a healed fissure with smooth bright drops of glass", glassy_residue
    ),
    "flash effect": Row("fissures that flash violet-blue and orange", flash),
    "iridescent cracks": Row("a crack with rings of rainbow colours", rainbow_cracks),
    "flattened bubbles in fissures": Row("flat bubbles in a filled fissure", flat_bubbles),
    "coloured filler in fissures": Row(
        "a fissure filled with a coloured substance, with a gap", coloured_filler
    ),
    "oil-like films": Row("uneven films with tide-marks in a fissure", oil_films),
    "dye in cracks": Row("branching cracks full of vivid colour", dyed_cracks),
    "crackle network": Row("a net of bright cracks through the whole", partial(net, width=1.8)),
    "undyed crackle with body colour": Row(
        "a net of empty cracks, some with rainbow colours", iridescent_crackle
    ),
    "surface fissure net": Row(
        "a fine net of fissures along the grains", partial(net, across=9, width=1.1, sway=1.2)
    ),
    "crazing": Row("a fine net of surface cracks, wide cells cut up by finer ones", crazed),
    "laser channel": Row("a straight fine tube from the surface to a crystal", laser),
    "conchoidal fracture, glassy lustre": Row("shell-like rippled chips at an edge", shell_chips),
    "splintery fracture, metallic lustre": Row(
        "metallic splinters at an edge", partial(shell_chips, is_splintery=True)
    ),
}
