"""Colour words on a screen: order and limits, for a chosen colour has no published value."""

import colorsys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.drawing.colour import (
    BLACK,
    GLOW_POWER,
    GLOWS,
    MIDDLE_TONES,
    WHITE,
    glow_rgb,
    hue_rgb,
    mix,
    parts_of,
    spectral_rgb,
)
from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.population.words import GLOW_HUES, GLOW_STRENGTHS, HUES

CHROMATIC = [hue for hue in HUES if hue not in ("colourless", "white", "grey", "black")]


def test_it_knows_the_words_of_the_catalogue_and_of_the_lamps():
    assert tuple(MIDDLE_TONES) == HUES
    assert set(GLOWS) == set(GLOW_HUES)
    assert tuple(GLOW_POWER) == GLOW_STRENGTHS


def test_a_middle_tone_is_the_hue_itself():
    assert all(hue_rgb(hue) == middle for hue, middle in MIDDLE_TONES.items())


@given(st.sampled_from(CHROMATIC), st.floats(0, 1), st.floats(0, 1))
def test_a_darker_tone_is_darker(hue, one, other):
    light, dark = (sum(parts_of(hue_rgb(hue, tone))) for tone in sorted((one, other)))
    assert light >= dark


@given(st.floats(0, 1))
def test_a_mixture_lies_between_its_ends(share):
    grey = parts_of(mix(BLACK, WHITE, share))
    assert grey == (round(255 * share),) * 3


@pytest.mark.parametrize("hue", GLOW_HUES)
def test_a_stronger_glow_is_brighter(hue):
    powers = [sum(parts_of(glow_rgb(hue, strength))) for strength in GLOW_STRENGTHS]
    assert powers == sorted(set(powers))
    assert powers[0] == 0


# Where the spectrum's own names lie, after any textbook of colour; the middle of each.
@pytest.mark.parametrize(
    ("wavelength_nm", "hue_deg"), [(470, 240), (520, 140), (575, 60), (600, 35), (640, 350)]
)
def test_pure_light_has_the_hue_of_its_name(wavelength_nm, hue_deg):
    red, green, blue = (part / 255 for part in parts_of(spectral_rgb(wavelength_nm)))
    shown_deg = 360 * colorsys.rgb_to_hsv(red, green, blue)[0]
    apart = abs((shown_deg - hue_deg + 180) % 360 - 180)
    # A name of a hue covers about a twelfth of the circle.
    assert apart < 30


def test_the_ends_of_the_spectrum_are_dimmer_than_its_middle():
    ends = [max(parts_of(spectral_rgb(nm))) for nm in (400, 700)]
    assert max(ends) < max(parts_of(spectral_rgb(555)))


@pytest.mark.parametrize("hue", ["mauve", "", "#12345", "#GGGGGG", "red;"])
def test_a_hue_that_is_no_hue_is_refused(hue):
    with pytest.raises(UnknownWordError):
        hue_rgb(hue)


@pytest.mark.parametrize(("hue", "strength"), [("mauve", "weak"), ("red", "glaring")])
def test_a_glow_that_no_lamp_shows_is_refused(hue, strength):
    with pytest.raises(UnknownWordError):
        glow_rgb(hue, strength)


@pytest.mark.parametrize("wavelength_nm", [379, 781, float("nan")])
def test_light_that_is_not_seen_is_refused(wavelength_nm):
    with pytest.raises(OutOfRangeError):
        spectral_rgb(wavelength_nm)


def test_a_tone_beyond_its_ends_is_refused():
    with pytest.raises(OutOfRangeError):
        hue_rgb("red", 1.2)
