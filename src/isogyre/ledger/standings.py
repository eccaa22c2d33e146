"""Notes of the standing: what was last reckoned of each stone, to search the list by.

A note is no record: it is replaced when it is made again, and can be made again at any time.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import asdict, fields
from typing import Any

from sqlalchemy import ColumnElement, exists, func, select
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from isogyre.ledger.entries import StandingNote, StoneFilter
from isogyre.ledger.reckoned import IS_ARCHIVED, revision
from isogyre.ledger.rows import entries_of
from isogyre.ledger.tables import StandingNoteRow, StoneRow
from isogyre.ledger.values import folded

# Each database has its own words for "insert, or else replace"; they are spelled alike.
INSERTS: Mapping[str, Callable[..., Any]] = {
    "sqlite": sqlite.insert,
    "postgresql": postgresql.insert,
}
REPLACED = {part.name for part in fields(StandingNote)} - {"stone_id"} | {"search_leader"}


class Standings:
    """The notes of the standing, one a stone."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def put(self, note: StandingNote) -> None:
        """Keep a note in place of the stone's last one, unless that one is of a newer revision.

        Revision and readings are seen in one view: otherwise a reading that comes between could
        be counted without having been weighed.

        Raises
        ------
        UnknownReferenceError
            If the stone is unknown.
        RefusedEntryError
            If a probability is not between 0 and 1, or the revision not above 0.
        """
        insert = INSERTS[self._session.get_bind().dialect.name]
        made = insert(StandingNoteRow).values(**asdict(note), search_leader=folded(note.leader))
        # One statement, so that of two writers neither can put the older note over the newer.
        replacing = made.on_conflict_do_update(
            index_elements=["stone_id"],
            set_={name: made.excluded[name] for name in REPLACED},
            where=made.excluded.revision >= StandingNoteRow.revision,
        )
        with self._session.begin_nested():
            self._session.execute(replacing)

    def get(self, stone_id: str) -> StandingNote | None:
        """Return a stone's note, whatever its revision, or None."""
        return self.of([stone_id]).get(stone_id)

    def of(self, stone_ids: Collection[str]) -> Mapping[str, StandingNote]:
        """Return the notes of many stones, where there are any, whatever their revision."""
        wanted = select(StandingNoteRow).where(StandingNoteRow.stone_id.in_(stone_ids))
        # What was put in this unit of work went past the session's own copies.
        rows = self._session.scalars(wanted.execution_options(populate_existing=True))
        return {note.stone_id: note for note in entries_of(StandingNote, rows)}

    def stale(self, made_by: str, limit: int) -> tuple[str, ...]:
        """Return stones whose note has to be made (again), the newest stone first.

        Those are the stones not archived whose note is missing, was made by another catalogue or
        program, or is not of the current revision.
        """
        wanted = select(StoneRow.id).where(*_is_stale(made_by))
        in_order = wanted.order_by(StoneRow.created_at.desc(), StoneRow.id.desc())
        return tuple(self._session.scalars(in_order.limit(limit)))

    def count_stale(self, made_by: str) -> int:
        """Return how many stones ``stale`` would find without a limit."""
        counted = select(func.count(StoneRow.id)).where(*_is_stale(made_by))
        return self._session.scalar(counted) or 0

    def awaited(self) -> Mapping[str, int]:
        """Return the instruments that stones not archived wait for, with how many each.

        As in a filter, only notes of a stone's current revision count.
        """
        counted = (
            select(StandingNoteRow.awaits, func.count())
            .join(StoneRow, StoneRow.id == StandingNoteRow.stone_id)
            .where(StandingNoteRow.awaits != "", _is_current(), ~IS_ARCHIVED)
            .group_by(StandingNoteRow.awaits)
        )
        return {awaits: count for awaits, count in sorted(self._session.execute(counted).all())}


def noted(wanted: StoneFilter) -> list[ColumnElement[bool]]:
    """Return what the current note of a stone must say to be in the list."""
    said: list[ColumnElement[bool]] = [
        StandingNoteRow.search_leader.contains(word, autoescape=True)
        for word in folded(wanted.leader).split()
    ]
    if wanted.is_open is not None:
        said.append(StandingNoteRow.is_open == wanted.is_open)
    if wanted.does_not_fit is not None:
        said.append(StandingNoteRow.does_not_fit == wanted.does_not_fit)
    if wanted.awaits:
        said.append(StandingNoteRow.awaits == wanted.awaits)
    return [_has_current_note(*said)] if said else []


def _is_stale(made_by: str) -> tuple[ColumnElement[bool], ...]:
    return ~IS_ARCHIVED, ~_has_current_note(StandingNoteRow.made_by == made_by)


def _has_current_note(*conditions: ColumnElement[bool]) -> ColumnElement[bool]:
    return exists().where(StandingNoteRow.stone_id == StoneRow.id, *conditions, _is_current())


def _is_current() -> ColumnElement[bool]:
    # The revision is reckoned from the note's own column, so only of notes that meet the rest. No
    # note is ahead of its stone: "not below" is "equal", but PostgreSQL takes an equality for so
    # rare that it would reckon all revisions before it sorts, rather than stop after a page.
    return StandingNoteRow.revision >= revision(StandingNoteRow.stone_id)
