"""One wrong reading is planted: does the program point at it."""

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from bench.figure import Figure
from bench.world import World, talk
from isogyre.evidence import stand
from isogyre.instruments.refractometer import DEFAULT_LIMIT
from isogyre.instruments.simulate import simulated_record
from isogyre.population.virtual import draw_stone

Generator = np.random.Generator
Record = dict[str, Any]

STONES = 150
TESTS = ("ri_low", "sg", "optic_character", "polariscope")
MORE_TESTS = (*TESTS, "colour", "transparency", "pleochroism", "uv_lw", "uv_sw")
INDEX_OFF, DENSITY_OFF = 0.03, 0.12
CHARACTERS = ("isotropic", "uniaxial", "biaxial")
ALARM = 0.05


def _index_off(record: Record, rng: Generator) -> Record:
    """Both edges three hundredths too high, as when a scale is misread by a step."""
    moved = {key: f"{float(record[key]) + INDEX_OFF:.3f}" for key in ("ri_low", "ri_high")}
    return record | moved


def _density_off(record: Record, rng: Generator) -> Record:
    """Twelve in a hundred off, either way."""
    factor = 1 + (DENSITY_OFF if rng.random() < 0.5 else -DENSITY_OFF)
    return record | {"sg": f"{float(record['sg']) * factor:.2f}"}


def _character_wrong(record: Record, rng: Generator) -> Record:
    others = [word for word in CHARACTERS if word != record["optic_character"]]
    return record | {"optic_character": str(rng.choice(others))}


BLUNDERS: dict[str, tuple[str, Callable[[Record, Generator], Record]]] = {
    "index": ("ri_low", _index_off),
    "density": ("sg", _density_off),
    "character": ("optic_character", _character_wrong),
}


def sound_records(
    world: World, count: int, tests: tuple[str, ...] = TESTS, seed: int = 31
) -> list[Record]:
    """Return records of faceted crystals and glasses that a blunder can be planted in."""
    rng, found = np.random.default_rng(seed), list[Record]()
    while len(found) < count:
        stone = draw_stone(world.dense, rng)
        record = simulated_record(world.population, world.instruments, stone, tests, rng)
        # A misread index must still lie on the scale.
        on_scale = float(record.get("ri_high", 9)) + INDEX_OFF < DEFAULT_LIMIT
        if on_scale and record["optic_character"] in CHARACTERS:
            found.append(record)
    return found


def named(world: World, record: Record, field: str) -> tuple[bool, bool]:
    """Return whether the largest suspect is ``field``, and whether an alarm is raised."""
    read = world.read(record)
    suspects = stand(world.population, read.readings, read.setting).misfit.suspects
    largest = suspects[0]
    return largest.field == field, largest.tail_probability_without < ALARM


def measure(world: World) -> Iterator[Figure]:
    """Yield how often the largest suspect is the reading that was spoilt."""
    talk("planting blunders")
    yield from _figures(world, "blunder", TESTS, ">= 0.70")


def measure_long_records(world: World) -> Iterator[Figure]:
    """Yield the same for records with nine readings."""
    talk("planting blunders in long records")
    yield from _figures(world, "blunder_long_record", MORE_TESTS, "")


def _figures(world: World, name: str, tests: tuple[str, ...], goal: str) -> Iterator[Figure]:
    records, rng = sound_records(world, STONES, tests), np.random.default_rng(32)
    right: dict[str, list[bool]] = {}
    alarms = []
    for blunder, (field, spoil) in BLUNDERS.items():
        found = [named(world, spoil(record, rng), field) for record in records]
        right[blunder] = [is_right for is_right, _ in found]
        alarms += [is_alarm for _, is_alarm in found]
    every = [hit for hits in right.values() for hit in hits]
    parts = ", ".join(f"{blunder} {np.mean(hits):.2f}" for blunder, hits in right.items())
    yield Figure(f"{name}.named", float(np.mean(every)), "share", len(every), goal, parts)
    yield Figure(f"{name}.alarm", float(np.mean(alarms)), "share", len(alarms))
    sound = [named(world, record, "")[1] for record in records]
    note = "on records without a planted blunder"
    yield Figure(f"{name}.false_alarm", float(np.mean(sound)), "share", len(sound), "", note)
