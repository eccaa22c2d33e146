"""Growth lines, colour zones, twins, swirls: what runs through the whole body."""

from itertools import pairwise
from math import cos, pi, sin

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    HEXAGON,
    cells,
    flowing,
    placed,
    segment,
    shrunk,
    strewn,
    strokes,
    tilted,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, group, outline, polar, ring

SPREAD = (3, 9, 14, 24, 28, 39, 44, 49, 62, 68, 82, 87, 101, 108, 121, 127, 140, 152, 158, 171)


def angular_zones(sheet: Sheet) -> str:
    """Return straight bands that turn at 120 degrees, as along the faces of a hexagon."""
    drawn = []
    for k, (near, far) in enumerate(pairwise((10, 22, 30, 48, 54, 63, 84, 90, 106, 130, 138, 160))):
        ring_ = [placed(HEXAGON.silhouette, (-26, 18), size, 0.2) for size in (far, near)]
        tone = sheet.ground.deeper if k % 2 else sheet.ground.paler
        data = outline(ring_[0]) + outline(ring_[1][::-1])
        drawn.append(sheet.ink(data, 0.7, sheet.mark, 0.45, fill=tone, fill_opacity=0.85))
    return group(*drawn)


def parallel_zones(sheet: Sheet) -> str:
    """Return a few bands of colour, all parallel to one plane, far apart."""
    drawn = []
    for y, thick in ((-58, 9), (-14, 4), (-4, 3), (40, 13)):
        band = outline(
            [(-110, y - 18), (110, y + 14), (110, y + 14 + thick), (-110, y - 18 + thick)]
        )
        drawn.append(sheet.ink(band, 0.5, sheet.ground.shade, fill=sheet.ground.deeper))
    return group(*drawn)


def twin_lamellae(sheet: Sheet) -> str:
    """Return straight parallel twin planes, in pairs of fine lines, crossed by a few others."""
    main = [
        segment(polar(CENTRE, x, 0.3), 120, 0.3 + pi / 2)
        for x in (-70, -66, -40, -37, -8, -5, 12, 34, 37, 64)
    ]
    cross = [segment(polar(CENTRE, x, 1.35), 120, 1.35 + pi / 2) for x in (-44, -41, 30)]
    films = "".join(outline([*a, *b[::-1]]) for a, b in pairwise(main[:6]) if a is not main[1])
    return (
        sheet.ink(films, 0, "none", fill=sheet.ground.bright, fill_opacity=0.22)
        + sheet.ink(strokes(main), 1.3)
        + sheet.ink(strokes(cross), 0.9, None, 0.8)
    )


def stepped_twin(sheet: Sheet) -> str:
    """Return one twin plane that goes up in steps like a stair."""
    points: list[Point] = [(-104, 56)]
    for k in range(9):
        x, y = points[-1]
        points += [(x + 19 + 4 * (k % 2), y - 3), (x + 21 + 4 * (k % 2), y - 15)]
    side = outline([*points, (104, 110), (-104, 110)])
    steps = outline(points, closed=False)
    return sheet.ink(side, 0, "none", fill=sheet.ground.paler, fill_opacity=0.7) + sheet.ink(
        steps, 2
    )


def phantom(sheet: Sheet) -> str:
    """Return the ghost of a smaller crystal within the crystal."""
    tall = [(0, -90), (38, -48), (38, 96), (-38, 96), (-38, -48)]
    outer = [(x * 1.45, y) for x, y in tall]
    drawn = [
        sheet.ink(
            outline(outer)
            + strokes(
                [
                    ((0, -90), (14, -48)),
                    ((14, -48), (14, 96)),
                    ((14, -48), (55, -48)),
                    ((14, -48), (-55, -48)),
                ]
            ),
            1.4,
        )
    ]
    for k in range(4):
        share = 0.72 - 0.12 * k
        ghost = [(x * share * 1.3, 96 + (y - 96) * share) for x, y in tall]
        drawn.append(
            sheet.ink(
                outline(ghost[:3], False) + outline([ghost[0], ghost[4], ghost[3]], False),
                3.4 - 0.5 * k,
                sheet.mark,
                0.4,
            )
        )
        drawn.append(
            sheet.ink(outline(ghost), 0, "none", fill=sheet.ground.bright, fill_opacity=0.2)
        )
    return group(*drawn)


def sectors(sheet: Sheet) -> str:
    """Return six sectors about the axis, violet and yellow by turns."""
    rim = ring(CENTRE, 120, 6, 0.2)
    drawn = []
    for k in range(6):
        fill = "#f0c02c" if k % 2 else "#7a3fb0"
        drawn.append(
            sheet.ink(outline([CENTRE, rim[k], rim[(k + 1) % 6]]), 0.8, "#2a1a3a", fill=fill)
        )
    return group(*drawn)


def brazil_twins(sheet: Sheet) -> str:
    """Return sectors between crossed polars, each striped with fringes, dark and coloured."""
    drawn = []
    tints = ("#1c1c22", "#8fa3b8", "#f3efd8", "#e0a13a", "#8a2f86", "#1f63d8")
    for k in range(6):
        start = 0.1 + k * pi / 3
        for j in range(6, 0, -1):
            reach = 20.0 * j
            wedge = outline(
                [CENTRE, polar(CENTRE, reach, start), polar(CENTRE, reach, start + pi / 3)]
            )
            drawn.append(sheet.ink(wedge, 0, "none", fill=tints[(j + 3 * (k % 2)) % 6]))
    rim = [(CENTRE, end) for end in ring(CENTRE, 104, 6, 0.1)]
    return group(*drawn) + sheet.ink(strokes(rim), 2, "#0c0c10")


def trapiche(sheet: Sheet) -> str:
    """Return six dark spokes that grow wider outwards from a six-sided core."""
    drawn = ""
    for k in range(6):
        way = k * pi / 3 - pi / 2
        drawn += outline(
            [
                polar(CENTRE, 22, way - 0.06),
                polar(CENTRE, 104, way - 0.085),
                polar(CENTRE, 104, way + 0.085),
                polar(CENTRE, 22, way + 0.06),
            ]
        )
    core = outline(ring(CENTRE, 24, 6))
    inner = outline(ring(CENTRE, 15, 6))
    dark = "#15110f"
    return (
        sheet.ink(drawn, 0.8, sheet.ground.paler, fill=dark)
        + sheet.ink(core, 4, dark, fill=sheet.ground.deeper)
        + sheet.ink(inner, 0.9, dark, 0.8)
    )


def curved_striae(sheet: Sheet) -> str:
    """Return fine curved lines and bands, all about one far centre, unevenly spaced."""
    drawn = []
    for k, step in enumerate(SPREAD):
        arc = outline_arc(98 + step * 1.3)
        drawn.append(
            sheet.ink(
                arc,
                (0.8, 1.6, 1.0, 3.6)[k % 4],
                sheet.mark if k % 4 != 3 else sheet.ground.deeper,
                0.85,
            )
        )
    return group(*drawn)


def outline_arc(radius: float, centre: Point = (-40.0, 170.0)) -> str:
    """Return path data of an arc that crosses the field."""
    return flowing([polar(centre, radius, -2.55 + 0.24 * i) for i in range(10)])


def plato_lines(sheet: Sheet) -> str:
    """Return lines between crossed polars, crossing at 60 degrees, grey upon dark."""
    dark = circle(CENTRE, 104, fill="#1b1d22")
    drawn = []
    for way in (0.0, pi / 3, 2 * pi / 3):
        lines = [
            segment(
                polar(
                    polar(CENTRE, x + sheet.dice.between(-3, 3), way + pi / 2),
                    sheet.dice.between(-30, 30),
                    way,
                ),
                sheet.dice.between(40, 80),
                way,
            )
            for x in range(-84, 90, 24 if sheet.is_small else 14)
        ]
        drawn.append(sheet.ink(strokes(lines), 1.5, ("#9fb4cc", "#d5dbe2", "#7f93aa")[round(way)]))
    return dark + group(*drawn)


def tabby(sheet: Sheet) -> str:
    """Return cross-hatched strain between crossed polars: wavy grey bars both ways."""
    dark = circle(CENTRE, 104, fill="#15161a")
    drawn = []
    for way in (0.35, 0.35 + pi / 2):
        for k in range(8):
            middle = polar(CENTRE, -84 + 24 * k, way + pi / 2)
            bar = flowing(wavy(sheet.dice, *segment(middle, 104, way), sway=5, pieces=5))
            drawn.append(sheet.ink(bar, 7 if k % 2 else 4, "#c9d2dc", 0.34))
    return dark + group(*drawn)


def swirls(
    sheet: Sheet,
    inks: tuple[str | None, ...] = (None,),
    width: float = 1.4,
    count: int = 15,
    eddies: float = 26,
    opacity: float = 0.8,
) -> str:
    """Return flow lines that wind round a few eddies."""
    parts = []
    for k in range(count):
        y = -100 + 200 * k / (count - 1)
        points = []
        for i in range(10):
            x = -108 + 24 * i
            lift = eddies * sin(x * 0.034 + 0.6) * cos(y * 0.022) + 9 * sin(x * 0.071 + y * 0.05)
            points.append((x + eddies * 0.8 * sin(y * 0.045 + x * 0.02), y + lift))
        parts.append(
            sheet.ink(flowing(points), width * (1 + 0.6 * (k % 3)), inks[k % len(inks)], opacity)
        )
    return group(*parts)


def curls_of_flow(sheet: Sheet) -> str:
    """Return glass swirls: loops and streaks that curl round like stirred syrup."""
    data = ""
    for x, y, size, sweep in (
        (-34, -26, 46, 1),
        (40, 34, 50, -1),
        (46, -52, 26, 1),
        (-50, 56, 28, -1),
    ):
        for lag in (0.0, 0.5, 1.0):
            arm = [
                polar((x, y), size * (0.12 + 0.115 * i) * (1 - 0.1 * lag), sweep * (0.62 * i + lag))
                for i in range(11)
            ]
            data += flowing(arm)
    return sheet.ink(data, 1.2, None, 0.85)


def zone_swirls(sheet: Sheet) -> str:
    """Return nested, lens-like rings that swirl into each other."""
    drawn = ""
    for x, y, turn in ((-36, -18, 0.4), (38, 30, -0.5)):
        for k in range(7):
            loop = placed(
                tilted(ring(CENTRE, 1, 12), 0.55 + 0.04 * k),
                (x + 2 * k, y - k),
                8 + 9 * k,
                turn + 0.13 * k,
            )
            drawn += flowing(loop, closed=True)
    return sheet.ink(drawn, 1.1, None, 0.85)


def treacle(sheet: Sheet) -> str:
    """Return an oily, roiled look: broad soft streaks of light and shade, like heat over a road."""
    tones = (sheet.ground.paler, sheet.ground.deeper, sheet.ground.bright)
    broad = swirls(sheet, tones, 6.5, 14, 20, 0.42)
    return broad + swirls(sheet, (sheet.mark,), 0.6, 9, 19, 0.5)


def chevrons(sheet: Sheet) -> str:
    """Return zigzag growth lines, one V above the other, a little irregular."""
    data = ""
    for k in range(sheet.some(13) + 2):
        y = -110 + 210 * k / (sheet.some(13) + 1)
        points: list[Point] = [
            (-100 + 25 * i, y + (15 if i % 2 else -15) + sheet.dice.bell(0, 2.5)) for i in range(9)
        ]
        data += outline(points, closed=False)
    return sheet.ink(data, 1.3, None, 0.9, stroke_linejoin="round")


def seed_plate(sheet: Sheet) -> str:
    """Return a pale seed, straight-sided, with wavy growth on both sides of it."""
    seed = outline([(-110, -8), (110, -34), (110, -2), (-110, 24)])
    data = ""
    for k in range(1, 6):
        for side, offset in ((-1, 0.0), (1, 32.0)):
            start = (-108, -8 + offset + side * 14 * k)
            data += flowing(wavy(sheet.dice, start, (108, start[1] - 26), 3, 8))
    borders = strokes([((-110, -8), (110, -34)), ((-110, 24), (110, -2))])
    crumbs = [(-90 + 15 * k, -10.3 - 1.77 * k) for k in range(13)]
    return (
        sheet.ink(seed, 0, "none", fill=mix(sheet.ground.paler, WHITE, 0.5))
        + sheet.ink(data, 0.9, None, 0.6)
        + sheet.ink(borders, 2.0, sheet.ground.shade)
        + sheet.ink(
            "".join(f"M{x:.0f} {y:.0f}h0" for x, y in crumbs),
            3,
            sheet.ground.shade,
            stroke_linecap="round",
        )
    )


def sleepy(sheet: Sheet) -> str:
    """Return a milky haze over facet edges that can hardly be made out."""
    rim, table = ring(CENTRE, 92, 8, 0.2), ring(CENTRE, 52, 8, 0.6)
    edges = outline(table) + strokes(list(zip(rim, table, strict=True)))
    haze, veil = sheet.faded("haze", "#ffffff", 0.5)
    return haze + sheet.ink(edges, 3, None, 0.22) + circle(CENTRE, 104, fill=veil, fill_opacity=0.5)


def bands(
    sheet: Sheet,
    tones: tuple[str, ...] = ("#f2e8d8", "#b5673a", "#e5c39a", "#7c3a1e", "#fbf6ec", "#d08b52"),
) -> str:
    """Return bands that bend together, like the layers of an agate, about one hollow."""
    drawn = []
    for k in range(10):
        size = 150 - 15 * k
        loop = [
            polar(
                (18, 22),
                size * (1 + 0.09 * sin(3 * i * pi / 6 + 0.5) + 0.04 * sin(i * 2.5)),
                i * pi / 6,
            )
            for i in range(12)
        ]
        drawn.append(
            sheet.ink(flowing(loop, closed=True), 0.8, "#4a2814", 0.7, fill=tones[k % len(tones)])
        )
    return group(*drawn)


def uneven_dye(sheet: Sheet) -> str:
    """Return the same bands: some have drunk an over-vivid colour, others have stayed pale."""
    return bands(sheet, ("#0d5fd8", "#2f86ff", "#eef0ee", "#0846a8", "#f6f6f2", "#dfe6ea"))


def slag(sheet: Sheet) -> str:
    """Return broad streaks of glass in many tones, swirled together."""
    return swirls(sheet, ("#2b7d8c", "#8fc3b2", "#1b4f66", "#d8e4cf", "#6a8f4e"), 9, 16, 20, 0.95)


def resin_flow(sheet: Sheet) -> str:
    """Return drawn-out streaks between softened pieces, and flat sheared bubbles."""
    pieces = [
        shrunk(cell, 0.84)
        for cell in cells([(x * 1.5, y * 0.72) for x, y in strewn(sheet.dice, 4)])
    ]
    soft = "".join(flowing(piece, closed=True) for piece in pieces if len(piece) > 2)
    flow = swirls(sheet, (sheet.ground.deeper, sheet.ground.bright), 1.6, 14, 12, 0.9)
    return flow + sheet.ink(
        soft, 1.2, sheet.ground.deeper, fill=sheet.ground.paler, fill_opacity=0.75
    )


def hillocks(sheet: Sheet) -> str:
    """Return stepped hexagonal hillocks on a face."""
    drawn = []
    for place in sheet.apart(7, 66):
        size = sheet.sized(15, 25)
        for k in range(4):
            tone = mix(sheet.ground.body, sheet.ground.bright, 0.2 * (k + 1))
            step = outline(
                placed(HEXAGON.silhouette, (place[0] - k, place[1] - k), size * (1 - 0.23 * k), 0.2)
            )
            drawn.append(sheet.ink(step, 1.0, sheet.ground.shade, fill=tone))
    return group(*drawn)


def trigons(sheet: Sheet) -> str:
    """Return triangular pits, all set alike, stepped down to a point or a flat floor."""
    drawn = []
    for k, place in enumerate(sheet.apart(10, 70)):
        size = sheet.sized(9, 24)
        for j in range(3 if k % 2 else 4):
            tone = mix(sheet.ground.paler, sheet.ground.shade, 0.22 * j)
            pit = outline(ring(place, size * (1 - 0.27 * j), 3))
            drawn.append(sheet.ink(pit, 1.0, sheet.ground.shade, fill=tone))
    return group(*drawn)


def etched(sheet: Sheet) -> str:
    """Return a face with rounded and squarish pits and ridges, no triangle among them."""
    drawn = []
    for k, place in enumerate(sheet.apart(16, 78)):
        count = (4, 7, 5, 9)[k % 4]
        pit = ring(place, sheet.sized(6, 15), count, sheet.dice.turn())
        data = flowing(pit, closed=True)
        inner = flowing(shrunk(pit, 0.55), closed=True)
        drawn.append(sheet.ink(data, 1.2, sheet.ground.shade, fill=sheet.ground.deeper))
        drawn.append(sheet.ink(inner, 0.7, sheet.ground.bright, 0.8))
    return group(*drawn)


def albite_streaks(sheet: Sheet) -> str:
    """Return a grid of white streaks in two directions, the one broken by the other."""
    dice, data = sheet.dice, ""
    for way, count in ((0.5, 30), (0.5 + pi / 2, 22)):
        data += strokes(
            [
                segment(p, sheet.sized(6, 17), way + dice.bell(0, 0.05))
                for p in sheet.apart(count, 88)
            ]
        )
    ground = circle(CENTRE, 104, fill="#3fa59a")
    return ground + sheet.ink(data, 4.2, "#2b7d76", 0.7) + sheet.ink(data, 2.8, "#ffffff")


def red_rim(sheet: Sheet) -> str:
    """Return a stone in section: red from the rim inwards in layers, pale green at heart."""
    drawn = []
    for size, tone in (
        (96, "#9a1d16"),
        (82, "#c8442c"),
        (66, "#dd8a58"),
        (48, "#c9c98a"),
        (30, "#a9c08a"),
    ):
        drawn.append(
            sheet.ink(
                flowing(
                    [
                        polar(CENTRE, size * (1 + 0.05 * sin(2.6 * i)), i * pi / 6)
                        for i in range(12)
                    ],
                    closed=True,
                ),
                0.8,
                "#5a140e",
                0.6,
                fill=tone,
            )
        )
    crack = flowing(wavy(sheet.dice, (92, 20), (-18, -10), 6, 5))
    return group(*drawn) + sheet.ink(crack, 5, "#b3301f") + sheet.ink(crack, 1.2, "#3a0a06")


GROWTH = {
    "straight colour zoning": Row(
        "straight bands of colour that turn at 120 degrees", angular_zones
    ),
    "colour zones parallel to one plane": Row(
        "a few bands of colour, all parallel", parallel_zones
    ),
    "lamellar twinning": Row(
        "straight parallel twin planes, crossed by a few others", twin_lamellae
    ),
    "stepped twin planes": Row("one twin plane that goes up in steps", stepped_twin),
    "phantom": Row("ghosts of a smaller crystal within a crystal", phantom),
    "r and z colour sectors": Row("six sectors, violet and yellow by turns", sectors),
    "Brazil-law twinning": Row("striped sectors between crossed polars", brazil_twins),
    "trapiche spokes": Row("six dark spokes from a six-sided core", trapiche),
    "curved striae": Row("curved parallel lines and bands", curved_striae),
    "Plato lines": Row("lines crossing at 60 degrees between crossed polars", plato_lines),
    "cross-hatched strain": Row("grey wavy bars both ways between crossed polars", tabby),
    "swirl growth": Row("nested rings that swirl into each other", zone_swirls),
    "chevron growth": Row("zigzag growth lines, one above the other", chevrons),
    "seed plate": Row("a pale straight-sided plate with growth on both sides", seed_plate),
    "treacle swirls": Row("broad soft streaks, oily and roiled", treacle),
    "sleepy look": Row("facet edges seen through a haze", sleepy),
    "glass swirls": Row("loops and streaks that curl like stirred syrup", curls_of_flow),
    "swirled slag bands": Row("broad streaks of many tones, swirled", slag),
    "banding": Row("curved bands about one hollow", bands),
    "colour follows bands unevenly": Row("bands, some vivid blue and others pale", uneven_dye),
    "flow lines of softened resin": Row("streaks between softened pieces", resin_flow),
    "hexagonal growth hillocks": Row("stepped hexagonal hillocks", hillocks),
    "trigons": Row("stepped triangular pits, all set alike", trigons),
    "etched face without trigons": Row("rounded and squarish pits", etched),
    "white streaks in blue-green": Row("a grid of white streaks", albite_streaks),
    "red layers from the rim": Row("red from the rim inwards in layers", red_rim),
}
