"""What animals and plants made: pearl, shell, coral, ivory, bone, horn, wood; and imitations."""

from functools import partial
from math import pi, radians, sin

from isogyre.drawing.scenes.shapes import (
    CENTRE,
    blob,
    cells,
    dots,
    flowing,
    rounded,
    segment,
    shrunk,
    strewn,
    strokes,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import at, circle, ellipse, group, outline, polar

CREAM, TOOTH, TOOTH_LINE = "#f0e7d6", "#efe4c8", "#8a6f42"
PEARL_LINE = "#8d8290"


def ivory_arcs(sheet: Sheet, outer_angle_deg: float) -> str:
    """Return two sets of crossing arcs; the angle that opens outwards is the one that is read."""
    data = ""
    for side in (-1, 1):
        way = -pi / 2 + side * radians(outer_angle_deg / 2)
        for offset in range(-100, 101, 20 if sheet.is_small else 11):
            start, end = segment(polar(CENTRE, offset, way + pi / 2), 112, way)
            x, y = polar(CENTRE, offset, way + pi / 2)
            data += f"M{at(start)}Q{at((x, y - 8))} {at(end)}"
    ends = [polar((0, 24), 62, -pi / 2 + side * radians(outer_angle_deg / 2)) for side in (-1, 1)]
    read = outline([ends[0], (0, 24), ends[1]], closed=False)
    arcs = sheet.ink(data, 1.3, TOOTH_LINE)
    return circle(CENTRE, 104, fill=TOOTH) + arcs + sheet.ink(read, 3, "#2c1f0c")


def even_lines(sheet: Sheet) -> str:
    """Return straight even parallel bands, as plastic has them."""
    lines = strokes([((x, -104), (x, 104)) for x in range(-98, 104, 14)])
    fine = strokes([((x, -104), (x, 104)) for x in range(-91, 104, 14)])
    return (
        circle(CENTRE, 104, fill=TOOTH)
        + sheet.ink(lines, 4.5, "#dcc99a")
        + sheet.ink(fine, 0.8, TOOTH_LINE)
    )


def dentine_core(sheet: Sheet) -> str:
    """Return smooth outer dentine about a core of mottled, marble-like lumps."""
    core = [
        c
        for c in cells(
            [(x * 0.56, y * 0.46) for x, y in strewn(sheet.dice, 5 if sheet.is_small else 6, 0.4)]
        )
        if len(c) > 2
    ]
    kept = [c for c in core if max(x * x + (y * 1.2) ** 2 for x, y in c) < 66**2]
    lumps = "".join(flowing(shrunk(c, 0.9), True) for c in kept)
    rings = [
        ellipse(
            CENTRE, (r, r * 0.86), 0, fill="none", stroke="#c9b27c", stroke_width=sheet.pen(1.1)
        )
        for r in (72, 82, 94)
    ]
    marble = ellipse(
        CENTRE, (62, 52), 0, fill="#b99a63", stroke=TOOTH_LINE, stroke_width=sheet.pen(1.4)
    )
    return (
        circle(CENTRE, 104, fill=TOOTH)
        + group(*rings)
        + marble
        + sheet.ink(lumps, 0.9, TOOTH_LINE, fill="#f6ecd2")
    )


def dentine_lines(sheet: Sheet) -> str:
    """Return fine concentric lines that wave, about a small off-centre canal."""
    drawn = ""
    for k in range(1, 14 if not sheet.is_small else 9):
        size = k * (9.5 if not sheet.is_small else 14)
        loop = [
            polar((-14, 10), size * (1 + 0.05 * sin(5 * i * pi / 8 + k)), i * pi / 8)
            for i in range(16)
        ]
        drawn += flowing(loop, True)
    canal = ellipse((-14, 10), (4, 6), 20, fill=TOOTH_LINE)
    return circle(CENTRE, 104, fill=TOOTH) + sheet.ink(drawn, 1.1, TOOTH_LINE) + canal


def nut_cells(sheet: Sheet) -> str:
    """Return dots and dashes of plant cells in slightly wavy rows."""
    rows = "".join(
        flowing(wavy(sheet.dice, (-104, y), (104, y + 6), 3, 6))
        for y in range(-98, 104, 20 if sheet.is_small else 13)
    )
    return circle(CENTRE, 104, fill="#f3ead4") + sheet.ink(
        rows, 2.4, "#a5834c", stroke_dasharray="5 5 0.1 6 7 8", stroke_linecap="round"
    )


def bone_canals(sheet: Sheet) -> str:
    """Return small canals end on, each in faint rings, and a few cut along as short grooves."""
    drawn = []
    for place in sheet.apart(18, 84):
        rings = [
            circle(place, r, fill="none", stroke="#c3b28a", stroke_width=sheet.pen(0.7))
            for r in (6.5, 10)
        ]
        drawn.append(group(*rings, circle(place, 2.8, fill="#3d2f1c")))
    grooves = strokes([segment(p, sheet.sized(5, 11), 0.4) for p in sheet.apart(9, 86)])
    return (
        circle(CENTRE, 104, fill="#f1eadb")
        + group(*drawn)
        + sheet.ink(grooves, 2.0, "#5d4a2e", stroke_linecap="round")
    )


def shell_dots(sheet: Sheet) -> str:
    """Return brown patches that are made of tiny dots, thinning out at their borders."""
    dice, places = sheet.dice, []
    for x, y in ((-44, -36), (36, -10), (-14, 52)):
        places += [(dice.bell(x, 19), dice.bell(y, 15)) for _ in range(sheet.some(120))]
    amber = circle(CENTRE, 104, fill="#e3a94a")
    return amber + sheet.ink(dots(places), 3.0, "#4a1f08", stroke_linecap="round")


def swirled_patches(sheet: Sheet) -> str:
    """Return brown patches with smooth swirled borders and no dots."""
    drawn = [circle(CENTRE, 104, fill="#e3a94a")]
    for x, y, turn in ((-42, -40, 0.3), (38, -4, 1.1), (-20, 54, 2.2)):
        for share, tone in ((1.0, "#b56a22"), (0.72, "#7c3c12"), (0.4, "#4a1f08")):
            shape = [
                polar(
                    (x, y), 34 * share * (1 + 0.42 * sin(2 * i * pi / 5 + turn)), i * pi / 5 + share
                )
                for i in range(10)
            ]
            drawn.append(sheet.ink(flowing(shape, True), 0, "none", fill=tone))
    return group(*drawn)


def nacre(sheet: Sheet) -> str:
    """Return the fine contour lines of overlapping plates, like a map of low hills."""
    drawn = ""
    for x, y, turn, count in ((-38, -28, 0.4, 9), (46, 34, 1.9, 8)):
        for k in range(1, count if not sheet.is_small else count - 3):
            size = 8.4 * k if not sheet.is_small else 13 * k
            loop = [
                polar((x, y), size * (1 + 0.16 * sin(3 * a + turn) + 0.1 * sin(5 * a + k * 0.4)), a)
                for a in (i * pi / 7 for i in range(14))
            ]
            drawn += flowing(loop, True)
    return circle(CENTRE, 104, fill=CREAM) + sheet.ink(drawn, 1.1, PEARL_LINE)


def smooth_coat(sheet: Sheet) -> str:
    """Return a grainy, egg-shell-like coat with blotches and no contour line."""
    grain = [sheet.anywhere(98) for _ in range(sheet.some(200))]
    blots = [blob(sheet.dice, p, sheet.sized(9, 17), 0.35) for p in sheet.apart(7)]
    return (
        circle(CENTRE, 104, fill=CREAM)
        + sheet.ink("".join(map(rounded, blots)), 0, "none", fill="#d9c9b6", fill_opacity=0.6)
        + sheet.ink(dots(grain), 1.7, "#b3a48f", stroke_linecap="round")
    )


def drill_hole(
    sheet: Sheet,
    bead: str = "#f6f1e4",
    skin: str = "#e7d6c6",
    line: str = "#5d4c3e",
    is_chipped: bool = False,
) -> str:
    """Return the mouth of a drill hole: the skin, a ring where it meets the bead, the hole."""
    dice = sheet.dice
    edge = [
        polar(CENTRE, (58 if not is_chipped else 58 * dice.between(0.72, 1.3)), k * pi / 10)
        for k in range(20)
    ]
    mouth = outline(edge) if is_chipped else flowing(edge, True)
    layers = group(
        *(
            circle(CENTRE, r, fill="none", stroke="#b9a58f", stroke_width=sheet.pen(0.8))
            for r in (66, 72, 79)
        )
    )
    flaking = ""
    if is_chipped:
        chips = [
            outline(blob(dice, polar(CENTRE, 82, 0.9 * k), 7, 0.45, corners=6)) for k in range(7)
        ]
        flaking, layers = sheet.ink("".join(chips), 0.9, line, fill=bead), ""
    return (
        circle(CENTRE, 104, fill=skin)
        + layers
        + sheet.ink(mouth, 3.0, line, fill=bead)
        + circle(CENTRE, 30, fill="#17120f")
        + flaking
    )


def bead_stripes(sheet: Sheet) -> str:
    """Return a pearl lit from behind: stripes of the bead within the paler rim of nacre."""
    rim = circle(CENTRE, 88, fill="#f7e6d2", stroke=PEARL_LINE, stroke_width=sheet.pen(1.2))
    stripes = []
    for k, x in enumerate((-58, -36, -20, 2, 20, 44)):
        half = (70**2 - x**2) ** 0.5
        stripes.append(
            sheet.ink(
                strokes([((x - 8, -half), (x + 8, half))]),
                (9, 5, 11, 6, 9, 7)[k],
                "#b98c66",
                0.7,
                stroke_linecap="round",
            )
        )
    bead = circle(CENTRE, 72, fill="#fbf1e2", stroke="#a88a72", stroke_width=sheet.pen(1))
    return circle(CENTRE, 104, fill="#201a1a") + rim + bead + group(*stripes)


def pearl_skin(sheet: Sheet) -> str:
    """Return a pearl with rings about its middle, dimples and bumps."""
    pearl = circle(CENTRE, 92, fill=CREAM, stroke=PEARL_LINE, stroke_width=sheet.pen(1.2))
    gleam = ellipse((-34, -40), (22, 13), -35, fill="#ffffff", fill_opacity=0.8)
    rings = "".join(f"M{-x} {y}Q0 {y + 30} {x} {y}" for x, y in ((89, -20), (91, -6), (91, 12)))
    dimples = []
    for place in ((34, -46), (-22, 62), (40, 56), (-56, 34), (8, -70)):
        dimples.append(
            circle(place, 5, fill="#cdbcb0", stroke=PEARL_LINE, stroke_width=sheet.pen(1))
        )
        dimples.append(circle((place[0] + 1.5, place[1] + 1.5), 2.4, fill="#ffffff"))
    return (
        circle(CENTRE, 104, fill="#33302f")
        + pearl
        + sheet.ink(rings, 2.0, PEARL_LINE)
        + gleam
        + group(*dimples)
    )


def flames(sheet: Sheet) -> str:
    """Return a silky pattern of flames, side by side, tips all one way."""
    drawn = []
    for row, y in enumerate((70, 20, -30, -80)):
        for k in range(8):
            x = -98 + 28 * k + 14 * (row % 2)
            # One tongue: up along its left side to the tip, and down along its right.
            drawn.append(f"M{x} {y + 32}c-17-26 9-30 3-62c16 30 14 42-3 62z")
    data = "".join(drawn)
    return circle(CENTRE, 104, fill="#e89aa0") + sheet.ink(data, 1.0, "#c26a78", fill="#fbd9d4")


def coral(sheet: Sheet) -> str:
    """Return fine parallel lines along a branch, and small pits in rows between them."""
    lines = "".join(
        flowing(wavy(sheet.dice, (x, -104), (x - 16, 104), 2, 5))
        for x in range(-88, 112, 16 if sheet.is_small else 10)
    )
    pits = [
        (x - 0.08 * y, y) for x in range(-82, 96, 40) for y in range(-80 + (x % 3) * 14, 90, 46)
    ]
    return (
        circle(CENTRE, 104, fill="#d4573f")
        + sheet.ink(lines, 1.2, "#8e2c1e")
        + group(
            *(
                circle(p, 3.8, fill="#6b1d12", stroke="#f0a08c", stroke_width=sheet.pen(0.8))
                for p in pits
            )
        )
    )


def thorns(sheet: Sheet) -> str:
    """Return tree-like rings in section, with tiny thorns on the outer skin."""
    rings = group(
        *(
            circle((0, 20), r, fill="none", stroke="#9a8168", stroke_width=sheet.pen(1))
            for r in (12, 24, 33, 44, 51, 60, 67)
        )
    )
    spines = "".join(
        outline([polar((0, 20), 74, a - 0.06), polar((0, 20), 86, a), polar((0, 20), 74, a + 0.06)])
        for a in (k * pi / 14 for k in range(28))
    )
    disc = circle((0, 20), 75, fill="#241a14", stroke="#9a8168", stroke_width=sheet.pen(1.2))
    return (
        circle(CENTRE, 104, fill="#cfc4b4")
        + sheet.ink(spines, 1.1, "#120c08", fill="#241a14")
        + disc
        + rings
    )


def wood(sheet: Sheet) -> str:
    """Return growth rings with rays square to them, and pores along each ring."""
    root = (-30.0, 150.0)
    arcs, pores = "", []
    for k in range(9 if not sheet.is_small else 7):
        size = 62 + (21 if not sheet.is_small else 28) * k
        arc = [polar(root, size + sheet.dice.bell(0, 1.5), -2.5 + 0.2 * i) for i in range(11)]
        arcs += flowing(arc)
        pores += [polar(root, size + 7, -2.4 + 0.1 * i) for i in range(19)]
    rays = strokes(
        [(polar(root, 55, a), polar(root, 262, a)) for a in (-2.4 + 0.1 * i for i in range(19))]
    )
    return (
        circle(CENTRE, 104, fill="#b98a58")
        + sheet.ink(rays, 0.8, "#e4c49a")
        + sheet.ink(arcs, 2.6, "#6b4222")
        + sheet.ink(
            dots([p for p in pores if p[0] ** 2 + p[1] ** 2 < 104**2]),
            3,
            "#4a2c14",
            stroke_linecap="round",
        )
    )


ORGANICS = {
    "Schreger lines, obtuse": Row(
        "crossing arcs with an outer angle of about 120 degrees",
        partial(ivory_arcs, outer_angle_deg=120),
    ),
    "Schreger lines, acute": Row(
        "crossing arcs with an outer angle of about 80 degrees",
        partial(ivory_arcs, outer_angle_deg=80),
    ),
    "too even parallel lines": Row("straight even parallel bands", even_lines),
    "marbled dentine core": Row("a mottled core within smooth dentine", dentine_core),
    "wavy or concentric dentine lines": Row("fine wavy rings about a canal", dentine_lines),
    "cell dots and lines of vegetable ivory": Row("dots and dashes in wavy rows", nut_cells),
    "pores or canals of bone": Row("small canals, each in faint rings", bone_canals),
    "tortoise-shell dots": Row("brown patches made of tiny dots", shell_dots),
    "swirled patches without dots": Row("brown patches with swirled borders", swirled_patches),
    "overlapping nacre plates": Row("fine contour lines, like a map", nacre),
    "smooth coating without contour lines": Row("a grainy blotchy coat without lines", smooth_coat),
    "bead at the drill hole": Row("a drill hole with a ring where nacre meets a bead", drill_hole),
    "dark bead under pale nacre": Row(
        "a drill hole with a dark bead under pale nacre", partial(drill_hole, bead="#4a332a")
    ),
    "glassy bead with coating": Row(
        "a drill hole with a chipped coating on a glassy bead",
        partial(drill_hole, bead="#cfe0e6", is_chipped=True),
    ),
    "bead stripes in strong light": Row("a pearl lit from behind with stripes", bead_stripes),
    "rings and pits of pearls": Row("a pearl with rings, dimples and bumps", pearl_skin),
    "flame pattern": Row("flames side by side, like silk", flames),
    "growth structure of coral": Row("fine parallel lines with rows of pits", coral),
    "thorn pimples of black coral": Row("rings in section with tiny thorns", thorns),
    "wood structure": Row("growth rings with rays and pores", wood),
}
