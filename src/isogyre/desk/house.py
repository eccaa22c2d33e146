"""The house: workbench, ledger, photographs, clock and ids in one hand, opened once and shared."""

import os
import secrets
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock

from isogyre.desk.workbench import Workbench, open_workbench, tables_key
from isogyre.ledger import Ledger, PhotoStore, open_ledger

LEDGER_FILE, PHOTOGRAPHS = "ledger.sqlite", "photographs"
# A page that waits longer for another writer had better say so.
WAIT_S = 5.0


class House:
    """Everything a use case on kept stones needs.

    The ledger is opened when it is first asked for, and again after it could not be: a disk that
    was full or a database that was locked needs no new start.
    """

    def __init__(
        self,
        workbench: Workbench,
        folder: Path,
        database_url: str = "",
        *,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
        wait_s: float = WAIT_S,
    ) -> None:
        self.workbench = workbench
        self.folder = folder
        self.photos = PhotoStore(folder / PHOTOGRAPHS)
        self.now = now
        # What the notes of the standings are made by: the catalogue and the code that draws.
        self.made_by = tables_key()
        self._url = database_url or f"sqlite:///{folder / LEDGER_FILE}"
        self._wait_s = wait_s
        self._opening = Lock()
        self._ledger: Ledger | None = None

    @property
    def ledger(self) -> Ledger:
        """Return the open ledger.

        Raises
        ------
        LedgerError
            If it cannot be opened now; the next call tries again.
        """
        with self._opening:
            if self._ledger is None:
                self._ledger = open_ledger(self._url, wait_s=self._wait_s)
            return self._ledger

    def new_id(self) -> str:
        """Return an id that sorts by the time it was made: milliseconds, then dice."""
        return f"{int(self.now().timestamp() * 1000):011x}{secrets.token_hex(5)}"

    def close(self) -> None:
        """Let go of the ledger."""
        with self._opening:
            if self._ledger is not None:
                self._ledger.close()
                self._ledger = None


def open_house(
    folder: Path | None = None, database_url: str = "", workbench: Workbench | None = None
) -> House:
    """Return the house that lives in a folder, which is made if it is not there.

    Parameters
    ----------
    folder
        Where ledger and photographs lie; this user's own data folder if not given.
    database_url
        Where the ledger lies instead, as ``postgresql://USER@HOST/NAME``.

    Raises
    ------
    OSError
        If the folder cannot be made.
    """
    place = folder or data_folder()
    place.mkdir(parents=True, exist_ok=True)
    return House(workbench or open_workbench(), place, database_url)


def data_folder() -> Path:
    """Return this user's data folder: ``ISOGYRE_DATA``, or where the system keeps such data."""
    if named := os.environ.get("ISOGYRE_DATA"):
        return Path(named)
    base = os.environ.get("XDG_DATA_HOME")
    return Path(base) / "isogyre" if base else Path.home() / ".local" / "share" / "isogyre"
