"""The steps from an empty database to the ledger of this version.

A migration is frozen once released: it writes its tables out in full and takes from the package
only column types, the naming of constraints and ``guard``. A batch operation on SQLite copies the
table: hand it ``table_kwargs={"sqlite_strict": True}`` and guard the copy again. The tests compare
the outcome with ``tables``, checks and triggers included.
"""

# Not Alembic's own name, so that a ledger cannot be taken for another program's database.
VERSION_TABLE = "ledger_version"
