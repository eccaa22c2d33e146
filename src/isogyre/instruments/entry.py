"""Read what people type: decimal commas, units behind numbers, ranges, negations."""

import re
from collections.abc import Mapping
from typing import Any

from isogyre.instruments.instrument import Field, Readings, Trouble

NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?")
UNITS = ("ct", "cts", "carat", "carats", "g", "mg", "mm", "nm", "°c", "c", "g/cm3", "g/cm³", "%")
NEGATIONS = ("no ", "not ", "none", "without ", "absence of ", "lacks ", "lacking ", "never ")
DENIED = re.compile(r"\b(not|none) (seen|observed|visible|found|present|detected)\b|\babsent\b")
LONGEST_SHOWN = 60


class NotANumberError(ValueError):
    """The entry is no plain number."""

    def __init__(self, value: object) -> None:
        super().__init__(
            f"'{str(value)[:LONGEST_SHOWN]}' is not a number; write for instance 1.762"
        )


def parse_number(value: Any) -> float:
    """Return a number typed with point or comma, a unit behind it or 'about' before it.

    Raises
    ------
    NotANumberError
        If there is no number, or more than one.
    """
    if isinstance(value, bool) or value is None:
        raise NotANumberError(value)
    try:
        number = float(value) if isinstance(value, int | float) else _typed_number(str(value))
    except OverflowError:
        raise NotANumberError("a number of hundreds of digits") from None
    if number != number or number in (float("inf"), float("-inf")):
        raise NotANumberError(value)
    return number


def _typed_number(text: str) -> float:
    bare = text.strip().lower().replace("\u2212", "-").removeprefix("about").removeprefix("ca.")
    match = NUMBER.match(bare.strip())
    if match is None:
        raise NotANumberError(text)
    behind = bare.strip()[match.end() :].strip()
    if behind and behind not in UNITS:
        raise NotANumberError(text)
    return float(match.group().replace(",", "."))


def number_in(record: Mapping[str, Any], field: Field, found: Readings) -> float | None:
    """Return the number under ``field`` or None; trouble goes to ``found``."""
    value = record.get(field.key)
    if value is None or value == "":
        return None
    try:
        number = parse_number(value)
    except NotANumberError as error:
        found.troubles.append(Trouble(field.key, str(error)))
        return None
    if (field.low is not None and number < field.low) or (
        field.high is not None and number > field.high
    ):
        unit = f" {field.unit}" if field.unit else ""
        found.troubles.append(
            Trouble(
                field.key,
                f"{number:g} lies outside {field.low:g} to {field.high:g}{unit}: check the figure",
            )
        )
        return None
    return number


def decimals_of(*values: Any) -> int:
    """Return the most decimals any of ``values`` is given with."""
    behind = (re.search(r"[.,](\d+)", str(value)) for value in values)
    return max((len(found.group(1)) for found in behind if found), default=0)


def is_negated(text: str) -> bool:
    """Return whether the phrase says that something was not there."""
    lowered = text.strip().lower()
    return lowered.startswith(NEGATIONS) or bool(DENIED.search(lowered))


def clauses(text: str) -> list[str]:
    """Split prose at semicolons, commas and full stops into its clauses."""
    return [part.strip() for part in re.split(r"[;,.](?!\d)", text) if part.strip()]
