"""A figure says whether its goal is met; the command line says which figures there are."""

import json
import math

import numpy as np
import pytest

from bench.__main__ import MEASUREMENTS, arguments_of, main
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


def test_a_count_from_an_array_can_be_written_as_json():
    counted = Figure("any", np.arange(4).sum(), "cases", 4, ">= 6").as_json()
    assert json.loads(json.dumps(counted)) == counted
    assert (counted["value"], counted["met"]) == (6, True)


def test_a_figure_of_a_measurement_can_be_asked_for_alone():
    assert arguments_of(["cases.top1", "table"]).names == ["cases.top1", "table"]


def test_an_unknown_measurement_is_refused_with_the_known_ones(capsys):
    with pytest.raises(SystemExit) as refusal:
        arguments_of(["hardness"])
    assert refusal.value.code == 2
    told = capsys.readouterr().err
    assert all(name in told for name in MEASUREMENTS)


def test_figures_are_printed_as_json_one_a_line(capsys):
    assert main(["handbook", "--json"]) == 0
    names = [json.loads(line)["name"] for line in capsys.readouterr().out.splitlines()]
    assert names == ["handbook.top1", "handbook.top3"]


def test_a_missed_goal_ends_with_code_1(monkeypatch, capsys):
    missed = [Figure("handbook.top1", 10, "cases", 37, ">= 31")]
    monkeypatch.setattr("bench.__main__.measured", lambda world, name: missed)
    assert main(["handbook"]) == 1
    assert "MISSED" in capsys.readouterr().out


def test_a_figure_that_is_none_of_the_measurement_is_refused(capsys):
    assert main(["handbook.top7"]) == 2
    assert "handbook.top7" in capsys.readouterr().err
