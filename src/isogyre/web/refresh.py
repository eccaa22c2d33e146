"""Weighs stones again in the background whose notes are of an older catalogue or reading."""

import logging
from threading import Event, Thread

from isogyre.desk import House, LedgerError
from isogyre.desk.standings import reweigh_stale

log = logging.getLogger(__name__)


class Refresher:
    """One thread that brings the notes up to date when the program starts, and then ends."""

    def __init__(self, house: House) -> None:
        self._house = house
        self._stopped = Event()
        self._thread: Thread | None = None

    def start(self) -> None:
        """Begin, unless it has begun."""
        self._thread = Thread(target=self._run, name="reweigh", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """End after the stones in hand, and wait for that."""
        self._stopped.set()
        if self._thread is not None:
            self._thread.join()

    def _run(self) -> None:
        try:
            reweigh_stale(self._house, told=lambda left: not self._stopped.is_set())
        except LedgerError as error:
            # The pages say the same as soon as somebody asks for a stone.
            log.warning("stones were not weighed again: %s", error)
