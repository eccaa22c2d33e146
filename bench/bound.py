"""What the readings of table stones can tell at most: a learner that knows how they are drawn.

A forest is trained on the very distribution that the table stones come from, over only those
species that the published tables describe (about 80; the catalogue holds more than 180). No
engine that knows less, or must keep more species apart, can be expected to do much better.
"""

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bench.figure import Figure
from bench.table_stones import TableStone, confirmed, drawn_record, table_stones
from bench.world import World, talk
from isogyre.population.words import CHARACTERS

Array = NDArray[np.float64]

TRAINING_DRAWS, TRIAL_DRAWS = 300, 10
TREES, LEAF = 200, 3


def measure(world: World) -> Iterator[Figure]:
    """Yield the share named by a forest that was trained on the draws themselves."""
    from sklearn.ensemble import ExtraTreesClassifier  # type: ignore[import-untyped]

    talk("training on table stones themselves")
    described = table_stones(world)
    train, names, _ = _drawn(world, described, TRAINING_DRAWS, seed=1)
    trial, _, accepted = _drawn(world, confirmed(described), TRIAL_DRAWS, seed=2)
    counts = dict(zip(*np.unique(names, return_counts=True), strict=True))
    evenly = np.array([1 / counts[name] for name in names])
    forest = ExtraTreesClassifier(TREES, min_samples_leaf=LEAF, n_jobs=2, random_state=0)
    answers = forest.fit(train, names, sample_weight=evenly).predict(trial)
    right = [answer in true for answer, true in zip(answers, accepted, strict=True)]
    note = f"{len(counts)} species, each as likely as another"
    yield Figure("bound.top1", float(np.mean(right)), "share", len(right), "", note)


def _drawn(
    world: World, stones: Sequence[TableStone], draws: int, seed: int
) -> tuple[Array, NDArray[np.str_], list[frozenset[str]]]:
    rng = np.random.default_rng(seed)
    columns: list[list[float]] = []
    names: list[str] = []
    accepted: list[frozenset[str]] = []
    for stone in stones:
        true = world.true_species(stone.material)
        for _ in range(draws):
            columns.append(_columns(drawn_record(stone, rng)))
            names.append(min(true))
            accepted.append(true)
    return np.array(columns), np.array(names), accepted


def _columns(record: dict[str, Any]) -> list[float]:
    low, high, spot = (float(record.get(key) or 0) for key in ("ri_low", "ri_high", "ri_spot"))
    sg = float(record["sg"])
    index = (low + high) / 2 if high else (low or spot or 2.0)
    character = [float(word == record["optic_character"]) for word in CHARACTERS]
    beyond = float("ri_text" in record)
    return [low, high, high - low, index, spot, beyond, sg, sg - 3 * index, *character]
