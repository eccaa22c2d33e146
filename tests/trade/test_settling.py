"""Where hand tests stop, the laboratory's method is named."""

import pytest

from isogyre.trade import UnknownSubjectError, settling_method


@pytest.mark.parametrize(
    ("question", "species", "treatment", "word"),
    [
        ("origin", "pearl", "", "X-ray"),
        ("origin", "diamond", "", "photoluminescence"),
        ("name", "taaffeite", "", "Raman"),
        # Published: treatments.csv, 'photoluminescence: peak shift and broadening'.
        ("treatment", "spinel", "heat", "photoluminescence"),
        # Published: treatments.csv, 'none routine' for tanzanite.
        ("treatment", "zoisite", "heat", "none routine"),
    ],
)
def test_a_question_has_its_method(rules, question, species, treatment, word):
    assert word in settling_method(question, species, treatment, rules)


def test_a_treatment_is_settled_as_the_catalogue_says(rules, catalogue):
    said = settling_method("treatment", "beryl", "oil", rules, catalogue.treatments)
    assert said == catalogue.treatments["oil"].laboratory


def test_the_species_is_heard_before_the_treatment_in_general(rules, catalogue):
    said = settling_method("treatment", "zoisite", "heat", rules, catalogue.treatments)
    assert said != catalogue.treatments["heat"].laboratory


def test_every_species_that_is_also_grown_has_a_method_of_its_own(rules, catalogue):
    origins: dict[str, set[str]] = {}
    for material in catalogue.materials.values():
        grown = {catalogue.growths[body.growth].origin for body in material.bodies}
        origins.setdefault(material.species, set()).update(grown)
    general = settling_method("origin", "no such species", "", rules)
    both = [s for s, found in origins.items() if "synthetic" in found and "natural" in found]
    assert [s for s in both if settling_method("origin", s, "", rules) == general] == []


def test_every_practised_treatment_has_an_answer(rules, catalogue):
    for material in catalogue.materials.values():
        for treatment in material.treatments:
            asked = ("treatment", material.species, treatment.name)
            assert settling_method(*asked, rules, catalogue.treatments)


def test_a_treatment_nobody_knows_has_no_method(rules):
    assert settling_method("treatment", "beryl", "moonlight", rules) == ""


def test_an_unknown_question_is_refused(rules):
    with pytest.raises(UnknownSubjectError, match="origin"):
        settling_method("country", "beryl", "", rules)
