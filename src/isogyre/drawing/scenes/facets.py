"""Facets, skins, backs and joins: how the stone was finished, treated or put together."""

from functools import partial
from math import pi

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    blob,
    dots,
    flowing,
    rounded,
    segment,
    shrunk,
    strokes,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import Point, circle, ellipse, group, outline, polar, ring


def net_of_facets(radius: float = 92, table: float = 50, turn: float = 0.2) -> str:
    """Return the edges of a crown seen from above: girdle, table, stars."""
    rim, inner = ring(CENTRE, radius, 16, turn), ring(CENTRE, table, 8, turn + pi / 8)
    edges = outline(rim) + outline(inner)
    for k in range(8):
        star = rim[(2 * k + 2) % 16]
        edges += strokes([(inner[k], rim[2 * k + 1]), (inner[k], star), (inner[(k + 1) % 8], star)])
    return edges


def worn_edges(sheet: Sheet) -> str:
    """Return a crown whose edges are broad and rounded, with scratches and nicks."""
    edges = net_of_facets()
    scratches = strokes(
        [segment(p, sheet.sized(6, 18), sheet.dice.turn()) for p in sheet.apart(22, 76)]
    )
    nicks = "".join(
        rounded(blob(sheet.dice, polar(CENTRE, 50, k * pi / 4 + 0.6), 4, 0.4)) for k in range(8)
    )
    return (
        sheet.ink(edges, 7, sheet.ground.bright, 0.5, stroke_linejoin="round")
        + sheet.ink(edges, 2.4, sheet.ground.shade, 0.4, stroke_linejoin="round")
        + sheet.ink(scratches, 0.7, None, 0.8)
        + sheet.ink(nicks, 0.8, sheet.ground.shade, fill=sheet.ground.bright)
    )


def crisp_edges(sheet: Sheet) -> str:
    """Return a crown with hair-sharp edges and even, flat facets."""
    lit = []
    rim, inner = ring(CENTRE, 92, 16, 0.2), ring(CENTRE, 50, 8, 0.2 + pi / 8)
    for k in range(8):
        tone = sheet.ground.paler if k % 2 else sheet.ground.deeper
        kite = [inner[k], rim[2 * k], rim[2 * k + 1], rim[(2 * k + 2) % 16]]
        lit.append(sheet.ink(outline(kite), 0, "none", fill=tone, fill_opacity=0.7))
    return group(*lit) + sheet.ink(net_of_facets(), 0.9, stroke_linejoin="miter")


def clean(sheet: Sheet) -> str:
    """Return a bare field: facet edges far off, nothing within."""
    return sheet.ink(net_of_facets(98, 72), 0.8, None, 0.4)


def doubled(sheet: Sheet, shift: Point = (6.0, -4.0)) -> str:
    """Return the edges of the back facets seen through the table, each twice."""
    back = strokes([(CENTRE, end) for end in ring(CENTRE, 66, 8, 0.4)])
    back += outline(ring(CENTRE, 34, 8, 0.4))
    table = sheet.ink(outline(ring(CENTRE, 94, 8, 0.0)), 1.6)
    first = sheet.ink(back, 1.5)
    if shift == CENTRE:
        return table + first
    x, y = shift
    return (
        table
        + first
        + group(sheet.ink(back, 1.5, None, 0.75), transform=f"translate({x:.0f} {y:.0f})")
    )


def moulded(sheet: Sheet) -> str:
    """Return facets with sunken middles, round edges, and the seam of a mould across."""
    sunken = []
    rim, inner = ring(CENTRE, 92, 8, 0.0), ring(CENTRE, 46, 8, 0.0)
    for k in range(8):
        facet = [rim[k], rim[(k + 1) % 8], inner[(k + 1) % 8], inner[k]]
        pan = flowing(shrunk(facet, 0.72), closed=True)
        sunken.append(
            sheet.ink(pan, 1.0, sheet.ground.shade, 0.5, fill=sheet.ground.deeper, fill_opacity=0.6)
        )
        dip = flowing(shrunk(facet, 0.36), closed=True)
        sunken.append(sheet.ink(dip, 0, "none", fill=sheet.ground.bright, fill_opacity=0.5))
    seam = "M-104 10Q0 -2 104 12"
    edges = outline(rim) + outline(inner) + strokes(list(zip(rim, inner, strict=True)))
    return (
        group(*sunken)
        + sheet.ink(edges, 3.4, sheet.ground.bright, 0.55, stroke_linejoin="round")
        + sheet.ink(seam, 3.6, sheet.ground.shade)
        + sheet.ink(seam, 1.2, sheet.ground.bright)
    )


def frosted(sheet: Sheet) -> str:
    """Return a matt skin: close white grains, with one polished window."""
    grain = [sheet.anywhere(98) for _ in range(sheet.some(330))]
    window = circle(
        (34, -30), 26, fill=sheet.ground.body, stroke=sheet.mark, stroke_width=sheet.pen(1.2)
    )
    skin = circle(CENTRE, 104, fill=sheet.ground.bright, fill_opacity=0.55)
    return (
        skin
        + sheet.ink(dots(grain), 2.0, sheet.ground.deeper, 0.8, stroke_linecap="round")
        + window
    )


def edge_colour(sheet: Sheet, colour: str = "#173a9c") -> str:
    """Return a pale stone in immersion, with its colour dark along the facet edges and girdle."""
    pale = circle(CENTRE, 104, fill=mix(colour, WHITE, 0.72))
    edges = net_of_facets(88, 48)
    return (
        pale
        + sheet.ink(edges, 9, colour, 0.4, stroke_linejoin="round")
        + sheet.ink(edges, 3.6, colour, 0.9, stroke_linejoin="round")
    )


def cut_across(
    sheet: Sheet, body: str, skin: str, thickness: float = 8.0, is_ragged: bool = False
) -> str:
    """Return a dome cut across: one colour in the body, another in its skin only."""
    dome = [polar((0, 46), 96 if 0 < k < 12 else 92, -pi + k * pi / 12) for k in range(13)]
    inner = [
        polar(
            (0, 46),
            96 - thickness * (sheet.dice.between(0.5, 1.6) if is_ragged else 1),
            -pi + k * pi / 12,
        )
        for k in range(13)
    ]
    whole = sheet.ink(flowing(dome) + "Z", 1.4, fill=skin)
    return whole + sheet.ink(flowing(inner) + "Z", 0.9, fill=body)


def worn_coat(sheet: Sheet) -> str:
    """Return a coloured film that is scratched and has worn off along the edges."""
    dice = sheet.dice
    film = circle(CENTRE, 104, fill="#b8408c") + circle(
        (-20, -20), 70, fill="#7a58c8", fill_opacity=0.5
    )
    corners = ring(CENTRE, 50, 8, 0.2 + pi / 8)
    worn = "".join(outline(blob(dice, p, sheet.sized(5, 10), 0.5, corners=8)) for p in corners)
    worn += "".join(
        outline(blob(dice, p, sheet.sized(3, 6), 0.5, corners=7)) for p in sheet.apart(7)
    )
    scratches = [segment(p, sheet.sized(10, 26), dice.bell(0.5, 0.4)) for p in sheet.apart(12, 70)]
    return (
        film
        + sheet.ink(net_of_facets(), 2.6, sheet.ground.bright, stroke_linejoin="round")
        + sheet.ink(worn, 0.8, "#5a1c48", fill=sheet.ground.bright)
        + sheet.ink(strokes(scratches), 1.2, WHITE)
    )


def melted_base(sheet: Sheet) -> str:
    """Return a dome from the side whose base is a glassy, runny, pitted skin."""
    dome = sheet.ink("M-92 22C-80 -84 80 -84 92 22Z", 1.4, fill=sheet.ground.paler)
    run = [
        (-94, 20),
        (94, 20),
        (90, 44),
        (64, 40),
        (48, 58),
        (22, 44),
        (-8, 62),
        (-36, 44),
        (-62, 54),
        (-88, 40),
    ]
    skin = sheet.ink(flowing(run, closed=True), 1.6, sheet.ground.shade, fill=sheet.ground.bright)
    pits = [
        ellipse((x, y), (5, 3), 0, fill=sheet.ground.deeper)
        for x, y in ((-66, 34), (-20, 36), (12, 34), (40, 40), (70, 31))
    ]
    return dome + skin + group(*pits)


def umbrella(sheet: Sheet) -> str:
    """Return the pavilion through the table: a coloured umbrella with ribs about the culet."""
    facets = sheet.ink(outline(ring(CENTRE, 92, 8, 0.2)), 1.2)
    lobes = [polar(CENTRE, 48 if k % 2 else 39, k * pi / 8) for k in range(16)]
    soft, tint = sheet.faded("shade", "#1d8a5c", 0.55)
    shade = circle(CENTRE, 56, fill=tint, fill_opacity=0.75)
    ribs = strokes([(CENTRE, lobe) for lobe in lobes[1::2]])
    return (
        soft
        + facets
        + shade
        + sheet.ink(flowing(lobes, closed=True), 3.4, "#0a4a32")
        + sheet.ink(ribs, 1.4, "#0a4a32")
        + circle(CENTRE, 4, fill="#0a4a32")
    )


def drinks_water(sheet: Sheet) -> str:
    """Return a dome half in water: opaque and white above, clear and coloured below."""
    above = sheet.ink("M-66 6C-62 -78 62 -78 66 6Z", 1.4, "#6d675c", fill="#f4f1ea")
    below = sheet.ink(
        "M-66 6H66C70 50 50 62 0 62S-70 50 -66 6Z", 1.4, "#3a5a66", fill="#bfe3ea", fill_opacity=0.9
    )
    tints = ("#ff7a5c", "#58d08a", "#4fb0ff", "#f0d24a")
    sparks = group(
        *(
            circle((x, y), 6, fill=tints[k])
            for k, (x, y) in enumerate(((-34, 26), (-6, 40), (20, 24), (42, 38)))
        )
    )
    water = sheet.ink("M-104 6Q-90 0 -78 6T-66 6M66 6Q78 0 90 6T104 6", 2.2, "#3f8fb0")
    return above + below + sparks + water


def streak(sheet: Sheet, colour: str) -> str:
    """Return a white plate with a streak drawn across it."""
    plate = sheet.ink(
        outline([(-78, -56), (78, -56), (78, 60), (-78, 60)]), 1.4, "#8a857b", fill="#f8f6f0"
    )
    rubs = "".join(
        flowing(wavy(sheet.dice, (-56, 30 + 3 * k), (54, -30 + 3 * k), 1.6, 6))
        for k in range(-3, 4)
    )
    grains = dots(
        [
            (-50 + 105 * (k / 40) + sheet.dice.bell(0, 2), 30 - 58 * k / 40 + sheet.dice.bell(0, 8))
            for k in range(40)
        ]
    )
    return (
        plate
        + sheet.ink(rubs, 3.4, colour, 0.75)
        + sheet.ink(grains, 1.6, colour, stroke_linecap="round")
    )


def pitted_skin(sheet: Sheet) -> str:
    """Return a natural skin with cup-like pits, grooves and flow ridges."""
    pits, floors = "", ""
    for k, place in enumerate(sheet.apart(22, 88)):
        size = sheet.sized(7, 15)
        pit = blob(sheet.dice, place, size, 0.2, 1.0 + 0.5 * (k % 2), 0.5, 8)
        pits += rounded(pit)
        floors += rounded([(x + size * 0.16, y + size * 0.2) for x, y in shrunk(pit, 0.6)])
    grooves = "".join(
        flowing(wavy(sheet.dice, (-98, y), (98, y - 46), 7, 6)) for y in (-40, 0, 40, 80, 116)
    )
    return (
        sheet.ink(grooves, 3.0, sheet.ground.shade, 0.6)
        + sheet.ink(pits, 1.1, sheet.ground.shade, fill=sheet.ground.deeper)
        + sheet.ink(floors, 0, "none", fill=sheet.ground.paler, fill_opacity=0.75)
    )


PALE, BLUE, BLACK_SKIN = "#e9e6de", "#3d6fd0", "#161418"

FACETS = {
    "rounded facet edges": Row("a crown with broad worn edges, scratches and nicks", worn_edges),
    "sharp facet edges": Row("a crown with crisp edges and flat facets", crisp_edges),
    "very clean": Row("nothing but facet edges far off", clean),
    "doubling of back facets": Row("edges of the back facets, each seen twice", doubled),
    "no doubling": Row("edges of the back facets, each seen once", partial(doubled, shift=CENTRE)),
    "mould marks": Row("facets with sunken middles and a seam across", moulded),
    "frosted surface": Row("a matt grainy skin with one polished window", frosted),
    "colour at facet edges": Row("a pale stone, dark along the facet edges", edge_colour),
    "colourless body under coloured skin": Row(
        "a dome cut across: a pale body under a coloured skin",
        partial(cut_across, body=PALE, skin=BLUE, thickness=7.0),
    ),
    "dark skin": Row(
        "a dome cut across: a pale body under a dark ragged skin",
        partial(cut_across, body="#e8d8ae", skin=BLACK_SKIN, thickness=16.0, is_ragged=True),
    ),
    "coating wear": Row("a coloured film, scratched and worn at the edges", worn_coat),
    "melted base": Row("a dome from the side with a runny, pitted base", melted_base),
    "umbrella or ring at the culet": Row("a coloured umbrella about the culet", umbrella),
    "absorbs water": Row("a dome half in water: white above, clear below", drinks_water),
    "red streak": Row("a red streak on a white plate", partial(streak, colour="#8e2a1c")),
    "greenish black streak": Row(
        "a greenish black streak on a white plate", partial(streak, colour="#1e2a22")
    ),
    "sculpted pitted skin": Row("cup-like pits and grooves", pitted_skin),
}
