"""What the measurements share: catalogue, virtual stones, instruments and the published tables."""

import csv
import json
import sys
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue, load_catalogue
from isogyre.evidence import RecordReading, read_record
from isogyre.evidence.posterior import Evidence
from isogyre.evidence.prior import log_prior
from isogyre.instruments import Instrument, PlannedTest, bench
from isogyre.population import Population, build_population

Array = NDArray[np.float64]
Record = Mapping[str, Any]

ROOT = Path(__file__).parents[1]
REFERENCE = ROOT / "tests" / "reference"
NOT_READINGS = ("truth", "source", "note", "advanced")
DENSE = 1024


def talk(message: str) -> None:
    """Say on standard error what is being done."""
    print(message, file=sys.stderr, flush=True)


def reference_rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a table of published facts."""
    with (REFERENCE / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


@dataclass(frozen=True)
class World:
    """Everything the measurements share; made once, then only read."""

    catalogue: Catalogue
    population: Population
    instruments: tuple[Instrument, ...]
    cases_file: Path = REFERENCE / "cases_dev.jsonl"
    verbose: bool = False
    names: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    @cached_property
    def dense(self) -> Population:
        """Return the same hypotheses with many more stones, to draw from and to compare with."""
        talk(f"drawing {DENSE} stones a body")
        return build_population(self.catalogue, DENSE)

    @cached_property
    def tests(self) -> dict[str, PlannedTest]:
        """Return every test that the planner knows, by name."""
        return {test.name: test for i in self.instruments for test in i.tests}

    @cached_property
    def cases(self) -> list[dict[str, Any]]:
        """Return the published cases."""
        lines = self.cases_file.read_text("utf-8").splitlines()
        return [json.loads(line) for line in lines if line.strip()]

    def read(self, record: Record) -> RecordReading:
        """Hand a record to the instruments, without its answer."""
        given = {key: value for key, value in record.items() if key not in NOT_READINGS}
        return read_record(given, self.instruments)

    def posterior(self, record: Record, population: Population | None = None) -> Array:
        """Return the probability of every hypothesis."""
        weighed = population or self.population
        read = self.read(record)
        likelihood = Evidence.gather(weighed, read.readings).likelihood()
        return likelihood.posterior(log_prior(weighed, read.setting))

    def shares(self, posterior: Array, name: str = "species") -> Array:
        """Return the probability of each value of a label's field, in the population's order."""
        values, codes = self.population.groups(name)
        return np.bincount(codes, posterior, len(values)).astype(np.float64)

    def true_species(self, material: str) -> frozenset[str]:
        """Return the species of the catalogue that a published material name may mean.

        A group such as garnet means each of its species; an unknown name means itself.
        """
        meant = self.names["species"].get(material.lower(), material.lower())
        names = [meant] if isinstance(meant, str) else meant
        return frozenset(species for name in names for species in self._species_of(name))

    def _species_of(self, name: str) -> set[str]:
        listed = self.catalogue.materials
        if name in listed:
            return {listed[name].species}
        if name in self.catalogue.species:
            return {name}
        return {m.species for m in listed.values() if m.group == name} or {name}


def open_world(cases_file: Path = REFERENCE / "cases_dev.jsonl", verbose: bool = False) -> World:
    """Load the catalogue and draw the virtual stones that the program ships with."""
    catalogue = load_catalogue()
    names = tomllib.loads((Path(__file__).parent / "names.toml").read_text("utf-8"))
    population = build_population(catalogue)
    return World(catalogue, population, bench(catalogue), cases_file, verbose, names)


def with_prior(population: Population, prior: Array) -> Population:
    """Return the population with another prior; nothing reckoned from the old one is kept."""
    return replace(population, prior=prior / prior.sum(), memo={})


def rank_of(accepted: frozenset[str], names: Sequence[str], shares: Array) -> int:
    """Return the place, from 0, of the first accepted name by falling probability."""
    ranked = [names[index] for index in np.argsort(-shares, kind="stable")]
    return next((place for place, name in enumerate(ranked) if name in accepted), len(ranked))


def share_of(accepted: frozenset[str], names: Sequence[str], shares: Array) -> float:
    """Return the probability of all accepted names together."""
    return float(sum(share for name, share in zip(names, shares, strict=True) if name in accepted))
