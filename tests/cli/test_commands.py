"""`next`, `material`, `serve`, help, the library door and the page that teaches the shell."""

import json
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

import isogyre as library
from isogyre.desk import RecordTroubleError

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/from-the-shell.md").read_text("utf-8")


def test_next_ranks_tests_by_gain_and_names_their_harm(isogyre):
    answer = isogyre("next", "-", "--json", given='{"colour": "red"}').answer
    gains = [test["gain_bits"] for test in answer["next"]]
    assert gains == sorted(gains, reverse=True)
    assert all(test["harm"] is None or test["harm"]["reason"] for test in answer["next"])
    assert {"id", "kit", "settles", "next"} <= answer.keys()


def test_an_empty_record_asks_where_to_begin(isogyre):
    assert isogyre("next", "-", "--json", given="{}").answer["next"]


def test_no_liquid_is_proposed_on_an_opaque_stone_nobody_knows(isogyre):
    stone = {"colour": "blue", "transparency": "opaque", "form": "cabochon"}
    answer = isogyre("next", "-", "--json", given=json.dumps(stone)).answer
    assert not [t for t in answer["next"] if "refractometer" in t["test"] or "water" in t["test"]]
    blocked = {test["test"] for test in answer["blocked"]}
    assert any("refractometer" in test for test in blocked)


def test_what_a_mounted_stone_does_not_allow_is_not_asked_for(isogyre):
    answer = isogyre("next", "-", "--json", given='{"colour": "red", "form": "mounted"}').answer
    assert not [t for t in (*answer["next"], *answer["blocked"]) if "weighed" in t["test"]]


def test_a_pocket_kit_holds_no_refractometer(isogyre):
    given = '{"colour": "red"}'
    answer = isogyre("next", "-", "--kit", "pocket", "--json", given=given).answer
    assert not [t for t in (*answer["next"], *answer["blocked"]) if "refractometer" in t["test"]]


@pytest.mark.parametrize("name", ["corundum", "Tsavorite", "spinnel", "taaffeite or musgravite"])
def test_a_material_is_found_by_name_variety_or_with_a_slip(isogyre, name):
    card = isogyre("material", name, "--json").answer
    assert card["constants"]
    assert all(c["source"] for constant in card["constants"] for c in constant["claims"])
    assert isogyre("material", name).out.splitlines()[0]


def test_a_material_nobody_knows_is_refused_with_those_near_it(isogyre):
    ended = isogyre("material", "kryptonite")
    assert ended.code == 2
    assert "no material is called" in ended.err


@pytest.mark.parametrize("command", [(), ("identify",), ("next",), ("material",), ("serve",)])
def test_every_command_has_help(isogyre, command):
    ended = isogyre(*command, "--help")
    assert ended.code == 0
    assert "usage: isogyre" in ended.out


def test_an_unknown_option_is_refused_in_one_line(isogyre):
    ended = isogyre("identify", "-", "--loud")
    assert ended.code == 2
    assert len(ended.err.strip().splitlines()) == 1


def test_three_lines_of_python_do_the_same(isogyre):
    record = library.Record(colour="red", ri_low=1.762, ri_high=1.770)
    in_shell = isogyre("identify", "-", "--json", given=json.dumps(record.entries())).answer
    assert json.loads(json.dumps(library.identify(record))) == in_shell


def test_the_library_refuses_what_no_field_is_named_after():
    with pytest.raises(TypeError):
        library.Record(color="red")
    with pytest.raises(RecordTroubleError, match="ri_low"):
        library.identify({"ri_low": 17})


def test_importing_the_library_loads_no_catalogue():
    code = "import isogyre, sys; print('isogyre.catalogue' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"


@pytest.mark.parametrize("line", re.findall(r"```sh run\n(.*?)\n```", PAGE))
def test_the_page_about_the_shell_runs_as_written(isogyre, tmp_path, monkeypatch, line):
    record = re.search(r"```json record\n(.*?)```", PAGE, re.DOTALL).group(1)
    monkeypatch.chdir(tmp_path)
    Path("stone.json").write_text(record, "utf-8")
    Path("stones.jsonl").write_text(json.dumps(json.loads(record)) + "\n", "utf-8")
    ended = isogyre(*shlex.split(line)[1:])
    assert ended.code == 0, ended.err
    assert ended.out
