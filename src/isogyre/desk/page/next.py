"""The third part of a stone's page: what to test next, and what the stone must not bear."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from isogyre.desk.answers import HarmAnswer, NextAnswer, TestAnswer
from isogyre.desk.page.forms import anchor_of
from isogyre.desk.page.records import Expected, HarmNote, NextPart, Option, TestRow
from isogyre.desk.page.standing import called, capital
from isogyre.desk.views import View
from isogyre.desk.wording import odds_in_words
from isogyre.evidence.grouping import SETTLE
from isogyre.instruments.kits import KITS, Kit

# How far a test is expected to settle the question, in bits; judged, not counted.
MUCH_BITS, SOME_BITS = 0.5, 0.1

QUESTIONS = {
    "name": ("its name", "what material it is"),
    "natural": ("natural or not", "grown in the ground, grown by people, imitation"),
    "treated": ("treatment", "heated, filled, dyed, diffused"),
}
VERDICTS = {"never": "Not on this stone", "ask first": "Only with the owner’s leave"}


def next_part(answer: NextAnswer) -> NextPart:
    """Return the answer of `next` as a page shows it."""
    return NextPart(
        tests=tuple(_test(test) for test in answer["next"]),
        blocked=tuple(_test(test) for test in answer["blocked"]),
        outlook=_outlook(answer),
        missing=tuple(_test(test) for test in answer["missing"]),
    )


def first_part(answer: NextAnswer) -> NextPart:
    """Return the answer of `next` before anything was read.

    Nothing leads yet, so what the tests would show for two kinds of stone is left out.
    """
    part = next_part(answer)
    return NextPart(
        tests=_unexpected(part.tests),
        blocked=_unexpected(part.blocked),
        outlook="",
        missing=_unexpected(part.missing),
    )


def _unexpected(tests: Iterable[TestRow]) -> tuple[TestRow, ...]:
    return tuple(replace(test, expected=()) for test in tests)


def with_views(part: NextPart, drawn: Mapping[str, tuple[View, ...]]) -> NextPart:
    """Return the part with what its tests would show drawn, by the names of the tests."""

    def row(test: TestRow) -> TestRow:
        views = drawn.get(test.name, ())
        return replace(test, expected=tuple(map(_expected, views))) if views else test

    return replace(part, tests=tuple(map(row, part.tests)), blocked=tuple(map(row, part.blocked)))


def _expected(view: View) -> Expected:
    return Expected(called(view.candidate), view.seen, view.svg, view.is_narrow, view.limit)


def kit_options(chosen: str, kits: Iterable[Kit] = KITS.values()) -> tuple[Option, ...]:
    """Return the kits to choose between; the built-in ones if no others are given."""
    return tuple(Option(k.name, k.name, k.about, k.name == chosen) for k in kits)


def settle_options(chosen: str) -> tuple[Option, ...]:
    """Return the questions to choose between."""
    return tuple(Option(name, *QUESTIONS[name], name == chosen) for name in SETTLE)


def _outlook(answer: NextAnswer) -> str:
    question = QUESTIONS[answer["settle"]][0]
    if not answer["next"]:
        return f"No test left in this kit would tell more about {question}."
    if answer["settles"] and answer["settle"] == "treated":
        # A test may show a treatment; that none is shown proves nothing.
        return "This kit may show a treatment; it cannot prove that there is none."
    if answer["settles"]:
        return f"This kit can be expected to settle {question}."
    return f"Nothing in this kit can be expected to settle {question}."


def _test(test: TestAnswer) -> TestRow:
    return TestRow(
        name=capital(test["test"]),
        minutes=_minutes(test["minutes"]),
        gain=f"{_gain(test['gain_bits'])} ({test['gain_bits']:.2f} bit)",
        expected=tuple(Expected(called(e["candidate"]), e["seen"]) for e in test["would_show"]),
        anchor=anchor_of(test["field"]),
        harm=_harm(test["harm"]),
    )


def _minutes(minutes: float) -> str:
    return "under a minute" if minutes < 1 else f"{minutes:.0f} min"


def _gain(bits: float) -> str:
    if bits >= MUCH_BITS:
        return "tells much"
    return "tells something" if bits >= SOME_BITS else "tells little"


def _harm(harm: HarmAnswer | None) -> HarmNote | None:
    if harm is None:
        return None
    known = harm["probability"] >= 1
    odds = "" if known else f", {odds_in_words(harm['probability'])}"
    return HarmNote(
        verdict=VERDICTS.get(harm["verdict"], harm["verdict"]),
        reason=harm["reason"],
        because=f"{harm['candidate']}{odds}",
        lifted_by=harm["lifted_by"],
    )
