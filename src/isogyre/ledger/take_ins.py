"""Take-ins: a client's piece as it was received, and what came back."""

from typing import Any

from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session

from isogyre.ledger.entries import Damage, ReturnCheck, TakeIn
from isogyre.ledger.errors import UnknownEntryError
from isogyre.ledger.rows import entries_of, entry_of, row_of
from isogyre.ledger.tables import Base, DamageRow, PiecePhotographRow, ReturnCheckRow, TakeInRow

# Fields of an entry that lie in tables of their own.
PARTS = ("damage", "photographs")


class TakeIns:
    """The take-ins and the checks of what came back."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def append(self, take_in: TakeIn) -> None:
        """Append a take-in with its damage and photographs.

        Raises
        ------
        AlreadyKeptError
            If this id or this receipt number is there.
        UnknownReferenceError
            If stone, party or a photograph are unknown.
        """
        self._keep(row_of(TakeInRow, take_in, PARTS), take_in, take_in_id=take_in.id)

    def append_return(self, check: ReturnCheck) -> None:
        """Append what was found when a piece came back; errors as for ``append``."""
        self._keep(row_of(ReturnCheckRow, check, PARTS), check, return_check_id=check.id)

    def get(self, take_in_id: str) -> TakeIn:
        """Return one take-in, or raise UnknownEntryError."""
        row = self._session.scalar(select(TakeInRow).where(TakeInRow.id == take_in_id))
        return self._take_in(self._found(row, "take-in", take_in_id))

    def by_receipt(self, receipt: str) -> TakeIn:
        """Return the take-in of a receipt number, or raise UnknownEntryError."""
        row = self._session.scalar(select(TakeInRow).where(TakeInRow.receipt == receipt))
        return self._take_in(self._found(row, "receipt", receipt))

    def of_stone(self, stone_id: str) -> tuple[TakeIn, ...]:
        """Return a stone's take-ins, the newest last."""
        wanted = select(TakeInRow).where(TakeInRow.stone_id == stone_id)
        rows = self._session.scalars(wanted.order_by(TakeInRow.sequence))
        return tuple(self._take_in(row) for row in rows)

    def open(self, limit: int) -> tuple[TakeIn, ...]:
        """Return the take-ins of which nothing came back yet, the oldest first."""
        came_back = exists().where(ReturnCheckRow.take_in_id == TakeInRow.id)
        wanted = select(TakeInRow).where(~came_back)
        in_order = wanted.order_by(TakeInRow.received_at, TakeInRow.sequence)
        return tuple(self._take_in(row) for row in self._session.scalars(in_order.limit(limit)))

    def returns(self, take_in_id: str) -> tuple[ReturnCheck, ...]:
        """Return the checks of what came back from a take-in, the newest last."""
        wanted = select(ReturnCheckRow).where(ReturnCheckRow.take_in_id == take_in_id)
        rows = self._session.scalars(wanted.order_by(ReturnCheckRow.sequence))
        return tuple(self._return_check(row) for row in rows)

    def last_receipt(self, beginning: str = "") -> str | None:
        """Return the highest receipt number with this beginning, as texts sort, or None."""
        wanted = select(func.max(TakeInRow.receipt))
        return self._session.scalar(
            wanted.where(TakeInRow.receipt.startswith(beginning, autoescape=True))
        )

    def _keep(self, row: Base, entry: TakeIn | ReturnCheck, **owner: str) -> None:
        with self._session.begin_nested():
            self._session.add(row)
            # The parts point at the row, so it has to be there first.
            self._session.flush()
            self._session.add_all(row_of(DamageRow, damage, **owner) for damage in entry.damage)
            self._session.add_all(
                PiecePhotographRow(photograph_id=photograph_id, **owner)
                for photograph_id in entry.photographs
            )

    def _found(self, row: TakeInRow | None, kind: str, sought: str) -> TakeInRow:
        if row is None:
            raise UnknownEntryError(kind, sought)
        return row

    def _take_in(self, row: TakeInRow) -> TakeIn:
        return entry_of(TakeIn, row, **self._parts(take_in_id=row.id))

    def _return_check(self, row: ReturnCheckRow) -> ReturnCheck:
        return entry_of(ReturnCheck, row, **self._parts(return_check_id=row.id))

    def _parts(self, **owner: str) -> dict[str, Any]:
        """Return damage and photographs of a take-in or a check, as they were handed in."""
        damage = select(DamageRow).filter_by(**owner).order_by(DamageRow.sequence)
        shown = select(PiecePhotographRow.photograph_id).filter_by(**owner)
        photographs = self._session.scalars(shown.order_by(PiecePhotographRow.sequence))
        return {
            "damage": entries_of(Damage, self._session.scalars(damage)),
            "photographs": tuple(photographs),
        }
