"""What belongs to the house rather than to a stone: parties, kits, settings."""

from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from isogyre.ledger.entries import Kit, Party
from isogyre.ledger.errors import UnknownEntryError
from isogyre.ledger.rows import entries_of, entry_of, row_of
from isogyre.ledger.tables import KitRow, PartyRow, SettingRow
from isogyre.ledger.values import PartyKind


class Parties:
    """Clients, dealers, setters and laboratories."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def enter(self, party: Party) -> None:
        """Enter somebody.

        Raises
        ------
        AlreadyKeptError
            If a party of this id is there.
        RefusedEntryError
            If the kind is unknown or the name is empty.
        """
        with self._session.begin_nested():
            self._session.add(row_of(PartyRow, party))

    def amend(self, party: Party) -> None:
        """Put a party's entry in place of the one that is there, or raise UnknownEntryError."""
        self.get(party.id)
        with self._session.begin_nested():
            self._session.merge(row_of(PartyRow, party))

    def get(self, party_id: str) -> Party:
        """Return one party, or raise UnknownEntryError."""
        row = self._session.get(PartyRow, party_id)
        if row is None:
            raise UnknownEntryError("party", party_id)
        return entry_of(Party, row)

    def of(self, party_ids: Collection[str]) -> Mapping[str, Party]:
        """Return many parties by id; an unknown one is left out."""
        rows = self._session.scalars(select(PartyRow).where(PartyRow.id.in_(party_ids)))
        return {party.id: party for party in entries_of(Party, rows)}

    def all(self, kind: PartyKind | None = None) -> tuple[Party, ...]:
        """Return all parties, or those of one kind, by name."""
        wanted = select(PartyRow).order_by(PartyRow.name, PartyRow.id)
        if kind is not None:
            wanted = wanted.where(PartyRow.kind == kind)
        return entries_of(Party, self._session.scalars(wanted))


class Kits:
    """Named sets of record keys."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def save(self, kit: Kit) -> None:
        """Keep a kit under its name, in place of an older one of that name."""
        row = row_of(KitRow, kit, ("fields", "minutes", "errors"))
        row.fields = list(kit.fields)
        row.minutes, row.errors = dict(kit.minutes), dict(kit.errors)
        with self._session.begin_nested():
            self._session.merge(row)

    def get(self, name: str) -> Kit:
        """Return one kit, or raise UnknownEntryError."""
        row = self._session.get(KitRow, name)
        if row is None:
            raise UnknownEntryError("kit", name)
        return _kit(row)

    def all(self) -> tuple[Kit, ...]:
        """Return all kits by name."""
        rows = self._session.scalars(select(KitRow).order_by(KitRow.name))
        return tuple(_kit(row) for row in rows)

    def remove(self, name: str) -> None:
        """Forget a kit; nothing happens if there is none of that name."""
        if row := self._session.get(KitRow, name):
            with self._session.begin_nested():
                self._session.delete(row)


def _kit(row: KitRow) -> Kit:
    return entry_of(Kit, row, fields=tuple(row.fields))


class Settings:
    """What the house has chosen, such as its light and its default kit."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def put(self, key: str, value: Any) -> None:
        """Keep a value that JSON can hold; it replaces the one before."""
        with self._session.begin_nested():
            self._session.merge(SettingRow(key=key, value=value))

    def get(self, key: str, default: Any = None) -> Any:
        """Return the value kept under a key, or the default."""
        row = self._session.get(SettingRow, key)
        return default if row is None else row.value

    def all(self) -> Mapping[str, Any]:
        """Return every setting."""
        rows = self._session.scalars(select(SettingRow).order_by(SettingRow.key))
        return {row.key: row.value for row in rows}
