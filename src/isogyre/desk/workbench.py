"""The workbench: catalogue, population, instruments and rules, opened once and used by all."""

import hashlib
import os
import pickle
import sys
from dataclasses import dataclass
from pathlib import Path

import isogyre.catalogue
import isogyre.population
from isogyre.catalogue import Catalogue, load_catalogue
from isogyre.instruments import Instrument, bench
from isogyre.population import Population, build_population
from isogyre.trade import TradeRules, load_rules


@dataclass(frozen=True)
class Workbench:
    """Everything a use case needs; built by :func:`open_workbench`, then never changed."""

    catalogue: Catalogue
    population: Population
    instruments: tuple[Instrument, ...]
    rules: TradeRules


def open_workbench() -> Workbench:
    """Open the workbench from tables kept since last time, or build and keep them."""
    file = _table_file()
    kept = _kept_tables(file)
    if kept is None:
        catalogue = load_catalogue()
        kept = (catalogue, build_population(catalogue))
        _keep_tables(file, kept)
    catalogue, population = kept
    return Workbench(catalogue, population, bench(catalogue), load_rules())


def cache_folder() -> Path | None:
    """Return where tables are kept between starts, or None if this user has no place for them."""
    base = os.environ.get("XDG_CACHE_HOME") or os.environ.get("HOME")
    if not base:
        return None
    folder = Path(base) / ("isogyre" if os.environ.get("XDG_CACHE_HOME") else ".cache/isogyre")
    return folder


def _table_file() -> Path | None:
    folder = cache_folder()
    return folder / f"tables-{tables_key()}.pickle" if folder else None


def tables_key() -> str:
    """Return a hash of everything the tables are made from: the data and the code that draws."""
    digest = hashlib.sha256(sys.version.encode())
    for room in (isogyre.catalogue, isogyre.population):
        folder = Path(str(room.__file__)).parent
        for file in sorted((*folder.rglob("*.toml"), *folder.rglob("*.py"))):
            digest.update(file.read_bytes())
    return digest.hexdigest()[:24]


def _kept_tables(file: Path | None) -> tuple[Catalogue, Population] | None:
    if file is None:
        return None
    try:
        # The file lies in the user's own cache and is written by this program only.
        kept: tuple[Catalogue, Population] = pickle.loads(file.read_bytes())
    except (OSError, pickle.UnpicklingError, EOFError, AttributeError, ImportError, TypeError):
        return None
    return kept


def _keep_tables(file: Path | None, tables: tuple[Catalogue, Population]) -> None:
    """Keep tables for the next start; a read-only or full home only costs that start time."""
    if file is None:
        return
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        partial = file.with_suffix(f".{os.getpid()}")
        partial.write_bytes(pickle.dumps(tables))
        partial.replace(file)
        for old in file.parent.glob("tables-*.pickle"):
            if old != file:
                old.unlink(missing_ok=True)
    except OSError:
        return
