"""How long the answers take on this machine."""

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import partial
from os import environ
from typing import Any

import numpy as np

from bench.figure import Figure
from bench.numerics import records
from bench.world import NOT_READINGS, World, talk
from isogyre.desk import identify, open_workbench
from isogyre.evidence import plan, stand
from isogyre.instruments.kits import KITS

ROUNDS = 3
RECORDS = 1000
START = (
    "import time; started = time.perf_counter(); from isogyre.desk import open_workbench; "
    "open_workbench(); print(time.perf_counter() - started)"
)


def measure(world: World) -> Iterator[Figure]:
    """Yield the times of an update, a plan, a start and a batch."""
    yield from _update_and_plan(world)
    yield from _starts()
    yield from _batch(world)


def _update_and_plan(world: World) -> Iterator[Figure]:
    talk("timing updates and plans")
    tests = [t for t in world.tests.values() if t.field in KITS["bench"].fields]
    bare, whole, planned = [], [], []
    for _ in range(ROUNDS):
        for case in world.cases:
            read = world.read(case)
            standing = stand(world.population, read.readings, read.setting)
            bare.append(_ms(partial(world.posterior, case)))
            whole.append(_ms(partial(stand, world.population, read.readings, read.setting)))
            planned.append(_ms(partial(plan, standing, tests)))
    bodies, n = len(world.population.stones.n_alpha), len(world.cases)
    note = f"{bodies} bodies; with weights of evidence and misfit"
    yield Figure("speed.update", float(np.median(whole)), "ms", n, "<= 20", note)
    yield Figure("speed.update_p95", float(np.percentile(whole, 95)), "ms", n)
    note = "reading the record and the posterior alone"
    yield Figure("speed.posterior", float(np.median(bare)), "ms", n, "", note)
    yield Figure("speed.plan", float(np.median(planned)), "ms", n, "<= 25", f"{len(tests)} tests")
    yield Figure("speed.plan_p95", float(np.percentile(planned, 95)), "ms", n)


def _ms(work: Callable[[], Any]) -> float:
    started = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - started)


def _starts() -> Iterator[Figure]:
    talk("starting the engine in fresh processes")
    with tempfile.TemporaryDirectory() as folder:
        times = [_start_seconds(folder) for _ in range(ROUNDS + 1)]
    note = "engine import and tables, fresh process"
    yield Figure("speed.start", min(times[1:]), "s", ROUNDS, "<= 2", f"{note}, tables kept")
    yield Figure("speed.first_start", times[0], "s", 1, "", f"{note}, tables built")


def _start_seconds(cache: str) -> float:
    surroundings = {**environ, "XDG_CACHE_HOME": cache}
    command = [sys.executable, "-c", START]
    ran = subprocess.run(command, env=surroundings, check=True, capture_output=True, text=True)
    return float(ran.stdout)


def _batch(world: World) -> Iterator[Figure]:
    talk(f"identifying {RECORDS} records")
    workbench = open_workbench()
    given = [{k: v for k, v in case.items() if k not in NOT_READINGS} for case in world.cases]
    given += records(world, RECORDS - len(given))
    started = time.perf_counter()
    for record in given:
        identify(workbench, record)
    taken = time.perf_counter() - started
    note = "whole answers with the plan, one process"
    yield Figure("speed.thousand_records", taken, "s", len(given), "<= 30", note)
