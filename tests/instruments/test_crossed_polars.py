"""Polariscope, conoscope and dichroscope: words, their negations, and how far they are believed."""

import numpy as np
import pytest

from isogyre.instruments.crossed_polars import sign_table
from isogyre.instruments.dichroscope import strength_table

SINGLE, DOUBLE, AGGREGATE, ANOMALOUS = "SR", "DR", "AGG", "ADR"


@pytest.fixture(scope="module")
def same_evidence(sparse, one):
    """Tell whether two records say the same of every hypothesis."""

    def same(first, second):
        return np.allclose(one(**first).term(sparse).rows, one(**second).term(sparse).rows)

    return same


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("sr", SINGLE),
        ("single", SINGLE),
        ("singly refractive", SINGLE),
        ("isotropic", SINGLE),
        ("DR.", DOUBLE),
        ("anisotropic", DOUBLE),
        ("doubly refractive (DR)", DOUBLE),
        ("aggregate reaction", AGGREGATE),
        ("strong ADR", ANOMALOUS),
        ("shows anomalous double refraction", ANOMALOUS),
        ("anomalous extinction, snake-like", ANOMALOUS),
    ],
)
def test_the_polariscope_answers_in_many_words(same_evidence, said, code):
    assert same_evidence({"polariscope": said}, {"polariscope": code})


@pytest.mark.parametrize("said", ["not isotropic", "no double refraction seen", "not DR"])
def test_a_denied_answer_of_the_polariscope_is_not_read_as_given(read, said):
    found = read(polariscope=said)
    assert not found.readings
    assert [i.field for i in found.ignored] == ["polariscope"]


def test_the_polariscope_parts_glass_from_quartz_but_strain_keeps_a_door_open(log_rows, rows_of):
    glass, quartz = rows_of(species="glass"), rows_of(material="quartz")
    double = log_rows(polariscope="DR")
    assert double[quartz].min() > double[glass].max() + 1
    anomalous = log_rows(polariscope="ADR")
    assert anomalous[glass].max() > anomalous[quartz].max()


@pytest.mark.parametrize(
    ("said", "word"),
    [("Uniaxial", "uniaxial"), ("uniaxial positive", "uniaxial"), ("bull's-eye", "uniaxial")],
)
def test_an_optic_character_may_stand_among_other_words(same_evidence, said, word):
    assert same_evidence({"optic_character": said}, {"optic_character": word})


def test_anisotropic_is_no_kind_of_isotropic(read, log_rows, rows_of):
    found = read(optic_character="anisotropic")
    assert not any("isotropic" in r.shown for r in found.readings) or (
        log_rows(optic_character="anisotropic")[rows_of(species="glass")].max()
        < log_rows(optic_character="anisotropic")[rows_of(species="topaz")].min()
    )


def test_a_denied_optic_character_is_not_read_as_given(read):
    assert not read(optic_character="not uniaxial").readings


def test_no_figure_found_says_nothing_and_is_told_so(read):
    found = read(optic_character="none found")
    assert not found.readings
    assert [i.field for i in found.ignored] == ["optic_character"]


def test_uniaxial_or_biaxial_lies_between_the_two(sparse, one):
    uni, bi, either = (
        one(optic_character=c).term(sparse).rows
        for c in ("uniaxial", "biaxial", "uniaxial or biaxial")
    )
    assert (either <= np.maximum(uni, bi) + 1e-12).all()
    assert (either >= np.minimum(uni, bi) - 1e-12).all()


@pytest.mark.parametrize("said", ["+", "positive", "Positive"])
def test_a_positive_sign_speaks_for_quartz_against_beryl(log_rows, rows_of, said):
    log = log_rows(optic_sign=said)
    assert log[rows_of(material="quartz")].min() > log[rows_of(species="beryl")].max() + 2


def test_the_sign_of_peridot_cannot_be_read(population, rows_of):
    """Its optic angle is near 90 degrees: either sign is read about as often."""
    plus = sign_table(population)[rows_of(species="olivine"), 0]
    assert ((plus > 0.2) & (plus < 0.8)).all()


@pytest.mark.parametrize(
    ("said", "strength"),
    [
        ("none", "none"),
        ("none seen", "none"),
        ("not seen", "none"),
        ("not observed", "none"),
        ("no pleochroism", "none"),
        ("no dichroism visible", "none"),
        ("faint", "weak"),
        ("moderate: blue / green", "distinct"),
        ("pronounced", "strong"),
    ],
)
def test_the_strength_of_pleochroism_in_many_words(sparse, read, one, said, strength):
    first = next(r for r in read(pleochroism=said).readings if r.cause == "pleochroism")
    assert np.allclose(first.term(sparse).rows, one(pleochroism=strength).term(sparse).rows)


def test_dichroism_seen_speaks_against_glass(log_rows, rows_of):
    log = log_rows(pleochroism="dichroism seen")
    assert log[rows_of(species="glass")].max() < log[rows_of(variety="blue sapphire")].max() - 1


def test_no_distinct_pleochroism_leaves_weak_and_none(sparse, one):
    denied, none, strong = (
        one(pleochroism=p).term(sparse).rows for p in ("no distinct pleochroism", "none", "strong")
    )
    assert np.corrcoef(denied, none)[0, 1] > 0.5
    assert np.corrcoef(denied, strong)[0, 1] < 0


def test_isotropic_stones_show_no_pleochroism_nine_times_in_ten(population, rows_of):
    table = strength_table(population)[rows_of(species="glass")]
    assert (table[:, 0] > 0.9).all()


def test_three_colours_speak_for_a_biaxial_stone(log_rows, rows_of):
    three = log_rows(pleochroism="strong: green / grey / brown")
    two = log_rows(pleochroism="strong: green / brown")
    gain = three - two
    assert gain[rows_of(species="cordierite")].max() > gain[rows_of(species="tourmaline")].max() + 1
