"""Read the rule tables of the trade from their TOML files. An edge calls this once."""

import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from isogyre.trade.errors import TradeRulesError
from isogyre.trade.rules import (
    AssumedRule,
    CautionRule,
    FrameRule,
    HarmRule,
    LaboratoryRule,
    NameRule,
    TradeRules,
    TreatedRule,
)

DATA = Path(__file__).parent / "data"

TABLES: Mapping[str, type[BaseModel]] = {
    "harm": HarmRule,
    "name": NameRule,
    "frame": FrameRule,
    "treated": TreatedRule,
    "assumed": AssumedRule,
    "caution": CautionRule,
    "laboratory": LaboratoryRule,
}
# Lists of plain words, which stand at the head of a file.
WORD_LISTS = ("states_a_treatment",)


def load_rules(folder: Path = DATA) -> TradeRules:
    """Load all rule tables in ``folder``.

    Raises
    ------
    TradeRulesError
        With every fault found, each with file and row, not only the first.
    """
    rows: dict[str, list[Any]] = {table: [] for table in (*TABLES, *WORD_LISTS)}
    faults: list[str] = []
    for file in sorted(folder.glob("*.toml")):
        try:
            content = tomllib.loads(file.read_text("utf-8"))
        except tomllib.TOMLDecodeError as error:
            faults.append(f"{file.name}: {error}")
            continue
        for table, entries in content.items():
            faults += _read_table(file.name, table, entries, rows)
    if faults:
        raise TradeRulesError(faults)
    rules = TradeRules(**{table: tuple(entries) for table, entries in rows.items()})
    if not rules.has_a_frame_for_every_stone:
        raise TradeRulesError(["the last frame must be without conditions, to fit every stone"])
    return rules


def _read_table(
    file: str, table: str, entries: list[Any], rows: dict[str, list[Any]]
) -> Iterable[str]:
    """Add the rows of a table and yield a fault for each that does not fit."""
    if table not in rows:
        yield f"{file}: no table is called '{table}'"
    elif table in WORD_LISTS:
        rows[table] += entries
    else:
        for number, entry in enumerate(entries, start=1):
            try:
                rows[table].append(TABLES[table].model_validate(entry))
            except ValidationError as error:
                for fault in error.errors():
                    place = ".".join(str(part) for part in fault["loc"])
                    yield f"{file}: {table} {number}: {place}: {fault['msg']}"
