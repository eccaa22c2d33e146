"""What is reckoned of a stone from the rows that point at it: revision and place in the archive."""

from sqlalchemy import ColumnElement, exists, func, select
from sqlalchemy.orm import InstrumentedAttribute, aliased

from isogyre.ledger.tables import ReadingRow, StoneEventRow, StoneRow


def revision(stone_id: InstrumentedAttribute[str]) -> ColumnElement[int]:
    """Return how many readings and events a stone has, whose id stands in this column.

    A count, not the highest number: of two that are appended at once the later number may be
    kept first, and the highest would then stay as it is when the other arrives.
    """
    return _count_of(ReadingRow, stone_id) + _count_of(StoneEventRow, stone_id)


def _count_of(
    rows: type[ReadingRow | StoneEventRow], stone_id: InstrumentedAttribute[str]
) -> ColumnElement[int]:
    counted = select(func.count()).select_from(rows).where(rows.stone_id == stone_id)
    return counted.correlate_except(rows).scalar_subquery()


_RESTORED = aliased(StoneEventRow)
IS_ARCHIVED = exists().where(
    StoneEventRow.stone_id == StoneRow.id,
    StoneEventRow.kind == "archived",
    ~exists().where(
        _RESTORED.stone_id == StoneEventRow.stone_id,
        _RESTORED.kind == "restored",
        _RESTORED.sequence > StoneEventRow.sequence,
    ),
)
