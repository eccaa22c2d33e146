"""The migrations lead from nothing to the tables as they are declared, or leave no trace."""

import shutil
from contextlib import contextmanager

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import create_engine, exc, inspect, text

from isogyre.ledger import LedgerMigrationError, LedgerNewerError, append_only, open_ledger, opening
from isogyre.ledger.migrations import VERSION_TABLE
from isogyre.ledger.tables import Base
from tests.ledger.made import note, reading, stone

NEWEST = "standing_notes"
# What the next migration may look like: it copies a table that others point at.
NEXT = """
from alembic import op
from isogyre.ledger.append_only import guard

revision, down_revision = "next", "standing_notes"


def upgrade():
    with op.batch_alter_table("stones", table_kwargs={"sqlite_strict": True}) as stones:
        stones.alter_column("note", nullable=True)
    guard(op.get_bind(), "stones", amendable=True)
"""
CARELESS = """
from alembic import op

revision, down_revision = "next", "standing_notes"


def upgrade():
    op.execute("DROP TRIGGER stones_no_delete")
    op.execute("DELETE FROM stones")
"""


@pytest.fixture
def connection(url):
    engine = create_engine(url)
    with engine.connect() as opened:
        yield opened
    engine.dispose()


@pytest.fixture
def next_version(monkeypatch, tmp_path):
    """Return a way to give the program one more migration."""

    def with_migration(code):
        folder = tmp_path / "migrations"
        shutil.copytree(opening.MIGRATIONS, folder, ignore=shutil.ignore_patterns("__pycache__"))
        (folder / "versions" / "next.py").write_text(code, "utf-8")
        monkeypatch.setattr(opening, "MIGRATIONS", folder)

    return with_migration


@pytest.fixture
def first_version(monkeypatch, tmp_path):
    """Return a way to be the program whose only migration was the first, for as long as a block."""

    @contextmanager
    def with_first_alone():
        folder = tmp_path / "first"
        shutil.copytree(
            opening.MIGRATIONS, folder, ignore=shutil.ignore_patterns("__pycache__", f"{NEWEST}*")
        )
        with monkeypatch.context() as patched:
            patched.setattr(opening, "MIGRATIONS", folder)
            yield

    return with_first_alone


def checks(connection):
    """Return the names of every rule that the database checks."""
    found = inspect(connection)
    return {
        (table, check["name"])
        for table in found.get_table_names()
        for check in found.get_check_constraints(table)
    }


def test_the_tables_are_those_declared(ledger, connection):
    context = MigrationContext.configure(connection, opts={"version_table": VERSION_TABLE})
    assert compare_metadata(context, Base.metadata) == []


def test_the_rules_are_those_declared(ledger, connection):
    declared = {
        (table.name, rule.name): str(rule.sqltext)
        for table in Base.metadata.tables.values()
        for rule in table.constraints
        if hasattr(rule, "sqltext")
    }
    assert checks(connection) == set(declared)
    if connection.dialect.name == "sqlite":
        found = inspect(connection)
        for table in Base.metadata.tables:
            for check in found.get_check_constraints(table):
                assert check["sqltext"] == declared[table, check["name"]]


@pytest.mark.parametrize("url", ["sqlite"], indirect=True)
def test_every_table_of_sqlite_is_strict(ledger, connection):
    listed = connection.execute(
        text("SELECT name, strict FROM pragma_table_list WHERE type='table'")
    )
    strict = dict(listed.all())
    assert {name: strict[name] for name in Base.metadata.tables} == dict.fromkeys(
        Base.metadata.tables, 1
    )


@pytest.mark.parametrize("url", ["sqlite"], indirect=True)
def test_sqlite_writes_ahead_so_that_readers_need_not_wait(ledger, connection):
    assert connection.scalar(text("PRAGMA journal_mode")) == "wal"


def test_a_migration_cut_short_leaves_nothing_behind(url, connection, monkeypatch):
    def stop(*_, **__):
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(append_only, "guard", stop)
        with pytest.raises(KeyboardInterrupt):
            open_ledger(url)
    assert inspect(connection).get_table_names() == []
    connection.rollback()
    open_ledger(url).close()
    inspected = inspect(connection)
    assert set(inspected.get_table_names()) == {*Base.metadata.tables, VERSION_TABLE}


def test_a_later_migration_keeps_rows_rules_and_guards(
    ledger, url, stone_id, connection, next_version
):
    with ledger.session() as work:
        work.readings.append(reading("r"))
        before = work.stones.get(stone_id)
    ledger.close()
    rules = checks(connection)
    connection.rollback()
    next_version(NEXT)
    migrated = open_ledger(url)
    with migrated.view() as work:
        assert work.stones.get(stone_id) == before
        assert work.readings.thread(stone_id) == (reading("r"),)
    migrated.close()
    assert checks(connection) == rules
    with pytest.raises(exc.IntegrityError, match="never changed"):
        connection.execute(text("DELETE FROM stones"))


def test_the_notes_are_added_to_a_ledger_of_the_first_version(url, connection, first_version):
    with first_version():
        old = open_ledger(url)
        with old.session() as work:
            work.stones.enter(stone("stone"), by="me")
            work.readings.append(reading("r"))
        old.close()
    assert not inspect(connection).has_table("standing_notes")
    connection.rollback()
    opened = open_ledger(url)
    with opened.session() as work:
        assert work.readings.thread("stone") == (reading("r"),)
        assert work.stones.listed("stone").stone == stone("stone")
        assert work.standings.stale("catalogue a", 9) == ("stone",)
        work.standings.put(note(revision=2))
        assert work.stones.listed("stone").note == note(revision=2)
    opened.close()
    with pytest.raises(exc.IntegrityError, match="never changed"):
        connection.execute(text("DELETE FROM readings"))


def test_this_version_does_not_open_what_the_next_one_wrote(ledger, url, monkeypatch, next_version):
    ledger.close()
    this_version = opening.MIGRATIONS
    next_version(NEXT)
    open_ledger(url).close()
    monkeypatch.setattr(opening, "MIGRATIONS", this_version)
    with pytest.raises(LedgerNewerError, match="next"):
        open_ledger(url)


@pytest.mark.parametrize("url", ["sqlite"], indirect=True)
def test_a_migration_that_leaves_rows_pointing_nowhere_is_undone(
    ledger, url, stone_id, connection, next_version
):
    ledger.close()
    next_version(CARELESS)
    with pytest.raises(LedgerMigrationError, match="nothing was changed"):
        open_ledger(url)
    assert connection.scalar(text("SELECT count(*) FROM stones")) == 1
    assert connection.scalar(text(f"SELECT version_num FROM {VERSION_TABLE}")) == NEWEST
