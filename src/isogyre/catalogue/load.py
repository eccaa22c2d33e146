"""Read the catalogue from its TOML files. The only place below ``desk`` that opens a file."""

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from isogyre.catalogue.errors import CatalogueError
from isogyre.catalogue.model import Feature, Growth, Material, Source, Spectrum, TreatmentWord

DATA = Path(__file__).parent / "data"

Found = tuple[str, Any]  # the file a row stands in, and the row

TABLES: dict[str, type[BaseModel]] = {
    "source": Source,
    "feature": Feature,
    "growth": Growth,
    "treatment": TreatmentWord,
    "spectrum": Spectrum,
    "material": Material,
}


@dataclass(frozen=True)
class Catalogue:
    """Everything the program knows about materials, loaded once and handed in."""

    sources: dict[str, Source]
    features: dict[str, Feature]
    growths: dict[str, Growth]
    treatments: dict[str, TreatmentWord]
    spectra: dict[str, Spectrum]
    materials: dict[str, Material]

    @cached_property
    def species(self) -> tuple[str, ...]:
        """Return the species names in alphabetical order."""
        return tuple(sorted({m.species for m in self.materials.values()}))


def load_catalogue(folder: Path = DATA) -> Catalogue:
    """Load and cross-check all data files below ``folder``.

    Raises
    ------
    CatalogueError
        With every fault found, each with file and place, not only the first.
    """
    files = sorted(folder.rglob("*.toml"))
    rows, faults = _read_rows(files)
    found = {table: _by_name(table, rows[table], faults) for table in TABLES}
    if not faults:
        faults += _dangling(found)
    if faults:
        raise CatalogueError(faults)
    tables = {
        table: {name: row for name, (_, row) in named.items()} for table, named in found.items()
    }
    return Catalogue(
        sources=tables["source"],
        features=tables["feature"],
        growths=tables["growth"],
        treatments=tables["treatment"],
        spectra=tables["spectrum"],
        materials=tables["material"],
    )


def _read_rows(files: Sequence[Path]) -> tuple[dict[str, list[Found]], list[str]]:
    rows: dict[str, list[Found]] = {table: [] for table in TABLES}
    faults: list[str] = []
    for file in files:
        try:
            content = tomllib.loads(file.read_text("utf-8"))
        except tomllib.TOMLDecodeError as error:
            faults.append(f"{file.name}: {error}")
            continue
        for table, entries in content.items():
            if table not in TABLES:
                faults.append(f"{file.name}: no table is called '{table}'")
                continue
            for entry in entries:
                _read_row(file.name, table, entry, rows, faults)
    return rows, faults


def _read_row(
    file: str, table: str, entry: dict[str, Any], rows: dict[str, list[Found]], faults: list[str]
) -> None:
    try:
        rows[table].append((file, TABLES[table].model_validate(entry)))
    except ValidationError as error:
        name = entry.get("name") or entry.get("key") or "?"
        for fault in error.errors():
            place = ".".join(str(part) for part in fault["loc"])
            faults.append(f"{file}: {table} '{name}': {place}: {fault['msg']}")


def _by_name(table: str, rows: Iterable[Found], faults: list[str]) -> dict[str, Found]:
    named: dict[str, Found] = {}
    for file, row in rows:
        name = row.key if table == "source" else row.name
        if name in named:
            faults.append(f"{file}: {table} '{name}' stands in {named[name][0]} as well")
        named[name] = file, row
    return named


def _dangling(found: dict[str, dict[str, Found]]) -> list[str]:
    """Return a fault for every name that no table defines."""
    from isogyre.catalogue.references import references

    return [
        f"{file}: {place}: no {table} is called '{name}'"
        for row_table, rows in found.items()
        for file, row in rows.values()
        for place, table, name in references(row_table, row)
        if name not in found[table]
    ]
