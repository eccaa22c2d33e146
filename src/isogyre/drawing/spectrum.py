"""The spectrum in a hand spectroscope, with what the stone and what the lamp takes out of it."""

from dataclasses import dataclass
from math import ceil

from isogyre.drawing.colour import BLACK, WHITE, spectral_rgb
from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.svg import (
    SMALL,
    Frame,
    Point,
    circle,
    element,
    figure,
    gradient,
    group,
    label,
    line,
    number,
    path,
    rect,
    spread,
    text_width,
    use,
)

VIOLET_NM, RED_NM = 400.0, 700.0
SCALES = ("prism", "grating")
LEFT, LENGTH, WIDTH = 8.0, 324.0, 340.0
STRIP = 62.0
NARROWEST_LINE = 1.6
LABEL_GAP, ROW_HEIGHT, MOST_ROWS = 29.0, 17.0, 2
COLOUR_STEP_NM = 5
# How dark a band is across one and a half times its width.
PROFILE = ((0, 0), (0.16, 0.5), (0.36, 0.94), (0.5, 1), (0.64, 0.94), (0.84, 0.5), (1, 0))


@dataclass(frozen=True)
class Band:
    """A line or a band of absorption: its middle, its full width and how much it takes out.

    ``strength`` runs from 0 to 1. A ``bright`` line is one that the stone itself sends out.
    """

    centre_nm: float
    width_nm: float = 1.0
    strength: float = 0.8
    is_bright: bool = False

    def __post_init__(self) -> None:
        if not 300 <= self.centre_nm <= 900:
            raise OutOfRangeError("the middle of a band in nm", self.centre_nm, 300, 900)
        if not 0 < self.width_nm <= 400:
            raise OutOfRangeError("the width of a band in nm", self.width_nm, 0.1, 400)
        if not 0 <= self.strength <= 1:
            raise OutOfRangeError("the strength of a band", self.strength, 0, 1)


# What a lamp itself leaves dark, common practice; the sun's lines are Fraunhofer's C, D, E, F
# and G. Each is marked, so that it is not read as the stone's.
LAMPS: dict[str, tuple[Band, ...]] = {
    "daylight": (
        Band(656.3, 0.8, 0.5),
        Band(589.3, 0.8, 0.45),
        Band(527.0, 0.8, 0.4),
        Band(486.1, 0.8, 0.45),
        Band(430.8, 1.2, 0.4),
    ),
    "incandescent": (Band(398.0, 62.0, 0.75),),
    "white-led": (Band(400.0, 46.0, 0.92), Band(481.0, 26.0, 0.6), Band(704.0, 60.0, 0.65)),
}


@dataclass(frozen=True)
class SpectrumView:
    """A spectrum on the scale of a prism or of a grating.

    ``read_nm`` are positions that somebody read; they stand as beads above the strip. Red lies
    to the left, as the older books draw it, unless ``red_left`` is false.
    """

    bands: tuple[Band, ...] = ()
    read_nm: tuple[float, ...] = ()
    lamp: str = ""
    scale: str = "prism"
    red_left: bool = True

    def __post_init__(self) -> None:
        if self.scale not in SCALES:
            raise UnknownWordError("scale of a spectroscope", self.scale, SCALES)
        if self.lamp and self.lamp not in LAMPS:
            raise UnknownWordError("lamp", self.lamp, LAMPS)
        for nm in self.read_nm:
            if not VIOLET_NM <= nm <= RED_NM:
                raise OutOfRangeError("a line read, in nm,", nm, VIOLET_NM, RED_NM)


def place_of(view: SpectrumView, wavelength_nm: float) -> float:
    """Return where a wavelength stands on the sheet, from left to right.

    A grating spreads wavelengths evenly; a prism crowds the red, close to one over the square of
    the wavelength (Cauchy's first term).
    """
    if view.scale == "grating":
        share = (RED_NM - wavelength_nm) / (RED_NM - VIOLET_NM)
    else:
        share = (wavelength_nm**-2 - RED_NM**-2) / (VIOLET_NM**-2 - RED_NM**-2)
    return LEFT + LENGTH * (share if view.red_left else 1 - share)


def draw_spectrum(view: SpectrumView, prefix: str) -> str:
    """Return the strip with its scale below, lines read above, and the lamp's own marks."""
    read = sorted(set(view.read_nm), key=lambda nm: place_of(view, nm))
    rows = min(ceil(len(read) * _gap(read) / LENGTH), MOST_ROWS)
    top = rows * ROW_HEIGHT + (32.0 if read else 4.0)
    foot = top + STRIP
    height = foot + 30 + (34 if view.lamp else 0)
    strip, definitions = _strip(view, prefix, top)
    return figure(
        prefix,
        Frame(WIDTH, height),
        "Spectrum, drawn",
        describe(view),
        strip,
        _scale(view, foot),
        _beads(view, read, rows, top) if read else "",
        _lamp(view, foot + 34) if view.lamp else "",
        definitions=definitions,
    )


def describe(view: SpectrumView) -> str:
    """Return what is seen, in words."""
    seen = [
        f"a {_strength(band)} {_kind(band)} at {band.centre_nm:g} nm"
        for band in sorted(view.bands, key=lambda band: -band.centre_nm)
        if band.strength
    ]
    words = ["; ".join(seen).capitalize() if seen else "No line or band"]
    if view.read_nm:
        read = ", ".join(f"{nm:g}" for nm in sorted(view.read_nm, reverse=True))
        words.append(f"Read at {read} nm, marked by beads")
    if view.lamp:
        words.append(f"What the {view.lamp} lamp itself leaves dark is marked below")
    side = "left" if view.red_left else "right"
    words.append(f"700 to 400 nm, {view.scale} scale, red on the {side}")
    return ". ".join(words) + "."


def _strength(band: Band) -> str:
    return "weak" if band.strength < 0.35 else "strong" if band.strength > 0.7 else "distinct"


def _kind(band: Band) -> str:
    return "bright line" if band.is_bright else "line" if band.width_nm <= 5 else "band"


def _strip(view: SpectrumView, prefix: str, top: float) -> tuple[str, str]:
    """Return the coloured strip with everything dark on it, and its gradients."""
    wavelengths = range(int(VIOLET_NM), int(RED_NM) + 1, COLOUR_STEP_NM)
    stops = sorted(
        ((place_of(view, nm) - LEFT) / LENGTH, spectral_rgb(nm), 1.0) for nm in wavelengths
    )
    definitions = gradient(f"{prefix}-light", stops)
    parts = [rect(LEFT, top, LENGTH, STRIP, fill=use(f"{prefix}-light"))]
    for i, band in enumerate((*LAMPS.get(view.lamp, ()), *view.bands)):
        name = f"{prefix}-band-{i}"
        shade, bar = _band(view, band, name, top)
        definitions += shade
        parts.append(bar)
    window = element("clipPath", rect(LEFT, top, LENGTH, STRIP), id=f"{prefix}-slit")
    return (
        group(*parts, clip_path=use(f"{prefix}-slit"), class_="eyepiece"),
        definitions + window,
    )


def _band(view: SpectrumView, band: Band, name: str, top: float) -> tuple[str, str]:
    """Return a band's gradient and its bar: dark in the middle, fading at both sides."""
    ink = WHITE if band.is_bright else BLACK
    half = band.width_nm / 2
    # The strip is darkest at the middle and half as dark at half the width.
    sides = sorted(place_of(view, band.centre_nm + k * 1.5 * half) for k in (-1, 1))
    middle = place_of(view, band.centre_nm)
    if sides[1] - sides[0] < NARROWEST_LINE:
        bar = rect(
            middle - NARROWEST_LINE / 2,
            top,
            NARROWEST_LINE,
            STRIP,
            fill=ink,
            fill_opacity=band.strength,
        )
        return "", bar
    stops = [(share, ink, round(power * band.strength, 3)) for share, power in PROFILE]
    bar = rect(sides[0], top, sides[1] - sides[0], STRIP, fill=use(name))
    return gradient(name, stops), bar


def _scale(view: SpectrumView, top: float) -> str:
    """Return a tick every 10 nm and a figure every 50 nm where there is room for it."""
    ticks, figures = "", ""
    taken: list[float] = []
    for nm in (700, 400, 600, 500, 650, 550, 450):
        x = place_of(view, nm)
        if all(abs(x - other) >= LABEL_GAP for other in taken):
            taken.append(x)
            anchor = "start" if x < LEFT + 8 else "end" if x > LEFT + LENGTH - 8 else "middle"
            figures += label((x, top + 25), f"{nm}", anchor)
    for nm in range(int(VIOLET_NM), int(RED_NM) + 1, 10):
        length = 9 if nm % 50 == 0 else 5
        ticks += f"M{number(place_of(view, nm))} {number(top)}v{length}"
    return path(ticks, stroke="currentColor", stroke_opacity=0.75) + figures


def _beads(view: SpectrumView, read: list[float], rows: int, top: float) -> str:
    """Return a bead on a thread for every line that was read, and its figure above.

    Two rows take figures by turns, so that every stem passes between two figures. Where even two
    rows do not hold them all, some beads stay without a figure.
    """
    y = top - 10
    parts = [line((LEFT, y), (LEFT + LENGTH, y), stroke="currentColor", stroke_opacity=0.6)]
    parts += [_bead((place_of(view, nm), y), top) for nm in read]
    gap = _gap(read) / rows
    named = read[:: ceil(len(read) * gap / LENGTH)]
    places = [place_of(view, nm) for nm in named]
    half = _gap(read) / 2 - 2
    shown = _centred(places, spread(places, gap, LEFT + half, LEFT + LENGTH - half), gap)
    for i, (nm, x, text_x) in enumerate(zip(named, places, shown, strict=True)):
        base = 14 + (rows - 1 - i % rows) * ROW_HEIGHT
        bend = 18 + (rows - 1) * ROW_HEIGHT
        stem = f"M{number(text_x)} {number(base + 4)}V{number(bend)}L{number(x)} {number(y)}"
        parts.append(label((text_x, base), f"{nm:g}", "middle"))
        parts.append(path(stem, stroke="currentColor", stroke_width=1.2))
    return "".join(parts)


def _bead(place: Point, top: float) -> str:
    stem = line(place, (place[0], top), stroke="currentColor", stroke_width=1.2)
    return stem + circle(place, 4.2, fill="currentColor")


def _gap(read: list[float]) -> float:
    """Return how far apart the figures must stand, by the longest of them."""
    return max((text_width(f"{nm:g}") + 5 for nm in read), default=LABEL_GAP)


def _centred(places: list[float], moved: list[float], gap: float) -> list[float]:
    """Return the moved places, each run of neighbours shifted back over what it names."""
    out = list(moved)
    start = 0
    for i in range(1, len(out) + 1):
        if i == len(out) or out[i] - out[i - 1] > gap + 0.01:
            drift = sum(out[k] - places[k] for k in range(start, i)) / (i - start)
            room = out[start] - (out[start - 1] + gap if start else LEFT + gap / 2 - 2)
            shift = max(0.0, min(drift, room))
            out[start:i] = [x - shift for x in out[start:i]]
            start = i
    return out


def _lamp(view: SpectrumView, top: float) -> str:
    """Return a bracket under everything that the lamp itself leaves dark."""
    marks = ""
    for band in LAMPS[view.lamp]:
        sides = sorted(
            min(max(place_of(view, band.centre_nm + k * band.width_nm / 2), LEFT), LEFT + LENGTH)
            for k in (-1, 1)
        )
        if sides[1] - sides[0] < 5:
            sides = [sum(sides) / 2 - 2.5, sum(sides) / 2 + 2.5]
        marks += f"M{number(sides[0])} {number(top + 7)}v-6H{number(sides[1])}v6"
    words = f"dark in the lamp itself: {view.lamp}"
    return path(marks, stroke="currentColor", stroke_width=1.5) + label(
        (LEFT, top + 24), words, size=SMALL
    )
