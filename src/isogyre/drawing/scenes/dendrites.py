"""Trees and moss: what branches as it grows or dries."""

from collections.abc import Sequence
from math import pi

from isogyre.drawing.scenes.shapes import (
    CENTRE,
    flowing,
    strokes,
    wavy,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import (
    Point,
    group,
    polar,
)

BLACK_OXIDE = "#120f0e"


def metal_branches(sheet: Sheet) -> str:
    """Return branching films with a metallic gleam that run in from the edge of a core."""
    return branches(sheet, ("#4b4438", "#cfc6ac"), 3, 0.5)


def branches(
    sheet: Sheet,
    inks: Sequence[str] = ("#15110e",),
    trees: int = 3,
    lean: float = 0.75,
    wobble: float = 0.12,
    width: float = 2.4,
) -> str:
    """Return trees that branch again and again, as dendrites do; a second ink gleams on them."""
    levels = ["", "", "", ""]
    for k in range(trees):
        way = 2 * pi * k / trees + 0.5
        _grow(sheet, polar(CENTRE, 92, way), way + pi, 34.0, 0, levels, lean, wobble)
    drawn = []
    for level, data in enumerate(levels):
        thick = width * (1, 0.72, 0.5, 0.42)[level]
        drawn.append(sheet.ink(data, thick, sheet.told(inks[0]), stroke_linecap="round"))
        if len(inks) > 1:
            drawn.append(sheet.ink(data, thick * 0.45, inks[1], stroke_linecap="round"))
    return group(*drawn)


def _grow(
    sheet: Sheet,
    root: Point,
    way: float,
    length: float,
    level: int,
    levels: list[str],
    lean: float,
    wobble: float,
) -> None:
    """Write one branch and those that spring from it into the path data of their levels."""
    dice = sheet.dice
    tip = polar(root, length * dice.between(0.85, 1.15), way)
    levels[level] += strokes([(root, tip)])
    if level == (2 if sheet.is_small else 3):
        return
    for side_ in (-1, 0, 1):
        turn = side_ * lean + dice.bell(0, wobble)
        _grow(sheet, tip, way + turn, length * 0.62, level + 1, levels, lean, wobble)


def veins(sheet: Sheet) -> str:
    """Return black veins that wander across, with small trees springing from them."""
    dice, levels, black = sheet.dice, ["", "", "", ""], sheet.told(BLACK_OXIDE)
    trunks = ""
    for start, end in (((-98, -36), (96, 22)), ((-70, 80), (40, -96)), ((98, 56), (-20, 98))):
        vein = wavy(dice, start, end, 7, 7)
        trunks += flowing(vein)
        for k, joint in enumerate(vein[1:-1]):
            _grow(sheet, joint, 1.1 + 2.6 * k, 15.0, 1, levels, 0.8, 0.3)
    twigs = [sheet.ink(data, 1.3 - 0.25 * k, black) for k, data in enumerate(levels[1:])]
    return sheet.ink(trunks, 3.4, black) + group(*twigs)


def moss(sheet: Sheet) -> str:
    """Return tangled clumps of curly green filaments."""
    dice, lots = sheet.dice, ["", ""]
    for clump, (x, y) in enumerate(((-44, -30), (30, -46), (46, 30), (-22, 44), (2, -4))):
        for k in range(sheet.some(9)):
            place, turn = (x + dice.bell(0, 9), y + dice.bell(0, 9)), dice.turn()
            points = [place]
            for _ in range(7):
                turn += dice.bell(0.5 if (clump + k) % 2 else -0.5, 0.6)
                points.append(polar(points[-1], dice.between(7, 11), turn))
            lots[k % 2] += flowing(points)
    return sheet.ink(lots[0], 2.4, "#1c5228", stroke_linecap="round") + sheet.ink(
        lots[1], 1.6, "#4f9a52", stroke_linecap="round"
    )


def dried_cement(sheet: Sheet) -> str:
    """Return the join from above: cement that has drawn back in branching fronts, and cracked."""
    dice, drawn = sheet.dice, []
    for way in (0.3, 1.4, 2.6, 3.6, 4.7, 5.6):
        trunk = wavy(dice, polar(CENTRE, 98, way), polar(CENTRE, 18, way), 7, 5)
        for k in range(1, 5):
            for lean in (0.8, -0.8):
                twig = polar(trunk[k], 24 - 3.5 * k, way + pi + lean)
                drawn.append(flowing([trunk[k], twig]))
        drawn.append(flowing(trunk))
    data = "".join(drawn)
    return sheet.ink(data, 6, "#d9c89a", 0.75, stroke_linecap="round") + sheet.ink(
        data, 1.0, "#4a3a1a"
    )


DENDRITES = {
    "crackled or dried cement": Row("branching fronts of dried cement", dried_cement),
    "dendritic metallic films": Row("branching films with a metallic gleam", metal_branches),
    "dendrites": Row("black branching growths like trees", branches),
    "black manganese veins": Row("black wandering veins from which small trees branch", veins),
    "moss-like inclusions": Row("green curly filaments like moss", moss),
}
