"""Readings: appended, corrected by other readings, never changed.

Two corrections of one reading, made at the same time, both stand; whoever looks decides.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping

from sqlalchemy import ColumnElement, and_, exists, select
from sqlalchemy.orm import Session, aliased

from isogyre.ledger.entries import Reading
from isogyre.ledger.errors import UnknownEntryError
from isogyre.ledger.rows import entries_of, row_of
from isogyre.ledger.tables import ReadingRow


def is_current() -> ColumnElement[bool]:
    """Return the condition that a reading counts: not superseded, and no withdrawal itself."""
    later = aliased(ReadingRow)
    is_superseded = exists().where(later.supersedes == ReadingRow.id)
    return and_(ReadingRow.state != "withdrawn", ~is_superseded)


class Readings:
    """The readings of all stones."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def append(self, *readings: Reading) -> None:
        """Append readings, corrections and withdrawals.

        Raises
        ------
        AlreadyKeptError
            If a reading of this id is there.
        UnknownReferenceError
            If the stone is unknown, or the reading superseded is not of this stone and field.
        RefusedEntryError
            If a correction gives no reason, a withdrawal names no reading, or a word is unknown.
        """
        with self._session.begin_nested():
            self._session.add_all(row_of(ReadingRow, reading) for reading in readings)

    def get(self, reading_id: str) -> Reading:
        """Return one reading, whether it counts or not, or raise UnknownEntryError."""
        found = self._where(ReadingRow.id == reading_id)
        if not found:
            raise UnknownEntryError("reading", reading_id)
        return found[0]

    def thread(self, stone_id: str) -> tuple[Reading, ...]:
        """Return every reading ever made of a stone, in order of time."""
        return self._where(ReadingRow.stone_id == stone_id)

    def current(self, stone_id: str) -> tuple[Reading, ...]:
        """Return the readings that count now, in order of time."""
        return self._where(ReadingRow.stone_id == stone_id, is_current())

    def current_of(self, stone_ids: Collection[str]) -> Mapping[str, tuple[Reading, ...]]:
        """Return the readings that count now for many stones; a stone without any has none."""
        found: dict[str, list[Reading]] = defaultdict(list)
        for reading in self._where(ReadingRow.stone_id.in_(stone_ids), is_current()):
            found[reading.stone_id].append(reading)
        return {stone_id: tuple(found[stone_id]) for stone_id in stone_ids}

    def _where(self, *conditions: ColumnElement[bool]) -> tuple[Reading, ...]:
        wanted = select(ReadingRow).where(*conditions)
        in_order = wanted.order_by(ReadingRow.taken_at, ReadingRow.sequence)
        return entries_of(Reading, self._session.scalars(in_order))
