"""Needles, fibres, tubes and threads: what lies in lines."""

from collections.abc import Sequence
from functools import partial
from math import cos, pi, radians, sin

from isogyre.drawing.colour import mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    HEXAGON,
    Piece,
    blob,
    flowing,
    placed,
    rounded,
    segment,
    strokes,
    tilted,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, at, circle, group, outline, polar

# How far a drawn needle may stray from its direction: a third of a degree.
SLIP_RAD = radians(0.35)
# Directions that a lattice fixes, seen as the source sees them (down the star's axis).
SILK_DEG = (15.0, 75.0, 135.0)
# Down a two-fold axis of a cubic host two <111> sets lie in the plane, 70.53 degrees apart; the
# others are foreshortened onto the cube's axis, 54.74 degrees from both.
GARNET_DEG, GARNET_SHORT_DEG = (20.0, 90.53), (145.27,)
MAGNETITE_DEG = (30.0, 103.0)
GOLD, GOLD_LIGHT, GOLD_DARK = "#c8862c", "#f3d48e", "#5a2a0e"
RUST = ("#8a2c14", "#b5521e", "#6b2a18")
FILMS = ("#f6eed8", "#dfe8f2", "#f0d9a0")


def needle_sets(
    sheet: Sheet,
    ways_deg: Sequence[float],
    count: int = 80,
    half_length: tuple[float, float] = (4, 34),
    width: float = 0.9,
    inks: Sequence[str] = FILMS,
    dashes: str | None = None,
    is_zoned: bool = False,
) -> str:
    """Return needles in fixed directions; zoned ones crowd between nested hexagons."""
    parts = []
    for ink in inks:
        pieces = _strewn(sheet, ways_deg, sheet.some(count // len(inks)), half_length, is_zoned)
        parts.append(
            sheet.ink(
                strokes(pieces),
                width * sheet.dice.between(0.8, 1.25),
                sheet.film(ink) if ink in FILMS else sheet.told(ink),
                stroke_dasharray=dashes,
                stroke_linecap="round" if dashes else None,
            )
        )
    return group(*parts)


def _strewn(
    sheet: Sheet,
    ways_deg: Sequence[float],
    count: int,
    half_length: tuple[float, float],
    is_zoned: bool,
) -> list[Piece]:
    pieces: list[Piece] = []
    while len(pieces) < count:
        place = sheet.anywhere(74)
        if is_zoned and sheet.dice.chance(0.85 * _zone(place, radians(ways_deg[0]))):
            continue
        way = radians(sheet.dice.pick(ways_deg)) + sheet.dice.bell(0, SLIP_RAD)
        pieces.append(segment(place, sheet.dice.between(*half_length), way))
    return pieces


def _zone(place: Point, way: float) -> float:
    """Return 0 to 1, rising and falling with the distance from the middle of a hexagon."""
    x, y = place
    sides = [abs(x * sin(way + k * pi / 3) - y * cos(way + k * pi / 3)) for k in range(3)]
    return 0.5 + 0.5 * cos(2 * pi * max(sides) / 44)


def garnet_needles(sheet: Sheet) -> str:
    """Return two long sets in the plane and one foreshortened set."""
    long = needle_sets(sheet, GARNET_DEG, 44, (14, 46), 1.3)
    return long + needle_sets(sheet, GARNET_SHORT_DEG, 20, (6, 16), 1.3, FILMS[:1])


def tubes(sheet: Sheet) -> str:
    """Return fine parallel needles and, among them, hollow tubes with two walls."""
    way = 68.0
    fine = needle_sets(sheet, (way,), 44, (16, 60), 0.7)
    wide = strokes([segment(p, sheet.sized(24, 50), radians(way)) for p in sheet.apart(8, 66)])
    bore = sheet.ink(wide, 3.2, sheet.ground.body)
    return fine + sheet.ink(wide, 4.6) + bore + sheet.ink(wide, 0.5, sheet.mark, 0.5)


def random_needles(sheet: Sheet) -> str:
    """Return needles without a common direction, some of them bent."""
    pieces = [segment(p, sheet.sized(10, 38), sheet.dice.turn()) for p in sheet.apart(26, 74)]
    bent = [flowing(wavy(sheet.dice, *piece, sway=4, pieces=2)) for piece in pieces[:5]]
    return sheet.ink(strokes(pieces[5:]), 1.1) + sheet.ink("".join(bent), 1.0)


def sprays(sheet: Sheet) -> str:
    """Return coarse golden needles that spray from two points."""
    dice, parts = sheet.dice, []
    for k, width in enumerate((1.3, 2.0, 3.0)):
        rays = [
            (node, polar(node, dice.between(60, 165), middle + dice.bell(0, 0.3)))
            for node, middle in (((-74, 52), -0.7), ((60, 66), -2.3))
            for _ in range(sheet.some(5))
        ]
        data = strokes(rays)
        parts += [
            sheet.ink(data, width * 1.4, GOLD_DARK),
            sheet.ink(data, width, mix(GOLD, "#a8361a", 0.25 * k)),
            sheet.ink(data, width * 0.3, GOLD_LIGHT),
        ]
    return group(*parts)


def black_prisms(sheet: Sheet) -> str:
    """Return stout black rods with blunt ends and a gleam along them."""
    dice, parts = sheet.dice, []
    for place in sheet.apart(13, 70):
        rod = strokes([segment(place, sheet.sized(20, 48), dice.bell(-0.9, 0.45))])
        width = dice.between(3, 6.5)
        parts += [
            sheet.ink(rod, width + 0.8, "#6f7a76" if sheet.ground.is_dark else "#000000"),
            sheet.ink(rod, width, "#0d1110"),
            sheet.ink(rod, width * 0.16, "#8b9a94"),
        ]
    return group(*parts)


def horsetail(sheet: Sheet) -> str:
    """Return curved golden fibres that fan out from one dark grain."""
    dice, root, middle = sheet.dice, (-62.0, 46.0), radians(-34)
    fibres = dict.fromkeys((GOLD, GOLD_LIGHT, "#a9884a"), "")
    for i in range(sheet.some(46)):
        lean = dice.bell(0, 0.32)
        length = dice.between(90, 165) * cos(lean)
        bend = polar(root, length * 0.5, middle + lean * 0.7)
        end = polar(root, length, middle + lean * 1.7)
        fibres[list(fibres)[i % 3]] += f"M{at(root)}Q{at(bend)} {at(end)}"
    lines = [
        sheet.ink(data, 1.1, tint if sheet.ground.is_dark else mix(tint, "#3a1c08", 0.45))
        for tint, data in fibres.items()
    ]
    grain = outline(blob(dice, root, 7, 0.3, corners=7))
    return group(*lines) + sheet.ink(grain, 1, GOLD_DARK, fill="#0b0a09")


def stringers(sheet: Sheet) -> str:
    """Return fine white needles, all alike in direction, each tapering to nothing."""
    slim = ((-1.0, -0.035), (-1.0, 0.035), (1.0, 0.0))
    needles = [placed(slim, p, sheet.sized(16, 36), radians(-78)) for p in sheet.apart(30, 74)]
    data = "".join(outline(needle) for needle in needles)
    return sheet.ink(data, 0.6, sheet.mark, 0.6, fill=sheet.ground.bright)


def skin_silk(sheet: Sheet) -> str:
    """Return a dome from the side: very fine needles only in a thin skin below its surface."""
    dice = sheet.dice
    dome = "M-96 40Q0 -96 96 40"
    body = sheet.ink(dome + "V120H-96Z", 2, sheet.ground.shade, fill=sheet.ground.paler)
    pieces = []
    for _ in range(sheet.some(110)):
        share = dice.between(0.05, 0.95)
        x = -96 + 192 * share
        y = 40 - 272 * share * (1 - share) + dice.between(4, 17)
        pieces.append(segment((x, y), dice.between(2, 5), radians(dice.pick((0, 60, 120)))))
    return body + sheet.ink(strokes(pieces), 0.9, sheet.ground.shade)


def fine_silk(sheet: Sheet) -> str:
    """Return silk too fine to resolve: a haze with the least of needles all through."""
    haze, veil = sheet.faded("haze", sheet.ground.bright, 0.5)
    body = haze + circle(CENTRE, 100, fill=veil, fill_opacity=0.34)
    return body + needle_sets(sheet, SILK_DEG, 200, (1, 3.2), 0.6)


def iron_rods(sheet: Sheet) -> str:
    """Return dark stout rods along three directions, and a few hexagonal plates."""
    rods = needle_sets(sheet, (0.0, 60.0, 120.0), 46, (5, 18), 2.2, ("#170d0b", "#3b150e"))
    plates = [placed(tilted(HEXAGON.silhouette, 0.6), p, sheet.sized(5, 8)) for p in sheet.apart(7)]
    return rods + sheet.ink("".join(map(outline, plates)), 0.8, "#0d0707", fill="#3b150e")


def iron_wires(sheet: Sheet) -> str:
    """Return red to brown wires, bent and kinked, among small platelets."""
    dice, parts = sheet.dice, []
    for i, place in enumerate(sheet.apart(15, 70)):
        piece = segment(place, sheet.sized(12, 30), dice.turn())
        wire = flowing(wavy(dice, *piece, 7, 4))
        parts.append(
            sheet.ink(wire, 2.8, sheet.ground.bright, 0.6) + sheet.ink(wire, 1.5, RUST[i % 3])
        )
    plates = [
        placed(tilted(HEXAGON.silhouette, 0.7), p, sheet.sized(3, 6), dice.turn())
        for p in sheet.apart(13)
    ]
    data = "".join(map(outline, plates))
    return group(*parts) + sheet.ink(data, 0.6, RUST[2], fill="#d0602a", fill_opacity=0.85)


def threads(sheet: Sheet, count: int = 14, sway: float = 12, has_films: bool = True) -> str:
    """Return thin crooked threads, some of them widened to a film of liquid."""
    dice, data, films = sheet.dice, "", ""
    for place in sheet.apart(count, 68):
        piece = segment(place, sheet.sized(18, 46), dice.turn())
        points = wavy(dice, *piece, sway, 5)
        data += flowing(points)
        if has_films and dice.chance(0.7):
            films += rounded(blob(dice, points[2], sheet.sized(3, 6), 0.5, 1.6, dice.turn(), 7))
    drawn = sheet.ink(data, 0.9, None, 0.9)
    if not films:
        return drawn
    return drawn + sheet.ink(films, 0.8, fill=sheet.ground.bright, fill_opacity=0.55)


def haloed_rutile(sheet: Sheet) -> str:
    """Return short needles, each in a cloud of blue that has run out of it."""
    soft, blue = sheet.faded("blue", "#1f49d6", 0.25)
    clouds, pieces = [], []
    for i, place in enumerate(sheet.apart(11, 68)):
        way, half = SILK_DEG[i % 3], sheet.sized(9, 17)
        pieces.append(segment(place, half, radians(way)))
        turn = f"translate({at(place)}) rotate({way:.0f}) scale(1 .45)"
        clouds.append(circle(CENTRE, half * 1.7, fill=blue, transform=turn))
    cores = sheet.ink(strokes(pieces), 2.4, "#0c1024", stroke_dasharray="6 2.5")
    return soft + group(*clouds) + cores + sheet.ink(strokes(pieces), 0.7, "#e8eeff")


def lamellae(sheet: Sheet) -> str:
    """Return thin lens-shaped strips, parallel, in rows like dashes."""
    slim = ((-1.0, 0.0), (0.0, -0.07), (1.0, 0.0), (0.0, 0.07))
    strips = [placed(slim, p, sheet.sized(9, 24), radians(24)) for p in sheet.apart(46, 84)]
    return sheet.ink("".join(map(outline, strips)), 0.7, fill=sheet.ground.bright)


def rainbow_lattice(sheet: Sheet) -> str:
    """Return a lattice of thin films along crystal directions, here and there iridescent."""
    lines = needle_sets(sheet, (10.0, 70.0, 130.0), 70, (14, 50), 1.1, ("#1a1210", "#4a2c18"))
    tints = ("#ff8a3c", "#ffd24a", "#4fc3f7", "#a46bff", "#5fd38a")
    blades = []
    for i, place in enumerate(sheet.apart(20, 70)):
        blade = placed(((-1, 0), (1, -0.1), (0.8, 0.22)), place, sheet.sized(8, 17), radians(10))
        blades.append(sheet.ink(outline(blade), 0.4, "#1a1210", fill=tints[i % 5]))
    return lines + group(*blades)


def cobweb(sheet: Sheet) -> str:
    """Return fine curly fibres that hang together like a cobweb."""
    dice, data = sheet.dice, ""
    for _ in range(sheet.some(34)):
        start, end = sheet.anywhere(96), sheet.anywhere(96)
        data += flowing(wavy(dice, start, end, 9, 4))
    return sheet.ink(data, 0.7, "#5b3a1e" if not sheet.ground.is_dark else "#e6c79a", 0.85)


def curls(sheet: Sheet) -> str:
    """Return curled clear threads, low in relief: each a faint double line."""
    dice, data = sheet.dice, ""
    for place in sheet.apart(9, 62):
        turn, sweep = dice.turn(), dice.pick((-1, 1))
        reach = [(sheet.sized(1, 1) * (4 + 3.4 * k), turn + sweep * 0.9 * k) for k in range(8)]
        data += flowing([polar(place, radius, angle) for radius, angle in reach])
    return sheet.ink(data, 4.4, sheet.ground.shade, 0.55, stroke_linecap="round") + sheet.ink(
        data, 3.0, sheet.ground.paler, stroke_linecap="round"
    )


NEEDLES = {
    "silk": Row(
        "fine needles, long and short, in three directions at 60 degrees",
        partial(needle_sets, ways_deg=SILK_DEG, count=150, is_zoned=True),
    ),
    "broken silk": Row(
        "rows of dots and short dashes along three directions at 60 degrees",
        partial(
            needle_sets,
            ways_deg=SILK_DEG,
            count=54,
            half_length=(10, 30),
            width=2.0,
            dashes="0.1 4.6 0.1 3.8 2.4 5",
            is_zoned=True,
        ),
    ),
    "needles in three directions": Row(
        "two sets of long needles that cross at 70 and 110 degrees, and a third set, shorter",
        garnet_needles,
    ),
    "parallel needles or tubes": Row("fine needles and hollow tubes in one direction", tubes),
    "random needles": Row("straight and bent needles in any direction", random_needles),
    "rutile needles in sprays": Row("coarse golden needles in two sprays", sprays),
    "tourmaline needles": Row("stout black rods", black_prisms),
    "horsetail": Row("curved golden fibres that fan out from a dark grain", horsetail),
    "needle-like stringers": Row("fine white needles side by side, tapering", stringers),
    "magnetite needles": Row(
        "short dark needles in two directions",
        partial(
            needle_sets,
            ways_deg=MAGNETITE_DEG,
            count=90,
            half_length=(4, 20),
            width=1.4,
            inks=("#0c0908", "#2c211b"),
        ),
    ),
    "silk near the surface": Row(
        "a dome from the side with very fine needles only under its surface", skin_silk
    ),
    "fine silk through the body": Row(
        "a haze of needles too fine to tell apart, all through", fine_silk
    ),
    "dark needles or rods of iron oxide": Row(
        "dark rods along three directions and a few plates", iron_rods
    ),
    "red to brown needles or platelets of iron oxide": Row(
        "red and brown kinked wires among small platelets", iron_wires
    ),
    "trichites": Row("thin crooked threads that widen to films", threads),
    "cobweb fibres": Row("fine curly fibres across the field, like a cobweb", cobweb),
    "exsolution lamellae": Row("thin parallel strips in rows", lamellae),
    "lattice of oriented films": Row(
        "a lattice of thin dark films, some with rainbow colours", rainbow_lattice
    ),
    "blue halos round rutile": Row("short needles, each in a cloud of blue", haloed_rutile),
    "curled silica-glass threads": Row("curled clear threads in faint relief", curls),
}
