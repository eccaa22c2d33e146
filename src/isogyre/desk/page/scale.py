"""Scales: figures read on one, drawn on it, and the scale that an entry is drawn on.

A tick stands for every step, a line for every figure.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from isogyre.desk.page.figures import Tick

# Steps of clear scale on either side of what was read, and the most ticks that can be told apart.
MARGIN_STEPS, MOST_TICKS = 12, 60
WORDED_EVERY = 10


@dataclass(frozen=True)
class ReadingScale:
    """A piece of an instrument's scale with the figures read on it."""

    ticks: tuple[Tick, ...]
    marks: tuple[Tick, ...]


@dataclass(frozen=True)
class DrawnScale:
    """A scale that follows what is typed: the controls it serves, its ends and its step.

    Two controls share one scale, the lower first. From ``start`` to ``end`` it is drawn before
    anything is read on it.
    """

    anchors: tuple[str, ...]
    names: tuple[str, ...]
    low: float
    high: float
    step: float
    start: float
    end: float


def reading_scale(figures: Sequence[float], step: float, low: float, high: float) -> ReadingScale:
    """Return the piece of scale around ``figures``.

    Parameters
    ----------
    figures
        What was read, inside the scale. At least one.
    step
        The smallest division; tens of it are worded, coarser ones where the figures lie far apart.
    low, high
        The ends of the scale.
    """
    margin = MARGIN_STEPS * step
    start, end = max(low, min(figures) - margin), min(high, max(figures) + margin)
    division = step * 10 ** max(0, ceil(log10((end - start) / step / MOST_TICKS)))

    def place(figure: float) -> float:
        return round(100 * (figure - start) / (end - start), 2)

    numbers = range(ceil(start / division - 1e-9), floor(end / division + 1e-9) + 1)
    decimals = max(0, -floor(log10(division * WORDED_EVERY)))
    ticks = tuple(
        Tick(
            place(number * division),
            f"{number * division:.{decimals}f}" if number % WORDED_EVERY == 0 else "",
        )
        for number in numbers
    )
    return ReadingScale(ticks, tuple(Tick(place(figure), f"{figure:g}") for figure in figures))
