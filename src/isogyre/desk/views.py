"""What a test would show, drawn: for the two leading candidates, and for one material's card.

A view claims no more than the catalogue: where that holds nothing, there is no drawing, and the
words say so.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue.model import Line, Look, Seen, Step
from isogyre.desk.expected import Seeing, seen_by, seen_of
from isogyre.desk.tints import tint
from isogyre.desk.workbench import Workbench
from isogyre.drawing.colour_filter import FilterView, draw_colour_filter
from isogyre.drawing.dichroscope import DichroscopeView, Pair, Window, draw_dichroscope
from isogyre.drawing.glow import Glow, GlowView, draw_glow
from isogyre.drawing.polariscope import PolariscopeView, draw_polariscope
from isogyre.drawing.refractometer import Edge, RefractometerScale, draw_refractometer
from isogyre.drawing.scenes import draw_empty_field, draw_feature, drawn_features
from isogyre.drawing.spectrum import RED_NM, VIOLET_NM, Band, SpectrumView, draw_spectrum
from isogyre.evidence import SETTINGS, Standing, stand
from isogyre.evidence.prior import DEFAULT_SETTING
from isogyre.instruments import PlannedTest
from isogyre.population import Label, Population
from isogyre.population.hypotheses import looks_of

Word = TypeVar("Word", bound=str)
Rows = NDArray[np.intp]
Array = NDArray[np.float64]

NOT_KNOWN = "not in the catalogue"
# Two figures of this width, in units of a page, stand side by side on a phone; a field of the
# loupe has no words to be read and may shrink.
NARROW, MAY_SHRINK = 170.0, frozenset(("magnification",))
WIDTH = re.compile(r'<svg[^>]* width="([\d.]+)"')
NOTHING_SEEN = "none of these"
# The piece of a refractometer's scale about the edges, and its narrowest width.
SCALE_MARGIN, SCALE_WIDTH, SCALE_LOW, SCALE_HIGH = 0.02, 0.12, 1.30, 2.00
# How dark a line of each strength is drawn.
DARKNESS = {"strong": 0.95, "medium": 0.7, "weak": 0.4}
# What a card of one material shows, in the order of a bench.
ON_A_CARD = ("ri_low", "polariscope", "pleochroism", "spectrum_text", "chelsea", "uv_lw", "uv_sw")
LAMP_NM = {"uv_lw": 365, "uv_sw": 254}
# Where a look holds what it shows under each lamp.
GLOWS = {"uv_lw": "long_wave", "uv_sw": "short_wave"}
STEPS: tuple[Step, ...] = ("nearly always", "often", "at times", "seldom", "hardly ever")
# A stone without a reaction looks as dull through the filter as the paper beside it.
FILTERED = {"no reaction": "dull", "pink": "pink", "red": "red"}


@dataclass(frozen=True)
class View:
    """What would be seen of one candidate; without a drawing ``svg`` is empty.

    ``is_narrow`` tells one that stands beside another on a phone from one that needs the width.
    """

    candidate: str
    seen: str
    svg: str
    is_narrow: bool
    limit: str


@dataclass(frozen=True)
class Scene:
    """What a drawing is made from."""

    workbench: Workbench
    seeing: Seeing
    look: Look | None
    patterns: tuple[Seen, ...]
    hue: str
    lamp: str
    prefix: str
    window: tuple[float, float]


def expected_views(
    workbench: Workbench,
    test: PlannedTest,
    standing: Standing,
    prefix: str,
    colour: str = "",
    lamp: str = "",
) -> tuple[View, ...]:
    """Return what a test would show for the leader and for the runner-up.

    Parameters
    ----------
    prefix
        Opens the ids of the drawings; unique on its page, a letter first.
    colour
        The stone's colour in words; if they name none, each candidate's most usual colour.
    lamp
        The light of the spectroscope, one of the lights of the naked eye; marks what is the
        lamp's own.
    """
    seen = seen_by(test, standing)
    window = _window([figure for seeing in seen for figure in seeing.figures], test.end_of_scale)
    views = []
    for number, seeing in enumerate(seen):
        label = standing.population.labels[seeing.row]
        look = _look(workbench, label)
        scene = Scene(
            workbench=workbench,
            seeing=seeing,
            look=look,
            patterns=_patterns(workbench, label, look),
            hue=tint(colour) or _usual(look.colours if look else {}, "colourless"),
            lamp=lamp,
            prefix=f"{prefix}-{number}",
            window=window,
        )
        views.append(_view(test, scene))
    return tuple(views)


@dataclass(frozen=True)
class CardViews:
    """What the instruments show of the most usual stones of a material, and which these are."""

    of: str
    views: tuple[View, ...]


def material_views(workbench: Workbench, material: str, prefix: str = "view") -> CardViews:
    """Return what the tests with a picture show of the most usual colour type of a material.

    Of its ways of growth the first of its entry is shown. The loupe is left out: a card shows its
    features one by one. An unknown material has none.
    """
    population = workbench.population
    known = np.flatnonzero(population.rows_of("material", material))
    if not len(known):
        return CardViews("", ())
    standing = stand(population, [], SETTINGS[DEFAULT_SETTING])
    alike = _most_usual(population, known, standing.posterior)
    usual = population.labels[alike[0]]
    tests = {t.field: t for i in workbench.instruments for t in i.tests if t.field in ON_A_CARD}
    look = _look(workbench, usual)
    views = []
    for number, field in enumerate(ON_A_CARD):
        seeing = seen_of(tests[field], standing, tests[field].name, alike)
        scene = Scene(
            workbench=workbench,
            seeing=seeing,
            look=look,
            patterns=look.spectrum if look else (),
            hue=_usual(look.colours if look else {}, "colourless"),
            lamp="",
            prefix=f"{prefix}-{number}",
            window=_window(seeing.figures, tests[field].end_of_scale),
        )
        views.append(_view(tests[field], scene))
    return CardViews(f"{usual.variety}, {usual.growth}", tuple(views))


def _most_usual(population: Population, rows: Rows, share: Array) -> Rows:
    """Return of the first row's growth the rows of the colour type that is met most often."""
    first = population.labels[rows[0]].growth
    grown = rows[[population.labels[row].growth == first for row in rows]]
    varieties = [population.labels[row].variety for row in grown]
    met = dict.fromkeys(varieties, 0.0)
    for variety, row in zip(varieties, grown, strict=True):
        met[variety] += float(share[row])
    usual = max(met, key=lambda variety: met[variety])
    return grown[[variety == usual for variety in varieties]]


def has_picture(field: str) -> bool:
    """Return whether a test that fills this field of a record is drawn."""
    return field in PICTURES


def _view(test: PlannedTest, scene: Scene) -> View:
    draw = PICTURES.get(test.field)
    svg = draw(test, scene) if draw else ""
    missing = NOT_KNOWN if draw and not svg else ""
    return View(
        candidate=scene.seeing.candidate,
        seen=scene.seeing.words,
        svg=svg,
        is_narrow=test.field in MAY_SHRINK or _width(svg) <= NARROW,
        limit=missing or scene.seeing.limit,
    )


def _width(svg: str) -> float:
    """Return the width of a drawing; nothing drawn takes none."""
    found = WIDTH.match(svg)
    return float(found.group(1)) if found else 0.0


def _look(workbench: Workbench, label: Label) -> Look | None:
    """Return the look that a kind of stone has in the catalogue, if it is listed at all."""
    listed = workbench.catalogue.materials.get(label.material)
    bodies = [body for body in listed.bodies if body.growth == label.growth] if listed else []
    looks = [look for body in bodies for look in looks_of(listed, body)] if listed else []
    return next((look for look in looks if look.variety == label.variety), None)


def _usual(steps: Mapping[Word, Step], otherwise: Word) -> Word:
    """Return the word that is met most often, or another one where nothing is said."""
    return min(steps, key=lambda word: STEPS.index(steps[word]), default=otherwise)


def _patterns(workbench: Workbench, label: Label, look: Look | None) -> tuple[Seen, ...]:
    """Return the spectra of a kind of stone: what was done to it may give it one of its own."""
    listed = workbench.catalogue.materials.get(label.material)
    done = [t for t in listed.treatments if t.name == label.treatment] if listed else []
    own = tuple(seen for treatment in done for seen in treatment.spectrum)
    return own or (look.spectrum if look else ())


# ---- one drawing for each field of a record ---------------------------------------------------


def _window(figures: Sequence[float], end: float) -> tuple[float, float]:
    """Return the piece of scale that both candidates are shown on."""
    visible = [figure for figure in figures if figure < min(end, SCALE_HIGH)]
    if not visible:
        return (1.60, 1.85)
    low, high = min(visible) - SCALE_MARGIN, max(visible) + SCALE_MARGIN
    spare = max(0.0, SCALE_WIDTH - (high - low)) / 2
    return (max(SCALE_LOW, round(low - spare, 2)), min(SCALE_HIGH, round(high + spare, 2)))


def _edges(test: PlannedTest, scene: Scene) -> str:
    low, high = (Edge(round(figure, 3)) for figure in scene.seeing.figures)
    return draw_refractometer(replace(_scale(test, scene), low=low, high=high), scene.prefix)


def _spot(test: PlannedTest, scene: Scene) -> str:
    (figure,) = scene.seeing.figures
    spot = Edge(round(figure, 2), 0.01)
    return draw_refractometer(replace(_scale(test, scene), spot=spot), scene.prefix)


def _scale(test: PlannedTest, scene: Scene) -> RefractometerScale:
    low, high = scene.window
    return RefractometerScale(limit=test.end_of_scale, scale_from=low, scale_to=high)


def _polariscope(test: PlannedTest, scene: Scene) -> str:
    if scene.look is None or _usual(scene.look.transparency, "transparent") == "opaque":
        return ""
    return draw_polariscope(PolariscopeView(scene.seeing.outcome, scene.hue), scene.prefix)


def _dichroscope(test: PlannedTest, scene: Scene) -> str:
    """Draw the pairs of the look's colours; a stone that shows none has both windows alike."""
    told = scene.look.pleochroism if scene.look else None
    if told is None:
        return ""
    if scene.seeing.outcome == "none":
        same = Window(scene.hue, words="alike")
        return draw_dichroscope(DichroscopeView((Pair(same, same),)), scene.prefix)
    windows = [Window(tint(words) or scene.hue, words=words) for words in told.colours[:3]]
    if len(windows) < 2:
        return ""
    pairs = [Pair(windows[0], windows[1])]
    if len(windows) == 3:
        pairs = [Pair(a, b) for a, b in zip(windows, windows[1:] + windows[:1], strict=True)]
    return draw_dichroscope(DichroscopeView(tuple(pairs)), scene.prefix)


def _spectrum(test: PlannedTest, scene: Scene) -> str:
    """Draw the pattern that is seen most often in such a stone, in this lamp."""
    lines = _lines(scene.workbench, scene.patterns)
    if not lines:
        return ""
    view = SpectrumView(bands=tuple(map(_band, lines)), lamp=scene.lamp)
    return draw_spectrum(view, scene.prefix)


def _lines(workbench: Workbench, patterns: Sequence[Seen]) -> tuple[Line, ...]:
    """Return the lines of the pattern that is seen most often."""
    usual = min(patterns, key=lambda pattern: STEPS.index(pattern.seen), default=None)
    spectrum = workbench.catalogue.spectra.get(usual.name) if usual else None
    lines = spectrum.lines if spectrum else ()
    return tuple(line for line in lines if VIOLET_NM <= line.nm <= RED_NM)


def _band(line: Line) -> Band:
    return Band(line.nm, line.width_nm, DARKNESS[line.strength])


def _glow(test: PlannedTest, scene: Scene) -> str:
    if scene.look is None or not getattr(scene.look, GLOWS[test.field]):
        return ""
    strength, _, hue = scene.seeing.outcome.rpartition(" ")
    inert = scene.seeing.outcome == "inert"
    glow = Glow(LAMP_NM[test.field], "inert" if inert else strength, "white" if inert else hue)
    return draw_glow(GlowView((glow,)), scene.prefix)


def _filtered(test: PlannedTest, scene: Scene) -> str:
    if scene.look is None or scene.look.filter is None:
        return ""
    return draw_colour_filter(FilterView(scene.hue, FILTERED[scene.seeing.outcome]), scene.prefix)


def _loupe(test: PlannedTest, scene: Scene) -> str:
    if scene.seeing.outcome in drawn_features():
        return draw_feature(scene.seeing.outcome, scene.prefix, scene.hue)
    return draw_empty_field(scene.prefix, scene.hue)


PICTURES: dict[str, Callable[[PlannedTest, Scene], str]] = {
    "ri_low": _edges,
    "ri_spot": _spot,
    "polariscope": _polariscope,
    "pleochroism": _dichroscope,
    "spectrum_text": _spectrum,
    "uv_lw": _glow,
    "uv_sw": _glow,
    "chelsea": _filtered,
    "magnification": _loupe,
}
