"""One catalogue, one population and one bench for all tests of the instruments."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue, load_catalogue
from isogyre.evidence import RecordReading, read_record
from isogyre.instruments import Instrument, Reading, Term, bench
from isogyre.population import Population, build_population

Array = NDArray[np.float64]


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def population(catalogue: Catalogue) -> Population:
    return build_population(catalogue)


@pytest.fixture(scope="session")
def sparse(catalogue: Catalogue) -> Population:
    """The same hypotheses on two stones a stratum, for figures that do not need a cloud."""
    return build_population(catalogue, stones=2)


@pytest.fixture(scope="session")
def instruments(catalogue: Catalogue) -> tuple[Instrument, ...]:
    return bench(catalogue)


@pytest.fixture(scope="session")
def read(instruments: tuple[Instrument, ...]) -> Callable[..., RecordReading]:
    """Return a reader of records given as keywords: `read(ri_low=1.762, sg="4.00")`."""

    def read(record: Mapping[str, Any] | None = None, **entries: Any) -> RecordReading:
        return read_record({**(record or {}), **entries}, instruments)

    return read


@pytest.fixture(scope="session")
def one(read: Callable[..., RecordReading]) -> Callable[..., Reading]:
    """Return the single reading that a record makes."""

    def one(**entries: Any) -> Reading:
        found = read(entries)
        assert not found.troubles
        (reading,) = found.readings
        return reading

    return one


@pytest.fixture(scope="session")
def log_rows(population: Population, read: Callable[..., RecordReading]) -> Callable[..., Array]:
    """Return the log likelihood by hypothesis of a record, each reading counted in full."""

    def by_row(term: Term) -> Array:
        if term.rows is not None:
            return term.rows
        assert term.stones is not None
        log: Array = np.log(np.exp(term.stones).mean(axis=1))[population.stratum]
        return log

    def log_rows(**entries: Any) -> Array:
        found = read(entries)
        assert not found.troubles
        return np.sum([by_row(r.term(population)) for r in found.readings], axis=0)

    return log_rows


@pytest.fixture(scope="session")
def rows_of(population: Population) -> Callable[..., NDArray[np.intp]]:
    """Return the rows whose labels say all this: `rows_of(species="corundum", treatment="")`."""

    def rows_of(**label: str) -> NDArray[np.intp]:
        held = np.flatnonzero(
            np.all([population.rows_of(name, value) for name, value in label.items()], axis=0)
        )
        assert len(held), f"no hypothesis is labelled {label}"
        return held

    return rows_of
