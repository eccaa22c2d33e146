"""Measure accuracy and speed: ``python -m bench [NAME...] [--json]``.

A NAME is a measurement, such as cases, or one of its figures, such as cases.top1. Without a
name everything is measured, which takes some minutes. The exit code is 1 if a goal is missed.
"""

import argparse
import json
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from importlib import import_module
from pathlib import Path

from bench.figure import Figure
from bench.page import filled
from bench.world import World, open_world

# Name of the measurement, and where it is: a module and a function in it.
MEASUREMENTS = {
    "cases": ("cases", "measure"),
    "further": ("cases", "measure_further"),
    "handbook": ("handbook", "measure"),
    "forest": ("forest", "measure"),
    "table": ("table_stones", "measure"),
    "bound": ("bound", "measure"),
    "simulated": ("simulated", "measure"),
    "simulated_together": ("simulated", "measure_together"),
    "blunder": ("blunder", "measure"),
    "blunder_long_record": ("blunder", "measure_long_records"),
    "planner": ("planned", "measure"),
    "numerics": ("numerics", "measure"),
    "growth": ("numerics", "measure_growth"),
    "foreign": ("foreign", "measure"),
    "prior": ("prior", "measure"),
    "speed": ("speed", "measure"),
    "ledger": ("ledger", "measure"),
    "pages": ("pages", "measure"),
}


def measured(world: World, name: str) -> list[Figure]:
    """Return the figures of one measurement, each with the time it took."""
    module, function = MEASUREMENTS[name]
    measure: Callable[[World], Iterator[Figure]] = getattr(
        import_module(f"bench.{module}"), function
    )
    started = time.perf_counter()
    figures = list(measure(world))
    seconds = time.perf_counter() - started
    return [replace(figure, seconds=round(seconds, 2)) for figure in figures]


def arguments_of(given: Sequence[str]) -> argparse.Namespace:
    """Read the command line; an unknown name ends with a list of the known ones, code 2."""
    parser = argparse.ArgumentParser(prog="bench", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join(MEASUREMENTS))
    parser.add_argument("--json", action="store_true", help="one JSON object a figure")
    parser.add_argument("--page", type=Path, help="fill the tables of this Markdown page")
    parser.add_argument("--verbose", action="store_true", help="case by case on standard error")
    parser.add_argument("--cases", type=Path, help="other published cases, JSON Lines")
    chosen = parser.parse_args(given)
    unknown = [name for name in chosen.names if name.partition(".")[0] not in MEASUREMENTS]
    if unknown:
        parser.error(f"no measurement is called {', '.join(unknown)}: {', '.join(MEASUREMENTS)}")
    return chosen


def printed(figure: Figure, chosen: argparse.Namespace) -> str:
    """Return a figure in the form asked for."""
    if chosen.json:
        return json.dumps(figure.as_json())
    return figure.as_line()


def main(given: Sequence[str]) -> int:
    """Measure what is asked for; print figures as they come."""
    chosen = arguments_of(given)
    world = open_world(verbose=chosen.verbose)
    if chosen.cases is not None:
        world = replace(world, cases_file=chosen.cases)
    wanted = chosen.names or list(MEASUREMENTS)
    found: dict[str, list[Figure]] = {}
    for name in dict.fromkeys(name.partition(".")[0] for name in wanted):
        figures = measured(world, name)
        found[name] = [f for f in figures if name in wanted or f.name in wanted]
        for figure in found[name]:
            print(printed(figure, chosen), flush=True)
    if chosen.page is not None:
        chosen.page.write_text(filled(chosen.page.read_text("utf-8"), found), "utf-8")
    shown = [figure for figures in found.values() for figure in figures]
    if not shown:
        print(f"bench: no figure is called {', '.join(wanted)}", file=sys.stderr)
        return 2
    return 1 if any(figure.met is False for figure in shown) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
