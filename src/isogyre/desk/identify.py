"""The use cases 'what is it' and 'what next', on one record."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from isogyre.desk.answers import (
    CandidateAnswer,
    HarmAnswer,
    IdentifyAnswer,
    NextAnswer,
    Share,
    TestAnswer,
)
from isogyre.desk.choices import DEFAULT_KIT, Kit, kit_of
from isogyre.desk.errors import RecordTroubleError, UnknownWordError
from isogyre.desk.expected import would_show
from isogyre.desk.workbench import Workbench
from isogyre.evidence import Proposal, RecordReading, Standing, plan, read_record, stand
from isogyre.evidence.grouping import SETTLE
from isogyre.instruments import PlannedTest, Trouble
from isogyre.population import Label, Population
from isogyre.trade import harm, settling_method, trade_name

MOST_PROPOSALS = 5
LEAST_GAIN_BITS = 0.01
# A test that is not at hand is named if it tells this much, and at least half of what the best
# one at hand does: less than that is no reason to go and fetch an instrument (judgement).
MOST_MISSING = 3
LEAST_MISSING_BITS, LEAST_MISSING_SHARE = 0.1, 0.5
LEAST_CANDIDATE = 0.002
MOST_CANDIDATES = 12
# What is less probable than this cannot make up a risk worth naming.
LEAST_STANDING = 1e-6
# Probability, traits and name, as the rules about harm ask for them.
KindStanding = tuple[float, frozenset[str], str]
# A doubt smaller than this is not worth a laboratory's fee, and is not named.
LEAST_DOUBT = 0.02


@dataclass(frozen=True)
class Identified:
    """An answer, what the instruments made of the record, and where the stone stands by them."""

    answer: IdentifyAnswer
    read: RecordReading
    standing: Standing


def identify(
    workbench: Workbench,
    record: Mapping[str, Any],
    kit: str | Kit = DEFAULT_KIT,
    settle: str = "name",
) -> IdentifyAnswer:
    """Return the standing of the stone that ``record`` describes.

    ``kit`` is the name of a built-in kit or a kit of one's own. It decides what to test next;
    :func:`isogyre.desk.kits.with_kit_errors` gives the readings of the record its errors.

    Raises
    ------
    RecordTroubleError
        If an entry is impossible, or nothing in the record can be used.
    """
    return identified(workbench, record, kit, settle).answer


def identified(
    workbench: Workbench, record: Mapping[str, Any], kit: str | Kit, settle: str
) -> Identified:
    """Return the answer of :func:`identify` with what it was made from, or raise as that does."""
    read, standing = reckon(workbench, record)
    return Identified(_answer(workbench, record, read, standing, kit, settle), read, standing)


def _answer(
    workbench: Workbench,
    record: Mapping[str, Any],
    read: RecordReading,
    standing: Standing,
    kit: str | Kit,
    settle: str,
) -> IdentifyAnswer:
    return {
        "id": _id_of(record),
        "species": _shares(standing.species),
        "candidates": candidates(workbench, read, standing),
        "origin": standing.origin,
        "treated": standing.treated,
        "misfit": {
            "tail_probability": standing.misfit.tail_probability,
            "suspects": [
                {
                    "field": s.field,
                    "shown": s.shown,
                    "tail_probability_without": s.tail_probability_without,
                    "blunder_probability": s.blunder_probability,
                }
                for s in standing.misfit.suspects
            ],
        },
        "weights": [
            {"field": w.field, "shown": w.shown, "log10_odds": w.log10_odds}
            for w in standing.weights
        ],
        "total_log10_odds": standing.total_log10_odds,
        "prior": standing.setting.name,
        "prior_span": standing.span,
        "prior_odds_to_tip": standing.prior_odds_to_tip,
        "thin": standing.is_thin,
        "settle_by_laboratory": laboratory_methods(workbench, standing),
        "next": _next(workbench, record, read, standing, kit, settle, per_minute=False),
        "ignored": [{"field": i.field, "value": i.value, "reason": i.reason} for i in read.ignored],
    }


def next_tests(
    workbench: Workbench,
    record: Mapping[str, Any],
    kit: str | Kit = DEFAULT_KIT,
    settle: str = "name",
    per_minute: bool = False,
) -> NextAnswer:
    """Return the tests worth making next with ``kit``, by what the user wants to settle."""
    read, standing = reckon(workbench, record, needs_reading=False)
    return _next(workbench, record, read, standing, kit, settle, per_minute)


def reckon(
    workbench: Workbench, record: Mapping[str, Any], needs_reading: bool = True
) -> tuple[RecordReading, Standing]:
    """Return what the instruments made of a record, and where the stone stands.

    Raises
    ------
    RecordTroubleError
        If an entry is impossible, or, with ``needs_reading``, nothing can be used.
    """
    read = read_record(record, workbench.instruments)
    if read.troubles:
        raise RecordTroubleError(read.troubles)
    if needs_reading and not read.readings:
        raise RecordTroubleError([Trouble("record", _nothing_usable(read))])
    return read, stand(workbench.population, read.readings, read.setting)


def _nothing_usable(read: RecordReading) -> str:
    what = "nothing in it can be used as a reading; enter for instance colour, ri_low and ri_high"
    missed = "; ".join(f"{i.field} '{i.value}': {i.reason}" for i in read.ignored[:5])
    return f"{what} ({missed})" if missed else what


def candidates(
    workbench: Workbench, read: RecordReading, standing: Standing
) -> list[CandidateAnswer]:
    """Return the kinds of stone still standing under the names they may be given."""
    seen = causes_seen(read)
    border = is_between_red_and_pink(read)
    merged: dict[tuple[str, str, str, str], float] = {}
    for candidate in standing.candidates:
        label = standing.population.labels[candidate.row]
        name = trade_name(label, workbench.rules, evidence=seen, between_red_and_pink=border)
        key = (label.material, label.growth, label.treatment, name)
        merged[key] = merged.get(key, 0.0) + candidate.probability
    ranked = sorted(merged.items(), key=lambda item: -item[1])[:MOST_CANDIDATES]
    return [
        {"material": m, "growth": g, "treatment": t, "trade_name": n, "probability": p}
        for (m, g, t, n), p in ranked
        if p >= LEAST_CANDIDATE
    ]


def causes_seen(read: RecordReading) -> frozenset[str]:
    """Return the colouring elements that some reading speaks for, as stated in words."""
    shown = " ".join(r.shown.lower() for r in read.readings if r.cause in ("spectrum", "chelsea"))
    return frozenset(
        cause
        for cause, words in {
            "chromium": ("chrom", "ruby", "red"),
            "vanadium": ("vanadium",),
            "cobalt": ("cobalt",),
            "copper": ("copper",),
        }.items()
        if any(word in shown for word in words)
    )


def is_between_red_and_pink(read: RecordReading) -> bool:
    """Return whether the colour is told as both red and pink, or as a tinge between them."""
    told = " ".join(r.shown.lower() for r in read.readings if r.cause == "colour")
    return "pink" in told or "purplish red" in told


def laboratory_methods(workbench: Workbench, standing: Standing) -> list[str]:
    """Return what a laboratory would do about each doubt that hand tests leave."""
    methods = []
    doubtful = 1 - max(standing.origin.values()) > LEAST_DOUBT
    if doubtful:
        methods.append(settling_method("origin", standing.leader, "", workbench.rules))
    for treatment, share in standing.treated.items():
        if treatment in workbench.catalogue.treatments and LEAST_DOUBT < share < 1 - LEAST_DOUBT:
            method = workbench.catalogue.treatments[treatment].laboratory
            methods.append(f"{treatment}: {method}")
    return [method for method in methods if method]


def _next(
    workbench: Workbench,
    record: Mapping[str, Any],
    read: RecordReading,
    standing: Standing,
    kit: str | Kit,
    settle: str,
    per_minute: bool,
) -> NextAnswer:
    used = kit_of(kit)
    if settle not in SETTLE:
        raise UnknownWordError("settle", settle, list(SETTLE))
    tests = _tests_open(workbench, read)
    at_hand = [used.makes(test) for test in tests if used.holds(test)]
    elsewhere = [test for test in tests if not used.holds(test)]
    planned = plan(standing, at_hand, settle, per_minute=per_minute, missing=elsewhere)
    worth_making = [p for p in planned.proposals if p.gain_bits >= LEAST_GAIN_BITS]
    kinds = _kinds_standing(standing)

    def told(proposals: Sequence[Proposal]) -> list[TestAnswer]:
        return [_test(workbench, read, standing, kinds, p) for p in proposals]

    answers = told(worth_making[: 3 * MOST_PROPOSALS])
    free = [a for a in answers if _is_free(a)]
    best = max((answer["gain_bits"] for answer in free), default=0.0)
    missing = told(_worth_having(planned.missing, best))
    return {
        "id": _id_of(record),
        "kit": used.name,
        "settle": settle,
        "settles": planned.settles,
        "next": free[:MOST_PROPOSALS],
        "blocked": [a for a in answers if a not in free][:MOST_PROPOSALS],
        "missing": [a for a in missing if _is_free(a)][:MOST_MISSING],
    }


def _is_free(answer: TestAnswer) -> bool:
    return answer["harm"] is None or answer["harm"]["verdict"] != "never"


def _worth_having(missing: Iterable[Proposal], best_bits: float) -> list[Proposal]:
    """Return the tests, one a field, that would tell much beside the best one at hand."""
    least = max(LEAST_MISSING_BITS, LEAST_MISSING_SHARE * best_bits)
    by_field: dict[str, Proposal] = {}
    for proposal in missing:
        if proposal.gain_bits >= least:
            by_field.setdefault(proposal.test.field, proposal)
    return list(by_field.values())


def _tests_open(workbench: Workbench, read: RecordReading) -> list[PlannedTest]:
    """Return the tests that have not been made and that this stone's form allows."""
    made = {reading.field for reading in read.readings}
    looked_at = {reading.cause.removeprefix("not ") for reading in read.readings}
    return [
        test
        for instrument in workbench.instruments
        for test in instrument.tests
        if (test.field not in made or test.field == "magnification")
        and not (test.name.startswith("loupe") and test.name.rpartition(" for ")[2] in looked_at)
        and _possible(test, read.states)
    ]


# What cannot be measured on a stone in such a state is not asked for.
IMPOSSIBLE = {
    "mounted": {"sg", "heavy_liquid"},
    "opaque": {"polariscope", "optic_character", "pleochroism", "spectrum_text"},
    "rough": {"ri_low"},
    "cabochon": {"ri_low"},
    "bead": {"ri_low"},
    "carving": {"ri_low"},
}


def _possible(test: PlannedTest, states: Iterable[str]) -> bool:
    return not any(test.field in IMPOSSIBLE.get(state, ()) for state in states)


def _test(
    workbench: Workbench,
    read: RecordReading,
    standing: Standing,
    kinds: Sequence[KindStanding],
    proposal: Proposal,
) -> TestAnswer:
    shown = would_show(proposal.test, standing)
    return {
        "test": proposal.test.name,
        "field": proposal.test.field,
        "gain_bits": proposal.gain_bits,
        "minutes": proposal.minutes,
        "why": "; ".join(f"{s['candidate']}: {s['seen']}" for s in shown),
        "would_show": shown,
        "harm": _harm(workbench, read, kinds, proposal.test),
    }


def _harm(
    workbench: Workbench, read: RecordReading, kinds: Sequence[KindStanding], test: PlannedTest
) -> HarmAnswer | None:
    if not test.touches:
        return None
    found = harm(test.touches, kinds, read.states, workbench.rules)
    if found is None:
        return None
    return {
        "verdict": found.verdict,
        "reason": found.reason,
        "candidate": found.candidate,
        "probability": found.probability,
        "lifted_by": found.lifted_by,
    }


def _kinds_standing(standing: Standing) -> list[KindStanding]:
    """Return what can be hurt alike: rows of one name and the same traits count together."""
    kinds, codes = standing.population.once("kinds", lambda: _kinds(standing.population))
    share = np.bincount(codes, standing.posterior, len(kinds))
    return [(float(share[k]), *kinds[k]) for k in np.flatnonzero(share > LEAST_STANDING)]


def _kinds(population: Population) -> tuple[list[tuple[frozenset[str], str]], NDArray[np.intp]]:
    """Return the different pairs of traits and name, and for each row the number of its own."""
    pairs = list(zip(population.traits, map(_stone_name, population.labels), strict=True))
    number = {pair: place for place, pair in enumerate(dict.fromkeys(pairs))}
    return list(number), np.array([number[pair] for pair in pairs])


def _stone_name(label: Label) -> str:
    return f"{label.material}, {label.treatment}" if label.treatment else label.material


def _shares(probabilities: Mapping[str, float]) -> list[Share]:
    return [{"name": name, "probability": share} for name, share in probabilities.items()]


def _id_of(record: Mapping[str, Any]) -> str | None:
    given = record.get("id")
    return None if given is None else str(given)


def understood(read: RecordReading) -> Sequence[str]:
    """Return what was understood, reading by reading, in words."""
    return [f"{reading.field}: {reading.shown}" for reading in read.readings]
