"""Whose each stone is and where it went: appended, and the newest holds."""

from collections.abc import Collection, Mapping

from sqlalchemy import ColumnElement, exists, select
from sqlalchemy.orm import Session, aliased

from isogyre.ledger.entries import Custody
from isogyre.ledger.rows import entries_of, row_of
from isogyre.ledger.tables import CustodyRow
from isogyre.ledger.values import HOLDINGS, OWNERSHIPS, Holding


def is_newest(among: Collection[Holding] = HOLDINGS) -> ColumnElement[bool]:
    """Return the condition that an entry is its stone's newest of these kinds.

    Newest is what was appended last, whatever its date: so a wrong date can be put right.
    """
    later = aliased(CustodyRow)
    is_outlived = exists().where(
        later.stone_id == CustodyRow.stone_id,
        later.sequence > CustodyRow.sequence,
        later.holding.in_(among),
    )
    return CustodyRow.holding.in_(among) & ~is_outlived


class CustodyEntries:
    """The custody entries of all stones."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def append(self, *entries: Custody) -> None:
        """Append entries; each one holds from now on. All but *mine* name a party.

        Raises
        ------
        AlreadyKeptError
            If an entry of this id is there.
        UnknownReferenceError
            If stone or party are unknown.
        RefusedEntryError
            If a word is unknown or the party is missing.
        """
        with self._session.begin_nested():
            self._session.add_all(row_of(CustodyRow, entry) for entry in entries)

    def history(self, stone_id: str) -> tuple[Custody, ...]:
        """Return every entry of a stone as appended, the newest last."""
        return self._where(CustodyRow.stone_id == stone_id)

    def newest(self, stone_id: str) -> Custody | None:
        """Return the entry that holds now, or None."""
        return self.newest_of([stone_id]).get(stone_id)

    def ownership(self, stone_id: str) -> Custody | None:
        """Return the newest entry that says whose the stone is, or None.

        A client's ring that is out to a setter still is the client's.
        """
        return self.newest_of([stone_id], OWNERSHIPS).get(stone_id)

    def newest_of(
        self, stone_ids: Collection[str], among: Collection[Holding] = HOLDINGS
    ) -> Mapping[str, Custody]:
        """Return for many stones the newest entry of these kinds, where there is one."""
        found = self._where(CustodyRow.stone_id.in_(stone_ids), is_newest(among))
        return {entry.stone_id: entry for entry in found}

    def _where(self, *conditions: ColumnElement[bool]) -> tuple[Custody, ...]:
        wanted = select(CustodyRow).where(*conditions).order_by(CustodyRow.sequence)
        return entries_of(Custody, self._session.scalars(wanted))
