"""The standing of a stone as plain text: first the answer, then why, then what next."""

from collections.abc import Mapping

from isogyre.cli.faults import one_line
from isogyre.cli.next_text import harm_line, test_lines
from isogyre.desk import IdentifyAnswer
from isogyre.desk.page.standing import called, fit_in_words, verdict
from isogyre.desk.wording import factor_in_words, odds_in_words, per_cent

LEAST_SHOWN = 0.005
MOST_SHOWN = 6


def standing_text(answer: IdentifyAnswer) -> str:
    """Return the answer of `identify` in words, a few lines a question."""
    parts = (
        [_first_sentence(answer)],
        _shares("It can be", {s["name"]: s["probability"] for s in answer["species"]}),
        _names(answer),
        _shares("Grown how", answer["origin"]),
        _shares("Treatment (none shown is unproved)", answer["treated"]),
        _weights(answer),
        _fit(answer),
        _prior(answer),
        _next(answer),
        _open(answer),
        _ignored(answer),
    )
    return "\n\n".join("\n".join(part) for part in parts if part)


def _first_sentence(answer: IdentifyAnswer) -> str:
    said = verdict(answer)
    head = f"{said.name}, {said.odds}." if said.odds else f"{said.name}:"
    thin = " Too few virtual stones agree with this to trust its digits." if answer["thin"] else ""
    return f"{head} {said.rest} {said.limit}{thin}"


def _shares(title: str, shares: Mapping[str, float]) -> list[str]:
    shown = [(n, p) for n, p in list(shares.items())[:MOST_SHOWN] if p >= LEAST_SHOWN]
    rows = [f"  {name:<34}{per_cent(p):>14}   {odds_in_words(p)}" for name, p in shown]
    return [f"{title}:", *rows]


def _names(answer: IdentifyAnswer) -> list[str]:
    rows = [
        f"  {per_cent(c['probability']):>12}   {c['trade_name']}"
        for c in answer["candidates"][:MOST_SHOWN]
    ]
    return ["It may be called:", *rows] if rows else []


def _weights(answer: IdentifyAnswer) -> list[str]:
    if not answer["weights"]:
        return []
    leader, runner_up = (called(share["name"]) for share in answer["species"][:2])
    rows = [
        f"  {factor_in_words(w['log10_odds']):>14}   {w['field']}: {one_line(w['shown'])}"
        for w in sorted(answer["weights"], key=lambda w: -abs(w["log10_odds"]))
    ]
    together = f"  {factor_in_words(answer['total_log10_odds']):>14}   together"
    note = "  Each is what would be lost without it; readings that repeat each other look idle."
    return [f"For {leader} against {runner_up}:", *rows, together, note]


def _fit(answer: IdentifyAnswer) -> list[str]:
    misfit = answer["misfit"]
    said, surprise, is_strained = fit_in_words(misfit, called(answer["species"][0]["name"]))
    if not is_strained or not misfit["suspects"]:
        return []
    worst = misfit["suspects"][0]
    odds = odds_in_words(worst["tail_probability_without"])
    suspect = f"{worst['field']} ({one_line(worst['shown'])})"
    return [
        f"{said} {surprise}",
        f"  First suspect: {suspect}, {odds} given all the others. Read it again.",
    ]


def _prior(answer: IdentifyAnswer) -> list[str]:
    low, high = (per_cent(f(answer["prior_span"].values())) for f in (min, max))
    return [
        f"Met at: {answer['prior']}. Over all settings the leader stands between {low} and {high}; "
        f"even only if it had been {odds_in_words(_share(answer['prior_odds_to_tip']))} beforehand."
    ]


def _share(odds: float) -> float:
    return odds / (1 + odds)


def _next(answer: IdentifyAnswer) -> list[str]:
    plan = answer["next"]
    lines = [line for test in plan["next"][:3] for line in test_lines(test)]
    blocked = [
        f"  not yet: {test['test']} ({harm_line(test['harm'])})"
        for test in plan["blocked"][:3]
        if test["harm"]
    ]
    head = f"Next, with the {plan['kit']} kit:"
    if not plan["settles"]:
        head = f"Nothing in the {plan['kit']} kit can be expected to settle it. Still worth making:"
    return [head, *lines, *blocked] if lines or blocked else []


def _open(answer: IdentifyAnswer) -> list[str]:
    rows = [f"  {method}" for method in answer["settle_by_laboratory"]]
    return ["What hand tests leave open, a laboratory settles by:", *rows] if rows else []


def _ignored(answer: IdentifyAnswer) -> list[str]:
    rows = [
        f"  {one_line(i['field'])} '{one_line(i['value'])}': {i['reason']}"
        for i in answer["ignored"]
    ]
    return ["Not counted:", *rows] if rows else []
