"""What the published cases say of the prior: flat, as shipped, or commonness in full."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from bench.cases import outcomes
from bench.figure import Figure
from bench.world import World, with_prior
from isogyre.population.hypotheses import COMMONNESS_EXPONENT


def measure(world: World) -> Iterator[Figure]:
    """Yield what the published cases say of the prior's exponent: flat, as shipped, in full."""
    species, codes = world.population.groups("species")
    shares = np.bincount(codes, world.population.prior, len(species))
    for exponent in (0.0, 0.5, 1.0):
        moved = world.population.prior * shares[codes] ** (exponent / COMMONNESS_EXPONENT - 1)
        # The candidate *unlisted* is no species: it keeps its share.
        unlisted = world.population.rows_of("species", "unlisted")
        listed = moved[~unlisted]
        moved[~unlisted] = listed / listed.sum() * world.population.prior[~unlisted].sum()
        moved[unlisted] = world.population.prior[unlisted]
        other = replace(world, population=with_prior(world.population, moved))
        found = outcomes(other)
        log = float(np.mean([np.log(max(o.share, 1e-6)) for o in found]))
        top3 = sum(o.rank < 3 for o in found)
        wrong = sum(o.is_wrong_and_sure for o in found)
        note = f"top-3 {top3}, log score {log:.2f}, wrong above .99: {wrong}"
        top1 = sum(o.rank == 0 for o in found)
        yield Figure(f"prior.exponent_{exponent:g}_top1", top1, "cases", len(found), "", note)
