"""No room below the desk opens a file, reads a clock, rolls its own dice or calls the network."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "isogyre"

# The desk is handed its clock and its stores; these rooms are where they come from.
EDGES = {"cli", "desk", "ledger", "web"}
# The catalogue and the rules of the trade are data files, each read in one place, which an edge
# calls once; everybody else is handed what was read.
ALLOWED = {
    "catalogue/load.py": {"read_text", "read_bytes", "open", "catalogue_digest"},
    "trade/load.py": {"read_text"},
}

IMPURE_MODULES = {
    *("time", "random", "secrets", "uuid"),
    *("tempfile", "shutil", "subprocess", "socket", "http", "urllib", "httpx", "sqlite3"),
}
FILE_CALLS = {
    *("open", "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "unlink"),
    # Catalogue and rules are handed in; a room that loads its own would keep a private copy.
    *("load_catalogue", "catalogue_digest", "load_rules"),
    *("loadtxt", "genfromtxt", "savetxt", "fromfile", "tofile"),
}
CLOCK_CALLS = {"now", "utcnow", "today"}


def called_name(call: ast.Call) -> str:
    """Return the last word of what is called: `read_text` for `path.read_text()`."""
    match call.func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def imported_modules(node: ast.AST) -> set[str]:
    """Return the top-level names of what an import statement imports."""
    match node:
        case ast.Import(names=names):
            return {alias.name.split(".")[0] for alias in names}
        case ast.ImportFrom(module=str(module), level=0):
            return {module.split(".")[0]}
    return set()


def impurities(code: str) -> Iterator[tuple[int, str]]:
    """Yield line and word of whatever reaches outside: files, clocks, dice, network."""
    for node in ast.walk(ast.parse(code)):
        for module in imported_modules(node) & IMPURE_MODULES:
            yield node.lineno, module
        if isinstance(node, ast.Call):
            name = called_name(node)
            # A generator without a seed draws from the machine; with one it is a value like others.
            unseeded = name == "default_rng" and not node.args and not node.keywords
            if unseeded or name in FILE_CALLS | CLOCK_CALLS:
                yield node.lineno, name


def pure_modules() -> list[str]:
    """Return the modules of all rooms that must be pure, as paths below the package."""
    files = (file.relative_to(SOURCE) for file in sorted(SOURCE.rglob("*.py")))
    return [file.as_posix() for file in files if file.parts[0] not in EDGES]


@pytest.mark.parametrize("module", pure_modules())
def test_a_room_below_the_desk_is_pure(module):
    found = impurities((SOURCE / module).read_text("utf-8"))
    assert [(line, word) for line, word in found if word not in ALLOWED.get(module, set())] == []


@pytest.mark.parametrize(
    ("code", "word"),
    [
        ("open('a')", "open"),
        ("Path('a').read_text()", "read_text"),
        ("datetime.now(UTC)", "now"),
        ("def f():\n    from time import monotonic", "time"),
        ("import urllib.request", "urllib"),
        ("np.random.default_rng()", "default_rng"),
    ],
)
def test_a_reach_outside_would_be_seen(code, word):
    assert [found for _, found in impurities(code)] == [word]


def test_a_seeded_generator_and_a_date_type_are_pure():
    assert list(impurities("from datetime import datetime\nrng = np.random.default_rng(7)")) == []
