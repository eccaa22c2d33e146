"""Table stones: readings drawn inside what one source prints about one material.

Refractive index, density and optic character only, colour unknown: what a table of constants
can tell apart, and what it cannot.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bench.figure import Figure
from bench.world import World, rank_of, reference_rows, share_of, talk

Generator = np.random.Generator
Range = tuple[float, float]

SEEDS = 5
DRAWS_A_PAIR = 6
PAIRS = (("ri_o", "ri_e"), ("ri_alpha", "ri_gamma"))
# Formula mass over molar volume of a pure end-member: no gem is that.
NOT_GEMS = ("BURN",)
LIMIT, LIMIT_SD = 1.80, 0.008

# Aggregates whose tables give the crystal's data or an overall range; metamict zircon, and a
# felt of fibres that one table gives without a character.
CHARACTERS_BY_NAME = {
    **dict.fromkeys(("coral", "pearl", "nephrite", "jadeite", "malachite"), "aggregate"),
    **dict.fromkeys(("turquoise", "lapis lazuli", "serpentine (clinochrysotile)"), "aggregate"),
    "zircon (low)": "isotropic",
}
# Optic character written for the true one: right, and the two ways of a hasty conclusion.
CHARACTER_RIGHT = {"isotropic": 0.93, "uniaxial": 0.91, "biaxial": 0.91, "aggregate": 0.87}
UNIAXIAL_FOR_BIAXIAL = 0.07


@dataclass(frozen=True)
class TableStone:
    """What one source prints about one material: the ranges its stones are drawn from."""

    material: str
    source: str
    voice: str
    character: str
    edges: tuple[Range, Range]
    sg: Range
    is_spot: bool


def table_stones(world: World) -> list[TableStone]:
    """Return every material-source pair that gives an index and a density of one stone."""
    printed: dict[tuple[str, str], dict[str, dict[str, str]]] = defaultdict(dict)
    for row in reference_rows("published_properties.csv"):
        printed[row["material"], row["source_id"]][row["property"]] = row
    characters = _characters(printed)
    voices = {row["source_id"]: _voice(row) for row in reference_rows("sources.csv")}
    stones = []
    for (material, source), rows in printed.items():
        left_out = {material, f"{material} / {source}"} & set(world.names["no_table_stone"])
        edges = _edges(rows, characters[material])
        if edges and "sg" in rows and source not in NOT_GEMS and not left_out:
            spot = characters[material] == "aggregate"
            stones.append(
                TableStone(
                    material,
                    source,
                    voices[source],
                    characters[material],
                    edges,
                    _range(rows["sg"]),
                    spot,
                )
            )
    return stones


def confirmed(stones: Sequence[TableStone]) -> list[TableStone]:
    """Return the stones of materials that at least two independent sources describe."""
    voices = defaultdict(set)
    for stone in stones:
        voices[stone.material].add(stone.voice)
    return [stone for stone in stones if len(voices[stone.material]) > 1]


def _range(row: dict[str, str]) -> Range:
    return float(row["low"]), float(row["high"])


def _voice(row: dict[str, str]) -> str:
    return row["licence_note"].rpartition("independence group:")[2].strip()


def _edges(rows: dict[str, dict[str, str]], character: str) -> tuple[Range, Range] | None:
    """Return the ranges of the lower and the upper edge.

    An overall range of an anisotropic crystal is no reading of one stone; of an aggregate it is
    where the spot reading lies.
    """
    for first, second in PAIRS:
        if first in rows and second in rows:
            low, high = sorted((_range(rows[first]), _range(rows[second])), key=sum)
            return low, high
    if "ri" not in rows or ("overall" in rows["ri"]["text"] and character != "aggregate"):
        return None
    return _range(rows["ri"]), _range(rows["ri"])


def _characters(printed: dict[tuple[str, str], dict[str, dict[str, str]]]) -> dict[str, str]:
    """Return the optic character of each material, as stated or as its indices imply."""
    stated: dict[str, str] = {}
    implied: dict[str, str] = defaultdict(lambda: "isotropic")
    for (material, _), rows in printed.items():
        if "optic_character" in rows:
            stated.setdefault(material, rows["optic_character"]["text"].split()[0])
        if "ri_o" in rows:
            implied[material] = "uniaxial"
        elif "ri_alpha" in rows:
            implied[material] = "biaxial"
        elif "overall" in rows.get("ri", {}).get("text", ""):
            implied.setdefault(material, "aggregate")
    materials = {material for material, _ in printed}
    return {m: CHARACTERS_BY_NAME.get(m) or stated.get(m) or implied[m] for m in materials}


# ---- readings --------------------------------------------------------------------------------


def drawn_record(stone: TableStone, rng: Generator) -> dict[str, Any]:
    """Return readings of a stone inside the printed ranges, with the errors of hand readings."""
    place = rng.random()
    low, high = (end[0] + place * (end[1] - end[0]) for end in stone.edges)
    sg = rng.uniform(*stone.sg)
    record = {"sg": f"{_density(sg, rng):.2f}", "optic_character": _written(stone, rng)}
    return record | _index(stone, low, high, rng)


def _index(stone: TableStone, low: float, high: float, rng: Generator) -> dict[str, Any]:
    limit = LIMIT + LIMIT_SD * rng.standard_normal()
    if low > limit:
        return {"ri_text": "beyond the limit", "ri_limit": LIMIT}
    if stone.is_spot:
        return {"ri_spot": f"{_error((low + high) / 2, 0.008, 0.08, 0.02, rng):.2f}"}
    if stone.character == "isotropic":
        edge = f"{_error(low, 0.0025, 0.08, 0.02, rng):.3f}"
        return {"ri_low": edge, "ri_high": edge}
    lower, upper = _pair(low, high, rng)
    if high > limit:
        return {"ri_low": f"{lower:.3f}", "ri_limit": LIMIT}
    return {"ri_low": f"{lower:.3f}", "ri_high": f"{upper:.3f}"}


def _error(true: float, sd: float, wide_share: float, lost_share: float, rng: Generator) -> float:
    kind = rng.random()
    if kind < lost_share:
        return float(rng.uniform(1.35, 1.80))
    widened = 0.02 if kind < lost_share + wide_share else sd
    return float(true + widened * rng.standard_normal())


def _pair(low: float, high: float, rng: Generator) -> tuple[float, float]:
    kind, mean, width = rng.random(), (low + high) / 2, high - low
    if kind < 0.005:
        mean = rng.uniform(1.35, 1.80)
    elif kind < 0.05:
        mean += 0.010 * rng.standard_normal()
    else:
        mean += (0.003 if mean > 1.74 else 0.002) * rng.standard_normal()
    if rng.random() < 0.10:
        # A turn that was not complete: one edge is right, the other came short of its end.
        short = width * rng.random()
        mean += (0.5 if rng.random() < 0.5 else -0.5) * (width - short)
        width = short
    width = abs(width + 0.0025 * rng.standard_normal())
    return mean - width / 2, mean + width / 2


def _density(sg: float, rng: Generator) -> float:
    kind, sd = rng.random(), 0.005 * sg + 0.008
    if kind < 0.02:
        return float(rng.uniform(1.0, 7.0))
    return float(max(0.85, sg + (4 * sd if kind < 0.10 else sd) * rng.standard_normal()))


def _written(stone: TableStone, rng: Generator) -> str:
    if rng.random() < CHARACTER_RIGHT[stone.character]:
        return stone.character
    others = {"uniaxial": "biaxial", "biaxial": "uniaxial"}
    hasty = rng.random() < UNIAXIAL_FOR_BIAXIAL / (1 - CHARACTER_RIGHT["uniaxial"])
    if stone.character in others and hasty:
        return others[stone.character]
    return str(rng.choice([word for word in CHARACTER_RIGHT if word != stone.character]))


# ---- figures ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class Score:
    """How the answers did on a set of table stones."""

    top1: float
    top3: float
    log: float
    wrong_above_99: int
    n: int


def measure(world: World) -> Iterator[Figure]:
    """Yield how often table stones are named, over five draws of all of them."""
    every = table_stones(world)
    stones = confirmed(every)
    score, by_species = _score(world, stones, SEEDS)
    materials = len({stone.material for stone in stones})
    note = f"{materials} materials, {len(by_species)} species, {len(stones)} material-source pairs"
    yield Figure("table.top1", score.top1, "share", score.n, ">= 0.84", note)
    yield Figure("table.top3", score.top3, "share", score.n, ">= 0.96")
    yield Figure("table.log_score", score.log, "ln", score.n)
    yield Figure("table.wrong_above_99", score.wrong_above_99, "stones", score.n)
    worst = sorted(by_species.items(), key=lambda item: np.mean(item[1]))[:12]
    for species, hits in worst:
        talk(f"  {species}: {np.mean(hits):.2f} of {len(hits)}")
    alone = [stone for stone in every if stone not in stones]
    single, _ = _score(world, alone, 1)
    note = "materials that one source alone describes"
    yield Figure("table.top1_single_source", single.top1, "share", single.n, "", note)


def _score(
    world: World, stones: Sequence[TableStone], seeds: int
) -> tuple[Score, dict[str, list[bool]]]:
    names, _ = world.population.groups("species")
    ranks, logs, wrong = [], [], 0
    hits: dict[str, list[bool]] = defaultdict(list)
    for seed in range(seeds):
        talk(f"table stones, draw {seed + 1} of {seeds}")
        rng = np.random.default_rng(seed)
        for stone in stones:
            accepted = world.true_species(stone.material)
            for _ in range(DRAWS_A_PAIR):
                shares = world.shares(world.posterior(drawn_record(stone, rng)))
                rank = rank_of(accepted, names, shares)
                ranks.append(rank)
                logs.append(np.log(max(share_of(accepted, names, shares), 1e-6)))
                wrong += rank > 0 and shares.max() > 0.99
                hits[min(accepted)].append(rank == 0)
    top = np.array(ranks)
    score = Score(
        float((top == 0).mean()), float((top < 3).mean()), float(np.mean(logs)), wrong, len(top)
    )
    return score, hits
