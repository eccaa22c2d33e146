"""Answers as plain values: what `identify` and `next` give, whoever asks."""

from typing import TypedDict


class Share(TypedDict):
    """A name with its probability."""

    name: str
    probability: float


class CandidateAnswer(TypedDict):
    """One kind of stone still standing, with the name that may be given to it."""

    material: str
    growth: str
    treatment: str
    trade_name: str
    probability: float


class SuspectAnswer(TypedDict):
    """A reading and the chance of one at least as surprising, given all the others."""

    field: str
    shown: str
    tail_probability_without: float
    blunder_probability: float


class MisfitAnswer(TypedDict):
    """How well the readings fit even the best species."""

    tail_probability: float
    suspects: list[SuspectAnswer]


class WeightAnswer(TypedDict):
    """What one reading adds to the leader's odds against the runner-up."""

    field: str
    shown: str
    log10_odds: float


class IgnoredAnswer(TypedDict):
    """An entry that does not count, and why."""

    field: str
    value: str
    reason: str


class HarmAnswer(TypedDict):
    """Why a test must not be made, or only with care, on this stone."""

    verdict: str
    reason: str
    candidate: str
    probability: float
    lifted_by: str


class ExpectedAnswer(TypedDict):
    """What a test would show for one of the candidates it tells apart."""

    candidate: str
    seen: str


class TestAnswer(TypedDict):
    """A test worth making; ``why`` says in one line what ``would_show`` says in parts."""

    test: str
    field: str
    gain_bits: float
    minutes: float
    why: str
    would_show: list[ExpectedAnswer]
    harm: HarmAnswer | None


class NextAnswer(TypedDict):
    """What to test next with a kit, and whether the kit can be expected to settle it.

    ``missing`` are tests that this kit cannot make and that would tell much beside its own.
    """

    id: str | None
    kit: str
    settle: str
    settles: bool
    next: list[TestAnswer]
    blocked: list[TestAnswer]
    missing: list[TestAnswer]


class IdentifyAnswer(TypedDict):
    """The standing of one stone. Every dictionary of names sums to 1."""

    id: str | None
    species: list[Share]
    candidates: list[CandidateAnswer]
    origin: dict[str, float]
    treated: dict[str, float]
    misfit: MisfitAnswer
    weights: list[WeightAnswer]
    total_log10_odds: float
    prior: str
    prior_span: dict[str, float]
    prior_odds_to_tip: float
    thin: bool
    settle_by_laboratory: list[str]
    next: NextAnswer
    ignored: list[IgnoredAnswer]
