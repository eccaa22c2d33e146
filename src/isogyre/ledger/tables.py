"""The tables of the ledger. What the database itself refuses is written here as constraints.

``APPEND_ONLY`` names the tables whose rows are never changed or deleted: beside the missing
methods, triggers of the database see to it (``append_only``).
"""

from datetime import date, datetime
from typing import Any, get_args

from sqlalchemy import (
    CheckConstraint,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    MetaData,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, composite, mapped_column

from isogyre.ledger import values
from isogyre.ledger.columns import MEASURE, WHOLE, WORDS, Day, JsonValue, UtcTime, YesNo
from isogyre.ledger.values import Money

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
STRICT = {"sqlite_strict": True}

APPEND_ONLY = (
    *("stone_events", "custody", "readings", "photographs"),
    *("take_ins", "return_checks", "damage_marks", "piece_photographs"),
)
# Rows that may be amended, but never go away: what was appended refers to them.
NEVER_DELETED = ("stones", "parties")


def one_of(column: str, words: tuple[str, ...]) -> CheckConstraint:
    """Return the rule that a column holds one of these words."""
    listed = ", ".join("'" + word.replace("'", "''") + "'" for word in words)
    return CheckConstraint(f"{column} IN ({listed})", name=column)


def above_zero(*columns: str) -> tuple[CheckConstraint, ...]:
    """Return the rules that measures, where given, are above zero."""
    return tuple(CheckConstraint(f"{column} > 0", name=column) for column in columns)


def share(*columns: str) -> tuple[CheckConstraint, ...]:
    """Return the rules that probabilities lie between 0 and 1."""
    return tuple(CheckConstraint(f"{column} BETWEEN 0 AND 1", name=column) for column in columns)


def amount(column: str) -> CheckConstraint:
    """Return the rule that an amount has a currency, and is not below zero."""
    minor, currency = f"{column}_minor", f"{column}_currency"
    rule = f"({minor} IS NULL) = ({currency} IS NULL) AND {minor} >= 0 AND length({currency}) = 3"
    return CheckConstraint(rule, name=column)


def money(column: str) -> Any:
    """Return the two columns of an amount that may be missing."""
    return composite(
        Money,
        mapped_column(f"{column}_minor", WHOLE, nullable=True),
        mapped_column(f"{column}_currency", WORDS, nullable=True),
        return_none_on=lambda minor, currency: minor is None,
    )


class Base(DeclarativeBase):
    """What every table shares."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map = {  # noqa: RUF012 - read once, when the tables are declared
        str: WORDS,
        bool: YesNo(),
        int: WHOLE,
        float: MEASURE,
        datetime: UtcTime(),
        date: Day(),
        Any: JsonValue(),
    }


class StoneRow(Base):
    """A stone as it is entered now; ``search_text`` is its words without capitals."""

    __tablename__ = "stones"
    __table_args__ = (
        one_of("kind", get_args(values.StoneKind)),
        one_of("form", get_args(values.StoneForm)),
        one_of("asking_per", get_args(values.AskedPer)),
        *above_zero("length_mm", "width_mm", "depth_mm", "count"),
        amount("asking"),
        CheckConstraint("(asking_minor IS NULL) = (asking_per IS NULL)", name="asked"),
        CheckConstraint("name <> ''", name="name"),
        Index(None, "created_at", "id"),
        STRICT,
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    kind: Mapped[str]
    form: Mapped[str | None]
    length_mm: Mapped[float | None]
    width_mm: Mapped[float | None]
    depth_mm: Mapped[float | None]
    count: Mapped[int | None]
    place: Mapped[str]
    where_met: Mapped[str]
    met: Mapped[str]
    claim: Mapped[str]
    asking: Mapped[Money | None] = money("asking")
    asking_per: Mapped[str | None]
    note: Mapped[str]
    created_at: Mapped[datetime]
    search_text: Mapped[str]


class StoneEventRow(Base):
    """An amendment of a stone's entry, or its way into the archive and back."""

    __tablename__ = "stone_events"
    __table_args__ = (
        one_of("kind", get_args(values.EventKind)),
        Index(None, "stone_id", "kind"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"))
    kind: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    changes: Mapped[Any] = mapped_column(nullable=False)


class StandingNoteRow(Base):
    """What was last reckoned of a stone; ``search_leader`` is the leader without capitals."""

    __tablename__ = "standing_notes"
    __table_args__ = (
        *above_zero("revision"),
        *share("leader_probability", "origin_probability", "treatment_probability"),
        Index(None, "awaits"),
        Index(None, "is_open"),
        Index(None, "does_not_fit"),
        STRICT,
    )

    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"), primary_key=True)
    revision: Mapped[int]
    made_by: Mapped[str]
    made_at: Mapped[datetime]
    leader: Mapped[str]
    leader_probability: Mapped[float]
    name: Mapped[str]
    origin: Mapped[str]
    origin_probability: Mapped[float]
    treatment: Mapped[str]
    treatment_probability: Mapped[float]
    is_open: Mapped[bool]
    does_not_fit: Mapped[bool]
    awaits: Mapped[str]
    next_test: Mapped[str]
    search_leader: Mapped[str]


class PartyRow(Base):
    """Somebody the house deals with."""

    __tablename__ = "parties"
    __table_args__ = (
        one_of("kind", get_args(values.PartyKind)),
        CheckConstraint("name <> ''", name="name"),
        STRICT,
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    kind: Mapped[str]
    contact: Mapped[str]
    note: Mapped[str]


class CustodyRow(Base):
    """Whose a stone is, or to whom it went; the newest holds."""

    __tablename__ = "custody"
    __table_args__ = (
        one_of("holding", values.HOLDINGS),
        CheckConstraint("holding = 'mine' OR party_id IS NOT NULL", name="party"),
        Index(None, "stone_id", "sequence"),
        Index(None, "party_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(unique=True)
    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"))
    holding: Mapped[str]
    party_id: Mapped[str | None] = mapped_column(ForeignKey("parties.id"))
    due: Mapped[date | None]
    since: Mapped[datetime]
    note: Mapped[str]


class ReadingRow(Base):
    """A reading; a correction points at the reading of the same stone and field it replaces."""

    __tablename__ = "readings"
    __table_args__ = (
        one_of("state", get_args(values.ReadingState)),
        CheckConstraint("field <> ''", name="field"),
        CheckConstraint("error >= 0", name="error"),
        CheckConstraint("supersedes IS NULL OR reason <> ''", name="reason"),
        CheckConstraint("supersedes IS NULL OR supersedes <> id", name="supersedes"),
        CheckConstraint("state <> 'withdrawn' OR supersedes IS NOT NULL", name="withdrawn"),
        UniqueConstraint("id", "stone_id", "field"),
        ForeignKeyConstraint(
            ["supersedes", "stone_id", "field"],
            ["readings.id", "readings.stone_id", "readings.field"],
        ),
        Index(None, "stone_id", "field"),
        Index(None, "supersedes"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(unique=True)
    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"))
    field: Mapped[str]
    value: Mapped[Any] = mapped_column(nullable=False)
    state: Mapped[str]
    error: Mapped[float | None]
    light: Mapped[str]
    instrument: Mapped[str]
    note: Mapped[str]
    taken_at: Mapped[datetime]
    taken_by: Mapped[str]
    supersedes: Mapped[str | None]
    reason: Mapped[str]


class PhotographRow(Base):
    """A photograph; its bytes lie in the photo store."""

    __tablename__ = "photographs"
    __table_args__ = (
        CheckConstraint("length(sha256) = 64", name="sha256"),
        *above_zero("width_px", "height_px"),
        Index(None, "stone_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(unique=True)
    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"))
    sha256: Mapped[str]
    media_type: Mapped[str]
    width_px: Mapped[int]
    height_px: Mapped[int]
    note: Mapped[str]
    taken_at: Mapped[datetime | None]
    added_at: Mapped[datetime]


class TakeInRow(Base):
    """A client's piece as it was received."""

    __tablename__ = "take_ins"
    __table_args__ = (
        CheckConstraint("receipt <> ''", name="receipt"),
        *above_zero("weight_g"),
        amount("value"),
        amount("risk"),
        Index(None, "stone_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(unique=True)
    receipt: Mapped[str] = mapped_column(unique=True)
    stone_id: Mapped[str] = mapped_column(ForeignKey("stones.id"))
    party_id: Mapped[str] = mapped_column(ForeignKey("parties.id"))
    received_at: Mapped[datetime]
    received_by: Mapped[str]
    description: Mapped[str]
    weight_g: Mapped[float | None]
    value: Mapped[Money | None] = money("value")
    value_note: Mapped[str]
    risk: Mapped[Money | None] = money("risk")
    risk_note: Mapped[str]
    note: Mapped[str]


class ReturnCheckRow(Base):
    """What came back, compared with what was taken in."""

    __tablename__ = "return_checks"
    __table_args__ = (
        one_of("verdict", get_args(values.Verdict)),
        *above_zero("weight_g"),
        Index(None, "take_in_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(unique=True)
    take_in_id: Mapped[str] = mapped_column(ForeignKey("take_ins.id"))
    checked_at: Mapped[datetime]
    checked_by: Mapped[str]
    verdict: Mapped[str]
    weight_g: Mapped[float | None]
    note: Mapped[str]


# Damage and photographs belong to a take-in or to the check of a return, never to both.
ONE_OWNER = "(take_in_id IS NULL) <> (return_check_id IS NULL)"


class DamageRow(Base):
    """A mark of damage, seen when a piece was received or when it came back."""

    __tablename__ = "damage_marks"
    __table_args__ = (
        one_of("kind", get_args(values.DamageKind)),
        one_of("severity", get_args(values.Severity)),
        CheckConstraint(ONE_OWNER, name="owner"),
        Index(None, "take_in_id"),
        Index(None, "return_check_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    take_in_id: Mapped[str | None] = mapped_column(ForeignKey("take_ins.id"))
    return_check_id: Mapped[str | None] = mapped_column(ForeignKey("return_checks.id"))
    kind: Mapped[str]
    place: Mapped[str]
    severity: Mapped[str]
    note: Mapped[str]


class PiecePhotographRow(Base):
    """A photograph that shows a piece as received, or as it came back."""

    __tablename__ = "piece_photographs"
    __table_args__ = (
        CheckConstraint(ONE_OWNER, name="owner"),
        Index(None, "take_in_id"),
        Index(None, "return_check_id"),
        STRICT,
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    take_in_id: Mapped[str | None] = mapped_column(ForeignKey("take_ins.id"))
    return_check_id: Mapped[str | None] = mapped_column(ForeignKey("return_checks.id"))
    photograph_id: Mapped[str] = mapped_column(ForeignKey("photographs.id"))


class KitRow(Base):
    """A named set of record keys."""

    __tablename__ = "kits"
    __table_args__ = (CheckConstraint("name <> ''", name="name"), STRICT)

    name: Mapped[str] = mapped_column(primary_key=True)
    fields: Mapped[Any] = mapped_column(nullable=False)
    minutes: Mapped[Any] = mapped_column(nullable=False)
    errors: Mapped[Any] = mapped_column(nullable=False)
    note: Mapped[str]


class SettingRow(Base):
    """A setting of the house, such as its default kit."""

    __tablename__ = "settings"
    __table_args__ = (STRICT,)

    key: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[Any] = mapped_column(nullable=False)
