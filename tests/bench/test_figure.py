"""A figure says whether its goal is met; the command line says which figures there are."""

import math

import pytest

from bench.__main__ import MEASUREMENTS, arguments_of
from bench.figure import Figure


@pytest.mark.parametrize(
    ("value", "goal", "met"),
    [(31, ">= 31", True), (30, ">= 31", False), (0.1, "<= 0.1", True), (0.2, "<= 0.1", False)],
)
def test_a_goal_is_met_up_to_its_limit(value, goal, met):
    assert Figure("any", value, "", 1, goal).met is met


def test_without_a_goal_nothing_is_met_or_missed():
    assert Figure("any", 3, "", 1).met is None


def test_no_number_meets_no_goal_and_is_null_in_json():
    figure = Figure("any", math.nan, "", 0, "<= 1")
    assert figure.met is False
    assert figure.as_json()["value"] is None


def test_a_figure_of_a_measurement_can_be_asked_for_alone():
    assert arguments_of(["cases.top1", "table"]).names == ["cases.top1", "table"]


def test_an_unknown_measurement_is_refused_with_the_known_ones(capsys):
    with pytest.raises(SystemExit) as refusal:
        arguments_of(["hardness"])
    assert refusal.value.code == 2
    told = capsys.readouterr().err
    assert all(name in told for name in MEASUREMENTS)
