"""Read records as they are handed over: a JSON object, or JSON Lines with a record a line."""

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO

from isogyre.cli.faults import BadInputError

STANDARD_INPUT = "-"
# The record of one stone, every reading made and a page of notes, is a tenth of this.
MOST_BYTES = 100_000
# A record is an object of values, lists and small objects; JSON nested deeper is something else.
DEEPEST = 8
AN_EXAMPLE = '{"colour": "blue", "ri_low": 1.762, "ri_high": 1.770}'


def place_of(file: str) -> str:
    """Return what a file is called in a message."""
    return "standard input" if file == STANDARD_INPUT else file


def read_record(file: str) -> dict[str, Any]:
    """Return the one record in ``file`` (``-`` is standard input).

    Raises
    ------
    BadInputError
        If the file cannot be read or does not hold one record.
    """
    with _opened(file) as stream:
        return parse_record(_bounded(stream.read(MOST_BYTES + 1)))


def record_lines(file: str) -> Iterator[tuple[int, bytes]]:
    """Yield number, from 1, and bytes of every line of ``file`` that is not blank.

    Raises
    ------
    BadInputError
        If the file cannot be read.
    """
    with _opened(file) as stream:
        number = 0
        while line := stream.readline(MOST_BYTES + 1):
            number += 1
            _skip_to_end_of_line(stream, line)
            if line.strip(b"\xef\xbb\xbf \t\r\n"):
                yield number, line


def parse_record(content: bytes) -> dict[str, Any]:
    """Return the record that ``content`` holds as JSON.

    Raises
    ------
    BadInputError
        If it is too large, not UTF-8, not JSON, or not an object of plain values.
    """
    text = _decoded(_bounded(content))
    if not text.strip():
        raise BadInputError(f"empty: write a record, for instance {AN_EXAMPLE}")
    record = _parsed(text)
    if not isinstance(record, dict):
        raise BadInputError(
            f"{_kind_of(record)}, where a record is an object between braces, for instance "
            f"{AN_EXAMPLE}; for many records write one a line and add --batch"
        )
    if not _is_shallow(record):
        raise BadInputError("nested too deeply: a record is one object of plain values")
    return record


@contextmanager
def _opened(file: str) -> Iterator[BinaryIO]:
    if file == STANDARD_INPUT:
        yield sys.stdin.buffer
        return
    try:
        with Path(file).open("rb") as stream:
            yield stream
    except FileNotFoundError:
        raise BadInputError("no such file: give its path, or - for standard input") from None
    except IsADirectoryError:
        raise BadInputError("is a folder: give the path of a file in it") from None
    except OSError as error:
        raise BadInputError(f"cannot be read ({error.strerror})") from None


def _skip_to_end_of_line(stream: BinaryIO, line: bytes) -> None:
    while line and not line.endswith(b"\n"):
        line = stream.readline(MOST_BYTES)


def _bounded(content: bytes) -> bytes:
    if len(content) > MOST_BYTES:
        raise BadInputError(
            f"longer than {MOST_BYTES // 1000} kB: this is not the record of one stone; "
            "for many records write one a line and add --batch"
        )
    return content


def _decoded(content: bytes) -> str:
    try:
        # Some editors write UTF-16, or put a mark before UTF-8; both can be told from the bytes.
        text = content.decode(json.detect_encoding(content))
    except UnicodeDecodeError as error:
        raise BadInputError(
            f"not UTF-8 at byte {error.start + 1}: save the file as UTF-8"
        ) from None
    return text.removeprefix("\ufeff")


def _parsed(text: str) -> Any:
    try:
        return json.loads(text, parse_constant=_refuse, object_pairs_hook=_without_doubles)
    except json.JSONDecodeError as error:
        raise BadInputError(_json_trouble(error, text)) from None
    except RecursionError:
        raise BadInputError("nested too deeply: a record is one object of plain values") from None
    except BadInputError:
        raise
    except ValueError:
        raise BadInputError("a number of thousands of digits: write for instance 1.762") from None


def _json_trouble(error: json.JSONDecodeError, text: str) -> str:
    if error.msg == "Extra data":
        return (
            f"more than one record (the second starts in line {error.lineno}, column "
            f"{error.colno}): for many records write one a line and add --batch"
        )
    here = text[error.pos : error.pos + 20].partition("\n")[0].strip()
    before = f" before '{here}'" if here else " at the end"
    wanted = error.msg[0].lower() + error.msg[1:]
    return f"not JSON in line {error.lineno}, column {error.colno}{before}: {wanted}"


def _refuse(word: str) -> None:
    raise BadInputError(f"{word} is no reading: leave out what was not read")


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    record = dict(pairs)
    if len(record) < len(pairs):
        keys = [key for key, _ in pairs]
        double = next(key for key in keys if keys.count(key) > 1)
        raise BadInputError(f"'{double}' stands twice: keep one of them")
    return record


def _kind_of(value: Any) -> str:
    return {list: "a list", str: "a text", bool: "true or false", type(None): "null"}.get(
        type(value), "a number"
    )


def _is_shallow(value: Any) -> bool:
    """Whether nothing in ``value`` is nested deeper than a record can be, level by level."""
    level = [value]
    for _ in range(DEEPEST):
        inside = [v for v in level if isinstance(v, dict | list)]
        level = [x for v in inside for x in (v.values() if isinstance(v, dict) else v)]
    return not any(isinstance(v, dict | list) for v in level)
