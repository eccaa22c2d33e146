"""Column types that give back what was handed in, alike on SQLite and PostgreSQL.

SQLite's tables are STRICT, which knows only INTEGER, REAL, TEXT and BLOB; so each type says what
it is there.
"""

import json
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import JSON, BigInteger, Boolean, Date, DateTime, Dialect, Double, Integer, Text
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.types import TypeDecorator, TypeEngine

from isogyre.ledger.values import require_aware, require_json

# Texts are compared byte by byte on both databases, so that ids sort alike.
WORDS = Text().with_variant(postgresql.TEXT(collation="C"), "postgresql")
WHOLE = BigInteger().with_variant(Integer(), "sqlite")
MEASURE: TypeEngine[float] = Double().with_variant(sqlite.REAL(), "sqlite")


def on_sqlite(dialect: Dialect) -> bool:
    """Tell whether the column lies in SQLite."""
    return dialect.name == "sqlite"


class UtcTime(TypeDecorator[datetime]):
    """A moment: aware in, UTC out; a naive time is refused.

    SQLite keeps it as text of one width, so that it sorts by time.
    """

    impl = DateTime
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Text() if on_sqlite(dialect) else DateTime(timezone=True))

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> Any:
        if value is None:
            return None
        require_aware(value)
        moment = value.astimezone(UTC)
        return moment.isoformat(timespec="microseconds") if on_sqlite(dialect) else moment

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        moment = datetime.fromisoformat(value) if on_sqlite(dialect) else value
        return moment.astimezone(UTC)


class Day(TypeDecorator[date]):
    """A date of the calendar."""

    impl = Date
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Text() if on_sqlite(dialect) else Date())

    def process_bind_param(self, value: date | None, dialect: Dialect) -> Any:
        return value.isoformat() if value is not None and on_sqlite(dialect) else value

    def process_result_value(self, value: Any, dialect: Dialect) -> date | None:
        return date.fromisoformat(value) if isinstance(value, str) else value


class YesNo(TypeDecorator[bool]):
    """A yes or a no: a boolean on PostgreSQL, 1 or 0 on SQLite."""

    impl = Boolean
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Integer() if on_sqlite(dialect) else Boolean())

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> Any:
        return int(value) if value is not None and on_sqlite(dialect) else value

    def process_result_value(self, value: Any, dialect: Dialect) -> bool | None:
        return None if value is None else bool(value)


class JsonValue(TypeDecorator[Any]):
    """Anything JSON can hold: JSONB on PostgreSQL, text on SQLite. None is JSON's null."""

    impl = JSON
    cache_ok = True
    # Without it the ORM would take None for a value that was not given.
    should_evaluate_none = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Text() if on_sqlite(dialect) else postgresql.JSONB())

    def process_bind_param(self, value: Any, dialect: Dialect) -> Any:
        require_json(value)
        return json.dumps(value, ensure_ascii=False) if on_sqlite(dialect) else value

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        return json.loads(value) if on_sqlite(dialect) else value
