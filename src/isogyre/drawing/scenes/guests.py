"""Guests in the stone: crystals, plates, grains and specks."""

from collections.abc import Sequence
from functools import partial
from math import pi, radians

from isogyre.drawing.colour import BLACK, WHITE, mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    CUBE,
    HEXAGON,
    OCTAHEDRON,
    PRISM,
    RHOMB,
    ROD,
    Solid,
    blob,
    dots,
    flowing,
    outlines,
    placed,
    rounded,
    strokes,
    tilted,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, ellipse, group, outline, polar, ring


def solid(
    sheet: Sheet,
    shape: Solid,
    place: Point,
    size: float,
    way: float = 0.0,
    fill: str | None = None,
    edge: str | None = None,
) -> str:
    """Return one small solid: its faces, the one that catches the light, and its edges.

    Without a fill it is clear, as a guest of another refractive index is.
    """
    ink = edge or sheet.mark
    around = placed(shape.silhouette, place, size, way)
    body = fill or sheet.ground.bright
    drawn = sheet.ink(outline(around), 1.1, ink, fill=body, fill_opacity=None if fill else 0.35)
    if not shape.edges:
        return drawn
    front = placed([shape.front], place, size, way)[0]
    lit = mix(body, WHITE, 0.55 if fill else 0.9)
    gleam = sheet.ink(outline([around[0], around[1], front]), 0, "none", fill=lit)
    inner = [tuple(placed(pair, place, size, way)) for pair in shape.edges]
    return drawn + gleam + sheet.ink(strokes([(a, b) for a, b in inner]), 0.8, ink)


def crystals(
    sheet: Sheet,
    shapes: Sequence[Solid] = (OCTAHEDRON, PRISM, RHOMB),
    size: tuple[float, float] = (9, 19),
    count: int = 9,
    fill: str | None = None,
    edge: str | None = None,
    is_turned: bool = True,
) -> str:
    """Return several solids, each turned its own way or all alike."""
    dice, drawn = sheet.dice, []
    for i, place in enumerate(sheet.apart(count, 72)):
        way = dice.turn() if is_turned else radians(24)
        shape = shapes[i % len(shapes)]
        drawn.append(solid(sheet, shape, place, sheet.sized(*size), way, fill, edge))
    return group(*drawn)


def mineral_crystals(sheet: Sheet) -> str:
    """Return clear crystals with faces, and between them rounded grains."""
    grains = [blob(sheet.dice, p, sheet.sized(6, 10), 0.14, 1.3) for p in sheet.apart(5, 50)[3:]]
    rounds = sheet.ink("".join(map(rounded, grains)), 1.4, fill=sheet.ground.bright)
    return rounds + crystals(sheet)


def dark_crystals(sheet: Sheet, shapes: Sequence[Solid] = (PRISM, RHOMB, CUBE)) -> str:
    """Return crystals that let no light through, with a sheen on one face."""
    edge = "#8d8a86" if sheet.ground.is_dark else BLACK
    return crystals(sheet, shapes, (8, 16), 9, "#151315", edge)


def negative_crystals(sheet: Sheet) -> str:
    """Return cavities with the host's faces, all set alike, with bold dark borders."""
    drawn = []
    for place in sheet.apart(9, 70):
        size, way = sheet.sized(10, 19), radians(24)
        hole = placed(PRISM.silhouette, place, size, way)
        inner = placed(PRISM.silhouette, place, size * 0.62, way)
        drawn.append(sheet.ink(outline(hole), 1, sheet.mark, fill=sheet.ground.shade))
        drawn.append(sheet.ink(outline(inner), 0.7, sheet.ground.bright, fill=sheet.ground.paler))
    return group(*drawn)


def rows_of_octahedra(sheet: Sheet) -> str:
    """Return tiny octahedra like beads on curved strings."""
    shapes, edges = "", ""
    count = sheet.some(12)
    for row in range(3):
        for i in range(count):
            across = -72 + 144 * i / (count - 1)
            place = (across, -44 + 42 * row + 0.0032 * (across - 20 * row) ** 2)
            size = sheet.sized(5, 7)
            shapes += outline(placed(OCTAHEDRON.silhouette, place, size, 0.2))
            waist = placed([OCTAHEDRON.silhouette[k] for k in (1, 3)], place, size, 0.2)
            front = placed([OCTAHEDRON.front], place, size, 0.2)[0]
            edges += outline([waist[0], front, waist[1]], closed=False)
    return sheet.ink(shapes, 1.0, fill=sheet.ground.bright) + sheet.ink(edges, 0.8)


def melted(sheet: Sheet) -> str:
    """Return white rounded remnants, each in a pale cloud of tiny cracks."""
    soft, halo = sheet.faded("melt", sheet.ground.bright, 0.2)
    drawn = [soft]
    for place in sheet.apart(7, 66):
        size, dice = sheet.sized(8, 14), sheet.dice
        shape = rounded(blob(dice, place, size, 0.18, 1.2, dice.turn(), 10))
        core = rounded(blob(dice, place, size * 0.45, 0.3))
        drawn += [
            circle(place, size * 2.1, fill=halo, fill_opacity=0.6),
            sheet.ink(shape, 1.2, "#8a867f", fill="#fbfaf6"),
            sheet.ink(core, 0.6, "#8a867f", fill="#d9d5cb"),
        ]
    return group(*drawn)


def milky_zircons(sheet: Sheet) -> str:
    """Return prisms with a milky middle, within an older outline of ghostly zones."""
    drawn = []
    for place in sheet.apart(6, 62):
        size, way = sheet.sized(15, 23), sheet.dice.turn()
        outer, middle, inner = (
            placed(PRISM.silhouette, place, size * s, way) for s in (1, 0.7, 0.4)
        )
        drawn += [
            sheet.ink(outline(outer), 1.2, "#7d7972", fill="#f3f0e9", fill_opacity=0.85),
            sheet.ink(rounded(middle), 0.8, "#7d7972", fill="#ffffff"),
            sheet.ink(rounded(inner), 0.8, "#7d7972", fill="#d5d0c6", stroke_dasharray="1 1.5"),
        ]
    return group(*drawn)


def plates(
    sheet: Sheet,
    shapes: Sequence[Solid] = (HEXAGON,),
    size: tuple[float, float] = (5, 12),
    count: int = 26,
    fills: Sequence[str] = ("#a5341c", "#7c2411", "#c8562a"),
    edge: str = "#3c0f06",
    squash: float = 0.55,
    is_turned: bool = False,
    opacity: float = 0.85,
) -> str:
    """Return thin plates in parallel planes, or each in its own if turned."""
    dice, lots = sheet.dice, dict.fromkeys(fills, "")
    for i, place in enumerate(sheet.apart(count, 82)):
        shape = shapes[i % len(shapes)].silhouette
        flat = tilted(placed(shape, CENTRE, 1, dice.turn()), squash)
        way = dice.turn() if is_turned else -0.35
        lots[fills[i % len(fills)]] += outline(placed(flat, place, sheet.sized(*size), way))
    return group(
        *(sheet.ink(data, 0.7, edge, fill=fill) for fill, data in lots.items()),
        fill_opacity=opacity,
    )


def mica(sheet: Sheet) -> str:
    """Return flakes in stacked sheets with ragged rims, brown to green."""
    dice, drawn = sheet.dice, []
    for i, place in enumerate(sheet.apart(8, 66)):
        fill = ("#8a6a3a", "#4f7a4a", "#a98b57")[i % 3]
        size, way = sheet.sized(13, 20), dice.turn()
        for step in range(3):
            flake = tilted(blob(dice, CENTRE, 1, 0.16, corners=7), 0.62)
            moved = (place[0] + 2.6 * step, place[1] - 2.6 * step)
            data = outline(placed(flat_hexagon(flake), moved, size, way))
            drawn.append(sheet.ink(data, 0.7, "#2c2112", fill=mix(fill, WHITE, 0.16 * step)))
    return group(*drawn)


def flat_hexagon(flake: Sequence[Point]) -> list[Point]:
    """Return a flake whose rim runs between the corners of a hexagon and its own."""
    return [
        ((x + a) / 2, (y + b * 0.62) / 2)
        for (x, y), (a, b) in zip(flake, ring(CENTRE, 1, len(flake), 0.0), strict=True)
    ]


def grown_beside(sheet: Sheet) -> str:
    """Return clusters of sharp glassy prisms that stand on one root."""
    drawn = []
    for root in sheet.apart(4, 52):
        middle = sheet.dice.turn()
        for lean, length in ((-0.75, 15.0), (0.7, 17.0), (0.0, 22.0)):
            size, way = sheet.sized(length, length + 3), middle + lean
            drawn.append(solid(sheet, ROD, polar(root, size, way), size, way, sheet.ground.paler))
    return group(*drawn)


def nail_heads(sheet: Sheet) -> str:
    """Return slender cones side by side, each with a crystal for its head."""
    drawn = []
    for place in sheet.apart(9, 62):
        length, x, y = sheet.sized(26, 44), *place
        top, half = y - length / 2, length * 0.13
        cone = outline([(x - half, top), (x + half, top), (x, top + length)])
        drawn.append(sheet.ink(cone, 1, fill=sheet.ground.bright, fill_opacity=0.6))
        head = tilted(PRISM.silhouette, 0.9)
        shape = outline(placed(head, (x, top), half * 2.1))
        drawn.append(sheet.ink(shape, 1.1, fill=sheet.ground.bright))
    return group(*drawn)


def specks(
    sheet: Sheet,
    count: int = 190,
    size: float = 1.5,
    colour: str | None = None,
    clumps: int = 4,
    spread: float = 15,
) -> str:
    """Return points in clouds; without clumps they lie evenly."""
    dice = sheet.dice
    nodes = sheet.apart(clumps, 58) if clumps else []
    places = []
    for i in range(sheet.some(count)):
        if nodes:
            x, y = nodes[i % len(nodes)]
            places.append((dice.bell(x, spread * 1.3), dice.bell(y, spread * 0.8)))
        else:
            places.append(sheet.anywhere(92))
    return sheet.ink(dots(places), size, colour, stroke_linecap="round")


def clouds(sheet: Sheet) -> str:
    """Return hazy clouds made of points."""
    soft, veil = sheet.faded("cloud", sheet.ground.bright, 0.1)
    nodes = sheet.apart(4, 50)
    haze = [ellipse(p, (44, 28), -20, fill=veil, fill_opacity=0.5) for p in nodes]
    return soft + group(*haze) + specks(sheet, 230, 1.2, None, 5, 15)


def crumbs(
    sheet: Sheet,
    size: tuple[float, float] = (2.5, 5),
    clumps: int = 0,
    count: int = 34,
    fill: str = "#fbf8f0",
) -> str:
    """Return small white irregular crumbs, single or in clusters."""
    dice = sheet.dice
    if clumps:
        nodes = sheet.apart(clumps, 52)
        places = [
            (dice.bell(x, 11), dice.bell(y, 9)) for x, y in nodes for _ in range(count // clumps)
        ]
    else:
        places = sheet.apart(count, 82)
    grains = [blob(dice, p, sheet.sized(*size), 0.45, corners=6) for p in places]
    return sheet.ink("".join(map(outline, grains)), 0.8, "#6f6a60", fill=fill)


def sun_spangles(sheet: Sheet) -> str:
    """Return round glittering discs with rays from the middle, each tilted its own way."""
    dice, drawn = sheet.dice, []
    for place in sheet.apart(7, 64):
        size, way = sheet.sized(15, 25), dice.turn()
        flat = tilted(ring(CENTRE, 1, 18), dice.between(0.5, 0.95))
        rim = placed(flat, place, size, way)
        near = placed(flat, place, size * 0.25, way)
        rays = strokes(list(zip(near, placed(flat, place, size * 0.94, way), strict=True)))
        drawn += [
            sheet.ink(rounded(rim), 1.2, "#fff3cf", fill="#ffd67a", fill_opacity=0.55),
            sheet.ink(rays, 0.8, "#fffbe8"),
        ]
    return group(*drawn)


def devitrified(sheet: Sheet) -> str:
    """Return feathery stars: six arms with side twigs, like frost."""
    drawn = ""
    for place in sheet.apart(6, 58):
        size, start = sheet.sized(17, 27), sheet.dice.turn()
        for arm in range(6):
            way = start + arm * pi / 3
            drawn += strokes([(place, polar(place, size, way))])
            for share in (0.4, 0.65, 0.85):
                knot = polar(place, size * share, way)
                twig = size * 0.36 * (1.1 - share)
                drawn += strokes([(knot, polar(knot, twig, way + side)) for side in (0.9, -0.9)])
    return sheet.ink(drawn, 1.2)


def low_patch(sheet: Sheet) -> str:
    """Return one clear rounded patch, faint in outline, in a body of tight grains."""
    grains = [blob(sheet.dice, p, sheet.sized(4, 7), 0.3, corners=6) for p in sheet.apart(56, 96)]
    body = sheet.ink(
        "".join(map(outline, grains)), 0.8, sheet.ground.deeper, fill=sheet.ground.paler
    )
    patch = rounded(blob(sheet.dice, (8, 4), 36, 0.2, 1.3, 0.4))
    return body + sheet.ink(
        patch, 1.8, sheet.ground.shade, fill=mix(sheet.ground.paler, WHITE, 0.5)
    )


def insect(sheet: Sheet) -> str:
    """Return a fly with six legs, two wings and feelers, and a scrap of a plant."""
    body = "".join(
        rounded(placed(tilted(ring(CENTRE, 1, 10), squash), place, size, -0.5))
        for place, size, squash in (
            ((14, -10), 25, 0.42),
            ((-16, 6), 13, 0.75),
            ((-31, 15), 9, 0.9),
        )
    )
    hips = ((-20, 8), (-15, 6), (-9, 2))
    legs = "".join(
        flowing([hip, polar(hip, 24, way), polar(polar(hip, 24, way), 24, way + bend)])
        for k, hip in enumerate(hips)
        for way, bend in ((-2.4 + 0.55 * k, -0.7), (1.9 - 0.55 * k, 0.7))
    )
    feelers = flowing([(-36, 12), (-50, 8), (-58, 14)]) + flowing([(-35, 20), (-46, 26), (-50, 36)])
    wings = [ellipse((22, -34), (31, 11), -42), ellipse((34, 8), (30, 10), 6)]
    twig = flowing([(40, 70), (52, 48), (72, 40)]) + strokes(
        [((48, 54), (44, 42)), ((56, 45), (68, 52)), ((62, 43), (64, 32))]
    )
    dark = "#2a1608"
    glass = group(*wings, fill="#fff4d8", fill_opacity=0.55, stroke=dark, stroke_width=1)
    return (
        sheet.ink(legs + feelers, 1.7, dark, stroke_linecap="round")
        + sheet.ink(body, 1, dark, fill="#3a200c")
        + glass
        + sheet.ink(twig, 2.4, "#4a2c10")
    )


def chiastolite(sheet: Sheet) -> str:
    """Return a pale square section with a dark lozenge and four dark arms to the corners."""
    square = outline(ring(CENTRE, 86, 4))
    arms = ""
    for k in range(4):
        way = k * pi / 2 - pi / 2
        tip = polar(CENTRE, 82, way)
        ends = [polar(tip, 9, way + 2.4), tip, polar(tip, 9, way - 2.4)]
        arms += outline([polar(CENTRE, 10, way - 0.5), *ends[::-1], polar(CENTRE, 10, way + 0.5)])
    core = outline(ring(CENTRE, 24, 4))
    pale = sheet.ink(square, 1.6, "#4a3a2c", fill="#e3d3bb")
    return pale + sheet.ink(arms + core, 1, "#1b1714", fill="#1b1714")


def crossed_twin(sheet: Sheet) -> str:
    """Return two stout brown prisms grown through each other at about 60 degrees."""
    corners = [(-1, -0.26), (-0.94, -0.34), (0.94, -0.34), (1, -0.26)]
    bar = [*corners, *((x, -y) for x, y in corners[::-1])]
    drawn = []
    for way in (radians(-30), radians(30)):
        ridge = strokes(
            [tuple_of(placed([(-0.97, y), (0.97, y)], CENTRE, 80, way)) for y in (-0.12, 0.14)]
        )
        drawn.append(
            sheet.ink(outline(placed(bar, CENTRE, 80, way)), 1.6, "#2a170c", fill="#7a4c2c")
        )
        drawn.append(sheet.ink(ridge, 1.0, "#c99b72"))
    return group(*drawn)


def tuple_of(points: Sequence[Point]) -> tuple[Point, Point]:
    """Return the two ends of a straight piece."""
    return points[0], points[1]


def parallelograms(sheet: Sheet) -> str:
    """Return thin films with straight edges at 70 and 110 degrees, all set alike."""
    lean = (0.342, -0.94)
    shape = (
        (-0.8 - lean[0], -lean[1]),
        (0.8 - lean[0], -lean[1]),
        (0.8 + lean[0], lean[1]),
        (-0.8 + lean[0], lean[1]),
    )
    films = [placed(shape, p, sheet.sized(7, 15), -0.3) for p in sheet.apart(17, 74)]
    drawn = sheet.ink(outlines(films), 1.1, fill=sheet.ground.bright, fill_opacity=0.5)
    inner = [placed(shape, p, 4, -0.3) for p in sheet.apart(17, 74)]
    return drawn + sheet.ink(outlines(inner), 0.7, opacity=0.8)


GUESTS = {
    "mineral crystals": Row("clear crystals with faces, and rounded grains", mineral_crystals),
    "dark mineral crystals": Row("dark crystals with faces", dark_crystals),
    "chromite octahedra": Row("dark octahedra", partial(dark_crystals, shapes=(OCTAHEDRON,))),
    "negative crystals": Row(
        "cavities with crystal faces, all set alike, with bold borders", negative_crystals
    ),
    "octahedral negative crystals": Row("tiny octahedra in curved rows", rows_of_octahedra),
    "melted crystals": Row("white rounded remnants in pale clouds", melted),
    "altered zircon": Row("milky prisms with rounded zones inside", milky_zircons),
    "hematite plates": Row("thin red to brown six-sided plates in parallel planes", plates),
    "mica flakes": Row("stacked flakes with ragged rims, brown and green", mica),
    "synthetic guest crystals": Row("sharp glassy crystals grown together", grown_beside),
    "nail-head spicules": Row("slender cones, each capped by a crystal", nail_heads),
    "pinpoint clouds": Row("hazy clouds of points", clouds),
    "bread-crumb inclusions": Row("small white crumbs", crumbs),
    "unmelted powder": Row(
        "white crumbs in dense clusters", partial(crumbs, size=(2.4, 4.4), clumps=4, count=84)
    ),
    "sun spangles": Row("round glittering discs with rays", sun_spangles),
    "devitrification crystals": Row("feathery six-armed stars like frost", devitrified),
    "low-index patch": Row("a clear faint patch in a body of tight grains", low_patch),
    "insects and plant parts": Row("a fly and a scrap of a twig", insect),
    "chiastolite cross": Row("a dark cross and lozenge on a pale square", chiastolite),
    "cross-shaped twin": Row("two stout prisms grown through each other as a cross", crossed_twin),
    "parallelogram fluid films": Row("thin films with edges at 70 and 110 degrees", parallelograms),
}
