"""Every test of the ledger runs on SQLite and on PostgreSQL."""

from datetime import UTC, datetime, timedelta
from itertools import count

import pytest

from isogyre.ledger import Party, Stone, open_ledger

NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)


@pytest.fixture
def ledger(url):
    """Return an open ledger with nothing in it; a writer waits a fifth of a second."""
    opened = open_ledger(url, wait_s=0.2)
    yield opened
    opened.close()


@pytest.fixture
def stone_id(ledger):
    """Return the id of a stone that is entered, beside a client and a setter."""
    with ledger.session() as work:
        work.stones.enter(Stone(id="stone", name="T 1", created_at=NOW), by="me")
        work.parties.enter(Party(id="client", name="A client", kind="client"))
        work.parties.enter(Party(id="setter", name="A setter", kind="setter"))
    return "stone"


@pytest.fixture
def later():
    """Return a clock that moves on by a minute each time it is asked."""
    minutes = count(1)
    return lambda: NOW + timedelta(minutes=next(minutes))
