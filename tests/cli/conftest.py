"""The command as a person runs it, without starting a new program for every test."""

import io
import json
import sys
from dataclasses import dataclass

import pytest

from isogyre import desk
from isogyre.cli import main

BENCH = desk.open_workbench()


@dataclass(frozen=True)
class Ended:
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str

    @property
    def answer(self):
        """Return the one JSON object that was printed."""
        return json.loads(self.out, parse_constant=pytest.fail)


@pytest.fixture
def isogyre(monkeypatch, capsys):
    """Return the command; ``given`` is what stands on its standard input."""
    monkeypatch.setattr(desk, "open_workbench", lambda: BENCH)

    def run(*arguments, given=""):
        content = given if isinstance(given, bytes) else given.encode()
        stdin = io.TextIOWrapper(io.BytesIO(content))
        monkeypatch.setattr(sys, "stdin", stdin)
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as stopped:
            code = stopped.code
        printed = capsys.readouterr()
        return Ended(int(code or 0), printed.out, printed.err)

    return run
