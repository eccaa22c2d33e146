"""Fill the tables of a page with figures: under a marker such as ``<!-- cases table -->``."""

import re
from collections.abc import Mapping, Sequence

from bench.figure import Figure

HEAD = "| figure | value | goal | | n |\n| --- | --- | --- | --- | --- |\n"
TABLE = re.compile(r"(?P<marker><!-- (?P<names>[a-z_ ]+) -->\n)(?:\|.*\n)*")


def filled(page: str, measured: Mapping[str, Sequence[Figure]]) -> str:
    """Return ``page`` with the table under each marker made from the measurements it names.

    A table is left as it is unless all of its measurements are given.
    """

    def table(found: re.Match[str]) -> str:
        names = found["names"].split()
        if not set(names) <= set(measured):
            return found[0]
        rows = (figure.as_row() for name in names for figure in measured[name])
        return found["marker"] + HEAD + "".join(f"{row}\n" for row in rows)

    return TABLE.sub(table, page)
