"""Stones and pieces: entered, amended with a trail, archived and restored, listed.

What is amended is also appended as an event with its old and new value, so nothing is lost.
"""

from collections.abc import Mapping
from dataclasses import asdict, fields, replace
from datetime import datetime
from typing import Any, TypeVarTuple

from sqlalchemy import ColumnElement, Select, exists, func, literal, or_, select, tuple_
from sqlalchemy.orm import Session

from isogyre.ledger.columns import WORDS, UtcTime
from isogyre.ledger.custody import CustodyEntries, is_newest
from isogyre.ledger.entries import ListedStone, Stone, StoneEvent, StoneFilter, StonePage
from isogyre.ledger.errors import UnamendableError, UnknownEntryError
from isogyre.ledger.readings import is_current
from isogyre.ledger.reckoned import IS_ARCHIVED, revision
from isogyre.ledger.rows import entries_of, entry_of, row_of
from isogyre.ledger.standings import Standings, noted
from isogyre.ledger.tables import CustodyRow, ReadingRow, StoneEventRow, StoneRow
from isogyre.ledger.values import OWNERSHIPS, EventKind, Money, folded

AMENDABLE = frozenset(part.name for part in fields(Stone)) - {"id", "created_at"}
PAGE = 50
Columns = TypeVarTuple("Columns")


class Stones:
    """The stones and pieces of the house and in its care."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def enter(self, stone: Stone, *, by: str) -> None:
        """Enter a stone.

        Raises
        ------
        AlreadyKeptError
            If a stone of this id is there.
        RefusedEntryError
            If a word is unknown, a measure is not above zero, the name is empty, or only one of
            asking price and what it is asked per is given.
        """
        with self._session.begin_nested():
            self._session.add(row_of(StoneRow, stone, search_text=_search_text(stone)))
            # The event points at the stone, so it has to be there first.
            self._session.flush()
            self._add_event(stone.id, "entered", stone.created_at, by)

    def amend(self, stone_id: str, changes: Mapping[str, Any], *, at: datetime, by: str) -> None:
        """Change some fields of a stone; what stays as it was leaves no trace.

        Raises
        ------
        UnknownEntryError
            If no stone has this id.
        UnamendableError
            If a field is unknown, or is the id or the time of entry.
        RefusedEntryError
            As for ``enter``.
        """
        if wrong := changes.keys() - AMENDABLE:
            raise UnamendableError(wrong, AMENDABLE)
        row = self._row(stone_id, locked=True)
        before = entry_of(Stone, row)
        after = replace(before, **changes)
        trail = _trail(before, after)
        if not trail:
            return
        with self._session.begin_nested():
            for name in trail:
                setattr(row, name, getattr(after, name))
            row.search_text = _search_text(after)
            self._add_event(stone_id, "amended", at, by, trail)

    def archive(self, stone_id: str, *, at: datetime, by: str) -> None:
        """Put a stone into the archive; nothing happens if it is there."""
        if not self.listed(stone_id).is_archived:
            with self._session.begin_nested():
                self._add_event(stone_id, "archived", at, by)

    def restore(self, stone_id: str, *, at: datetime, by: str) -> None:
        """Take a stone out of the archive; nothing happens if it is not there."""
        if self.listed(stone_id).is_archived:
            with self._session.begin_nested():
                self._add_event(stone_id, "restored", at, by)

    def get(self, stone_id: str) -> Stone:
        """Return a stone as it is entered now, or raise UnknownEntryError."""
        return entry_of(Stone, self._row(stone_id))

    def listed(self, stone_id: str) -> ListedStone:
        """Return a stone with its revision and custody, or raise UnknownEntryError."""
        found = self._listed(_LISTED.where(StoneRow.id == stone_id))
        if not found:
            raise UnknownEntryError("stone", stone_id)
        return found[0]

    def revision(self, stone_id: str) -> int:
        """Return how many readings and events a stone has; 0 for an unknown one."""
        counted = select(revision(StoneRow.id)).where(StoneRow.id == stone_id)
        return self._session.scalar(counted) or 0

    def events(self, stone_id: str) -> tuple[StoneEvent, ...]:
        """Return what happened to a stone's entry, in the order it was kept."""
        wanted = select(StoneEventRow).where(StoneEventRow.stone_id == stone_id)
        rows = self._session.scalars(wanted.order_by(StoneEventRow.sequence))
        return entries_of(StoneEvent, rows)

    def page(
        self, wanted: StoneFilter | None = None, *, after: str | None = None, limit: int = PAGE
    ) -> StonePage:
        """Return one page of the stones wanted, newest first.

        Parameters
        ----------
        wanted
            Which stones; without it all that are not archived.
        after
            Where the page before ended, as that page said.
        limit
            How many stones at most, 1 or more.

        Raises
        ------
        UnknownEntryError
            If ``after`` is no stone.
        """
        conditions = _conditions(wanted or StoneFilter())
        if after is not None:
            conditions.append(_follows(self.get(after)))
        chosen = _in_order(select(StoneRow.id).where(*conditions)).limit(limit + 1)
        # What the list shows of a stone is reckoned for this page only.
        found = self._listed(_in_order(_LISTED.where(StoneRow.id.in_(chosen))))
        has_more = len(found) > limit
        return StonePage(found[:limit], found[limit - 1].stone.id if has_more else None)

    def count(self, wanted: StoneFilter | None = None) -> int:
        """Return how many stones a filter finds."""
        counted = select(func.count(StoneRow.id)).where(*_conditions(wanted or StoneFilter()))
        return self._session.scalar(counted) or 0

    def places(self) -> Mapping[str, int]:
        """Return where stones that are not archived lie, with how many there are in each place."""
        counted = select(StoneRow.place, func.count(StoneRow.id)).where(
            StoneRow.place != "", ~IS_ARCHIVED
        )
        rows = self._session.execute(counted.group_by(StoneRow.place)).all()
        return {place: count for place, count in sorted(rows)}

    def _row(self, stone_id: str, *, locked: bool = False) -> StoneRow:
        # Whoever amends waits for another one who does, and then sees what that one wrote.
        row = self._session.get(
            StoneRow, stone_id, with_for_update=locked or None, populate_existing=locked
        )
        if row is None:
            raise UnknownEntryError("stone", stone_id)
        return row

    def _add_event(
        self,
        stone_id: str,
        kind: EventKind,
        at: datetime,
        by: str,
        changes: dict[str, Any] | None = None,
    ) -> None:
        event = StoneEvent(stone_id=stone_id, kind=kind, at=at, by=by, changes=changes or {})
        self._session.add(row_of(StoneEventRow, event))

    def _listed(self, listing: Select[StoneRow, int, bool]) -> tuple[ListedStone, ...]:
        rows = self._session.execute(listing).all()
        ids = [row[0].id for row in rows]
        custody = CustodyEntries(self._session)
        newest, ownership = custody.newest_of(ids), custody.newest_of(ids, OWNERSHIPS)
        notes = Standings(self._session).of(ids)
        return tuple(
            ListedStone(
                entry_of(Stone, stone),
                revision,
                bool(is_archived),
                newest.get(stone.id),
                ownership.get(stone.id),
                notes.get(stone.id),
            )
            for stone, revision, is_archived in rows
        )


# ---- what the list shows ---------------------------------------------------------------------

_LISTED = select(StoneRow, revision(StoneRow.id), IS_ARCHIVED)


def _in_order(listing: Select[*Columns]) -> Select[*Columns]:
    """Return a selection of stones, the newest first."""
    return listing.order_by(StoneRow.created_at.desc(), StoneRow.id.desc())


def _follows(last: Stone) -> ColumnElement[bool]:
    """Return the condition that a stone stands below another one in the list."""
    place = tuple_(literal(last.created_at, UtcTime()), literal(last.id, WORDS))
    return tuple_(StoneRow.created_at, StoneRow.id) < place


def _conditions(wanted: StoneFilter) -> list[ColumnElement[bool]]:
    """Return what a stone must meet to be in the list."""
    conditions = [_mentions(word) for word in folded(wanted.words).split()]
    conditions += [_has_current(field) for field in wanted.has]
    conditions += [~_has_current(field) for field in wanted.lacks]
    conditions += noted(wanted)
    if wanted.kind is not None:
        conditions.append(StoneRow.kind == wanted.kind)
    if wanted.place:
        conditions.append(StoneRow.place == wanted.place)
    if wanted.archived is not None:
        conditions.append(IS_ARCHIVED if wanted.archived else ~IS_ARCHIVED)
    if wanted.whose is not None:
        conditions.append(_in_custody(is_newest(OWNERSHIPS), CustodyRow.holding == wanted.whose))
    if wanted.holding is not None:
        conditions.append(_in_custody(is_newest(), CustodyRow.holding == wanted.holding))
    if wanted.party_id is not None:
        conditions.append(_in_custody(_stands(), CustodyRow.party_id == wanted.party_id))
    if wanted.due_before is not None:
        conditions.append(_in_custody(_stands(), CustodyRow.due < wanted.due_before))
    return conditions


def _mentions(word: str) -> ColumnElement[bool]:
    return StoneRow.search_text.contains(word, autoescape=True)


def _has_current(field: str) -> ColumnElement[bool]:
    return exists().where(
        ReadingRow.stone_id == StoneRow.id, ReadingRow.field == field, is_current()
    )


def _in_custody(*conditions: ColumnElement[bool]) -> ColumnElement[bool]:
    return exists().where(CustodyRow.stone_id == StoneRow.id, *conditions)


def _stands() -> ColumnElement[bool]:
    """Return the condition that a custody entry says whose the stone is now, or where."""
    return or_(is_newest(OWNERSHIPS), is_newest())


# ---- words and changes -----------------------------------------------------------------------


def _search_text(stone: Stone) -> str:
    return folded("\n".join((stone.name, stone.claim, stone.note, stone.place)))


def _trail(before: Stone, after: Stone) -> dict[str, Any]:
    """Return the fields that differ, each with what it was and what it is."""
    pairs = {name: (getattr(before, name), getattr(after, name)) for name in sorted(AMENDABLE)}
    return {
        name: {"was": _plain(was), "is": _plain(now)}
        for name, (was, now) in pairs.items()
        if was != now
    }


def _plain(value: Any) -> Any:
    return asdict(value) if isinstance(value, Money) else value
