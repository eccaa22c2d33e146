"""Every kind of trouble with the database has an error of its own that says what to do."""

import sqlite3
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import Engine, create_engine, event, inspect, text

from isogyre.ledger import (
    LedgerAddressError,
    LedgerConflictError,
    LedgerDamagedError,
    LedgerForeignError,
    LedgerFullError,
    LedgerLockedError,
    LedgerNewerError,
    LedgerReadOnlyError,
    LedgerUnreachableError,
    open_ledger,
)
from isogyre.ledger.errors import cause_of
from tests.ledger.conftest import NOW
from tests.ledger.made import reading

PAGE_BYTES = 4096


def run(url, *statements):
    """Run SQL past the ledger."""
    engine = create_engine(url)
    with engine.begin() as connection:
        for statement in statements:
            connection.execute(text(statement))
    engine.dispose()


def file_of(url):
    return url.removeprefix("sqlite:///")


def contents(url):
    """Return the bytes of a file, or the tables of a server."""
    if url.startswith("sqlite"):
        return Path(file_of(url)).read_bytes()
    engine = create_engine(url)
    tables = inspect(engine).get_table_names()
    engine.dispose()
    return tables


def read_only(url):
    if url.startswith("sqlite"):
        return f"sqlite:///file:{file_of(url)}?mode=ro&uri=true"
    return f"{url}%20-c%20default_transaction_read_only%3Don"


def test_a_writer_who_waits_too_long_is_told_that_it_is_locked(ledger, stone_id):
    with ledger.session() as first:
        first.stones.amend(stone_id, {"place": "safe"}, at=NOW, by="me")
        with pytest.raises(LedgerLockedError, match="try again"), ledger.session() as second:
            second.stones.amend(stone_id, {"place": "window"}, at=NOW, by="you")
    with ledger.session() as third:
        third.stones.amend(stone_id, {"note": "free again"}, at=NOW, by="you")
        assert third.stones.get(stone_id).place == "safe"


def test_opening_waits_for_a_writer_and_then_says_that_it_is_locked(ledger, url):
    holds = {
        "sqlite": lambda: sqlite3.connect(file_of(url), isolation_level=None),
        "postgresql": lambda: psycopg.connect(url, autocommit=True),
    }
    begin = {"sqlite": "BEGIN IMMEDIATE", "postgresql": "SELECT pg_advisory_lock(7300413)"}
    kind = url.partition(":")[0]
    holder = holds[kind]()
    holder.execute(begin[kind])
    with pytest.raises(LedgerLockedError, match="try again"):
        open_ledger(url, wait_s=0.1)
    holder.close()
    open_ledger(url, wait_s=0.1).close()


def test_a_ledger_that_may_only_be_read_is_refused(ledger, url):
    with pytest.raises(LedgerReadOnlyError, match="the right to write"):
        open_ledger(read_only(url))


def test_a_new_ledger_is_not_made_where_nothing_may_be_written(url):
    if url.startswith("sqlite"):
        sqlite3.connect(file_of(url)).executescript("PRAGMA user_version = 1")
    with pytest.raises(LedgerReadOnlyError, match="the right to write"):
        open_ledger(read_only(url))


def test_a_view_writes_nothing(ledger, stone_id):
    with ledger.view() as work, pytest.raises(LedgerReadOnlyError, match="a view never writes"):
        work.readings.append(reading("r"))
    with ledger.session() as work:
        assert work.readings.thread(stone_id) == ()
        work.readings.append(reading("r"))


def test_a_ledger_of_a_newer_version_is_left_alone(ledger, url):
    ledger.close()
    run(url, "UPDATE ledger_version SET version_num = 'ninth'")
    with pytest.raises(LedgerNewerError, match=r"update the program.*ninth"):
        open_ledger(url)


def test_the_database_of_another_program_is_left_alone(url):
    run(url, "CREATE TABLE alembic_version (version_num TEXT)")
    before = contents(url)
    with pytest.raises(LedgerForeignError, match="empty database or a new file"):
        open_ledger(url)
    assert contents(url) == before


@pytest.fixture
def nearly_full(url):
    """Let the disk of the database be full soon: after a few pages more, or at once."""
    if url.startswith("postgresql"):
        yield lambda: run(
            url,
            "CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE 'No space left on device' USING ERRCODE = 'disk_full'; END $$",
            "CREATE TRIGGER full_disk BEFORE INSERT ON readings EXECUTE FUNCTION full_disk()",
        )
        return

    def limit(connection, _record):
        connection.execute("PRAGMA max_page_count = 80")

    yield lambda: event.listen(Engine, "connect", limit)
    event.remove(Engine, "connect", limit)


def test_a_full_disk_is_named_and_what_was_kept_stays(ledger, url, nearly_full, stone_id):
    with ledger.session() as work:
        work.readings.append(reading("kept", field="sg"))
    ledger.close()
    nearly_full()
    small = open_ledger(url)
    with pytest.raises(LedgerFullError, match="free some space"), small.session() as work:
        work.readings.append(reading("small"))
        work.readings.append(reading("large", note="x" * 80 * PAGE_BYTES))
    with small.view() as work:
        assert [found.id for found in work.readings.thread(stone_id)] == ["kept"]
    small.close()


@pytest.mark.parametrize("url", ["sqlite"], indirect=True)
def test_a_file_that_is_no_database_is_named(url):
    Path(file_of(url)).write_bytes(b"weight,colour\n" * 1000)
    with pytest.raises(LedgerDamagedError, match="last backup"):
        open_ledger(url)


@pytest.mark.parametrize("url", ["sqlite"], indirect=True)
def test_a_file_with_damaged_pages_is_named(ledger, url, stone_id):
    with ledger.session() as work:
        work.readings.append(*(reading(f"{number:03}", note="x" * 500) for number in range(200)))
    ledger.close()
    with open(file_of(url), "r+b") as file:
        size = file.seek(0, 2)
        # The first page holds the list of tables: with it gone the file would be no database.
        file.seek(PAGE_BYTES)
        file.write(b"\xa5" * (size - PAGE_BYTES))
    with pytest.raises(LedgerDamagedError, match="put it aside"):
        opened = open_ledger(url)
        with opened.view() as work:
            work.readings.thread(stone_id)


@pytest.mark.parametrize(
    "address",
    ["sqlite:////nowhere/at/all/ledger.db", "postgresql://me@/ledger?host=/nowhere"],
)
def test_a_database_that_does_not_answer_is_named(address):
    with pytest.raises(LedgerUnreachableError, match="check that"):
        open_ledger(address)


def test_a_database_that_is_not_there_is_named(cluster):
    with pytest.raises(LedgerUnreachableError, match="nobody_made_it"):
        open_ledger(cluster.address("nobody_made_it"))


@pytest.mark.parametrize(
    "address", ["", "ledger.db", "sqlite://", "sqlite:///:memory:", "mysql://me@host/ledger"]
)
def test_an_address_of_no_use_is_refused(address):
    with pytest.raises(LedgerAddressError, match="sqlite:///FILE"):
        open_ledger(address)


@pytest.mark.parametrize("url", ["postgresql"], indirect=True)
def test_a_server_that_went_away_is_named_and_found_again(ledger, cluster, stone_id):
    with pytest.raises(LedgerUnreachableError, match="check that"), ledger.session() as work:
        assert work.stones.get(stone_id)
        cluster.run(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
            "WHERE usename = 'isogyre' AND pid <> pg_backend_pid()"
        )
        work.readings.append(reading("lost"))
    with ledger.view() as work:
        assert work.readings.thread(stone_id) == ()


def test_no_error_shows_a_password():
    with pytest.raises(LedgerUnreachableError) as raised:
        open_ledger("postgresql://me:secret@/ledger?host=/nowhere")
    assert "secret" not in str(raised.value)


@pytest.mark.parametrize(
    ("code", "cause"),
    [
        ("SQLITE_BUSY_SNAPSHOT database is locked", LedgerLockedError),
        ("SQLITE_READONLY_DBMOVED attempt to write a readonly database", LedgerReadOnlyError),
        ("SQLITE_IOERR_WRITE disk I/O error", LedgerUnreachableError),
        ("SQLITE_CORRUPT_INDEX database disk image is malformed", LedgerDamagedError),
        ("40P01 deadlock detected", LedgerConflictError),
        ("40001 could not serialize access", LedgerConflictError),
        ("53100 could not extend file", LedgerFullError),
        ("53300 too many connections", LedgerUnreachableError),
        ("57P01 terminating connection", LedgerUnreachableError),
        ("XX001 invalid page in block 3", LedgerDamagedError),
        ("42601 syntax error", None),
    ],
)
def test_codes_of_the_databases_have_their_cause(code, cause):
    assert cause_of(code) is cause
