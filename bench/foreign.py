"""A stone of a material that is not in the catalogue: how much of it goes to *unlisted*."""

from collections.abc import Iterator

import numpy as np

from bench.figure import Figure
from bench.world import World, talk, with_prior
from isogyre.instruments.simulate import simulated_record
from isogyre.population.virtual import draw_stone

MATERIALS, STONES_EACH = 60, 5
TESTS = (
    "ri_low",
    "sg",
    "polariscope",
    "optic_character",
    "pleochroism",
    "uv_lw",
    "uv_sw",
    "colour",
)
NEVER = 1e-300


def measure(world: World) -> Iterator[Figure]:
    """Yield the share of *unlisted* for foreign stones, and names wrongly claimed.

    A material is left out by taking its prior away; the fixed cloud of *unlisted* was drawn
    about the whole catalogue and is left as it is.
    """
    talk("leaving out one material after another")
    rng, population = np.random.default_rng(51), world.population
    names, codes = population.groups("species")
    listed = np.array([name != "unlisted" for name in names])
    chosen = rng.choice(np.flatnonzero(listed), MATERIALS, replace=False)
    unlisted, best = [], []
    for species in chosen:
        rows = np.flatnonzero(codes == species)
        without = with_prior(population, np.where(codes == species, NEVER, population.prior))
        share = population.prior[rows] / population.prior[rows].sum()
        for row in rng.choice(rows, STONES_EACH, p=share):
            stone = draw_stone(world.dense, rng, int(row))
            record = simulated_record(population, world.instruments, stone, TESTS, rng)
            shares = world.shares(world.posterior(record, without))
            unlisted.append(float(shares[~listed].sum()))
            best.append(float(shares[listed].max()))
    n, foreign, leader = len(best), np.array(unlisted), np.array(best)
    yield Figure("foreign.unlisted_share", float(foreign.mean()), "share", n)
    yield Figure("foreign.unlisted_over_half", float((foreign > 0.5).mean()), "share", n)
    yield Figure("foreign.wrong_name_above_95", float((leader > 0.95).mean()), "share", n)
    yield Figure("foreign.wrong_name_above_99", float((leader > 0.99).mean()), "share", n)
