"""Every test of the ledger runs on SQLite and on PostgreSQL."""

import os
from datetime import UTC, datetime, timedelta
from itertools import count

import pytest

from isogyre.ledger import Party, Stone, open_ledger
from tests.ledger.postgres import PROGRAMS, private_cluster

NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)


@pytest.fixture(scope="session")
def cluster():
    if not PROGRAMS and "CI" not in os.environ:
        pytest.skip("no PostgreSQL here: sudo apt-get install postgresql")
    with private_cluster() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """Return the address of an empty database."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'ledger.db'}"
        return
    cluster = request.getfixturevalue("cluster")
    # A schema of its own is as good as a database of its own, and made at once.
    cluster.run("CREATE SCHEMA ledger")
    yield cluster.address(search_path="ledger")
    cluster.run("DROP SCHEMA ledger CASCADE")


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
