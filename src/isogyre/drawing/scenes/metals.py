"""Metal and what looks like it: plates, grains, blebs, spangles."""

from functools import partial
from math import pi

from isogyre.drawing.scenes.guests import plates, solid, specks
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    CUBE,
    HEXAGON,
    TRIANGLE,
    blob,
    flowing,
    placed,
    rounded,
    segment,
    strokes,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import circle, group, outline, polar

BRASS, GOLD, COPPER, STEEL = "#b89a3e", "#e0b03a", "#c8672e", "#9aa3ab"


def pyrite(sheet: Sheet) -> str:
    """Return brassy cubes with striped faces, and ragged grains of the same brass."""
    drawn = []
    for place in sheet.apart(8, 68):
        size, way = sheet.sized(8, 15), sheet.dice.turn()
        stripes = [
            placed([(0.2 * k, 0.42 - 0.2 * k), (0.06 + 0.2 * k, -0.2 - 0.1 * k)], place, size, way)
            for k in range(1, 4)
        ]
        drawn.append(solid(sheet, CUBE, place, size, way, BRASS, "#3d3110"))
        drawn.append(sheet.ink(strokes([(a, b) for a, b in stripes]), 0.6, "#6b5718"))
    grains = [blob(sheet.dice, p, sheet.sized(2, 5), 0.5, corners=6) for p in sheet.apart(14)]
    data = "".join(map(outline, grains))
    return group(*drawn) + sheet.ink(data, 0.5, "#3d3110", fill="#e3cc78")


def metal_grains(sheet: Sheet, fill: str = STEEL, edge: str = "#23272b") -> str:
    """Return opaque metal: round-cornered blebs and rods with a sharp gleam."""
    dice, drawn = sheet.dice, []
    for i, place in enumerate(sheet.apart(10, 70)):
        size, way = sheet.sized(5, 11), dice.turn()
        stretch = (1.0, 2.6, 1.4)[i % 3]
        shape = rounded(blob(dice, place, size * 0.8, 0.16, stretch, way, 8))
        gleam = segment(polar(place, size * 0.3, way - pi / 2), size * stretch * 0.35, way)
        drawn.append(sheet.ink(shape, 1, edge, fill=fill))
        drawn.append(sheet.ink(strokes([gleam]), 1.8, "#ffffff", stroke_linecap="round"))
    return group(*drawn)


def crucible_metal(sheet: Sheet) -> str:
    """Return bright flat triangles and hexagons, and a few needles, of steel-grey metal."""
    flat = plates(sheet, (TRIANGLE, HEXAGON), (8, 17), 11, (STEEL, "#dfe5ea"), "#23272b", 0.8)
    needles = [
        segment(p, sheet.sized(10, 20), sheet.dice.pick((0.2, 1.25, 2.3))) for p in sheet.apart(6)
    ]
    return (
        flat
        + sheet.ink(strokes(needles), 2.6, "#23272b")
        + sheet.ink(strokes(needles), 1.4, "#eef2f5")
    )


def gold(sheet: Sheet) -> str:
    """Return yellow grains and ragged plates of gold."""
    flat = plates(sheet, (HEXAGON, TRIANGLE), (5, 12), 9, (GOLD, "#f6d67a"), "#5d4208", 0.8, True)
    grains = [blob(sheet.dice, p, sheet.sized(3, 6), 0.35, corners=8) for p in sheet.apart(13)]
    return flat + sheet.ink("".join(map(rounded, grains)), 0.7, "#5d4208", fill="#f0c456")


def spangles(sheet: Sheet) -> str:
    """Return sharp copper triangles and hexagons strewn evenly, all lying flat."""
    return plates(
        sheet,
        (TRIANGLE, HEXAGON, TRIANGLE),
        (3, 6.5),
        70,
        ("#f2b877", COPPER, "#ffe0b0"),
        "#5a2608",
        0.95,
        opacity=1.0,
    )


def binder_glitter(sheet: Sheet) -> str:
    """Return bits of wire and flat glitter of brass and copper in a binder."""
    flat = plates(
        sheet, (HEXAGON,), (3, 6), 22, ("#e3c04e", COPPER, "#f4e2a0"), "#4d3010", 0.9, True, 1.0
    )
    wires = ""
    for place in sheet.apart(9, 70):
        way = sheet.dice.turn()
        wires += flowing([polar(place, 17, way), place, polar(place, 14, way + 2.4)])
    return sheet.ink(wires, 2.6, "#4d3010") + sheet.ink(wires, 1.6, "#e8c45a") + flat


def pyrite_in_paste(sheet: Sheet) -> str:
    """Return angular brassy grains of one size, strewn evenly in a fine grain."""
    fine = circle(CENTRE, 104, fill="#2646a2") + specks(sheet, 240, 1.2, "#5b78cc", 0)
    grains = [blob(sheet.dice, p, sheet.sized(3, 5), 0.4, corners=5) for p in sheet.apart(34, 86)]
    return fine + sheet.ink("".join(map(outline, grains)), 0.6, "#4d3c0c", fill="#d9b84a")


METALS = {
    "copper platelets": Row(
        "flat copper-coloured flakes in parallel planes",
        partial(
            plates,
            size=(4, 9),
            count=34,
            fills=("#e08a4a", COPPER, "#ffc48a"),
            edge="#5a2608",
            squash=0.3,
            opacity=1.0,
        ),
    ),
    "pyrite grains": Row("brassy cubes with striped faces, and grains", pyrite),
    "metal inclusions": Row("opaque metal blebs and rods with a sharp gleam", metal_grains),
    "metal platelets": Row("bright flat triangles and hexagons of metal", crucible_metal),
    "gold inclusions": Row("yellow grains and plates of gold", gold),
    "even copper spangles": Row("sharp copper triangles and hexagons, evenly strewn", spangles),
    "even pyrite in a fine blue paste": Row(
        "angular brassy grains strewn evenly in a fine ground", pyrite_in_paste
    ),
    "metallic threads or grains in binder": Row("bits of wire and flat glitter", binder_glitter),
}
