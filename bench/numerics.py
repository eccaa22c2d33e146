"""How far the shipped number of virtual stones is from many more, and what more stones cost."""

import time
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from bench.figure import Figure
from bench.simulated import random_record
from bench.world import World, talk
from isogyre.population import Population, build_population
from isogyre.population.virtual import draw_stone

Array = NDArray[np.float64]

STONES = 200
STEPS = (64, 128, 256, 512, 1024)


def records(world: World, count: int, seed: int = 41) -> list[dict[str, object]]:
    """Return random records of virtual stones."""
    rng = np.random.default_rng(seed)
    return [random_record(world, draw_stone(world.dense, rng), rng) for _ in range(count)]


def species_shares(
    world: World, made: list[dict[str, object]], population: Population
) -> tuple[Array, float]:
    """Return the species posterior of each record, and the median milliseconds of an update."""
    shares, taken_ms = [], []
    for record in made:
        started = time.perf_counter()
        posterior = world.posterior(record, population)
        taken_ms.append(1000 * (time.perf_counter() - started))
        shares.append(world.shares(posterior))
    return np.array(shares), float(np.median(taken_ms))


def distances(one: Array, other: Array) -> Array:
    """Return the total variation between posteriors, record by record."""
    halved: Array = np.abs(one - other).sum(axis=1) / 2
    return halved


def measure(world: World) -> Iterator[Figure]:
    """Yield the distance to a dense run, and how it falls and time grows with the stones."""
    talk(f"comparing with {STEPS[-1]} stones a body")
    made = records(world, STONES)
    dense, _ = species_shares(world, made, world.dense)
    shipped, _ = species_shares(world, made, world.population)
    far = distances(shipped, dense)
    count = world.population.stones.n_alpha.shape[1]
    note = f"{count} stones a body against {STEPS[-1]}"
    yield Figure("numerics.distance_mean", float(far.mean()), "", len(far), "<= 0.005", note)
    yield Figure("numerics.distance_max", float(far.max()), "", len(far), "<= 0.1")
    yield Figure("numerics.distance_p95", float(np.percentile(far, 95)), "", len(far))


def measure_growth(world: World) -> Iterator[Figure]:
    """Yield the time of an update as stones a body and materials grow in number."""
    made = records(world, STONES // 4)
    dense, _ = species_shares(world, made, world.dense)
    for step in STEPS:
        talk(f"{step} stones a body")
        population = world.dense if step == STEPS[-1] else build_population(world.catalogue, step)
        shares, taken_ms = species_shares(world, made, population)
        note = f"distance to {STEPS[-1]}: mean {distances(shares, dense).mean():.4f}"
        yield Figure(f"growth.update_{step}_stones", taken_ms, "ms", len(made), "", note)
    yield from _by_materials(world, made)


def _by_materials(world: World, made: list[dict[str, object]]) -> Iterator[Figure]:
    names = list(world.catalogue.materials)
    for count in (50, 100, 200, len(names)):
        talk(f"{count} materials")
        chosen = names[:: max(1, len(names) // count)][:count]
        materials = {name: world.catalogue.materials[name] for name in chosen}
        smaller = replace(world.catalogue, materials=materials)
        population = build_population(smaller)
        taken_ms = []
        for record in made:
            started = time.perf_counter()
            world.posterior(record, population)
            taken_ms.append(1000 * (time.perf_counter() - started))
        bodies = len(population.stones.n_alpha)
        note = f"{bodies} bodies, {len(population.labels)} kinds of stone"
        figure = f"growth.update_{count}_materials"
        yield Figure(figure, float(np.median(taken_ms)), "ms", len(made), "", note)
