"""What editors, pipes and slips of the hand do to a file: answered, or refused in one line."""

import json
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from isogyre import desk
from isogyre.cli.records import MOST_BYTES

RUBY = '{"colour": "red", "ri_low": 1.762, "ri_high": 1.770}'


def one_line_of(ended):
    """Return the single line a refusal says."""
    assert ended.code == 2
    assert ended.out == ""
    (line,) = ended.err.splitlines()
    return line


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbf" + RUBY.encode(),
        RUBY.replace(", ", ",\r\n").encode() + b"\r\n",
        RUBY.encode("utf-16"),
    ],
    ids=["byte order mark", "CRLF", "UTF-16"],
)
def test_what_editors_do_to_a_file_does_not_matter(isogyre, content):
    answer = isogyre("identify", "-", "--json", given=content).answer
    assert answer["species"][0]["name"] == "corundum"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "empty"),
        ("  \n", "empty"),
        ("[]", "a list"),
        ("7", "a number"),
        ('"ruby"', "a text"),
        ("null", "null"),
        ('{"colour": "red",}', "line 1, column 18"),
        ('{\n"colour": red\n}', "line 2, column 11 before 'red'"),
        (RUBY * 2, "--batch"),
        ('{"sg": 4.0, "sg": 3.9}', "'sg' stands twice"),
        ('{"sg": NaN}', "NaN is no reading"),
        ('{"sg": -Infinity}', "-Infinity is no reading"),
        ('{"sg": 1e999}', "sg: 'inf' is not a number"),
        ('{"sg": ' + "9" * 400 + "}", "not a number"),
        ('{"sg": ' + "9" * 5000 + "}", "thousands of digits"),
        ("[" * 10_000, "nested too deeply"),
        ('{"a":' * 20 + "1" + "}" * 20, "nested too deeply"),
        ('{"note": "' + "x" * MOST_BYTES + '"}', "longer than 100 kB"),
        (b'{"colour": "\xff"}', "not UTF-8 at byte 13"),
    ],
)
def test_a_refusal_says_where_and_how_to_mend_it(isogyre, content, said):
    assert said in one_line_of(isogyre("identify", "-", given=content))


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ('"colour": 5', "5 is not words between quotes"),
        ('"colour": {"main": "red"}', "is not words between quotes"),
        ('"colour": true', "True is not words"),
        ('"magnification": [1, 2]', "is not a list of phrases"),
        ('"sg": [4.0]', "[4.0] is not a number"),
        ('"sg": false', "False is not a number"),
        ('"laboratory": "ruby"', "is not an object between braces"),
        ('"claim": {"words": "ruby", "trust": "high"}', "'high' is not a number"),
    ],
)
def test_a_value_of_the_wrong_kind_is_named_with_what_belongs_there(isogyre, entry, said):
    assert said in one_line_of(isogyre("identify", "-", given="{" + entry + "}"))


def test_null_means_left_out(isogyre):
    with_null = isogyre("identify", "-", "--json", given='{"colour": "red", "sg": null}')
    without = isogyre("identify", "-", "--json", given='{"colour": "red"}')
    assert with_null.answer == without.answer


def test_a_folder_is_not_taken_for_a_file(isogyre, tmp_path):
    assert "is a folder" in one_line_of(isogyre("identify", tmp_path))


def test_what_was_typed_cannot_draw_on_the_terminal(isogyre):
    record = {"colour": "red\x1b[2J\nTogether", "x\ny": "1\n2", "id": "a\nb", "lustre": "\x07"}
    ended = isogyre("identify", "-", "--batch", given=json.dumps(record))
    assert ended.code == 0
    assert not [letter for letter in ended.out if letter != "\n" and not letter.isprintable()]
    assert "Together" not in [line.strip() for line in ended.out.splitlines()]


def test_half_a_letter_is_printed_by_its_number():
    record = '{"id": "\\ud800", "colour": "red"}'
    command = [sys.executable, "-m", "isogyre.cli", "identify", "-", "--batch"]
    ran = subprocess.run(command, input=record, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr


def test_whoever_has_read_enough_may_hang_up(tmp_path):
    stones = tmp_path / "stones.jsonl"
    stones.write_text((RUBY + "\n") * 20, "utf-8")
    command = [sys.executable, "-m", "isogyre.cli", "identify", stones, "--batch", "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert json.loads(running.stdout.readline())["line"] == 1
        running.stdout.close()
        said = running.stderr.read()
    assert running.returncode == 0
    assert said == b""


def test_a_fault_of_the_program_is_told_without_a_traceback(isogyre, monkeypatch):
    def break_down(*_):
        raise ZeroDivisionError("of all things")

    monkeypatch.setattr(desk, "identify", break_down)
    ended = isogyre("identify", "-", given=RUBY)
    assert ended.code == 1
    (line,) = ended.err.splitlines()
    assert "a fault of the program" in line
    assert "of all things" in line
    batch = isogyre("identify", "-", "--batch", given=f"{RUBY}\nbroken\n{RUBY}")
    assert batch.code == 1
    assert [line.split(":")[0][-6:] for line in batch.err.splitlines()] == [
        "line 1",
        "line 2",
        "line 3",
    ]


def test_a_figure_that_is_none_is_a_fault_and_never_printed(isogyre, monkeypatch):
    monkeypatch.setattr(desk, "next_tests", lambda *_: {"gain_bits": float("nan")})
    ended = isogyre("next", "-", "--json", given="{}")
    assert ended.code == 1
    assert ended.out == ""


@pytest.mark.parametrize("port", ["-1", "65536", "http", "8000.5"])
def test_what_is_no_port_is_refused(isogyre, port):
    assert "no port" in one_line_of(isogyre("serve", f"--port={port}"))


@settings(
    max_examples=100, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.binary(max_size=60) | st.text(alphabet='{}[]",:0eE.-x\\u\n ', max_size=40))
def test_any_bytes_are_answered_or_refused_but_never_a_fault(isogyre, content):
    for options in ((), ("--batch",)):
        ended = isogyre("identify", "-", "--json", *options, given=content)
        assert ended.code in (0, 2), ended.err
        assert "Traceback" not in ended.err
