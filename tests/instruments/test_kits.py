"""Kits: what their own figures change in what a test is expected to tell."""

import numpy as np
import pytest

from isogyre.evidence import SETTINGS, plan, read_record, stand
from isogyre.evidence.record import fields_of
from isogyre.instruments.kits import KITS, Kit, KitFigureError
from isogyre.instruments.refractometer import DEFAULT_LIMIT


@pytest.fixture(scope="module")
def gain(population, instruments):
    """Return what a kit expects a test to tell of a stone, in bits."""

    def gain(record, name, **errors):
        kit = Kit("own", "", frozenset(), errors=errors)
        (test,) = (t for i in instruments for t in i.tests if t.name.startswith(name))
        readings = read_record(record, instruments).readings
        standing = stand(population, readings, SETTINGS["bench"])
        (proposal,) = plan(standing, [kit.makes(test)]).proposals
        return proposal.gain_bits

    return gain


# Tests that read a number, with a figure of a good and of a poor instrument.
GOOD_AND_POOR = [
    ("refractometer, both edges", "ri_sd", 0.001, 0.01),
    ("refractometer, spot", "ri_spot_sd", 0.004, 0.03),
    ("density", "balance_readability_ct", 0.001, 0.1),
    ("density", "sg_sd", 0.01, 0.2),
    ("reflectivity", "reflectivity_sd", 0.01, 0.2),
    # A liquid of lower index ends the scale earlier, and more stones look alike beyond it.
    ("refractometer, both edges", "ri_limit", 1.81, 1.60),
]


@pytest.mark.parametrize(("test", "key", "good", "poor"), GOOD_AND_POOR)
@pytest.mark.parametrize("record", [{"colour": "red"}, {"colour": "green"}], ids=["red", "green"])
def test_a_poor_instrument_is_expected_to_tell_less(gain, record, test, key, good, poor):
    assert gain(record, test, **{key: poor}) < gain(record, test, **{key: good})


@pytest.mark.parametrize(
    ("test", "key"),
    [(test, key) for test, key, _, _ in GOOD_AND_POOR if key != "sg_sd"],
)
def test_the_usual_figure_entered_by_hand_changes_nothing(gain, instruments, test, key):
    """What a page shows as usual is what the planner assumes, so blank and usual are the same.

    A density has no usual error: it follows from the weight.
    """
    usual = fields_of(instruments)[key].usual
    stated = gain({"colour": "red"}, test, **{key: usual})
    assert stated == pytest.approx(gain({"colour": "red"}, test), rel=1e-9)


def test_a_figure_of_another_instrument_changes_nothing(gain):
    usual = gain({"colour": "red"}, "density")
    assert gain({"colour": "red"}, "density", ri_sd=0.02) == usual


def test_a_kit_makes_its_tests_in_its_own_minutes_and_to_its_own_end_of_scale(instruments):
    kit = Kit("own", "", frozenset({"ri_low"}), {"ri_low": 7.5}, {"ri_limit": 1.78})
    held = [kit.makes(t) for i in instruments for t in i.tests if kit.holds(t)]
    assert [(t.field, t.minutes, t.end_of_scale) for t in held] == [("ri_low", 7.5, 1.78)]
    (usual,) = (t for i in instruments for t in i.tests if t.field == "ri_low")
    assert (usual.minutes, usual.end_of_scale) == (3.0, DEFAULT_LIMIT)


def test_a_kit_without_figures_leaves_every_test_as_it_is(instruments):
    tests = [t for i in instruments for t in i.tests]
    assert [KITS["full"].makes(test) for test in tests] == tests


def test_the_chances_of_a_test_with_its_own_figures_still_sum_to_one(population, instruments):
    figures = {key: poor for _, key, _, poor in GOOD_AND_POOR}
    rows = np.arange(0, len(population.labels), 37)
    weight = np.full(population.stones.n_alpha.shape, 1 / population.stones.n_alpha.size)
    for test in (t.made_with(figures) for i in instruments for t in i.tests if t.shows):
        sums = test.outcomes(population, weight, rows).sum(axis=1)
        assert sums == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("figures", [{"minutes": {"sg": 0}}, {"errors": {"ri_sd": -0.001}}])
@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_a_kit_refuses_minutes_and_errors_that_no_instrument_has(figures, wrong):
    ((kind, held),) = figures.items()
    (key,) = held
    with pytest.raises(KitFigureError, match=f"'own' holds .* for {key}"):
        Kit("own", "", frozenset(), **{kind: {key: wrong}})


def test_every_figure_a_reading_is_read_by_is_a_field_with_a_range(instruments):
    fields = fields_of(instruments)
    keys = {k for f in fields.values() for k in (f.error_key, f.needs_key) if k}
    assert keys == {
        "ri_sd", "ri_spot_sd", "ri_limit", "sg_sd", "balance_readability_ct", "uv_peak_nm",
        "reflectivity_sd",
    }  # fmt: skip
    for key in keys:
        assert fields[key].kind == "number"
        assert 0 < fields[key].low < fields[key].high


# ---- what a figure in the record does to its reading


def sd_of(reading, population):
    return float(np.max(reading.term(population).figures[0].sd))


@pytest.mark.parametrize(
    ("record", "key", "small", "large"),
    [
        ({"ri_spot": "1.76"}, "ri_spot_sd", 0.004, 0.03),
        ({"reflectivity_index": "1.76"}, "reflectivity_sd", 0.02, 0.2),
    ],
)
def test_a_stated_error_is_the_error_of_its_reading(one, population, record, key, small, large):
    wide, narrow = (sd_of(one(**record, **{key: sd}), population) for sd in (large, small))
    usual = sd_of(one(**record), population)
    assert narrow < usual < wide


def test_a_limit_beside_words_that_tell_of_an_edge_is_no_reading(one):
    """One edge was noted and told in words; the end of this scale says nothing about another."""
    record = {"ri_low": 1.54, "ri_text": "one edge seen, blurred", "ri_limit": 1.79}
    assert "beyond" not in one(**record).shown
    assert "beyond 1.79" in one(ri_low=1.54, ri_limit=1.79).shown
