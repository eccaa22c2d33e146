"""Run the migrations on the connection that ``opening`` hands over, inside its transaction."""

from alembic import context

from isogyre.ledger.migrations import VERSION_TABLE
from isogyre.ledger.tables import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    version_table=VERSION_TABLE,
    # SQLite cannot alter a column: batch mode copies the table instead.
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
