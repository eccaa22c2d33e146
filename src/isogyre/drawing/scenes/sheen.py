"""What light does on a dome: stars, eyes, sheens, plays; and what a lamp makes glow."""

from functools import partial
from math import pi

from isogyre.drawing.colour import WHITE, mix
from isogyre.drawing.scenes.opals import PLAY
from isogyre.drawing.scenes.shapes import (
    CENTRE,
    blob,
    cells,
    rounded,
    segment,
    shrunk,
    strewn,
    strokes,
)
from isogyre.drawing.scenes.sheet import Row, Sheet
from isogyre.drawing.svg import circle, ellipse, group, outline, polar, ring

ABOUT = 88.0


def dome(sheet: Sheet, body: str | None = None) -> str:
    """Return the cabochon on which a phenomenon shows."""
    middle = body or sheet.ground.body
    paint, shade = sheet.faded("dome", mix(middle, WHITE, 0.35))
    rim = circle(
        CENTRE,
        ABOUT,
        fill=mix(middle, "#000000", 0.35),
        stroke=sheet.ground.shade,
        stroke_width=sheet.pen(1.2),
    )
    ground = circle(CENTRE, 104, fill=mix(sheet.ground.body, "#000000", 0.72))
    return paint + ground + rim + circle((-10, -12), ABOUT - 12, fill=shade)


def star(sheet: Sheet, rays: int = 3) -> str:
    """Return a star: bands of light that cross on the dome and thin out towards its rim."""
    data = ""
    for k in range(rays):
        way = pi / 2 + pi * k / rays
        start, end = segment((-4, -6), 80, way)
        left, right = polar((-4, -6), 4.6, way + pi / 2), polar((-4, -6), 4.6, way - pi / 2)
        data += outline([start, left, end, right])
    soft = sheet.ink(data, 5, "#ffffff", 0.3, stroke_linejoin="round")
    return dome(sheet) + soft + sheet.ink(data, 0.6, "#ffffff", fill="#ffffff")


def cats_eye(sheet: Sheet) -> str:
    """Return one band of light across fine fibres."""
    fibres = strokes(
        [((x, -((84**2 - x * x) ** 0.5)), (x, (84**2 - x * x) ** 0.5)) for x in range(-78, 80, 6)]
    )
    band = "M-84 6Q0 -26 84 6Q0 -4 -84 6Z"
    return (
        dome(sheet)
        + sheet.ink(fibres, 0.7, sheet.ground.shade, 0.45)
        + sheet.ink(band, 7, "#ffffff", 0.3, stroke_linejoin="round")
        + sheet.ink(band, 1, "#ffffff", fill="#ffffff")
    )


def moonlight(sheet: Sheet) -> str:
    """Return a billowy bluish sheen that floats on a clear dome."""
    soft, sheen = sheet.faded("sheen", "#cfe4ff", 0.15)
    core, white = sheet.faded("core", "#ffffff", 0.2)
    return (
        dome(sheet, "#8f9bab")
        + soft
        + core
        + ellipse((-6, 4), (72, 46), -24, fill=sheen)
        + ellipse((-10, 0), (40, 20), -24, fill=white)
    )


def labrador(sheet: Sheet) -> str:
    """Return broad flashes of blue, green and gold from lamellae, cut off along straight lines."""
    body = circle(CENTRE, 104, fill="#3a3f42")
    flashes = []
    for k, (x, y, tint) in enumerate(
        (
            (-46, -34, "#2f7fff"),
            (16, -52, "#3fc8d8"),
            (42, 10, "#e8b53a"),
            (-22, 34, "#1f5fe0"),
            (30, 62, "#5fc06a"),
        )
    ):
        plate = blob(sheet.dice, (x, y), 40, 0.25, 1.3, -0.5 + 0.1 * k, 6)
        flashes.append(sheet.ink(outline(plate), 0, "none", fill=tint, fill_opacity=0.85))
    lines = strokes(
        [segment(polar(CENTRE, x, 0.35), 104, 0.35 + pi / 2) for x in range(-96, 100, 9)]
    )
    return body + group(*flashes) + sheet.ink(lines, 0.9, "#14181a", 0.6)


def rainbow(sheet: Sheet) -> str:
    """Return rings of rainbow colour, one within the other, on a thin film."""
    drawn = []
    for k in range(10):
        loop = blob(sheet.dice, (-8 + k, 6 - k), 92 - 9 * k, 0.06, corners=10)
        drawn.append(
            sheet.ink(
                rounded(loop), 0, "none", fill=mix(PLAY[k % 7], WHITE, 0.25), fill_opacity=0.9
            )
        )
    return group(*drawn)


def glitter(sheet: Sheet) -> str:
    """Return many small flakes that glitter, a few with a star of light."""
    flakes = [blob(sheet.dice, p, sheet.sized(2, 4.5), 0.4, corners=5) for p in sheet.apart(60, 80)]
    sparks = ""
    for place in sheet.apart(8, 62):
        far = sheet.sized(9, 14)
        points = [polar(place, far * (0.16 if k % 2 else 1), k * pi / 4) for k in range(8)]
        sparks += outline(points)
    return (
        dome(sheet, "#b5622e")
        + sheet.ink("".join(map(outline, flakes)), 0.4, "#7a3210", fill="#ffcf8a")
        + sheet.ink(sparks, 0.4, "#fff6dc", fill="#fff6dc")
    )


def play(sheet: Sheet) -> str:
    """Return a dome with patches of every spectral colour."""
    tints: dict[str, str] = dict.fromkeys(PLAY, "")
    for shape in cells(strewn(sheet.dice, 5 if sheet.is_small else 7, 0.42)):
        kept = [point for point in shrunk(shape, 0.9) if point[0] ** 2 + point[1] ** 2 < 82**2]
        if len(kept) > 2:
            tints[sheet.dice.pick(PLAY)] += outline(kept)
    flashes = [
        sheet.ink(data, 0, "none", fill=tint, fill_opacity=0.88)
        for tint, data in tints.items()
        if data
    ]
    gleam = ellipse((-34, -42), (18, 9), -40, fill="#ffffff", fill_opacity=0.6)
    return dome(sheet, "#d7e2e4") + group(*flashes) + gleam


def changed(sheet: Sheet) -> str:
    """Return one stone in two lights: green under a blue sky, red under a warm lamp."""
    cool = sheet.ink("M0 -104A104 104 0 0 0 0 104Z", 0, "none", fill="#dce9f5")
    warm = sheet.ink("M0 -104A104 104 0 0 1 0 104Z", 0, "none", fill="#f6dcae")
    green = sheet.ink("M0 -66A66 66 0 0 0 0 66Z", 0, "none", fill="#1f8a72")
    red = sheet.ink("M0 -66A66 66 0 0 1 0 66Z", 0, "none", fill="#a8224a")
    edges = outline(ring(CENTRE, 34, 8, pi / 8)) + strokes(
        list(zip(ring(CENTRE, 34, 8, pi / 8), ring(CENTRE, 66, 8, pi / 8), strict=True))
    )
    return (
        cool
        + warm
        + green
        + red
        + sheet.ink(edges, 1, "#141214", 0.6)
        + sheet.ink("M0 -104V104", 1.6, "#141214")
    )


def metallic(sheet: Sheet) -> str:
    """Return a dome that mirrors a window and its surroundings, hard-edged."""
    paint, steel = sheet.ramp(
        "steel",
        "#f4f6f8",
        "#7c838a",
        "#24272b",
        "#aab0b6",
        "#4a4e54",
        x1="0",
        y1="0",
        x2="0",
        y2="1",
    )
    mirror = "M-46 -58L-6 -66L-8 -30L-48 -22ZM0 -66L34 -58L32 -26L-2 -31Z"
    return (
        circle(CENTRE, 104, fill="#0e0d0e")
        + paint
        + circle(CENTRE, ABOUT, fill=steel, stroke="#000000", stroke_width=1.5)
        + sheet.ink("M-86 12Q0 -10 86 12Q0 40 -86 12Z", 0, "none", fill="#0f1113")
        + sheet.ink(mirror, 0, "none", fill="#ffffff")
    )


def pearl(sheet: Sheet) -> str:
    """Return a pearl: rings of light from deep layers, rose and green at the rim."""
    drawn = [circle(CENTRE, 104, fill="#2b2828")]
    for r, tint, x in (
        (ABOUT, "#9c8f96", 0),
        (82, "#d9b8c2", -2),
        (73, "#cfdccb", -5),
        (63, "#f0dccb", -8),
        (50, "#f8efe2", -11),
        (32, "#ffffff", -17),
    ):
        drawn.append(circle((x, x), r, fill=tint))
    window = ellipse(
        (-32, -34), (11, 8), -40, fill="#ffffff", stroke="#d8cabf", stroke_width=sheet.pen(1)
    )
    return group(*drawn) + window


def patchy_glow(sheet: Sheet) -> str:
    """Return a stone in the dark that glows in zones and along a fissure."""
    zones = [ring((-20, 20), r, 6, 0.2) for r in (92, 70, 44, 24)]
    soft, light = sheet.faded("lamp", "#dfe9ff", 0.3)
    bands = group(
        *(
            sheet.ink(outline(z), 0, "none", fill=tone)
            for z, tone in zip(zones, ("#141a3a", "#3f6dff", "#1a2450", "#a9c4ff"), strict=True)
        )
    )
    crack = sheet.ink("M92 -60L40 -34L22 -40L-12 -10", 4, "#fff3a8")
    return (
        circle(CENTRE, 104, fill="#07060c")
        + soft
        + bands
        + circle((48, 46), 24, fill=light)
        + crack
    )


def tenebrescent(sheet: Sheet) -> str:
    """Return one stone twice: pale before the lamp, deep violet-pink after it."""
    cut = ring(CENTRE, 40, 10)
    edges = outline(ring(CENTRE, 20, 10)) + strokes(
        list(zip(ring(CENTRE, 20, 10), cut, strict=True))
    )
    drawn = [circle(CENTRE, 104, fill="#17131c")]
    for x, fill in ((-47, "#f0e6ea"), (47, "#b02a8c")):
        drawn.append(
            group(
                sheet.ink(outline(cut), 1, "#ffffff", fill=fill),
                sheet.ink(edges, 0.7, "#4a1a40", 0.6),
                transform=f"translate({x} 8)",
            )
        )
    arrow = sheet.ink("M-6 -62H26M18 -70L28 -62L18 -54", 3, "#a98bff")
    return group(*drawn) + arrow + circle((-26, -62), 9, fill="#a98bff")


SHEEN = {
    "six-rayed star": Row("a star of six rays on a dome", star),
    "four-rayed star": Row("a star of four rays on a dome", partial(star, rays=2)),
    "chatoyancy": Row("one band of light across fine fibres", cats_eye),
    "adularescence": Row("a billowy bluish sheen on a clear dome", moonlight),
    "labradorescence": Row("flashes of blue, green and gold cut by straight lines", labrador),
    "iridescence": Row("rings of rainbow colour", rainbow),
    "aventurescence": Row("many small glittering flakes in a dome", glitter),
    "play of colour": Row("a dome with patches of every spectral colour", play),
    "colour change": Row("one stone green by day, red by lamp", changed),
    "metallic lustre": Row("a dome that mirrors a window like metal", metallic),
    "pearly nacre": Row("a pearl with rings of light from deep layers", pearl),
    "uneven glow": Row("a stone in the dark that glows in zones", patchy_glow),
    "colour deepens under the lamp": Row("a stone pale before the lamp, deep after", tenebrescent),
}
