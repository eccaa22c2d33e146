"""Where things stand on the figures of a page: odds on one line, weights about one datum.

Places are per cent of a figure's width, so that a template only writes them down.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, log10

from isogyre.desk.wording import SILENT_LOG10

# The line of odds runs from 1 in 1000 over even to 1000 to 1; weights use as much of it as needed.
DECADES = 3
# Patterns in the order in which they are told apart best, side by side.
PATTERNS = ("open", "hatch", "solid", "dots", "bars")


@dataclass(frozen=True)
class Tick:
    """A place on an axis, with its word if it has one."""

    at: float
    word: str = ""


@dataclass(frozen=True)
class OddsMark:
    """A probability on the line of odds, and the span it has over the settings of the prior."""

    at: float
    low: float
    width: float


@dataclass(frozen=True)
class Bar:
    """The weight of one reading about the datum; ``side`` is for, against or nothing."""

    side: str
    at: float
    width: float


@dataclass(frozen=True)
class Slice:
    """A part of a whole on the split rule."""

    at: float
    width: float
    pattern: str


@dataclass(frozen=True)
class BeamScale:
    """Powers of ten to either side of the datum."""

    against: int
    in_favour: int

    @classmethod
    def of(cls, log10_odds: Sequence[float]) -> "BeamScale":
        """Return the smallest scale in whole powers of ten that holds every weight."""
        return cls(
            against=min(DECADES, max(1, ceil(-min(log10_odds)))),
            in_favour=min(DECADES, max(1, ceil(max(log10_odds)))),
        )

    @property
    def datum(self) -> float:
        """Return the place of 'nothing either way'."""
        return self.place(0.0)

    def place(self, log10_odds: float) -> float:
        """Return where a weight ends; one beyond the scale ends with it."""
        held = min(max(log10_odds, -self.against), self.in_favour)
        return round(100 * (held + self.against) / (self.against + self.in_favour), 2)

    def ticks(self) -> tuple[Tick, ...]:
        """Return a tick for every power of ten, worded at the datum and at the ends."""
        worded = {
            -self.against: f"1 : {10**self.against}",
            self.in_favour: f"{10**self.in_favour} ×",
        }
        powers = range(-self.against, self.in_favour + 1)
        return tuple(Tick(self.place(power), worded.get(power, "")) for power in powers)

    def bar(self, log10_odds: float) -> Bar:
        """Return the bar of one weight."""
        end = self.place(log10_odds)
        if abs(log10_odds) < SILENT_LOG10:
            return Bar("nothing", self.datum, 0.0)
        side = "for" if log10_odds > 0 else "against"
        return Bar(side, min(end, self.datum), round(abs(end - self.datum), 2))


ODDS_LINE = BeamScale(DECADES, DECADES)
ODDS_TICKS = tuple(
    Tick(ODDS_LINE.place(power), word)
    for power, word in zip(
        range(-DECADES, DECADES + 1),
        ("1 in 1000", "", "", "even", "", "", "1000 to 1"),
        strict=True,
    )
)


def odds_place(probability: float) -> float:
    """Return where a probability (0 to 1) lies on the line of odds."""
    held = min(max(probability, 1e-9), 1 - 1e-9)
    return ODDS_LINE.place(log10(held / (1 - held)))


def odds_mark(probability: float, span: Iterable[float] = ()) -> OddsMark:
    """Return the mark of a probability with what it spans."""
    ends = [odds_place(p) for p in (*span, probability)]
    return OddsMark(odds_place(probability), min(ends), round(max(ends) - min(ends), 2))


def split(shares: Sequence[float]) -> list[Slice]:
    """Return the shares of one whole (0 to 1 each) as slices, in the order given."""
    starts = [sum(shares[:number]) for number in range(len(shares))]
    return [
        Slice(round(100 * start, 2), round(100 * share, 2), PATTERNS[number % len(PATTERNS)])
        for number, (start, share) in enumerate(zip(starts, shares, strict=True))
    ]
