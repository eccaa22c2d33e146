"""An open ledger and its units of work."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from isogyre.ledger.custody import CustodyEntries
from isogyre.ledger.house import Kits, Parties, Settings
from isogyre.ledger.photographs import Photographs
from isogyre.ledger.readings import Readings
from isogyre.ledger.standings import Standings
from isogyre.ledger.stones import Stones
from isogyre.ledger.take_ins import TakeIns


class Work:
    """One unit of work: everything asked of it happens together, or not at all."""

    def __init__(self, session: Session) -> None:
        self.stones = Stones(session)
        self.standings = Standings(session)
        self.readings = Readings(session)
        self.custody = CustodyEntries(session)
        self.photographs = Photographs(session)
        self.take_ins = TakeIns(session)
        self.parties = Parties(session)
        self.kits = Kits(session)
        self.settings = Settings(session)


class Ledger:
    """An open ledger; ``open_ledger`` makes one. Threads may share it."""

    def __init__(self, writing: Engine, viewing: Engine) -> None:
        self._writing = writing
        self._viewing = viewing

    @contextmanager
    def session(self) -> Iterator[Work]:
        """Open a unit of work that may write: kept when the block ends, dropped if it raises.

        An entry that is refused is dropped alone; a block that goes on keeps the others.
        On SQLite there is one writer at a time, so keep the block short.
        """
        with Session(self._writing) as session, session.begin():
            yield Work(session)

    @contextmanager
    def view(self) -> Iterator[Work]:
        """Open a unit of work that only looks: it sees one moment, and waits for no writer."""
        with Session(self._viewing) as session, session.begin():
            yield Work(session)

    def close(self) -> None:
        """Let go of every connection."""
        self._writing.dispose()
