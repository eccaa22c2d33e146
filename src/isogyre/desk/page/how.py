"""How the numbers of a stone's page came about: start, inputs, formula and source of each."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import log10

import numpy as np

from isogyre.desk.answers import IdentifyAnswer
from isogyre.desk.wording import factor_in_words, odds_in_words, per_cent
from isogyre.desk.workbench import Workbench
from isogyre.evidence import SETTINGS
from isogyre.evidence.grouping import sums
from isogyre.evidence.prior import log_prior
from isogyre.population.words import UNLISTED

DRAWN = "virtual stones drawn from the catalogue, {kinds:,} kinds of stone, 128 draws of each"
ON_CARDS = "the constants and their sources stand on the card of each material"
LEAST = 1e-12


@dataclass(frozen=True)
class How:
    """How one number came about, as pairs of a word and what is said to it."""

    id: str
    title: str
    steps: tuple[tuple[str, str], ...]
    # The card on which the constants stand, if the number is of one kind of stone.
    card: str = ""


def how_numbers_came_about(workbench: Workbench, answer: IdentifyAnswer) -> tuple[How, ...]:
    """Return an explanation for every group of numbers on a stone's page."""
    population = workbench.population
    prior = np.exp(log_prior(population, SETTINGS[answer["prior"]]))
    drawn = DRAWN.format(kinds=len(population.labels))
    before = sums(population, prior / prior.sum(), "species")
    return (
        *(
            _species(number, share["name"], share["probability"], before, answer, drawn)
            for number, share in enumerate(answer["species"][:6])
        ),
        *_shares(answer, drawn),
        *_weights(answer, drawn),
    )


def _species(
    number: int,
    name: str,
    after: float,
    before: Mapping[str, float],
    answer: IdentifyAnswer,
    drawn: str,
) -> How:
    start = before.get(name, 0.0)
    factor = log10(_odds(after)) - log10(_odds(start))
    return How(
        f"how-species-{number}",
        f"{name[:1].upper()}{name[1:]}: {odds_in_words(after)}",
        (
            (
                "start",
                f"{odds_in_words(start)} ({per_cent(start)}), our estimate of how often it is met "
                f"at: {answer['prior']}",
            ),
            (
                "readings",
                f"{len(answer['weights'])}; together {factor_in_words(factor)} on its odds",
            ),
            (
                "formula",
                "odds after = odds before × weight of the readings",
            ),
            ("by", drawn),
            ("source", ON_CARDS),
        ),
        card="" if name == UNLISTED else name,
    )


def _tail(probability: float) -> str:
    if probability > 0.99:
        return "above 0.99"
    return f"{probability:.3f}" if probability >= 0.001 else "below 0.001"


def _odds(probability: float) -> float:
    held = min(max(probability, LEAST), 1 - LEAST)
    return held / (1 - held)


def _shares(answer: IdentifyAnswer, drawn: str) -> tuple[How, ...]:
    summed = "the share of every kind of stone that still stands, added up by {}"
    return (
        How(
            "how-origin",
            "Natural or not",
            (
                ("formula", summed.format("how it grew")),
                ("by", drawn),
                ("start", f"how often each growth is met: {answer['prior']}"),
                ("limit", "a growth the catalogue does not hold stands under its own name"),
            ),
        ),
        How(
            "how-treatment",
            "Treatment",
            (
                ("formula", summed.format("treatment")),
                ("start", "how usual each treatment is for that stone, as its card says"),
                ("limit", "hand tests prove no absence: without a sign, the usual share remains"),
            ),
        ),
        How(
            "how-names",
            "Names it could bear",
            (
                ("formula", summed.format("kind, growth and treatment")),
                ("name", "from the rules for trade names, with the evidence at hand"),
                ("source", "each kind's card says where its name comes from"),
            ),
        ),
    )


def _weights(answer: IdentifyAnswer, drawn: str) -> tuple[How, ...]:
    leader, runner_up = (share["name"] for share in answer["species"][:2])
    total = answer["total_log10_odds"]
    tail = answer["misfit"]["tail_probability"]
    return (
        How(
            "how-weights",
            f"For and against: {leader} over {runner_up}",
            (
                ("together", f"{factor_in_words(total)}, that is 10 to the power {total:.2f}"),
                ("each", "what the answer loses when that one reading is left out"),
                (
                    "formula",
                    "how often stones of the one read so, over how often of the other",
                ),
                ("limit", "readings that tell the same tale each look lighter than together"),
            ),
        ),
        How(
            "how-fit",
            "Do the readings fit",
            (
                ("figure", f"tail probability {_tail(tail)}"),
                ("formula", "how often readings at least this odd are met on sound stones"),
                ("suspect", "the reading most likely to have gone wrong, given all the others"),
                ("by", drawn),
            ),
        ),
        How(
            "how-settings",
            "Before any reading",
            (
                (
                    "start",
                    "stones of each kind a year, and where they are met (judgement)",
                ),
                ("span", "the same readings, weighed with each of the settings"),
                ("tips", "the odds before any reading at which the answer would be even"),
            ),
        ),
        How(
            "how-gain",
            "What a test would tell",
            (
                (
                    "unit",
                    "bit: a yes or no that is as likely as not tells one",
                ),
                ("formula", "doubt now less the doubt left on average over what the test can show"),
                ("inputs", "where the stone stands, the test's own error, and the kit's"),
            ),
        ),
    )
