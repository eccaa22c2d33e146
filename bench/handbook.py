"""The handbook's way: keep the materials whose printed ranges admit the readings, nearest first.

Beside the engine, on the same cases, with the same published tables.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bench.cases import score
from bench.figure import Figure
from bench.world import World, reference_rows

Array = NDArray[np.float64]
Ranges = dict[str, tuple[float, float]]

INDICES = ("ri", "ri_o", "ri_e", "ri_alpha", "ri_beta", "ri_gamma")
# What a careful user of tables allows a reading to lie outside the printed range.
ALLOWED = {"ri": 0.005, "birefringence": 0.003, "sg": 0.05}
LEAST_HALF_RANGE = {"ri": 0.004, "birefringence": 0.002, "sg": 0.03}


def printed_ranges() -> dict[str, Ranges]:
    """Return for each material the widest range any source prints, misprints and all."""
    found: dict[str, Ranges] = defaultdict(dict)
    for row in reference_rows("published_properties.csv"):
        name = "ri" if row["property"] in INDICES else row["property"]
        if name in ALLOWED and row["source_id"] != "BURN":
            low, high = float(row["low"]), float(row["high"])
            known = found[row["material"]].get(name, (low, high))
            found[row["material"]][name] = (min(known[0], low), max(known[1], high))
    return found


def readings(case: Mapping[str, Any]) -> dict[str, list[float]]:
    """Return the numbers of a case that a table of constants can be searched for."""
    indices = [case[key] for key in ("ri_low", "ri_high", "ri_spot") if key in case]
    found = {"ri": indices, "sg": [case["sg"]] if "sg" in case else []}
    if {"ri_low", "ri_high"} <= set(case) and case["ri_high"] > case["ri_low"]:
        found["birefringence"] = [case["ri_high"] - case["ri_low"]]
    return {name: values for name, values in found.items() if values}


def distance(read: Mapping[str, list[float]], ranges: Ranges) -> float | None:
    """Return how far readings lie from the middle of the ranges, or None if one is not admitted."""
    total, compared = 0.0, 0
    for name, values in read.items():
        if name not in ranges:
            continue
        low, high = ranges[name]
        if not all(low - ALLOWED[name] <= value <= high + ALLOWED[name] for value in values):
            return None
        half = max((high - low) / 2, LEAST_HALF_RANGE[name])
        total += abs(float(np.mean(values)) - (low + high) / 2) / half
        compared += 1
    # A material that prints nothing to compare with cannot be kept by a table.
    return total / compared if compared == len(read) or compared > 1 else None


def measure(world: World) -> Iterator[Figure]:
    """Yield how often the handbook's way names the published cases."""
    ranges = printed_ranges()
    species, _ = world.population.groups("species")
    place = {name: index for index, name in enumerate(species)}

    def answer(case: Mapping[str, Any]) -> Array | None:
        read = readings(case)
        if not read:
            return None
        shares = np.zeros(len(species))
        for material, printed in ranges.items():
            far = distance(read, printed)
            if far is None:
                continue
            for name in world.true_species(material) & set(species):
                shares[place[name]] = max(shares[place[name]], np.exp(-far))
        return shares if shares.any() else None

    yield from score(world, "handbook", answer)
