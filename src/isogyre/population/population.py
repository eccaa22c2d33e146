"""The population: hypotheses, their tables and their virtual stones, built once and handed in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from isogyre.catalogue import Catalogue
from isogyre.population.hypotheses import Hypothesis, constants_of, hypotheses
from isogyre.population.stones import Stones, draw_stones
from isogyre.population.tables import Tables, build_tables
from isogyre.population.unlisted import STRATA as UNLISTED_STRATA
from isogyre.population.unlisted import unlisted_stones
from isogyre.population.words import UNLISTED

Array = NDArray[np.float64]
T = TypeVar("T")

STONES_A_STRATUM = 128
UNLISTED_PRIOR = 0.05


@dataclass(frozen=True)
class Label:
    """What a hypothesis is called; the plain words that answers are grouped by."""

    species: str
    material: str
    growth: str
    origin: str
    variety: str
    treatment: str
    group: str = ""
    kind: str = ""


@dataclass(frozen=True, eq=False)
class Population:
    """Hypotheses as rows, virtual stones as (stratum, stone) arrays, and what joins them.

    The last rows are the candidate *unlisted*: one row for each of its strata, all with the
    average habits of the listed stones.
    """

    labels: tuple[Label, ...]
    traits: tuple[frozenset[str], ...]
    prior: Array
    stratum: NDArray[np.intp]
    stones: Stones
    tables: Tables
    feature_names: tuple[str, ...]
    feature_is_told: tuple[bool, ...]
    listed: int
    memo: dict[str, Any] = field(default_factory=dict, repr=False)

    def once(self, key: str, make: Callable[[], T]) -> T:
        """Return what ``make`` gives, reckoned once for this population and kept under ``key``."""
        if key not in self.memo:
            self.memo[key] = make()
        kept: T = self.memo[key]
        return kept

    def groups(self, name: str) -> tuple[tuple[str, ...], NDArray[np.intp]]:
        """Return the different values of a label's field and, for each row, the number of its own.

        ``name`` is a field of :class:`Label`, for instance ``species``.
        """
        return self.once(f"groups of {name}", lambda: _numbered(self.labels, name))

    def rows_of(self, name: str, value: str) -> NDArray[np.bool_]:
        """Return which rows have ``value`` in the field ``name`` of their label."""
        values, codes = self.groups(name)
        mask: NDArray[np.bool_] = codes == (values.index(value) if value in values else -1)
        return mask

    def stone_mean(self, values: Array) -> Array:
        """Return the mean over each row's stones of ``values`` (strata, stones)."""
        mean: Array = np.nanmean(values, axis=1)[self.stratum]
        return mean


def build_population(catalogue: Catalogue, stones: int = STONES_A_STRATUM) -> Population:
    """Build the population of ``catalogue`` with ``stones`` (a power of two) a stratum."""
    rows = [row for row in hypotheses(catalogue) if row.prior > 0]
    keys = list(dict.fromkeys(row.stratum for row in rows))
    place = {key: index for index, key in enumerate(keys)}
    stratum = np.array([place[row.stratum] for row in rows])
    listed = _stones_of(rows, keys, catalogue, stones)
    prior = np.array([row.prior for row in rows]) * (1 - UNLISTED_PRIOR)
    tables = build_tables(rows, catalogue, listed.birefringence.mean(axis=1)[stratum])
    weight = np.sqrt(np.bincount(stratum, prior))
    foreign = unlisted_stones(listed, weight)
    return Population(
        labels=(*(_label(row, catalogue) for row in rows), *([_UNLISTED] * UNLISTED_STRATA)),
        traits=(*(_traits(row, catalogue) for row in rows), *([frozenset()] * UNLISTED_STRATA)),
        prior=np.append(prior, np.full(UNLISTED_STRATA, UNLISTED_PRIOR / UNLISTED_STRATA)),
        stratum=np.append(stratum, len(keys) + np.arange(UNLISTED_STRATA)),
        stones=_joined(listed, foreign),
        tables=_with_average_rows(tables, prior, UNLISTED_STRATA),
        feature_names=tuple(catalogue.features),
        feature_is_told=tuple(feature.is_told for feature in catalogue.features.values()),
        listed=len(rows),
    )


_UNLISTED = Label(UNLISTED, UNLISTED, "", UNLISTED, "", "")


def _stones_of(
    rows: Sequence[Hypothesis],
    keys: Sequence[tuple[str, int, int]],
    catalogue: Catalogue,
    count: int,
) -> Stones:
    first = {row.stratum: row for row in reversed(rows)}
    strata = [
        (
            constants_of(
                first[key].material, first[key].body, first[key].treatment if key[2] >= 0 else None
            ),
            first[key].material.optic,
        )
        for key in keys
    ]
    return draw_stones(strata, catalogue.sources, count)


def _label(row: Hypothesis, catalogue: Catalogue) -> Label:
    return Label(
        species=row.material.species,
        material=row.material.name,
        growth=row.body.growth,
        origin=catalogue.growths[row.body.growth].origin,
        variety=row.look.variety,
        treatment=row.treatment_name,
        group=row.material.group,
        kind=row.material.kind,
    )


def _traits(row: Hypothesis, catalogue: Catalogue) -> frozenset[str]:
    treatment = catalogue.treatments[row.treatment.name].traits if row.treatment else ()
    return frozenset((*row.material.traits, *treatment, row.material.kind))


def _joined(listed: Stones, foreign: Stones) -> Stones:
    pairs = ((getattr(listed, f.name), getattr(foreign, f.name)) for f in fields(Stones))
    return Stones(*(np.concatenate(pair) for pair in pairs))


def _with_average_rows(tables: Tables, prior: Array, count: int) -> Tables:
    """Append rows with the habits of an average stone, for the candidate *unlisted*."""
    weight = prior / prior.sum()
    grown = {}
    for column in fields(Tables):
        table = getattr(tables, column.name)
        if column.name.startswith("line_"):
            fill = np.repeat(_no_lines(column.name, table), count, axis=0)
        elif column.name == "character":
            fill = np.full(count, -1)
        else:
            fill = np.repeat((weight @ table)[None], count, axis=0)
        grown[column.name] = np.concatenate((table, fill))
    return replace(tables, **grown)


def _no_lines(name: str, table: Array) -> Array:
    filler = {"line_nm": np.nan, "line_width_nm": 1.0, "line_seen": 0.0}[name]
    return np.full((1, table.shape[1]), filler)


def _numbered(labels: Sequence[Label], name: str) -> tuple[tuple[str, ...], NDArray[np.intp]]:
    values = [getattr(label, name) for label in labels]
    different = tuple(dict.fromkeys(values))
    place = {value: number for number, value in enumerate(different)}
    return different, np.array([place[value] for value in values])
