"""The first ledger: stones, readings, whose and where, photographs, take-ins, kits, settings."""

from functools import partial
from typing import Any

import sqlalchemy as sa
from alembic import op

from isogyre.ledger.append_only import guard
from isogyre.ledger.columns import MEASURE, WHOLE, WORDS, Day, JsonValue, UtcTime

revision = "first"
down_revision = None
branch_labels = None
depends_on = None

APPEND_ONLY = (
    *("stone_events", "custody", "readings", "photographs"),
    *("take_ins", "return_checks", "damage_marks", "piece_photographs"),
)
NEVER_DELETED = ("stones", "parties")


def column(type_: Any, name: str, *arguments: Any, **options: Any) -> sa.Column[Any]:
    """Return a column that must be filled unless it says otherwise."""
    return sa.Column(name, type_, *arguments, **{"nullable": False, **options})


words = partial(column, WORDS)
whole = partial(column, WHOLE)
measure = partial(column, MEASURE)
moment = partial(column, UtcTime())
day = partial(column, Day())
anything = partial(column, JsonValue())
create = partial(op.create_table, sqlite_strict=True)


def check(name: str, rule: str) -> sa.CheckConstraint:
    """Return a rule of the database."""
    return sa.CheckConstraint(rule, name=name)


def upgrade() -> None:
    """Make every table of the first ledger, then guard what is appended to."""
    for make in TABLES:
        make()
    for table in APPEND_ONLY:
        guard(op.get_bind(), table)
    for table in NEVER_DELETED:
        guard(op.get_bind(), table, amendable=True)


def _kits() -> None:
    create(
        "kits",
        words("name", primary_key=True),
        anything("fields"),
        anything("minutes"),
        anything("errors"),
        words("note"),
        check("name", "name <> ''"),
    )


def _parties() -> None:
    create(
        "parties",
        words("id", primary_key=True),
        words("name"),
        words("kind"),
        words("contact"),
        words("note"),
        check("kind", "kind IN ('client', 'dealer', 'setter', 'laboratory')"),
        check("name", "name <> ''"),
    )


def _settings() -> None:
    create(
        "settings",
        words("key", primary_key=True),
        anything("value"),
    )


def _stones() -> None:
    create(
        "stones",
        words("id", primary_key=True),
        words("name"),
        words("kind"),
        words("form", nullable=True),
        measure("length_mm", nullable=True),
        measure("width_mm", nullable=True),
        measure("depth_mm", nullable=True),
        whole("count", nullable=True),
        words("place"),
        words("where_met"),
        words("met"),
        words("claim"),
        whole("asking_minor", nullable=True),
        words("asking_currency", nullable=True),
        words("asking_per", nullable=True),
        words("note"),
        moment("created_at"),
        words("search_text"),
        check("asked", "(asking_minor IS NULL) = (asking_per IS NULL)"),
        check(
            "asking",
            "(asking_minor IS NULL) = (asking_currency IS NULL) AND asking_minor >= "
            "0 AND length(asking_currency) = 3",
        ),
        check("asking_per", "asking_per IN ('stone', 'carat', 'parcel')"),
        check("count", "count > 0"),
        check("depth_mm", "depth_mm > 0"),
        check("form", "form IN ('faceted', 'cabochon', 'bead', 'carving', 'rough', 'mounted')"),
        check("kind", "kind IN ('stone', 'ring', 'piece', 'parcel')"),
        check("length_mm", "length_mm > 0"),
        check("name", "name <> ''"),
        check("width_mm", "width_mm > 0"),
        sa.Index(None, "created_at", "id"),
    )


def _custody() -> None:
    create(
        "custody",
        whole("sequence", primary_key=True),
        words("id", unique=True),
        words("stone_id", sa.ForeignKey("stones.id")),
        words("holding"),
        words("party_id", sa.ForeignKey("parties.id"), nullable=True),
        day("due", nullable=True),
        moment("since"),
        words("note"),
        check(
            "holding",
            "holding IN ('mine', 'client''s', 'on approval from', 'out to client', "
            "'out to setter', 'out to laboratory')",
        ),
        check("party", "holding = 'mine' OR party_id IS NOT NULL"),
        sa.Index(None, "party_id"),
        sa.Index(None, "stone_id", "sequence"),
    )


def _photographs() -> None:
    create(
        "photographs",
        whole("sequence", primary_key=True),
        words("id", unique=True),
        words("stone_id", sa.ForeignKey("stones.id")),
        words("sha256"),
        words("media_type"),
        whole("width_px"),
        whole("height_px"),
        words("note"),
        moment("taken_at", nullable=True),
        moment("added_at"),
        check("height_px", "height_px > 0"),
        check("sha256", "length(sha256) = 64"),
        check("width_px", "width_px > 0"),
        sa.Index(None, "stone_id"),
    )


def _readings() -> None:
    create(
        "readings",
        whole("sequence", primary_key=True),
        words("id", unique=True),
        words("stone_id", sa.ForeignKey("stones.id")),
        words("field"),
        anything("value"),
        words("state"),
        measure("error", nullable=True),
        words("light"),
        words("instrument"),
        words("note"),
        moment("taken_at"),
        words("taken_by"),
        words("supersedes", nullable=True),
        words("reason"),
        check("error", "error >= 0"),
        check("field", "field <> ''"),
        check("reason", "supersedes IS NULL OR reason <> ''"),
        check("state", "state IN ('seen', 'not seen', 'told', 'withdrawn')"),
        check("supersedes", "supersedes IS NULL OR supersedes <> id"),
        check("withdrawn", "state <> 'withdrawn' OR supersedes IS NOT NULL"),
        sa.ForeignKeyConstraint(
            ["supersedes", "stone_id", "field"],
            ["readings.id", "readings.stone_id", "readings.field"],
        ),
        sa.UniqueConstraint("id", "stone_id", "field"),
        sa.Index(None, "stone_id", "field"),
        sa.Index(None, "supersedes"),
    )


def _stone_events() -> None:
    create(
        "stone_events",
        whole("sequence", primary_key=True),
        words("stone_id", sa.ForeignKey("stones.id")),
        words("kind"),
        moment("at"),
        words("by"),
        anything("changes"),
        check("kind", "kind IN ('entered', 'amended', 'archived', 'restored')"),
        sa.Index(None, "stone_id", "kind"),
    )


def _take_ins() -> None:
    create(
        "take_ins",
        whole("sequence", primary_key=True),
        words("id", unique=True),
        words("receipt", unique=True),
        words("stone_id", sa.ForeignKey("stones.id")),
        words("party_id", sa.ForeignKey("parties.id")),
        moment("received_at"),
        words("received_by"),
        words("description"),
        measure("weight_g", nullable=True),
        whole("value_minor", nullable=True),
        words("value_currency", nullable=True),
        words("value_note"),
        whole("risk_minor", nullable=True),
        words("risk_currency", nullable=True),
        words("risk_note"),
        words("note"),
        check("receipt", "receipt <> ''"),
        check(
            "risk",
            "(risk_minor IS NULL) = (risk_currency IS NULL) AND risk_minor >= 0 AND "
            "length(risk_currency) = 3",
        ),
        check(
            "value",
            "(value_minor IS NULL) = (value_currency IS NULL) AND value_minor >= 0 "
            "AND length(value_currency) = 3",
        ),
        check("weight_g", "weight_g > 0"),
        sa.Index(None, "stone_id"),
    )


def _return_checks() -> None:
    create(
        "return_checks",
        whole("sequence", primary_key=True),
        words("id", unique=True),
        words("take_in_id", sa.ForeignKey("take_ins.id")),
        moment("checked_at"),
        words("checked_by"),
        words("verdict"),
        measure("weight_g", nullable=True),
        words("note"),
        check("verdict", "verdict IN ('as received', 'changed')"),
        check("weight_g", "weight_g > 0"),
        sa.Index(None, "take_in_id"),
    )


def _damage_marks() -> None:
    create(
        "damage_marks",
        whole("sequence", primary_key=True),
        words("take_in_id", sa.ForeignKey("take_ins.id"), nullable=True),
        words("return_check_id", sa.ForeignKey("return_checks.id"), nullable=True),
        words("kind"),
        words("place"),
        words("severity"),
        words("note"),
        check(
            "kind",
            "kind IN ('chip', 'abraded edge', 'worn prong', 'open fissure', "
            "'missing stone', 'other')",
        ),
        check("owner", "(take_in_id IS NULL) <> (return_check_id IS NULL)"),
        check("severity", "severity IN ('slight', 'clear', 'severe')"),
        sa.Index(None, "return_check_id"),
        sa.Index(None, "take_in_id"),
    )


def _piece_photographs() -> None:
    create(
        "piece_photographs",
        whole("sequence", primary_key=True),
        words("take_in_id", sa.ForeignKey("take_ins.id"), nullable=True),
        words("return_check_id", sa.ForeignKey("return_checks.id"), nullable=True),
        words("photograph_id", sa.ForeignKey("photographs.id")),
        check("owner", "(take_in_id IS NULL) <> (return_check_id IS NULL)"),
        sa.Index(None, "return_check_id"),
        sa.Index(None, "take_in_id"),
    )


# In the order in which they refer to each other.
TABLES = (
    _kits,
    _parties,
    _settings,
    _stones,
    _custody,
    _photographs,
    _readings,
    _stone_events,
    _take_ins,
    _return_checks,
    _damage_marks,
    _piece_photographs,
)
