"""A material is found by whatever the trade calls it, and one slip of spelling is forgiven."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from isogyre.catalogue import UnknownMaterialError, load_catalogue
from isogyre.desk.find_material import find_material

CATALOGUE = load_catalogue()


@pytest.mark.parametrize("name", CATALOGUE.materials)
def test_every_material_is_found_by_its_own_name(name):
    found_as, material = find_material(CATALOGUE, name)
    assert (found_as, material.name) == (name, name)


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("ruby", "corundum"),
        ("EMERALD", "beryl"),
        ("  tsavorite ", "grossular"),
        ("Saphire", "corundum"),
        ("demantiod", "andradite"),
        ("beril", "beryl"),
        ("cats-eye", "chrysoberyl"),
    ],
)
def test_varieties_and_slips_are_understood(asked, name):
    assert find_material(CATALOGUE, asked)[1].name == name


def test_of_a_species_with_several_materials_the_commonest_is_meant():
    found_as, material = find_material(CATALOGUE, "zircon")
    assert found_as == "zircon"
    assert material.species == "zircon"


@pytest.mark.parametrize("asked", ["kryptonite", "", "   ", "!!!", "x" * 5000])
def test_what_is_no_name_is_refused(asked):
    with pytest.raises(UnknownMaterialError) as refused:
        find_material(CATALOGUE, asked)
    assert len(str(refused.value)) < 300


def test_a_refusal_names_what_comes_nearest():
    with pytest.raises(UnknownMaterialError, match="zoisite"):
        find_material(CATALOGUE, "bogusite")


@settings(max_examples=100, derandomize=True)
@given(st.text(max_size=40))
def test_any_text_is_found_or_refused(asked):
    try:
        found_as, material = find_material(CATALOGUE, asked)
    except UnknownMaterialError as refused:
        assert len(refused.near) <= 5
    else:
        assert material.name in CATALOGUE.materials
        assert found_as
