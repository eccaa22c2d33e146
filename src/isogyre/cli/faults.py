"""What a command says when it cannot go on, and the code it ends with."""

import sys
from enum import IntEnum
from traceback import extract_tb

LONGEST = 400


class Exit(IntEnum):
    """How a command ended."""

    DONE = 0
    FAULT = 1
    BAD_INPUT = 2
    STOPPED = 130


class BadInputError(ValueError):
    """What was given to a command cannot be used; the message says how to mend it."""


def say(*words: str) -> None:
    """Say one line on standard error; ``words`` are parted by colons."""
    print(one_line(": ".join(words)), file=sys.stderr)


def one_line(text: str) -> str:
    """Return ``text`` as one line without control characters, cut if it is very long."""
    shown = "".join(letter if letter.isprintable() else " " for letter in text)
    shown = " ".join(shown.split())
    return shown if len(shown) <= LONGEST else f"{shown[: LONGEST - 1]}…"


def fault_in_words(error: Exception) -> str:
    """Return what went wrong inside the program, and where, for a report to its makers."""
    where = extract_tb(error.__traceback__)[-1]
    place = f"{where.filename.rpartition('isogyre')[2].lstrip('/')}, line {where.lineno}"
    return (
        f"a fault of the program, not of your input ({type(error).__name__} in {place}: {error}); "
        "please report it with what you entered"
    )
