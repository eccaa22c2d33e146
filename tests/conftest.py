"""What every test shares: the published answers, and how property tests search."""

import csv
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

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
