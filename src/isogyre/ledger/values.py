"""The words and values that entries are made of, and what can be kept of any value unchanged."""

import math
import re
import unicodedata
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal, get_args

from isogyre.ledger.errors import CurrencyError, NaiveTimeError, UnkeepableError

StoneKind = Literal["stone", "ring", "piece", "parcel"]
StoneForm = Literal["faceted", "cabochon", "bead", "carving", "rough", "mounted"]
AskedPer = Literal["stone", "carat", "parcel"]
EventKind = Literal["entered", "amended", "archived", "restored"]
Ownership = Literal["mine", "client's", "on approval from"]
Absence = Literal["out to client", "out to setter", "out to laboratory"]
Holding = Ownership | Absence
PartyKind = Literal["client", "dealer", "setter", "laboratory"]
ReadingState = Literal["seen", "not seen", "told", "withdrawn"]
DamageKind = Literal["chip", "abraded edge", "worn prong", "open fissure", "missing stone", "other"]
Severity = Literal["slight", "clear", "severe"]
Moment = Literal["received", "returned"]
Verdict = Literal["as received", "changed"]

OWNERSHIPS: tuple[Ownership, ...] = get_args(Ownership)
HOLDINGS: tuple[Holding, ...] = (*OWNERSHIPS, *get_args(Absence))

# Beyond it not every reader of JSON keeps a number (RFC 7493, the range of I-JSON).
LARGEST_NUMBER = 2**53 - 1
# Readings are shallow; both databases and Python's own reader stop somewhere deeper.
DEEPEST_NESTING = 64
CURRENCY = re.compile("[A-Z]{3}")
# UTF-8 has no surrogates and PostgreSQL no null character in a text.
NO_TEXT = re.compile("[\0\ud800-\udfff]")


@dataclass(frozen=True)
class Money:
    """An amount in whole minor units (cents, or yen) of an ISO 4217 currency.

    Raises
    ------
    CurrencyError
        If the amount is no whole number below 2^53, or the code not three capitals.
    """

    minor: int
    currency: str

    def __post_init__(self) -> None:
        is_whole = isinstance(self.minor, int) and not isinstance(self.minor, bool)
        if not (
            is_whole and abs(self.minor) <= LARGEST_NUMBER and CURRENCY.fullmatch(self.currency)
        ):
            raise CurrencyError(self.minor, self.currency)


def folded(text: str) -> str:
    """Return a text without capitals, and with one spelling of each character, to search by."""
    return unicodedata.normalize("NFKC", text).casefold()


def require_keepable(value: Any) -> None:
    """Refuse a value of an entry that one of the databases would change or lose.

    Raises
    ------
    NaiveTimeError
        If a time has no time zone.
    UnkeepableError
        If a number is not finite, or a text holds a null character or half a surrogate pair.
    """
    match value:
        case datetime():
            require_aware(value)
        case str():
            require_text(value)
        case float() if not math.isfinite(value):
            raise UnkeepableError(value, "a measure is a finite number")
        case tuple():
            for item in value:
                require_keepable(item)
        case list() | dict():
            require_json(value)


def require_aware(moment: datetime) -> None:
    """Refuse a time without its zone."""
    if moment.utcoffset() is None:
        raise NaiveTimeError(moment)


def require_text(text: str) -> None:
    """Refuse a text that one of the databases cannot keep."""
    if NO_TEXT.search(text):
        raise UnkeepableError(text, "it holds a character that is no text (null or a surrogate)")


def require_json(value: Any, depth: int = 0) -> None:
    """Refuse a value that does not come back equal from JSON on both databases."""
    if depth > DEEPEST_NESTING:
        raise UnkeepableError(value, f"it is nested deeper than {DEEPEST_NESTING}")
    match value:
        case None | bool():
            pass
        case str():
            require_text(value)
        case int() | float():
            # Written so that it also refuses what is not a number.
            if not abs(value) <= LARGEST_NUMBER:
                raise UnkeepableError(value, "a number in JSON is finite and below 2^53")
        case list():
            for item in value:
                require_json(item, depth + 1)
        case dict():
            for key, item in value.items():
                require_key(key)
                require_json(item, depth + 1)
        case _:
            raise UnkeepableError(value, f"JSON knows no {type(value).__name__}")


def require_key(key: Any) -> None:
    """Refuse a key that JSON would turn into another one."""
    if not isinstance(key, str):
        raise UnkeepableError(key, "a key in JSON is a text")
    require_text(key)
