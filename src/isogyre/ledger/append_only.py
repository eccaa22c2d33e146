"""Triggers that make the database itself refuse to change or delete what was appended.

A migration calls ``guard`` for a new table, and again after it has copied a table: SQLite drops a
table's triggers with the table.
"""

from collections.abc import Iterator

from sqlalchemy import Connection, inspect

REFUSAL = "is appended to, never changed"
DUPLICATE = "already kept"

# One function serves every table. Doubled, the per cent sign passes the driver.
POSTGRESQL_FUNCTION = f"""
CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '%% {REFUSAL}', TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
END $$
"""


def guard(connection: Connection, table: str, *, amendable: bool = False) -> None:
    """Refuse from now on to delete rows of a table and, unless it is amendable, to change them."""
    on_sqlite = connection.dialect.name == "sqlite"
    make = _sqlite_triggers if on_sqlite else _postgresql_triggers
    for statement in make(connection, table, amendable):
        connection.exec_driver_sql(statement)


def _postgresql_triggers(connection: Connection, table: str, amendable: bool) -> Iterator[str]:
    yield POSTGRESQL_FUNCTION
    actions = "DELETE OR TRUNCATE" if amendable else "UPDATE OR DELETE OR TRUNCATE"
    yield (
        f"CREATE OR REPLACE TRIGGER {table}_append_only BEFORE {actions} ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
    )


def _sqlite_triggers(connection: Connection, table: str, amendable: bool) -> Iterator[str]:
    yield _sqlite_trigger(table, "DELETE", f"{table} {REFUSAL}")
    if not amendable:
        yield _sqlite_trigger(table, "UPDATE", f"{table} {REFUSAL}")
        # INSERT OR REPLACE deletes the row in its way without firing the trigger on deletion.
        yield _sqlite_trigger(table, "INSERT", DUPLICATE, _row_is_there(connection, table))


def _sqlite_trigger(table: str, action: str, refusal: str, when: str = "") -> str:
    return (
        f"CREATE TRIGGER IF NOT EXISTS {table}_no_{action.lower()} "
        f"BEFORE {action} ON {table} {when} "
        f"BEGIN SELECT RAISE(ABORT, '{refusal}'); END"
    )


def _row_is_there(connection: Connection, table: str) -> str:
    """Return the condition that a row with one of the new row's unique values is there."""
    found = inspect(connection)
    unique = [found.get_pk_constraint(table)["constrained_columns"]]
    unique += [constraint["column_names"] for constraint in found.get_unique_constraints(table)]
    same = (" AND ".join(f"{name} = NEW.{name}" for name in columns) for columns in unique)
    there = " OR ".join(f"EXISTS (SELECT 1 FROM {table} WHERE {each})" for each in same)
    return f"WHEN {there}"
