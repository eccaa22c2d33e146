"""Photographs of stones: rows here, bytes in the photo store."""

from collections.abc import Collection, Mapping

from sqlalchemy import ColumnElement, exists, select, tuple_
from sqlalchemy.orm import Session, aliased

from isogyre.ledger.entries import Photograph
from isogyre.ledger.errors import UnknownEntryError
from isogyre.ledger.rows import entries_of, entry_of, row_of
from isogyre.ledger.tables import PhotographRow


class Photographs:
    """The photographs of all stones."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def append(self, *photographs: Photograph) -> None:
        """Append photographs whose bytes are in the photo store.

        Raises
        ------
        AlreadyKeptError
            If a photograph of this id is there.
        UnknownReferenceError
            If the stone is unknown.
        """
        with self._session.begin_nested():
            self._session.add_all(row_of(PhotographRow, photograph) for photograph in photographs)

    def get(self, photograph_id: str) -> Photograph:
        """Return one photograph, or raise UnknownEntryError."""
        wanted = select(PhotographRow).where(PhotographRow.id == photograph_id)
        row = self._session.scalar(wanted)
        if row is None:
            raise UnknownEntryError("photograph", photograph_id)
        return entry_of(Photograph, row)

    def of_stone(self, stone_id: str) -> tuple[Photograph, ...]:
        """Return a stone's photographs in the order they were added."""
        return self._where(PhotographRow.stone_id == stone_id)

    def newest_of(self, stone_ids: Collection[str]) -> Mapping[str, Photograph]:
        """Return for many stones the photograph added last, where there is one."""
        found = self._where(PhotographRow.stone_id.in_(stone_ids), _is_newest())
        return {photograph.stone_id: photograph for photograph in found}

    def _where(self, *conditions: ColumnElement[bool]) -> tuple[Photograph, ...]:
        wanted = select(PhotographRow).where(*conditions)
        in_order = wanted.order_by(PhotographRow.added_at, PhotographRow.sequence)
        return entries_of(Photograph, self._session.scalars(in_order))


def _is_newest() -> ColumnElement[bool]:
    """Return the condition that no photograph of the same stone was added later."""
    later = aliased(PhotographRow)
    place = tuple_(PhotographRow.added_at, PhotographRow.sequence)
    return ~exists().where(
        later.stone_id == PhotographRow.stone_id, tuple_(later.added_at, later.sequence) > place
    )
