"""What every test shares: published answers, databases, and how property tests search."""

import csv
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from tests.postgres import PROGRAMS, private_cluster

REFERENCE = Path(__file__).parent / "reference"

# No deadline: a shared machine may be slow, and a slow answer is not a wrong one. CI searches the
# same examples each time, so that a red run can be repeated.
settings.register_profile("isogyre", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("isogyre")


@pytest.fixture(scope="session")
def reference() -> Callable[[str], list[dict[str, Any]]]:
    """Return a reader of one table of tests/reference, as `reference("trade/metals.csv")`."""

    def rows(name: str) -> list[dict[str, Any]]:
        with (REFERENCE / name).open(encoding="utf-8", newline="") as lines:
            if name.endswith(".jsonl"):
                return [json.loads(line) for line in lines if line.strip()]
            return list(csv.DictReader(lines))

    return rows


@pytest.fixture(scope="session")
def cluster():
    if not PROGRAMS and "CI" not in os.environ:
        pytest.skip("no PostgreSQL here: sudo apt-get install postgresql")
    with private_cluster() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """Return the address of an empty database."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'ledger.db'}"
        return
    cluster = request.getfixturevalue("cluster")
    # A schema of its own is as good as a database of its own, and made at once.
    cluster.run("CREATE SCHEMA ledger")
    yield cluster.address(search_path="ledger")
    cluster.run("DROP SCHEMA ledger CASCADE")
