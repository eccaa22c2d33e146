"""A figure of the bench: a value, what was aimed at, and whether it was reached."""

import math
import operator
from dataclasses import asdict, dataclass
from typing import Any

COMPARED = {">=": operator.ge, "<=": operator.le}


@dataclass(frozen=True)
class Figure:
    """One measured value. ``goal`` reads like ``>= 31``, or is empty where none was set.

    ``seconds`` is the time of the measurement, which several figures may share.
    """

    name: str
    value: float
    unit: str
    n: int
    goal: str = ""
    note: str = ""
    seconds: float = 0.0

    @property
    def met(self) -> bool | None:
        """Return whether the goal is met, or None without a goal. No number meets no goal."""
        if not self.goal:
            return None
        sign, limit = self.goal.split()
        return bool(COMPARED[sign](self.value, float(limit)))

    def as_json(self) -> dict[str, Any]:
        """Return the figure as plain values; what is no number is null."""
        # Counts come from arrays, whose numbers JSON does not know.
        value = float(self.value)
        shown = None if math.isnan(value) else value
        return {**asdict(self), "value": shown, "goal": self.goal or None, "met": self.met}

    def as_row(self) -> str:
        """Return the figure as a row of a Markdown table."""
        verdict = {True: "met", False: "missed", None: ""}[self.met]
        unit = "" if self.unit in ("share", "cases", "stones") else f" {self.unit}"
        return f"| {self.name} | {self.value:.4g}{unit} | {self.goal} | {verdict} | {self.n} |"

    def as_line(self) -> str:
        """Return the figure as a line of the table."""
        verdict = {True: "met", False: "MISSED", None: ""}[self.met]
        seconds = f"{self.seconds:.0f} s"
        line = (
            f"{self.name:<34}{self.value:>10.4g} {self.unit:<14}{self.goal:<9}{verdict:<7}"
            f"n {self.n:<6}{seconds:>6}"
        )
        return f"{line}  {self.note}".rstrip()
