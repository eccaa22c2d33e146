"""A catalogue that does not fit together is refused, and the message says where to mend it."""

import pytest

from isogyre.catalogue import CatalogueError, load_catalogue
from isogyre.catalogue.errors import UnknownMaterialError

SOURCE = '[[source]]\nkey = "memory"\nauthor = ""\ntitle = "memory"\n'
GROWTH = (
    '[[growth]]\nname = "natural"\norigin = "natural"\nwhat = "found"\nsource = "memory"\n'
    '[[treatment]]\nname = "heat"\nwhat = "heated"\nlaboratory = "none"\n'
    'hand_tests = "see nothing"\nsource = "memory"\n'
    '[[feature]]\nname = "silk"\ncause = "silk"\nwhat = "needles"\nsource = "memory"\n'
)
MATERIAL = """
[[material]]
name = "corundum"
species = "corundum"
family = "oxides"
kind = "crystal"
how_common = "often"
source = "memory"
optic = { character = "uniaxial", sign = "-", source = "memory" }
care = { torch = "no", pickle = "yes", ultrasonic = "yes", steam = "yes", light = "yes", source = "memory" }
lookalikes = []
[material.constants]
sg = [{ low = 3.9, high = 4.1, source = "memory" }]
[[material.bodies]]
growth = "natural"
how_common = "often"
source = "memory"
features = [{ name = "silk", seen = "often", source = "memory" }]
[[material.bodies.looks]]
variety = "ruby"
how_common = "often"
source = "memory"
colours = { red = "often" }
[[material.treatments]]
name = "heat"
how_common = "often"
source = "memory"
looks = ["ruby"]
"""  # noqa: E501


@pytest.fixture
def faults_of(tmp_path):
    """Return a reader of the faults that a small catalogue has after one change."""

    def faults(was: str = "", becomes: str = "") -> tuple[str, ...]:
        assert was in MATERIAL
        (tmp_path / "words.toml").write_text(SOURCE + GROWTH, "utf-8")
        (tmp_path / "oxides.toml").write_text(MATERIAL.replace(was, becomes, 1), "utf-8")
        try:
            load_catalogue(tmp_path)
        except CatalogueError as error:
            assert all(fault in str(error) for fault in error.faults)
            return error.faults
        return ()

    return faults


def test_the_small_catalogue_is_sound_before_it_is_spoilt(faults_of):
    assert faults_of() == ()


@pytest.mark.parametrize(
    ("was", "becomes", "place"),
    [
        ("lookalikes = []", 'lookalikes = ["spinell"]', "no material is called 'spinell'"),
        ('name = "silk"', 'name = "silc"', "natural: no feature is called 'silc'"),
        ('growth = "natural"', 'growth = "natur"', "no growth is called 'natur'"),
        ('name = "heat"', 'name = "heating"', "no treatment is called 'heating'"),
        (
            'high = 4.1, source = "memory"',
            'high = 4.1, source = "GIB"',
            "no source is called 'GIB'",
        ),
        ('looks = ["ruby"]', 'looks = ["rubi"]', "no look or growth of it is called 'rubi'"),
        ('variety = "ruby"', 'variety = "ruby"\nlike = "rubi"', "is called 'rubi'"),
        ('looks = ["ruby"]', 'growths = ["flux"]', "no look or growth of it is called 'flux'"),
    ],
)
def test_a_dangling_name_is_refused_with_file_and_place(faults_of, was, becomes, place):
    (fault,) = faults_of(was, becomes)
    assert fault.startswith("oxides.toml: material 'corundum'")
    assert place in fault


@pytest.mark.parametrize(
    ("was", "becomes", "place"),
    [
        ('family = "oxides"', 'family = "oxides"\nlusters = ["vitreous"]', "lusters"),
        ("low = 3.9", "lowest = 3.9", "constants.sg.0.lowest"),
        ('how_common = "often"', 'how_common = "common"', "how_common"),
        ("red = ", "crimson = ", "bodies.0.looks.0.colours.crimson"),
        ('kind = "crystal"', 'kind = "stone"', "kind"),
    ],
)
def test_an_unknown_key_or_word_is_refused_with_file_and_place(faults_of, was, becomes, place):
    faults = faults_of(was, becomes)
    assert all(fault.startswith("oxides.toml: material 'corundum': ") for fault in faults)
    assert any(f": {place}" in fault for fault in faults)


def test_an_inverted_claim_is_refused_with_file_and_place(faults_of):
    (fault,) = faults_of("low = 3.9, high = 4.1", "low = 4.1, high = 3.9")
    assert fault.startswith("oxides.toml: material 'corundum': constants.sg.0: ")
    assert "low 4.1 lies above high 3.9" in fault


def test_every_fault_is_told_not_only_the_first(faults_of, tmp_path):
    (tmp_path / "broken.toml").write_text("[[material]\n", "utf-8")
    (tmp_path / "other.toml").write_text('[[gem]]\nname = "ruby"\n', "utf-8")
    faults = faults_of("low = 3.9, high = 4.1", "low = 4.1, high = 3.9")
    files = sorted(fault.partition(":")[0] for fault in faults)
    assert files == ["broken.toml", "other.toml", "oxides.toml"]


def test_a_name_that_stands_twice_is_refused_with_both_files(faults_of, tmp_path):
    (tmp_path / "again.toml").write_text(MATERIAL, "utf-8")
    (fault,) = faults_of()
    assert fault == "oxides.toml: material 'corundum' stands in again.toml as well"


def test_a_feature_confused_with_a_plain_word_is_refused(faults_of, tmp_path):
    (tmp_path / "features.toml").write_text(
        '[[feature]]\nname = "needles"\ncause = "silk"\nwhat = "needles"\n'
        'source = "memory"\nconfused_with = ["scratches"]\n',
        "utf-8",
    )
    (fault,) = faults_of()
    place = "features.toml: feature 'needles', confused_with"
    assert fault == f"{place}: no feature is called 'scratches'"


def test_an_unknown_material_names_what_comes_near():
    assert "near it: spinel" in str(UnknownMaterialError("spinell", ["spinel"]))
