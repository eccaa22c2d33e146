"""One catalogue, one population and one bench for all tests of the evidence."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue, load_catalogue
from isogyre.evidence import RecordReading, Standing, read_record, stand
from isogyre.instruments import Instrument, PlannedTest, bench
from isogyre.instruments.kits import KITS
from isogyre.population import Population, build_population

# Ten sound records of everyday stones; indices, densities and colours as every table has them.
EVERYDAY: dict[str, dict[str, Any]] = {
    "corundum": {"ri_low": "1.762", "ri_high": "1.770", "sg": 4.00, "colour": "red"},
    "quartz": {"ri_low": "1.544", "ri_high": "1.553", "sg": 2.65, "optic_sign": "+"},
    "topaz": {"ri_low": "1.610", "ri_high": "1.618", "sg": 3.56, "colour": "blue"},
    "olivine": {"ri_low": "1.654", "ri_high": "1.690", "sg": 3.34, "colour": "yellow-green"},
    "tourmaline": {"ri_low": "1.622", "ri_high": "1.640", "sg": 3.06, "colour": "green"},
    "beryl": {"ri_low": "1.577", "ri_high": "1.583", "sg": 2.72, "colour": "green"},
    "spinel": {"ri_low": "1.718", "ri_high": "1.718", "sg": 3.60, "polariscope": "SR"},
    "zoisite": {"ri_low": "1.692", "ri_high": "1.700", "sg": 3.35, "colour": "violet"},
    "chrysoberyl": {"ri_low": "1.746", "ri_high": "1.755", "sg": 3.73, "colour": "yellow"},
    "diamond": {"ri_text": "over 1.80", "sg": 3.52, "thermal": "diamond-like"},
}


@pytest.fixture(scope="session")
def everyday() -> dict[str, dict[str, Any]]:
    return EVERYDAY


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def population(catalogue: Catalogue) -> Population:
    return build_population(catalogue)


@pytest.fixture(scope="session")
def instruments(catalogue: Catalogue) -> tuple[Instrument, ...]:
    return bench(catalogue)


@pytest.fixture(scope="session")
def tests_at_hand(instruments: tuple[Instrument, ...]) -> list[PlannedTest]:
    return [t for i in instruments for t in i.tests if t.field in KITS["bench"].fields]


@pytest.fixture(scope="session")
def read(instruments: tuple[Instrument, ...]) -> Callable[..., RecordReading]:
    def read(**entries: Any) -> RecordReading:
        found = read_record(entries, instruments)
        assert not found.troubles
        return found

    return read


@pytest.fixture(scope="session")
def stands(population: Population, read: Callable[..., RecordReading]) -> Callable[..., Standing]:
    """Return where a stone with these entries stands."""

    def stands(**entries: Any) -> Standing:
        found = read(**entries)
        return stand(population, found.readings, found.setting)

    return stands


@pytest.fixture(scope="session")
def rows_of(population: Population) -> Callable[..., NDArray[np.intp]]:
    def rows_of(**label: str) -> NDArray[np.intp]:
        held = np.flatnonzero(
            np.all([population.rows_of(name, value) for name, value in label.items()], axis=0)
        )
        assert len(held), f"no hypothesis is labelled {label}"
        return held

    return rows_of
