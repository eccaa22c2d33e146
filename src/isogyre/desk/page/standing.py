"""The middle of a stone's page: what it can be, how sure, why, and what hand tests leave open."""

from collections.abc import Callable, Mapping, Sequence

from isogyre.desk.answers import CandidateAnswer, IdentifyAnswer, MisfitAnswer, Share
from isogyre.desk.page.figures import ODDS_TICKS, BeamScale, odds_mark, split
from isogyre.desk.page.forms import anchor_of, origin_of, owner_of
from isogyre.desk.page.records import (
    Beam,
    Fit,
    NameRow,
    NotCounted,
    OddsRow,
    PartRow,
    SettingRow,
    StandingPart,
    Suspect,
    Verdict,
    WeightRow,
)
from isogyre.desk.wording import SILENT_LOG10, factor_in_words, odds_in_words, per_cent
from isogyre.desk.workbench import Workbench
from isogyre.evidence import SETTINGS
from isogyre.evidence.grouping import NO_TREATMENT
from isogyre.population.words import UNLISTED

Figure = Callable[[float], str]

LEAST_SHOWN = 0.001
MOST_SPECIES, MOST_SLICES = 6, 4
# Sound readings of a catalogued stone strain this much once in fifty times (measured on
# simulated stones); a suspect is pointed out a little sooner.
MISFIT, STRAIN = 0.03, 0.15
LIKELY, SURE_ENOUGH = 0.5, 0.98

ORIGINS = {
    "organic": "grown by an animal or a plant",
    "imitation": "an imitation",
    "composite": "assembled from parts",
    "reconstructed": "pressed or bonded from pieces",
    UNLISTED: "not in the catalogue",
}
LIMITS = {
    "settle it at times": "hand tests settle it at times",
    "give hints": "hand tests give hints only",
    "see nothing": "hand tests cannot see it",
}


def standing_part(workbench: Workbench, answer: IdentifyAnswer) -> StandingPart:
    """Return the answer of `identify` as a page shows it."""
    figure = _no_figure if answer["thin"] else per_cent
    species = [share for rank, share in enumerate(answer["species"]) if _is_shown(rank, share)]
    return StandingPart(
        verdict=verdict(answer),
        readings=_count(len(answer["weights"]), "reading"),
        odds_ticks=ODDS_TICKS,
        species=tuple(_species_row(rank, s, answer, figure) for rank, s in enumerate(species)),
        others=_others(answer["species"][len(species) :]),
        names=tuple(_name_row(candidate, figure) for candidate in answer["candidates"]),
        origins=_parts(answer["origin"], figure, lambda name: (ORIGINS.get(name, name), "")),
        treatments=_parts(answer["treated"], figure, lambda name: _state(workbench, name)),
        beam=_beam(workbench, answer),
        fit=_fit(workbench, answer["misfit"], called(species[0]["name"])),
        setting=answer["prior"],
        settings=_settings(answer, figure),
        tips=_tips(called(species[0]["name"]), answer["prior_odds_to_tip"]),
        is_thin=answer["thin"],
        laboratory=tuple(answer["settle_by_laboratory"]),
        not_counted=tuple(
            NotCounted(
                owner_of(workbench, i["field"]), anchor_of(i["field"]), i["value"], i["reason"]
            )
            for i in answer["ignored"]
        ),
    )


def _no_figure(probability: float) -> str:
    """Return no figure: too few virtual stones carry the answer for its digits to mean much."""
    return ""


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")


def capital(text: str) -> str:
    """Return the text with its first letter upper case."""
    return text[:1].upper() + text[1:]


def called(name: str) -> str:
    """Return what a species is called in a sentence."""
    return "something not in the catalogue" if name == UNLISTED else name


# ---- the sentence at the head -----------------------------------------------------------------


def verdict(answer: IdentifyAnswer) -> Verdict:
    """Return the sentence that answers what the stone is, and the one that says its limit."""
    first, second = answer["species"][:2]
    limit = _limit(answer["treated"])
    if doubt := _doubt(answer):
        limit = f"{doubt} {limit}"
    odds = odds_in_words(first["probability"])
    if first["probability"] < LIKELY:
        other = f"{called(second['name'])} {odds_in_words(second['probability'])}"
        return Verdict("Undecided", "", f"{capital(called(first['name']))} {odds}, {other}.", limit)
    origin, share = next(iter(answer["origin"].items()))
    rest = f"{capital(ORIGINS.get(origin, origin))}: {odds_in_words(share)}."
    return Verdict(capital(called(first["name"])), odds, rest, limit)


def _doubt(answer: IdentifyAnswer) -> str:
    """Return that a reading does not fit, for it may undo all that stands above it."""
    leader = called(answer["species"][0]["name"])
    _, _, is_strained = fit_in_words(answer["misfit"], leader)
    if not is_strained or not answer["misfit"]["suspects"]:
        return ""
    return f"But a reading does not fit; look again at {answer['misfit']['suspects'][0]['shown']}."


def _limit(treated: Mapping[str, float]) -> str:
    if treated.get(NO_TREATMENT, 0.0) > SURE_ENOUGH:
        return "No treatment is to be expected; these readings do not prove that there is none."
    treatment, share = next((n, p) for n, p in treated.items() if n != NO_TREATMENT)
    if share >= LIKELY:
        return f"Assume {treatment}: {odds_in_words(share)}."
    return "Treated or not: these readings cannot say."


# ---- what it can be ---------------------------------------------------------------------------


def _is_shown(rank: int, share: Share) -> bool:
    return rank < 2 or (rank < MOST_SPECIES and share["probability"] >= LEAST_SHOWN)


def _species_row(rank: int, share: Share, answer: IdentifyAnswer, figure: Figure) -> OddsRow:
    p = share["probability"]
    span = answer["prior_span"].values() if rank == 0 else ()
    return OddsRow(capital(called(share["name"])), odds_in_words(p), figure(p), odds_mark(p, span))


def _others(left: Sequence[Share]) -> str:
    likeliest = max((share["probability"] for share in left), default=0.0)
    return f"{_count(len(left), 'other kind')}, the likeliest {odds_in_words(likeliest)}"


def _name_row(candidate: CandidateAnswer, figure: Figure) -> NameRow:
    p = candidate["probability"]
    kind = [candidate["material"], candidate["growth"], candidate["treatment"]]
    unlisted = candidate["material"] == UNLISTED
    return NameRow(
        name=capital(ORIGINS[UNLISTED] if unlisted else candidate["trade_name"]),
        kind=", ".join(word for word in kind if word and word != UNLISTED),
        material="" if unlisted else candidate["material"],
        words=odds_in_words(p),
        figure=figure(p),
    )


def _parts(
    shares: Mapping[str, float], figure: Figure, called_of: Callable[[str], tuple[str, str]]
) -> tuple[PartRow, ...]:
    """Return the largest shares of a whole as slices, and all the others as one."""
    ranked = [(*called_of(name), p) for name, p in shares.items() if p >= LEAST_SHOWN]
    shown = ranked[:MOST_SLICES]
    if left := ranked[MOST_SLICES:]:
        shown.append((_count(len(left), "other"), "", sum(p for *_, p in left)))
    slices = split([p for *_, p in shown])
    return tuple(
        PartRow(name, note, odds_in_words(p), figure(p), piece)
        for (name, note, p), piece in zip(shown, slices, strict=True)
    )


def _state(workbench: Workbench, treatment: str) -> tuple[str, str]:
    """Return a treatment as a state of the stone, and how far hand tests reach."""
    if treatment == NO_TREATMENT:
        return "no treatment shown", "unproved: hand tests prove no absence"
    if treatment == UNLISTED:
        return ORIGINS[UNLISTED], ""
    row = workbench.catalogue.treatments.get(treatment)
    return treatment, LIMITS[row.hand_tests] if row else ""


# ---- why --------------------------------------------------------------------------------------


def _beam(workbench: Workbench, answer: IdentifyAnswer) -> Beam:
    total = answer["total_log10_odds"]
    heaviest_first = sorted(answer["weights"], key=lambda w: -abs(w["log10_odds"]))
    speaking = [w for w in heaviest_first if abs(w["log10_odds"]) >= SILENT_LOG10]
    scale = BeamScale.of([w["log10_odds"] for w in speaking] + [total])

    def row(shown: str, origin: str, log10_odds: float) -> WeightRow:
        return WeightRow(shown, origin, factor_in_words(log10_odds), scale.bar(log10_odds))

    leader, runner_up = (called(share["name"]) for share in answer["species"][:2])
    return Beam(
        leader=leader,
        runner_up=runner_up,
        ticks=scale.ticks(),
        datum=scale.datum,
        rows=tuple(
            row(w["shown"], origin_of(workbench, w["field"]), w["log10_odds"]) for w in speaking
        ),
        silent=tuple(w["shown"] for w in answer["weights"] if w not in speaking),
        together=row("together", "", total),
    )


def fit_in_words(misfit: MisfitAnswer, leader: str) -> tuple[str, str, bool]:
    """Return whether the readings fit, how odd they are, and whether a suspect is to be named.

    Judged within the leading species and, since a contradiction can leave no species standing,
    by the most surprising reading given all the others, corrected for how many were looked at.
    """
    whole = misfit["tail_probability"]
    tails = [suspect["tail_probability_without"] for suspect in misfit["suspects"]]
    apart = 1 - (1 - min(tails)) ** len(tails) if tails else 1.0
    is_apart = apart < min(whole, STRAIN)
    strain = apart if is_apart else whole
    if strain >= LIKELY:
        usual = "" if leader == called(UNLISTED) else f"They are as {leader} mostly reads."
        return "The readings sit well together.", usual, False
    among = "among stones of any kind" if is_apart else f"for {leader}"
    surprise = f"Readings at least this odd are {odds_in_words(strain)} {among}."
    if strain >= STRAIN:
        return "The readings sit well together.", surprise, False
    verdict = "Something does not fit." if strain < MISFIT else "The readings strain a little."
    return verdict, surprise, True


def _fit(workbench: Workbench, misfit: MisfitAnswer, leader: str) -> Fit:
    verdict, surprise, is_strained = fit_in_words(misfit, leader)
    return Fit(verdict, surprise, _suspect(workbench, misfit) if is_strained else None)


def _suspect(workbench: Workbench, misfit: MisfitAnswer) -> Suspect | None:
    if not misfit["suspects"]:
        return None
    worst = misfit["suspects"][0]
    return Suspect(
        field=worst["field"],
        shown=worst["shown"],
        instrument=owner_of(workbench, worst["field"]),
        anchor=anchor_of(worst["field"]),
        words=odds_in_words(worst["tail_probability_without"]),
    )


def _settings(answer: IdentifyAnswer, figure: Figure) -> tuple[SettingRow, ...]:
    return tuple(
        SettingRow(name, SETTINGS[name].about, odds_in_words(p), figure(p), name == answer["prior"])
        for name, p in answer["prior_span"].items()
    )


def _tips(leader: str, prior_odds: float) -> str:
    start = odds_in_words(prior_odds / (1 + prior_odds))
    return f"It would tip to even if {leader} stood, before any reading, at {start}."
