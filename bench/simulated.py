"""Virtual stones read by the instruments: do the odds mean what they say.

The stones come from the population itself, so this proves the reckoning consistent, not true.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import beta

from bench.figure import Figure
from bench.world import World, talk
from isogyre.instruments.simulate import simulated_record
from isogyre.population.virtual import VirtualStone, draw_stone

Array = NDArray[np.float64]
Generator = np.random.Generator

STONES, MOST_STONES, CLAIMS = 1500, 6000, 500
BINS = 10
SURE = 0.99
# From four tests in ten to all of them, whatever the stone: which were made tells nothing.
LEAST_THOROUGH, MOST_THOROUGH = 0.4, 1.0
TESTS = (
    "ri",
    "sg",
    "polariscope",
    "conoscope",
    "pleochroism",
    "uv_lw",
    "uv_sw",
    "chelsea",
    "colour",
    "transparency",
    "spectrum",
    "loupe",
)
FACETED = 0.7
CAUSES_LOOKED_FOR = 4


@dataclass(frozen=True)
class Answer:
    """What the engine said of one virtual stone."""

    confidence: float
    rank: int
    share: float

    @property
    def is_right(self) -> bool:
        """Return whether the likeliest species is the true one."""
        return self.rank == 0


def random_record(
    world: World, stone: VirtualStone, rng: Generator, together: bool = False
) -> dict[str, Any]:
    """Return the record of a stone by a random set of tests."""
    thorough = rng.uniform(LEAST_THOROUGH, MOST_THOROUGH)
    made = [test for test in TESTS if rng.random() < thorough]
    keys = {
        "ri": ["ri_low" if rng.random() < FACETED else "ri_spot"],
        "conoscope": ["conoscope", *(["optic_sign"] if rng.random() < thorough else [])],
        "spectrum": ["spectrum_text" if rng.random() < 0.5 else "spectrum_lines_nm"],
        "loupe": _causes(world, rng) if "loupe" in made else [],
    }
    wanted = [key for test in made for key in keys.get(test, [test])]
    record = simulated_record(world.population, world.instruments, stone, wanted, rng, together)
    if record.get("optic_character") == "none found":
        record.pop("optic_sign", None)
    return record


def _causes(world: World, rng: Generator) -> list[str]:
    """Return loupe tests chosen by how often an average stone has something to show for them."""
    names, often = world.population.once("loupe tests, how often", lambda: _often(world))
    return [str(name) for name in rng.choice(names, CAUSES_LOOKED_FOR, replace=False, p=often)]


def _often(world: World) -> tuple[list[str], Array]:
    average = dict(
        zip(
            world.population.feature_names,
            world.population.prior @ world.population.tables.features,
            strict=True,
        )
    )
    loupe = {name: test for name, test in world.tests.items() if name.startswith("loupe")}
    often = np.array([sum(average[f] for f in t.outcome_names[:-1]) for t in loupe.values()])
    return list(loupe), often / often.sum()


def answers(
    world: World,
    seed: int,
    stones: int = STONES,
    claims: int = CLAIMS,
    together: bool = False,
) -> list[Answer]:
    """Return answers on ``stones`` virtual stones and more, until ``claims`` are above 0.99."""
    rng, found, sure = np.random.default_rng(seed), list[Answer](), 0
    _, species = world.population.groups("species")
    while len(found) < stones or (sure < claims and len(found) < MOST_STONES):
        stone = draw_stone(world.dense, rng)
        record = random_record(world, stone, rng, together)
        shares = world.shares(world.posterior(record))
        true = species[stone.row]
        rank = int((shares > shares[true]).sum())
        found.append(Answer(float(shares.max()), rank, float(shares[true])))
        sure += shares.max() > SURE
    return found


def calibration_error(found: Sequence[Answer], bins: int = BINS) -> float:
    """Return the mean distance of confidence from hit rate, over bins of equal count."""
    confidence = np.array([answer.confidence for answer in found])
    right = np.array([answer.is_right for answer in found])
    order = np.argsort(confidence, kind="stable")
    distances = [
        len(part) * abs(confidence[part].mean() - right[part].mean())
        for part in np.array_split(order, bins)
    ]
    return float(sum(distances) / len(found))


def upper_bound(wrong: int, claims: int) -> float:
    """Return the one-sided 95 % upper bound of a share (Clopper and Pearson, 1934)."""
    return float(beta.ppf(0.95, wrong + 1, claims - wrong)) if wrong < claims else 1.0


def measure(world: World) -> Iterator[Figure]:
    """Yield calibration where every feature comes or stays away on its own."""
    talk("weighing simulated stones")
    yield from _figures("simulated", answers(world, seed=11))


def measure_together(world: World) -> Iterator[Figure]:
    """Yield calibration where the features of one cause come all together or not at all."""
    talk("weighing simulated stones whose features share a cause")
    yield from _figures("simulated_together", answers(world, seed=12, together=True))


def _figures(name: str, found: Sequence[Answer]) -> Iterator[Figure]:
    n = len(found)
    sure = [answer for answer in found if answer.confidence > SURE]
    wrong = sum(not answer.is_right for answer in sure)
    ranks = np.array([answer.rank for answer in found])
    logs = np.log([max(answer.share, 1e-6) for answer in found])
    bound = 100 * upper_bound(wrong, len(sure))
    yield Figure(f"{name}.calibration_error", calibration_error(found), "", n, "<= 0.03")
    note = f"{wrong} of {len(sure)} claims; 95 % upper bound"
    yield Figure(f"{name}.wrong_above_99", bound, "%", len(sure), "<= 2", note)
    yield Figure(f"{name}.top1", float((ranks == 0).mean()), "share", n)
    yield Figure(f"{name}.top3", float((ranks < 3).mean()), "share", n)
    yield Figure(f"{name}.log_score", float(logs.mean()), "ln", n)
