"""Open a ledger: connect, see that the database can be written, bring it to this version."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from threading import Lock
from typing import Any

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Connection, Engine, create_engine, event, inspect, make_url
from sqlalchemy.exc import ArgumentError

from isogyre.ledger.errors import (
    LedgerAddressError,
    LedgerForeignError,
    LedgerLockedError,
    LedgerMigrationError,
    LedgerNewerError,
    translate,
)
from isogyre.ledger.ledger import Ledger
from isogyre.ledger.migrations import VERSION_TABLE

MIGRATIONS = Path(__file__).with_name("migrations")
# How a connection of SQLite begins; SQLAlchemy carries the word in its execution options.
MODE = "ledger_mode"
# Any number will do, as long as no other program in the same database locks the same one.
MIGRATION_LOCK = 7_300_413
CONNECT_TIMEOUT_S = 10
# Alembic keeps the migration that runs in a variable of its module.
ONE_AT_A_TIME = Lock()


def open_ledger(url: str, *, wait_s: float = 5.0) -> Ledger:
    """Open the ledger at an address and migrate it to this version, all of it or nothing.

    Parameters
    ----------
    url
        ``sqlite:///FILE``, whose folder exists, or ``postgresql://USER@HOST/NAME``.
    wait_s
        How long a writer waits for another one, in seconds.

    Raises
    ------
    LedgerError
        One class a cause: an address of an unknown kind, unreachable, locked, read-only, full,
        damaged, foreign or newer.
    """
    engine = _engine(url, wait_s)
    try:
        _prepare(engine)
    except BaseException:
        engine.dispose()
        raise
    return Ledger(engine, _view_of(engine))


def _address(given: str) -> URL:
    """Return the address with its driver, or refuse a kind that no ledger can live in."""
    try:
        address = make_url(given)
    except ArgumentError:
        raise LedgerAddressError(given[:60]) from None
    kind = address.drivername.partition("+")[0]
    # A database in memory would be another one for each thread.
    if kind not in {"sqlite", "postgresql"} or (
        kind == "sqlite" and address.database in {None, "", ":memory:"}
    ):
        raise LedgerAddressError(address.render_as_string())
    return address.set(drivername="sqlite+pysqlite" if kind == "sqlite" else "postgresql+psycopg")


def _engine(url: str, wait_s: float) -> Engine:
    """Return an engine whose connections are set up, and whose errors are the ledger's own."""
    address = _address(url)
    is_sqlite = address.drivername.startswith("sqlite")
    options = {"timeout": wait_s} if is_sqlite else {"connect_timeout": CONNECT_TIMEOUT_S}
    engine = create_engine(address, connect_args=options, pool_pre_ping=not is_sqlite)
    event.listen(engine, "handle_error", translate, retval=True)
    if is_sqlite:
        event.listen(engine, "connect", _set_up_sqlite)
        event.listen(engine, "begin", _begin_on_sqlite)
    else:
        event.listen(engine, "connect", _set_up_postgresql(wait_s))
    return engine


def _set_up_sqlite(connection: Any, _record: object) -> None:
    # The driver would commit by itself before some statements; transactions begin in one place.
    connection.isolation_level = None
    # What was acknowledged is on the disk, even if the power fails.
    connection.execute("PRAGMA synchronous = FULL")


def _begin_on_sqlite(connection: Connection) -> None:
    """Begin as the work needs it.

    A writer takes the lock at once: one that read first and wrote later could find its view
    outdated, and would fail instead of waiting. A migration that copies a table must not trip
    over the foreign keys that point at it; they are checked at its end.
    """
    mode = connection.get_execution_options().get(MODE, "write")
    if mode == "bare":
        return
    connection.exec_driver_sql(f"PRAGMA query_only = {int(mode == 'view')}")
    connection.exec_driver_sql(f"PRAGMA foreign_keys = {int(mode != 'migrate')}")
    connection.exec_driver_sql("BEGIN" if mode == "view" else "BEGIN IMMEDIATE")


def _set_up_postgresql(wait_s: float) -> Callable[[Any, object], None]:
    def set_up(connection: Any, _record: object) -> None:
        connection.execute("SET TIME ZONE 'UTC'")
        connection.execute(f"SET lock_timeout = {round(1000 * wait_s)}")
        connection.commit()

    return set_up


def _view_of(engine: Engine) -> Engine:
    """Return the engine for views: they see one moment and never write."""
    if engine.dialect.name == "sqlite":
        return engine.execution_options(**{MODE: "view"})
    return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)


def _prepare(engine: Engine) -> None:
    """See that the database is a ledger of this version, or make it one, and can be written."""
    with engine.connect().execution_options(**{MODE: "migrate"}) as connection, connection.begin():
        if engine.dialect.name == "postgresql":
            # Two programs that start together migrate one after the other.
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({MIGRATION_LOCK})")
        _migrate(connection)
        # It changes no row, but only who may write may ask for it.
        connection.exec_driver_sql(f"UPDATE {VERSION_TABLE} SET version_num = '' WHERE 1 = 0")
    if engine.dialect.name == "sqlite":
        _write_ahead(engine)


def _write_ahead(engine: Engine) -> None:
    """Set the mode in which readers do not wait for a writer. It stays with the file."""
    # SQLite does not always wait for this. Whoever is in the way opens the ledger too, and sets it.
    with (
        suppress(LedgerLockedError),
        engine.connect().execution_options(**{MODE: "bare"}) as connection,
    ):
        connection.exec_driver_sql("PRAGMA journal_mode = WAL")


def _migrate(connection: Connection) -> None:
    """Bring the database from its version to this one, inside the open transaction."""
    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    script = ScriptDirectory.from_config(config)
    found = MigrationContext.configure(
        connection, opts={"version_table": VERSION_TABLE}
    ).get_current_heads()
    place = connection.engine.url.render_as_string()
    if not found and inspect(connection).get_table_names():
        raise LedgerForeignError(place)
    if unknown := set(found) - {step.revision for step in script.walk_revisions()}:
        raise LedgerNewerError(place, f"its version is {', '.join(sorted(unknown))}")
    if set(found) != set(script.get_heads()):
        with ONE_AT_A_TIME:
            command.upgrade(config, "head")
        _check_references(connection)


def _check_references(connection: Connection) -> None:
    """Let a migration fail that left rows pointing nowhere."""
    if connection.dialect.name == "sqlite":
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
        if broken:
            place = connection.engine.url.render_as_string()
            raise LedgerMigrationError(place, f"rows that point nowhere: {broken[:5]}")
