"""Odds and weights in words: what a person says, beside the figure a person checks."""

from math import log

# Odds that people say aloud; a probability is worded by the nearest on a scale of logarithms.
SPOKEN_ODDS = {
    **{1.25: "5 to 4", 1.5: "3 to 2", 2.5: "5 to 2"},
    **{float(n): f"{n} to 1" for n in (2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 50)},
    **{float(n): f"{n} to 1" for n in (60, 80, 100, 150, 200, 300, 400, 500, 700, 1000)},
}
SPOKEN_CHANCES = (
    {2.5: "2 in 5"}
    | {float(n): f"1 in {n}" for n in (*range(3, 11), 12, 14, 16, 20, 25, 30, 40, 50, 60, 80)}
    | {float(n): f"1 in {n}" for n in (100, 150, 200, 300, 400, 500, 700, 1000)}
)
# Nothing a bench measures carries odds beyond this, whatever the sum says.
MOST_ODDS = 1000.0
NEARLY_EVEN = (0.45, 0.55)
# A factor nearer to one than this says nothing either way.
SILENT_LOG10 = 0.05


def odds_in_words(probability: float) -> str:
    """Return for instance 'about 40 to 1 on' or 'about 1 in 16' for a probability (0 to 1)."""
    if NEARLY_EVEN[0] <= probability <= NEARLY_EVEN[1]:
        return "about even"
    if probability > NEARLY_EVEN[1]:
        odds = probability / max(1 - probability, 1e-12)
        if odds > MOST_ODDS:
            return f"more than {MOST_ODDS:.0f} to 1 on"
        return f"about {_nearest(SPOKEN_ODDS, odds)} on"
    if probability < 1 / MOST_ODDS:
        return f"less than 1 in {MOST_ODDS:.0f}"
    return f"about {_nearest(SPOKEN_CHANCES, 1 / probability)}"


def per_cent(probability: float) -> str:
    """Return a probability (0 to 1) in per cent; never 100 % and never 0 %."""
    if probability > 0.999:
        return "over 99.9 %"
    if probability < 0.001:
        return "under 0.1 %"
    decimals = 0 if 0.1 <= probability <= 0.9 else 1
    return f"{100 * probability:.{decimals}f} %"


def factor_in_words(log10_odds: float) -> str:
    """Return what a reading multiplies odds by: '6 ×', '1 : 3.1', or 'nothing'."""
    if abs(log10_odds) < SILENT_LOG10:
        return "nothing"
    if abs(log10_odds) > log(MOST_ODDS, 10):
        over = f"{MOST_ODDS:.0f}"
        return f"over {over} ×" if log10_odds > 0 else f"1 : over {over}"
    times = f"{10 ** abs(log10_odds):.2g}" if abs(log10_odds) < 2 else f"{_round(log10_odds):.0f}"
    return f"{times} ×" if log10_odds > 0 else f"1 : {times}"


def _round(log10_odds: float) -> float:
    times: float = 10 ** abs(log10_odds)
    return round(times, -1)


def _nearest(spoken: dict[float, str], value: float) -> str:
    return spoken[min(spoken, key=lambda step: abs(log(step / value)))]
