"""Play of colour, grown by nature and by man, and what imitates it."""

from math import pi

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    between,
    blob,
    cells,
    dots,
    flowing,
    mean,
    segment,
    shrunk,
    strewn,
    strokes,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import circle, group, outline, polar

PLAY = ("#ff4b3e", "#ff9a2e", "#f6e04a", "#3fd07a", "#31b7ff", "#5a63ff", "#b04dff")
TINTS = ("#ff6a5c", "#ffd24a", "#5fd38a", "#4fb3ff", "#b07bff")


def snakeskin(sheet: Sheet) -> str:
    """Return patches of colour, each divided into scales; at the foot, columns from the side."""
    shapes = [c for c in cells(strewn(sheet.dice, 7 if not sheet.is_small else 5, 0.26))]
    top = []
    for k, shape in enumerate(shapes):
        x, y = mean(shape)
        tint = PLAY[int(abs(x // 46 + 3 * (y // 46))) % 7]
        if y < 54:
            top.append(
                sheet.ink(outline(shape), 1.1, "#14202a", fill=mix(tint, WHITE, 0.12 * (k % 3)))
            )
    columns = []
    for k in range(16):
        x = -104 + 13 * k
        columns.append(
            sheet.ink(
                outline([(x, 36), (x + 13, 36), (x + 13, 110), (x, 110)]),
                1.1,
                "#14202a",
                fill=PLAY[(k // 4) % 7],
            )
        )
    return (
        group(*top)
        + group(*columns)
        + sheet.ink(strokes([((-104, 36), (104, 36))]), 2.2, "#14202a")
    )


def digits(sheet: Sheet) -> str:
    """Return rounded columns of colour that stand like fingers in a pale net of potch."""
    drawn = [circle(CENTRE, 104, fill="#e8dcc4")]
    for k, shape in enumerate(cells(strewn(sheet.dice, 5, 0.24))):
        finger = flowing(shrunk(shape, 0.82), closed=True)
        drawn.append(sheet.ink(finger, 1.0, "#8d7a56", fill=mix(PLAY[(3 * k) % 7], WHITE, 0.2)))
    return group(*drawn)


def opal_patches(sheet: Sheet) -> str:
    """Return flat ragged patches of colour, each striated like silk in a direction of its own."""
    drawn, lines = [], ""
    for k, shape in enumerate(cells(strewn(sheet.dice, 4, 0.45))):
        tint = PLAY[(5 * k + 2) % 7]
        drawn.append(sheet.ink(outline(shrunk(shape, 0.94)), 0.4, tint, fill=tint))
        middle = between(shape[0], shape[len(shape) // 2], 0.5)
        for j in range(-2, 3):
            aside = polar(middle, 4.0 * j, k + pi / 2)
            lines += strokes([segment(aside, 12 - abs(j) * 2, k)])
    return group(*drawn, fill_opacity=0.85) + sheet.ink(lines, 0.9, "#ffffff", 0.75)


def soft_patches(sheet: Sheet) -> str:
    """Return pale even patches of colour without striation, and the dent of a needle."""
    drawn = [
        sheet.ink(flowing(shrunk(shape, 0.8), True), 0, "none", fill=PLAY[(5 * k + 2) % 7])
        for k, shape in enumerate(cells(strewn(sheet.dice, 4, 0.45)))
    ]
    dent = circle((26, 22), 8, fill=sheet.ground.shade)
    light = circle((29, 25), 5, fill=sheet.ground.paler)
    return group(*drawn, fill_opacity=0.45) + dent + light


def film_flakes(sheet: Sheet) -> str:
    """Return crumpled bits of film in many colours, with folds."""
    dice, drawn = sheet.dice, []
    for i, place in enumerate(sheet.apart(17, 76)):
        shape = blob(dice, place, sheet.sized(9, 17), 0.45, 1.3, dice.turn(), 7)
        folds = strokes([(shape[0], shape[3]), (shape[3], shape[5]), (shape[1], shape[5])])
        drawn.append(sheet.ink(outline(shape), 0.8, "#ffffff", 0.8, fill=TINTS[i % 5]))
        drawn.append(sheet.ink(folds, 0.7, sheet.ground.shade, 0.6))
    return group(*drawn)


def carbon(sheet: Sheet) -> str:
    """Return black points like pepper over small patches of colour."""
    drawn = [
        sheet.ink(outline(shrunk(shape, 0.96)), 0, "none", fill=PLAY[(4 * k) % 7])
        for k, shape in enumerate(cells(strewn(sheet.dice, 5, 0.4)))
    ]
    pepper = dots([sheet.anywhere(97) for _ in range(sheet.some(150))])
    soot = sheet.ink(pepper, 3.0, "#0b0a0b", stroke_linecap="round")
    return circle(CENTRE, 104, fill="#5a5650") + group(*drawn, fill_opacity=0.6) + soot


OPALS = {
    "columnar snakeskin play-of-colour": Row(
        "patches of colour divided into scales, and columns from the side", snakeskin
    ),
    "cellular digit pattern": Row("rounded columns of colour in a pale net", digits),
    "irregular natural play-of-colour patches": Row(
        "ragged flat patches of colour with silky lines", opal_patches
    ),
    "patches that pale when pressed or turned": Row(
        "soft pale patches of colour and a dent of a needle", soft_patches
    ),
    "carbon specks": Row("black points over patches of colour", carbon),
    "film flakes": Row("crumpled bits of many-coloured film", film_flakes),
}
