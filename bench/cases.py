"""The published cases: what authors measured on stones, and what they say the stones are."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bench.figure import Figure
from bench.world import REFERENCE, World, rank_of, share_of, talk

Array = NDArray[np.float64]
SURE = 0.99
LEAST_SHARE = 1e-6
FURTHER = REFERENCE / "cases_further.jsonl"
# Counts out of the 37 records of the first set: other records have no goals.
GOALS_SET_ON = 37
GOALS = {
    "cases.top1": ">= 31",
    "cases.top3": ">= 35",
    "cases.log_score": ">= -0.60",
    "cases.wrong_above_99": "<= 0",
    "cases.origin": ">= 33",
}


@dataclass(frozen=True)
class Outcome:
    """How one case went."""

    case: str
    truth: str
    rank: int
    share: float
    leader: str
    leader_share: float
    origin: str
    origin_share: float
    true_origin: str
    growth_is_right: bool | None

    @property
    def is_wrong_and_sure(self) -> bool:
        """Return whether a wrong name was given with more than 0.99."""
        return self.rank > 0 and self.leader_share > SURE

    @property
    def is_taken_for_natural(self) -> bool:
        """Return whether something made or assembled passed as natural: the buyer's loss."""
        made = self.true_origin in ("synthetic", "imitation", "composite", "reconstructed")
        return made and self.origin == "natural"

    def as_line(self) -> str:
        """Return the outcome as a line to read."""
        marks = ("" if self.rank == 0 else " NAME") + (
            "" if self.origin == self.true_origin else f" ORIGIN ({self.true_origin})"
        )
        return (
            f"  {self.case:<6}{self.truth:<24}rank {self.rank + 1:<4}{self.share:.3f}  "
            f"{self.leader} {self.leader_share:.2f}, {self.origin} {self.origin_share:.2f}{marks}"
        )


def outcomes(world: World) -> list[Outcome]:
    """Return how the engine does on every case."""
    return [_outcome(world, case) for case in world.cases]


def _outcome(world: World, case: Mapping[str, Any]) -> Outcome:
    truth = case["truth"]
    posterior = world.posterior(case)
    species, _ = world.population.groups("species")
    shares = world.shares(posterior)
    origins, _ = world.population.groups("origin")
    by_origin = world.shares(posterior, "origin")
    accepted = world.true_species(truth["material"])
    return Outcome(
        case=str(case["id"]),
        truth=truth["material"],
        rank=rank_of(accepted, species, shares),
        share=share_of(accepted, species, shares),
        leader=species[int(shares.argmax())],
        leader_share=float(shares.max()),
        origin=origins[int(by_origin.argmax())],
        origin_share=float(by_origin.max()),
        true_origin=truth["origin"],
        growth_is_right=_growth_is_right(world, truth, posterior),
    )


def _growth_is_right(world: World, truth: Mapping[str, Any], posterior: Array) -> bool | None:
    """Return whether the likeliest growth is the true one; a composite has several."""
    if not truth.get("growth_method") or truth["origin"] == "composite":
        return None
    said = truth["growth_method"].lower()
    growths, _ = world.population.groups("growth")
    likeliest = growths[int(world.shares(posterior, "growth").argmax())]
    return bool(likeliest == world.names["growth"].get(said, said))


def measure(world: World) -> Iterator[Figure]:
    """Yield how often the first set of published cases is named, and how honest the odds are."""
    for figure in _figures(world, "cases"):
        goal = GOALS.get(figure.name, "") if len(world.cases) == GOALS_SET_ON else ""
        yield replace(figure, goal=goal)


def measure_further(world: World) -> Iterator[Figure]:
    """Yield the same for a second set, which nothing was adjusted to: no goal is set on it."""
    yield from _figures(replace(world, cases_file=FURTHER), "further")


def _figures(world: World, name: str) -> Iterator[Figure]:
    found = outcomes(world)
    if world.verbose:
        for outcome in found:
            talk(outcome.as_line())
    n = len(found)
    sure = [o for o in found if o.leader_share > SURE]
    wrong = sum(o.is_wrong_and_sure for o in found)
    missed = ", ".join(o.case for o in found if o.rank > 0)
    log = float(np.mean([np.log(max(o.share, LEAST_SHARE)) for o in found]))
    natural = [o.case for o in found if o.is_taken_for_natural]
    right = sum(o.origin == o.true_origin for o in found)
    grown = [o.growth_is_right for o in found if o.growth_is_right is not None]
    top1, top3 = (sum(o.rank < places for o in found) for places in (1, 3))
    yield Figure(f"{name}.top1", top1, "cases", n, "", f"missed: {missed}")
    yield Figure(f"{name}.top3", top3, "cases", n)
    yield Figure(f"{name}.log_score", log, "ln", n)
    yield Figure(f"{name}.wrong_above_99", wrong, "cases", n, "", f"of {len(sure)} claims")
    yield Figure(f"{name}.origin", right, "cases", n)
    taken = ", ".join(natural)
    yield Figure(f"{name}.taken_for_natural", len(natural), "cases", n, "", taken)
    yield Figure(f"{name}.growth", sum(grown), "cases", len(grown))


def score(
    world: World, name: str, answer: Callable[[Mapping[str, Any]], Array | None], n_note: str = ""
) -> Iterator[Figure]:
    """Yield the figures of another method on the same cases, for comparison.

    ``answer`` gives a score for each species in the population's order, or None for no answer.
    """
    species, _ = world.population.groups("species")
    ranks, answered = [], 0
    for case in world.cases:
        shares = answer(case)
        answered += shares is not None
        accepted = world.true_species(case["truth"]["material"])
        ranks.append(len(species) if shares is None else rank_of(accepted, species, shares))
    top = np.array(ranks)
    note = n_note or f"{answered} of {len(top)} could be looked up"
    yield Figure(f"{name}.top1", int((top == 0).sum()), "cases", len(top), "", note)
    yield Figure(f"{name}.top3", int((top < 3).sum()), "cases", len(top))
