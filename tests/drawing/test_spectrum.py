"""The spectrum: bands at the place of their wavelength, on both scales."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from isogyre.drawing.errors import OutOfRangeError, UnknownWordError
from isogyre.drawing.spectrum import (
    LAMPS,
    LEFT,
    LENGTH,
    Band,
    SpectrumView,
    draw_spectrum,
    place_of,
)
from tests.drawing.reading import box, described, parts, words

VISIBLE_NM = st.floats(400, 700)


def bars(drawn):
    """Return left edge and width of every bar on the strip, the strip itself left out."""
    return [(x, width) for x, _, width, _ in map(box, parts(drawn, "rect")) if width < LENGTH]


def published_lines(reference):
    """Return every line of one published position within the visible."""
    rows = reference("absorption_lines.csv")
    singles = [row for row in rows if row["line_or_band_nm_low"] == row["line_or_band_nm_high"]]
    figures = {float(row["line_or_band_nm_low"]) for row in singles if row["line_or_band_nm_low"]}
    return sorted(nm for nm in figures if 400 <= nm <= 700)


@pytest.mark.parametrize("scale", ["prism", "grating"])
def test_published_lines_stand_at_the_place_of_their_wavelength(reference, scale):
    lines = published_lines(reference)
    assert len(lines) > 50
    view = SpectrumView(tuple(Band(nm, 0.1) for nm in lines), scale=scale)
    drawn = bars(draw_spectrum(view, "a"))
    middles = [x + width / 2 for x, width in drawn]
    # The sheet is written to a hundredth of a unit.
    assert middles == approx([place_of(view, nm) for nm in lines], abs=0.02)


@given(VISIBLE_NM, st.booleans())
def test_a_grating_spreads_wavelengths_evenly(wavelength_nm, red_left):
    view = SpectrumView(scale="grating", red_left=red_left)
    share = (place_of(view, wavelength_nm) - LEFT) / LENGTH
    read_nm = 700 - 300 * share if red_left else 400 + 300 * share
    assert read_nm == approx(wavelength_nm)


def test_a_prism_crowds_the_red():
    view = SpectrumView()
    red, blue = (
        abs(place_of(view, nm + 20) - place_of(view, nm)) / LENGTH for nm in (660.0, 420.0)
    )
    # By Cauchy's first term the spread falls with the cube of the wavelength.
    assert blue / red == approx((670 / 430) ** 3, rel=0.02)


@pytest.mark.parametrize("scale", ["prism", "grating"])
def test_red_on_the_right_is_the_mirror_of_red_on_the_left(scale):
    left, right = (SpectrumView(scale=scale, red_left=way) for way in (True, False))
    for nm in (400, 450, 589.3, 700):
        assert place_of(left, nm) - LEFT == approx(LEFT + LENGTH - place_of(right, nm))


@given(st.floats(430, 670), st.floats(12, 40))
def test_a_band_is_half_as_dark_at_half_its_width(middle_nm, width_nm):
    view = SpectrumView((Band(middle_nm, width_nm, 1.0),), scale="grating")
    ((left, width),) = bars(draw_spectrum(view, "a"))
    # The bar is one and a half times as wide as the band, and half dark at a sixth of itself.
    assert width == approx(1.5 * width_nm * LENGTH / 300, abs=0.02)
    assert left + width / 2 == approx(place_of(view, middle_nm), abs=0.02)
    stops = [s for s in parts(draw_spectrum(view, "a"), "stop") if s.get("stop-opacity")]
    powers = {float(stop.get("offset")): float(stop.get("stop-opacity")) for stop in stops}
    assert powers[0.16] == powers[0.84] == 0.5


def test_a_clean_spectrum_has_no_bar_and_says_so():
    drawn = draw_spectrum(SpectrumView(), "a")
    assert bars(drawn) == []
    assert described(drawn).startswith("No line or band.")


def test_a_bright_line_is_told_from_a_dark_one():
    drawn = draw_spectrum(SpectrumView((Band(694, 1, 0.9, is_bright=True),)), "a")
    assert described(drawn).startswith("A strong bright line at 694 nm")
    assert "#ffffff" in [r.get("fill") for r in parts(drawn, "rect")]


# Fraunhofer's lines C, D, E, F and G in air, to a nanometre, from any table of the sun's spectrum.
@pytest.mark.parametrize("wavelength_nm", [656.28, 589.3, 526.96, 486.13, 430.78])
def test_daylight_has_the_lines_of_the_sun(wavelength_nm):
    assert min(abs(band.centre_nm - wavelength_nm) for band in LAMPS["daylight"]) < 0.5


@pytest.mark.parametrize("lamp", LAMPS)
def test_what_the_lamp_leaves_dark_is_marked_as_the_lamps(lamp):
    assert words(draw_spectrum(SpectrumView(lamp=lamp), "a"))[-1].endswith(f"itself: {lamp}")


def test_lines_that_were_read_stand_as_beads_over_their_place():
    view = SpectrumView(read_nm=(450.0, 460.0, 470.5))
    drawn = draw_spectrum(view, "a")
    beads = sorted(float(bead.get("cx")) for bead in parts(drawn, "circle"))
    assert beads == approx(sorted(place_of(view, nm) for nm in view.read_nm), abs=0.02)
    assert {"450", "460", "470.5"} <= set(words(drawn))


@pytest.mark.parametrize(
    ("centre_nm", "width_nm", "strength"), [(200, 1, 0.5), (500, 0, 0.5), (500, 1, 1.5)]
)
def test_a_band_out_of_range_is_refused(centre_nm, width_nm, strength):
    with pytest.raises(OutOfRangeError):
        Band(centre_nm, width_nm, strength)


def test_a_line_read_where_nothing_is_seen_is_refused():
    with pytest.raises(OutOfRangeError):
        SpectrumView(read_nm=(720,))


@pytest.mark.parametrize("wrong", [{"lamp": "candle"}, {"scale": "ruler"}])
def test_an_unknown_lamp_or_scale_is_refused(wrong):
    with pytest.raises(UnknownWordError):
        SpectrumView(**wrong)
