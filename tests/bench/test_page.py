"""A page's tables are filled by name, and only when all their figures were measured."""

from bench.figure import Figure
from bench.page import HEAD, filled

PAGE = f"Before.\n\n<!-- cases table -->\n{HEAD}| old | 1 | | | 2 |\n\nAfter.\n"
MEASURED = {
    "cases": [Figure("cases.top1", 32, "cases", 37, ">= 31")],
    "table": [Figure("table.top1", 0.71, "share", 930, ">= 0.84")],
}


def test_rows_replace_what_stood_under_the_marker():
    page = filled(PAGE, MEASURED)
    assert (
        "| cases.top1 | 32 | >= 31 | met | 37 |\n| table.top1 | 0.71 | >= 0.84 | missed |" in page
    )
    assert "| old |" not in page
    assert page.startswith("Before.") and page.endswith("\n\nAfter.\n")


def test_filling_twice_changes_nothing():
    assert filled(filled(PAGE, MEASURED), MEASURED) == filled(PAGE, MEASURED)


def test_a_table_of_which_a_measurement_is_missing_is_left_alone():
    assert filled(PAGE, {"cases": MEASURED["cases"]}) == PAGE
