"""The script that sets up and checks tells the truth about what it found."""

import socket

import pytest

import dev


@pytest.fixture
def nothing_to_install(monkeypatch):
    monkeypatch.setattr(dev, "SYSTEM_PACKAGES", ())


@pytest.mark.usefixtures("nothing_to_install")
def test_every_failing_step_is_named_and_the_others_still_run(monkeypatch, capsys):
    ran = []
    monkeypatch.setattr(dev, "call", lambda name, *_: ran.append(name) or name in {"mypy", "ruff"})
    assert dev.test([]) == 1
    assert ran == ["ruff", "ruff", "mypy", "lint-imports", "pytest"]
    assert capsys.readouterr().out.splitlines()[-1] == "failed: ruff check, ruff format, mypy"


@pytest.mark.usefixtures("nothing_to_install")
def test_arguments_go_to_pytest_alone(monkeypatch):
    ran = []
    monkeypatch.setattr(dev, "call", lambda *command: ran.append(command) or 0)
    assert dev.test(["tests/optics", "-k", "sign"]) == 0
    assert ran == [("pytest", "tests/optics", "-k", "sign")]


def test_a_port_that_answers_is_left_alone():
    with socket.create_server((dev.HOST, 0)) as taken:
        port = taken.getsockname()[1]
        assert dev.free_port(port) != port


def test_an_unknown_verb_is_refused(capsys):
    assert dev.main(["polish"]) == 2
    assert "dev.py run" in capsys.readouterr().err
