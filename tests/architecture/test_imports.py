"""An import goes down only; who may know whom is written here and in pyproject.toml."""

from pathlib import Path

import grimp
import pytest
from importlinter.cli import lint_imports

ROOT = Path(__file__).parents[2]

# Rooms that may know less than everything on the floors below them.
MAY_KNOW = {
    "crystal": set(),
    "optics": set(),
    # The trade's rules work on words and odds, never on constants or virtual stones.
    "trade": {"catalogue"},
    # The database holds rows; only the desk joins them with the pure rooms.
    "ledger": set(),
    # The edges ask the desk, so that a page and a command cannot differ.
    "web": {"desk"},
    "cli": {"desk"},
    "library": {"desk"},
}


def rooms_known_by(room: str, graph: grimp.ImportGraph) -> set[str]:
    """Return the other rooms that the modules of a room import."""
    inside = {name for name in graph.modules if f"{name}.".startswith(f"isogyre.{room}.")}
    imported = {other for name in inside for other in graph.find_modules_directly_imported_by(name)}
    return {name.split(".")[1] for name in imported if "." in name} - {room, "units"}


@pytest.fixture(scope="module")
def graph() -> grimp.ImportGraph:
    return grimp.build_graph("isogyre", cache_dir=None)


def test_every_room_keeps_to_its_floor():
    assert lint_imports(config_filename=str(ROOT / "pyproject.toml"), no_cache=True) == 0


@pytest.mark.parametrize("room", MAY_KNOW)
def test_a_room_knows_only_what_it_may(room, graph):
    assert rooms_known_by(room, graph) <= MAY_KNOW[room]


def test_a_forbidden_acquaintance_would_be_seen():
    graph = grimp.ImportGraph()
    graph.add_import(importer="isogyre.optics.rays", imported="isogyre.catalogue.load")
    assert rooms_known_by("optics", graph) == {"catalogue"}
