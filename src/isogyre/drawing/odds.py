"""Opinion drawn against a datum: odds on a line of powers of ten, weights for and against."""

from dataclasses import dataclass
from math import log10

from isogyre.drawing.errors import CountError, OutOfRangeError
from isogyre.drawing.svg import (
    FIRM,
    Frame,
    circle,
    element,
    figure,
    group,
    label,
    line,
    lines_of,
    number,
    path,
    rect,
    use,
)

WIDTH, LEFT = 336.0, 8.0
LENGTH = WIDTH - 2 * LEFT
FARTHEST = 9.0
NOTHING = 0.02
ROW, BAR = 24.0, 12.0
LINE_HEIGHT = 18.0
MOST_WEIGHTS = 40


@dataclass(frozen=True)
class OddsLine:
    """Odds as a power of ten: 0 is even, 2 is 100 to 1 on; the span runs over the settings."""

    log10_odds: float
    low: float | None = None
    high: float | None = None
    power_from: int = -4
    power_to: int = 3
    has_axis: bool = True

    def __post_init__(self) -> None:
        if not -FARTHEST <= self.power_from < 0 < self.power_to <= FARTHEST:
            raise OutOfRangeError("the end of a line of odds", self.power_to, 1, FARTHEST)


@dataclass(frozen=True)
class Weight:
    """What one reading weighs: the power of ten by which it moves the odds."""

    words: str
    log10_odds: float
    is_doubtful: bool = False


@dataclass(frozen=True)
class Beam:
    """Weights about a datum, for to the right and against to the left, and all together."""

    weights: tuple[Weight, ...]
    what: str = ""
    has_sum: bool = True

    def __post_init__(self) -> None:
        if not 1 <= len(self.weights) <= MOST_WEIGHTS:
            raise CountError("weights", len(self.weights), 1, MOST_WEIGHTS)


def odds_in_words(log10_odds: float) -> str:
    """Return odds as one says them: 9 to 1 on, even, 1 in 17."""
    odds = 10 ** abs(log10_odds)
    if odds < 1.15:
        return "even"
    return f"{_rounded(odds)} to 1 on" if log10_odds > 0 else f"1 in {_rounded(odds + 1)}"


def factor_in_words(log10_odds: float) -> str:
    """Return a weight as one says it: 6 ×, or 1 : 3.1 against."""
    factor = 10 ** abs(log10_odds)
    if abs(log10_odds) < NOTHING:
        return "1 ×"
    return f"{_rounded(factor)} ×" if log10_odds > 0 else f"1 : {_rounded(factor)}"


def _rounded(value: float) -> str:
    """Return a figure to two places that count; more would say more than is known."""
    if value >= 100:
        step = 10 ** (int(log10(value)) - 1)
        return f"{round(value / step) * step:,}".replace(",", " ")
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}".removesuffix(".0")


def draw_odds_line(odds: OddsLine, prefix: str) -> str:
    """Return the line with its upright at even, the span and the bead."""
    y = 34.0 if odds.has_axis else 12.0
    parts = [line((LEFT, y), (WIDTH - LEFT, y), stroke="currentColor", stroke_opacity=0.4)]
    for power in range(odds.power_from, odds.power_to + 1):
        x = place_on(odds, power)
        tall = 10 if power == 0 else 4
        parts.append(
            line(
                (x, y - tall),
                (x, y + tall),
                stroke="currentColor",
                stroke_opacity=None if power == 0 else 0.5,
                stroke_width=1.5 if power == 0 else 1,
            )
        )
    if odds.has_axis:
        parts.append(_axis(odds))
    if odds.low is not None and odds.high is not None:
        start, end = sorted((place_on(odds, odds.low), place_on(odds, odds.high)))
        parts.append(rect(start, y - 1.5, end - start, 3, fill="currentColor"))
    parts.append(_bead(odds, y))
    words = odds_in_words(odds.log10_odds)
    described = f"A bead at {words} on a line of powers of ten"
    if odds.low is not None and odds.high is not None:
        described += f"; the span runs from {odds_in_words(odds.low)} to {odds_in_words(odds.high)}"
    return figure(prefix, Frame(WIDTH, y + 14), f"Odds: {words}", f"{described}.", *parts)


def place_on(odds: OddsLine, log10_odds: float) -> float:
    """Return where odds stand on the sheet; what lies beyond an end stands at the end."""
    span = odds.power_to - odds.power_from
    share = (log10_odds - odds.power_from) / span
    return LEFT + LENGTH * min(max(share, 0.0), 1.0)


def _axis(odds: OddsLine) -> str:
    ends = [(odds.power_from, "start"), (0, "middle"), (odds.power_to, "end")]
    return "".join(
        label((place_on(odds, power) + shift, 15), _power_in_words(power), anchor)
        for (power, anchor), shift in zip(ends, (-LEFT, 0, LEFT), strict=True)
    )


def _power_in_words(power: int) -> str:
    if power == 0:
        return "even"
    count = f"{10 ** abs(power):,}".replace(",", " ")
    return f"{count} to 1" if power > 0 else f"1 in {count}"


def _bead(odds: OddsLine, y: float) -> str:
    """Return the bead, or an arrow at the end of the line if the odds lie beyond it."""
    x = place_on(odds, odds.log10_odds)
    if odds.power_from <= odds.log10_odds <= odds.power_to:
        return circle((x, y), 6, fill="currentColor")
    way = 1 if odds.log10_odds > 0 else -1
    return path(
        f"M{number(x + way * 4)} {number(y)}l{number(-way * 13)} -7v14z", fill="currentColor"
    )


def draw_beam(beam: Beam, prefix: str) -> str:
    """Return the weights one below the other about one datum, and what they come to."""
    total = sum(weight.log10_odds for weight in beam.weights)
    rows = [*beam.weights, Weight("together", total)] if beam.has_sum else [*beam.weights]
    against = max(0.0, *(-weight.log10_odds for weight in rows))
    favour = max(0.0, *(weight.log10_odds for weight in rows))
    scale = LENGTH / max(against + favour, 0.5)
    datum = LEFT + against * scale
    parts, y = [], 22.0
    parts.append(label((LEFT, 13), "against") + label((WIDTH - LEFT, 13), "for", "end"))
    for i, weight in enumerate(rows):
        is_sum = beam.has_sum and i == len(rows) - 1
        drawn, y = _row(weight, y, datum, scale, prefix, is_sum)
        parts.append(drawn)
    spoken = "; ".join(f"{weight.words} {factor_in_words(weight.log10_odds)}" for weight in rows)
    stripes = element(
        "pattern",
        path("M0 0v5", stroke="currentColor", stroke_width=3),
        id=f"{prefix}-hatch",
        width=5,
        height=5,
        pattern_units="userSpaceOnUse",
        pattern_transform="rotate(45)",
    )
    title = f"Weights for and against{' ' + beam.what if beam.what else ''}"
    description = f"Solid to the right speaks for, hatched to the left against. {spoken}."
    return figure(prefix, Frame(WIDTH, y + 6), title, description, *parts, definitions=stripes)


def _row(
    weight: Weight, top: float, datum: float, scale: float, prefix: str, is_sum: bool
) -> tuple[str, float]:
    """Return one weight with its words above its bar, and where the next one begins."""
    figures = factor_in_words(weight.log10_odds)
    words = lines_of(weight.words, LENGTH - 70)
    firm = FIRM if is_sum else None
    parts = [
        label((LEFT, top + 15 + i * LINE_HEIGHT), row, weight=firm) for i, row in enumerate(words)
    ]
    parts.append(label((WIDTH - LEFT, top + 15), figures, "end", ink="currentColor", weight=firm))
    y = top + len(words) * LINE_HEIGHT + 3
    length = abs(weight.log10_odds) * scale
    parts.append(
        line((datum, y - 4), (datum, y + BAR + 4), stroke="currentColor", stroke_width=1.5)
    )
    if abs(weight.log10_odds) < NOTHING:
        parts.append(
            circle(
                (datum, y + BAR / 2), 3.6, class_="hollow", stroke="currentColor", stroke_width=1.5
            )
        )
    else:
        left = datum if weight.log10_odds > 0 else datum - length
        fill = "currentColor" if weight.log10_odds > 0 else use(f"{prefix}-hatch")
        parts.append(
            rect(
                left,
                y,
                length,
                BAR,
                fill="none" if weight.is_doubtful and weight.log10_odds > 0 else fill,
                stroke="currentColor",
                stroke_width=1.5,
                stroke_dasharray="4 3" if weight.is_doubtful else None,
            )
        )
    if is_sum:
        rule = line(
            (LEFT, top - 1), (WIDTH - LEFT, top - 1), stroke="currentColor", stroke_opacity=0.4
        )
        parts.insert(0, rule)
    return group(*parts), y + BAR + ROW - LINE_HEIGHT
