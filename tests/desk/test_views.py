"""What a test would show, drawn: it says what the catalogue says, and no more."""

import re
from xml.etree import ElementTree

import pytest

from isogyre.desk.identify import reckon
from isogyre.desk.views import (
    NOT_KNOWN,
    PICTURES,
    expected_views,
    has_picture,
    material_views,
)
from isogyre.instruments.kits import KITS
from isogyre.population.hypotheses import looks_of

# Tests whose answer is a figure or a word with nothing to look at beside it. Interference figures
# are to come.
WITHOUT_PICTURE = {
    "colour",
    "colour_incandescent",
    "transparency",
    "lustre",
    "optic_character",
    "sg",
    "magnet",
    "thermal",
    "electrical",
    "reflectivity_index",
}
# A red stone, single or double refraction unknown: corundum against spinel.
RED = {"colour": "red", "chelsea": "red", "spectrum_text": "chromium lines", "uv_lw": "strong red"}


@pytest.fixture(scope="module")
def red(workbench):
    return reckon(workbench, RED)[1]


def test_for(workbench, field, word=""):
    return next(
        test
        for instrument in workbench.instruments
        for test in instrument.tests
        if test.field == field and word in test.name
    )


test_for.__test__ = False


def views(workbench, standing, field, word="", **options):
    return expected_views(workbench, test_for(workbench, field, word), standing, "v", **options)


def titles(svg):
    """Return title and description of a drawing."""
    root = ElementTree.fromstring(svg)
    return " ".join(part.text for part in root if part.tag.endswith(("title", "desc")))


def test_every_test_of_the_fullest_kit_is_drawn_or_known_to_have_no_picture():
    assert {field for field in KITS["full"].fields if not has_picture(field)} == WITHOUT_PICTURE


@pytest.mark.parametrize("field", PICTURES)
def test_a_view_is_drawn_for_both_leaders_under_ids_of_its_own(workbench, red, field):
    drawn = views(workbench, red, field)
    assert len({view.candidate for view in drawn}) == 2
    ids = [re.findall(r' id="([^"]+)"', view.svg) for view in drawn]
    assert all(found.startswith(f"v-{n}") for n, side in enumerate(ids) for found in side)
    for view in drawn:
        assert view.seen
        assert "style=" not in view.svg
        assert view.svg or view.limit == NOT_KNOWN


def test_the_refractometer_shows_two_edges_for_ruby_and_one_for_spinel(workbench, red):
    """Ranges of published_properties.csv: corundum 1.760 to 1.770, double; spinel 1.718, single."""
    by_name = {view.candidate: view for view in views(workbench, red, "ri_low")}
    low, high = map(float, by_name["corundum"].seen.split(" and "))
    assert low == pytest.approx(1.762, abs=0.004)
    assert high - low == pytest.approx(0.008, abs=0.002)
    assert float(by_name["spinel"].seen) == pytest.approx(1.718, abs=0.006)


def test_both_leaders_are_shown_on_one_piece_of_the_scale(workbench, red):
    shown = [titles(view.svg) for view in views(workbench, red, "ri_low")]
    scales = {re.search(r"Scale from ([\d.]+ to [\d.]+)", text).group(1) for text in shown}
    assert len(scales) == 1


def test_between_crossed_polars_the_singly_refractive_one_stays_dark(workbench, red):
    by_name = {view.candidate: view for view in views(workbench, red, "polariscope")}
    assert "stays dark" in titles(by_name["spinel"].svg)
    assert "light and dark by turns" in titles(by_name["corundum"].svg)


def test_the_spectrum_marks_what_is_the_lamps_own(workbench, red):
    (lit, *_) = views(workbench, red, "spectrum_text", lamp="white-led")
    assert "white-led" in lit.svg


def test_a_stone_is_drawn_in_its_own_colour_if_it_was_told(workbench, red):
    blue = views(workbench, red, "polariscope", colour="blue")[0].svg
    assert blue != views(workbench, red, "polariscope", colour="red")[0].svg


def test_nothing_seen_is_an_empty_field_and_a_feature_is_drawn(workbench):
    _, standing = reckon(workbench, {"colour": "red", "ri_low": "1.762", "ri_high": "1.770"})
    drawn = views(workbench, standing, "magnification", "melt growth")
    for view in drawn:
        empty = view.seen.startswith("none of these")
        assert ("nothing of what was looked for" in titles(view.svg)) == empty


@pytest.mark.parametrize(
    "material", ["corundum", "spinel", "glass, soda-lime", "turquoise", "diamond"]
)
def test_a_card_shows_each_instrument_once(workbench, material):
    views = material_views(workbench, material).views
    assert len({view.candidate for view in views}) == len(views) == 7
    ids = [found for view in views for found in re.findall(r' id="([^"]+)"', view.svg)]
    assert len(ids) == len(set(ids))


def test_a_card_says_what_its_material_shows(workbench):
    """Common practice: spinel is singly refractive, about 1.718, and not pleochroic."""
    shown = {view.candidate: view.seen for view in material_views(workbench, "spinel").views}
    assert float(shown["refractometer, both edges over a full turn"]) == pytest.approx(
        1.718, abs=0.01
    )
    assert shown["polariscope"].startswith("single")
    assert shown["dichroscope"].startswith("none")


def test_a_material_nobody_knows_has_no_views(workbench):
    assert material_views(workbench, "unobtainium").views == ()


def test_a_card_shows_one_colour_type_and_says_which(workbench):
    """Ruby glows and is red through the filter; a card of all corundum would say neither."""
    shown = material_views(workbench, "corundum")
    seen = {view.candidate: view.seen for view in shown.views}
    assert shown.of in {"ruby, natural", "sapphire, natural"}
    red = shown.of.startswith("ruby")
    assert (seen["colour filter"].split(" (")[0] == "red") == red


def test_no_view_claims_more_than_the_catalogue(workbench):
    """Where a look says nothing of an instrument, no card draws what it would show."""
    for name, material in workbench.catalogue.materials.items():
        views = {view.candidate: view for view in material_views(workbench, name).views}
        grown = [body for body in material.bodies if body.growth == material.bodies[0].growth]
        first = [look for body in grown for look in looks_of(material, body)]
        if not any(look.filter for look in first):
            assert views["colour filter"].svg == ""
        if not any(look.spectrum for look in first):
            assert views["hand spectroscope"].svg == ""
        if not any(look.pleochroism for look in first):
            assert views["dichroscope"].svg == ""
        if not any(look.long_wave for look in first):
            assert views["long-wave ultraviolet"].svg == ""


def test_a_stone_that_is_in_no_catalogue_is_not_drawn(workbench):
    _, standing = reckon(workbench, {"sg": "5.2", "ri_low": "1.70", "ri_high": "1.75"})
    assert standing.leader == "unlisted"
    for field in ("pleochroism", "spectrum_text", "uv_lw", "chelsea", "polariscope"):
        unlisted = views(workbench, standing, field)[0]
        assert (unlisted.svg, unlisted.limit) == ("", NOT_KNOWN)
