"""Polariscope, dichroscope, lamps and colour filter: each shows the answer it was given."""

import pytest

from isogyre.drawing.colour import MIDDLE_TONES
from isogyre.drawing.colour_filter import LOOKS, FilterView, draw_colour_filter
from isogyre.drawing.dichroscope import (
    DichroscopeView,
    Pair,
    Window,
    along_axes,
    draw_dichroscope,
)
from isogyre.drawing.errors import CountError, UnknownWordError
from isogyre.drawing.glow import Glow, GlowView, draw_glow
from isogyre.drawing.polariscope import ANSWERS, PolariscopeView, draw_polariscope
from isogyre.population.words import POLARISCOPE_WORDS
from tests.drawing.reading import box, described, parts, words


def test_the_polariscope_knows_the_answers_of_the_catalogue():
    assert ANSWERS == POLARISCOPE_WORDS


def test_an_isotropic_stone_is_dark_at_every_turn():
    drawn = draw_polariscope(PolariscopeView("single", "red"), "a")
    assert [word.split()[1] for word in words(drawn)] == ["dark"] * 8
    assert parts(drawn, "radialGradient") == []


def test_a_doubly_refractive_stone_is_dark_four_times_in_a_turn_and_a_quarter_apart():
    drawn = draw_polariscope(PolariscopeView("double", "red"), "a")
    dark = [int(w.split("°")[0]) for w in words(drawn) if w.endswith("dark")]
    assert dark == [0, 90, 180, 270]
    assert len(parts(drawn, "radialGradient")) == 4


def test_an_aggregate_is_light_at_every_turn():
    drawn = draw_polariscope(PolariscopeView("aggregate", "green"), "a")
    assert len(parts(drawn, "radialGradient")) == 8


def test_strain_is_neither_dark_nor_light():
    drawn = draw_polariscope(PolariscopeView("anomalous"), "a")
    assert {word.split()[1] for word in words(drawn)} == {"strained"}


def test_an_unknown_answer_of_the_polariscope_is_refused():
    with pytest.raises(UnknownWordError):
        PolariscopeView("SR")


def windows(drawn):
    """Return the colours of the windows from left to right."""
    return [r.get("fill") for r in sorted(parts(drawn, "rect"), key=lambda r: box(r)[0])]


def test_the_two_windows_show_the_two_colours_side_by_side():
    view = DichroscopeView((Pair(Window("blue"), Window("yellow")),))
    drawn = draw_dichroscope(view, "a")
    assert windows(drawn) == [MIDDLE_TONES["blue"], MIDDLE_TONES["yellow"]]
    left, right = (box(r) for r in parts(drawn, "rect"))
    assert left[0] + left[2] <= right[0]
    assert left[2:] == right[2:]


def test_along_each_axis_the_other_two_colours_are_seen():
    x, y, z = (Window(hue) for hue in ("violet", "blue", "yellow"))
    pairs = along_axes(x, y, z).pairs
    assert [{pair.left, pair.right} for pair in pairs] == [{y, z}, {x, z}, {x, y}]


def test_the_colours_are_told_in_words():
    view = DichroscopeView((Pair(Window("#879b3c", words="yellowish green"), Window("blue")),))
    assert "yellowish green and blue" in described(draw_dichroscope(view, "a"))


@pytest.mark.parametrize("count", [0, 4])
def test_too_few_or_too_many_pairs_are_refused(count):
    with pytest.raises(CountError):
        DichroscopeView((Pair(Window("red"), Window("red")),) * count)


def test_an_inert_stone_shows_no_light_of_its_own():
    inert, glowing = (
        draw_glow(GlowView((Glow(365, strength, "red"),)), "a") for strength in ("inert", "weak")
    )
    assert parts(inert, "radialGradient") == []
    assert len(parts(glowing, "radialGradient")) == 1
    assert "inert" in words(inert)


def test_each_lamp_is_told_with_its_answer():
    view = GlowView((Glow(365, "strong", "red"), Glow(254, "weak", "blue", is_patchy=True)))
    told = described(draw_glow(view, "a"))
    assert "long wave, 365 nm: strong red" in told
    assert "short wave, 254 nm: weak blue, patchy" in told


@pytest.mark.parametrize("wrong", [{"lamp_nm": 300}, {"strength": "glaring"}, {"hue": "mauve"}])
def test_a_lamp_or_a_glow_that_is_not_known_is_refused(wrong):
    with pytest.raises(UnknownWordError):
        Glow(**{"lamp_nm": 365, "strength": "weak", **wrong})


@pytest.mark.parametrize("count", [0, 4])
def test_no_lamp_or_too_many_are_refused(count):
    with pytest.raises(CountError):
        GlowView((Glow(365),) * count)


@pytest.mark.parametrize("seen", LOOKS)
def test_the_filter_shows_the_stone_plain_and_as_it_is_seen(seen):
    drawn = draw_colour_filter(FilterView("green", seen), "a")
    assert words(drawn) == ["plain", "green", "through the filter", seen]
    assert seen in described(drawn)


@pytest.mark.parametrize("wrong", [{"seen": "glows"}, {"cut": "briolette"}, {"hue": "mauve"}])
def test_a_filter_view_of_an_unknown_word_is_refused(wrong):
    with pytest.raises(UnknownWordError):
        FilterView(**{"hue": "green", "seen": "red", **wrong})


def test_a_glow_in_an_unknown_cut_is_refused():
    with pytest.raises(UnknownWordError):
        GlowView((Glow(365),), cut="briolette")
