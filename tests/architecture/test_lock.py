"""The lock pins every package by hash and says nothing about where it was fetched."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
LOCK = (ROOT / "requirements.lock").read_text("utf-8")


def test_the_lock_names_no_address():
    assert "://" not in LOCK
    assert not re.search(
        r"^\s*(-i|-f|--\S*index\S*|--find-links|--trusted-host)\b", LOCK, re.MULTILINE
    )


def test_every_pinned_package_has_a_hash():
    pins = re.split(r"^(?=[a-z0-9])", LOCK, flags=re.MULTILINE)[1:]
    assert pins
    assert [pin.split()[0] for pin in pins if "==" not in pin or "--hash=sha256:" not in pin] == []


def test_no_lock_that_names_addresses_lies_beside_it():
    others = {"uv.lock", "pylock.toml", "poetry.lock", "Pipfile.lock"}
    assert others & {file.name for file in ROOT.iterdir()} == set()
