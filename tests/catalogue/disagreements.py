"""The listed disagreements between the catalogue and published rows, and how they are renewed.

``python -m tests.catalogue.disagreements`` rewrites disagreements.csv from the catalogue as it is
now: reasons are kept, mended rows go, new rows come without a reason, which the tests refuse.
"""

import csv
from functools import cache

from tests.catalogue.comparison import Finding, Row, finding
from tests.catalogue.stones import REFERENCE, table

FILE = "disagreements.csv"
COLUMNS = ("material", "property", "source_id", "theirs", "ours", "reason", "note")
# Averages of lists (indices and birefringence of NEWIOR) and cells are no gem readings.
OPEN_PROPERTIES = {
    "sg",
    "hardness_mohs",
    "crystal_system",
    "optic_character",
    "formula",
    "ri_o",
    "ri_e",
}
REASONS = {
    "misprint",
    "end-member",  # a pure compound that gems only come near to
    "whole mineral",  # the range of the mineral species, beyond what is cut
    "outer tolerance",  # a printed plus and minus, taken literally
    "other limits",  # neighbours in a series are parted elsewhere
    "other material",
    "single grains",  # the crystal; the bench reads the mean of an aggregate
    "rock varies",
    "rounded",
    "old measurement",
    "one measured stone",
    "rare stones",
    "loose words",
}


@cache
def compared_rows() -> tuple[Row, ...]:
    """Return every published row, and the rows of open data that a gem can be held against."""
    rows = (row for row in table("open_minerals.csv") if row["property"] in OPEN_PROPERTIES)
    return (*table("published_properties.csv"), *rows)


@cache
def findings() -> tuple[Finding, ...]:
    return tuple(finding(row) for row in compared_rows())


def disagreements() -> tuple[Row, ...]:
    return table(FILE)


def renew() -> None:
    """Write the disagreements that exist now, with the reasons that were given."""
    kept = {
        tuple(row[name] for name in COLUMNS[:4]): (row["reason"], row["note"])
        for row in disagreements()
    }
    found = {one.key: one for one in findings() if one.agrees is False}
    with (REFERENCE / FILE).open("w", encoding="utf-8", newline="") as lines:
        writer = csv.writer(lines, lineterminator="\n")
        writer.writerow(COLUMNS)
        for key, one in sorted(found.items()):
            writer.writerow((*key, one.ours, *kept.get(key, ("", ""))))


if __name__ == "__main__":
    renew()
