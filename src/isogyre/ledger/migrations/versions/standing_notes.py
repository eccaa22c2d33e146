"""Notes of the standing: a replaceable row a stone, to search the list by."""

import sqlalchemy as sa
from alembic import op

from isogyre.ledger.columns import MEASURE, WHOLE, WORDS, UtcTime, YesNo

revision = "standing_notes"
down_revision = "first"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table. It is not guarded: a note is replaced when it is made again."""
    op.create_table(
        "standing_notes",
        sa.Column("stone_id", WORDS, sa.ForeignKey("stones.id"), primary_key=True),
        sa.Column("revision", WHOLE, nullable=False),
        sa.Column("made_by", WORDS, nullable=False),
        sa.Column("made_at", UtcTime(), nullable=False),
        sa.Column("leader", WORDS, nullable=False),
        sa.Column("leader_probability", MEASURE, nullable=False),
        sa.Column("name", WORDS, nullable=False),
        sa.Column("origin", WORDS, nullable=False),
        sa.Column("origin_probability", MEASURE, nullable=False),
        sa.Column("treatment", WORDS, nullable=False),
        sa.Column("treatment_probability", MEASURE, nullable=False),
        sa.Column("is_open", YesNo(), nullable=False),
        sa.Column("does_not_fit", YesNo(), nullable=False),
        sa.Column("awaits", WORDS, nullable=False),
        sa.Column("next_test", WORDS, nullable=False),
        sa.Column("search_leader", WORDS, nullable=False),
        sa.CheckConstraint("revision > 0", name="revision"),
        sa.CheckConstraint("leader_probability BETWEEN 0 AND 1", name="leader_probability"),
        sa.CheckConstraint("origin_probability BETWEEN 0 AND 1", name="origin_probability"),
        sa.CheckConstraint("treatment_probability BETWEEN 0 AND 1", name="treatment_probability"),
        sa.Index(None, "awaits"),
        sa.Index(None, "is_open"),
        sa.Index(None, "does_not_fit"),
        sqlite_strict=True,
    )
