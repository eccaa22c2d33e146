"""Between entries and rows: their fields have the same names."""

from collections.abc import Iterable
from dataclasses import fields
from typing import Any, TypeVar

from isogyre.ledger.entries import Entry
from isogyre.ledger.tables import Base

E = TypeVar("E", bound=Entry)
R = TypeVar("R", bound=Base)


def row_of(kind: type[R], entry: Entry, without: Iterable[str] = (), **more: Any) -> R:
    """Return a row that holds an entry, save some of its fields, and more columns."""
    kept = {name: getattr(entry, name) for name in _names(type(entry)) if name not in without}
    return kind(**kept, **more)


def entry_of(kind: type[E], row: Base, **more: Any) -> E:
    """Return the entry that a row holds; ``more`` gives the fields that are not in the row."""
    kept = {name: getattr(row, name) for name in _names(kind) if name not in more}
    return kind(**kept, **more)


def entries_of(kind: type[E], rows: Iterable[Base]) -> tuple[E, ...]:
    """Return the entries that rows hold."""
    return tuple(entry_of(kind, row) for row in rows)


def _names(kind: type[Entry]) -> tuple[str, ...]:
    return tuple(part.name for part in fields(kind))  # type: ignore[arg-type]
