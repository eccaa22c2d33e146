"""What every instrument declares: its fields, its readings and the tests it can make.

Forms, command help, record keys and the planner are all rendered from these declarations; no
other room names an instrument.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from isogyre.instruments.term import Term
from isogyre.population import Population

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Field:
    """One thing an instrument reports, under the key it has in a record.

    An ``object`` is a value of several ``parts``, each declared like a field of its own.
    ``words`` says which of the trade's words a text is made of. ``drawn`` is the stretch of a
    scale that is shown before anything is read on it, where the figure is read off a scale at
    all; a figure ``above`` another shares its scale and does not fall below it. ``error_key`` is
    the field that holds its error, ``needs_key`` the field of another figure of the instrument
    that it is read by, such as the end of a scale. Both belong to the instrument rather than to
    the stone, so that a kit may hold them once for all stones; ``usual`` is what such a figure
    is taken for where nobody says it. A field that ``is_seldom`` entered may be folded away.
    """

    key: str
    label: str
    kind: Literal["number", "numbers", "choice", "words", "phrases", "object"]
    unit: str = ""
    low: float | None = None
    high: float | None = None
    step: float | None = None
    choices: tuple[str, ...] = ()
    hint: str = ""
    caution: str = ""
    parts: tuple["Field", ...] = ()
    words: Literal["", "colour", "pleochroism", "glow"] = ""
    drawn: tuple[float, float] | None = None
    above: str = ""
    error_key: str = ""
    is_seldom: bool = False
    needs_key: str = ""
    usual: float | None = None


@dataclass(frozen=True)
class Trouble:
    """An entry that cannot be used: where it stands, what is wrong and how to mend it."""

    field: str
    message: str


@dataclass(frozen=True)
class Ignored:
    """An entry, or a part of one, that was understood by nobody or does not count, and why."""

    field: str
    value: str
    reason: str


# How often a reading has nothing to do with the stone (judgement): a number or a conclusion, and
# a word whose table holds its usual confusions.
OFTEN_MISREAD, SELDOM_MISREAD = 0.02, 0.004


@dataclass(frozen=True)
class Reading:
    """One reading, ready to meet a population.

    Readings of one ``cause`` see the same thing; ``dependence`` is the exponent with which the
    second, third, ... of them still counts. ``blunders`` is how often such a reading goes wrong
    altogether: misread, mislaid, of another stone.
    """

    field: str
    shown: str
    term: Callable[[Population], Term]
    cause: str = ""
    dependence: tuple[float, ...] = (1.0,)
    exponent: float = 1.0
    blunders: float = SELDOM_MISREAD


@dataclass
class Readings:
    """What an instrument made of a record."""

    readings: list[Reading] = field(default_factory=list)
    ignored: list[Ignored] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)


Figures = Mapping[str, float]  # a kit's own figures, by the key a record has for them
StoneWeight = Array  # posterior over all virtual stones, (strata, stones), sums to 1
Outcomes = Callable[[Population, StoneWeight, NDArray[np.intp]], Array]


@dataclass(frozen=True)
class PlannedTest:
    """A test the planner may propose.

    ``outcomes(population, stone_weight, rows)`` gives the probability of each outcome for the
    rows asked for, shape (rows, outcomes). ``field`` is the record key it would fill;
    ``touches`` the row of the harm table that decides whether the stone can bear it;
    ``shows`` the stones' arrays whose mean is what would be read, for instance both edges;
    a figure above ``end_of_scale`` shows only as being beyond it; ``with_figures`` plans the
    test anew for an instrument that has figures of its own.
    """

    name: str
    field: str
    minutes: float
    outcomes: Outcomes
    outcome_names: tuple[str, ...] = ()
    touches: str = ""
    shows: tuple[str, ...] = ()
    end_of_scale: float = math.inf
    with_figures: Callable[[Figures], "PlannedTest"] | None = None

    def made_with(self, figures: Figures) -> "PlannedTest":
        """Return the test as an instrument with these figures of its own makes it.

        ``figures`` are errors, ends of scales and the like under the keys a record has for
        them; those of other instruments are passed over.
        """
        return self.with_figures(figures) if self.with_figures and figures else self


@dataclass(frozen=True)
class Instrument:
    """An instrument of the bench: what it reports, how it errs, what to be careful about."""

    name: str
    fields: tuple[Field, ...]
    read: Callable[[Mapping[str, Any]], Readings]
    tests: Sequence[PlannedTest] = ()
    cautions: tuple[str, ...] = ()
    about: str = ""


def table_outcomes(table: Callable[[Population], Array]) -> Outcomes:
    """Turn a table of (hypotheses, outcomes) into what the planner asks for."""

    def outcomes(
        population: Population, stone_weight: StoneWeight, rows: NDArray[np.intp]
    ) -> Array:
        return table(population)[rows]

    return outcomes
