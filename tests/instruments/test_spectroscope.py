"""The hand spectroscope: lines, their error, absent lines and what the lines are called."""

import numpy as np
import pytest

from isogyre.instruments.spectroscope import line_sd_nm


@pytest.fixture(scope="module")
def with_line(population):
    """Return the rows that list a strong line within a few nanometres of a place."""

    def with_line(nm, within_nm=3.0):
        tables = population.tables
        near = (np.abs(np.nan_to_num(tables.line_nm) - nm) < within_nm) & (tables.line_seen > 0.4)
        rows = np.flatnonzero(near.any(axis=1))
        assert len(rows)
        return rows

    return with_line


@pytest.fixture(scope="module")
def without_lines(population):
    rows = np.flatnonzero(population.tables.line_seen.sum(axis=1) == 0)
    assert len(rows)
    return rows


def test_a_line_is_placed_less_well_in_the_red_than_in_the_blue():
    nm = np.array([430.0, 500.0, 589.0, 650.0, 690.0])
    sd = line_sd_nm(nm, np.ones_like(nm))
    assert (np.diff(sd) >= 0).all()
    assert sd[0] < 3  # a prism spreads the blue
    assert sd[-1] > 6


def test_the_middle_of_a_broad_band_is_placed_less_well_than_a_line():
    assert line_sd_nm(np.array([550.0]), np.array([60.0])) > line_sd_nm(
        np.array([550.0]), np.array([2.0])
    )


@pytest.mark.parametrize("nm", [350, 399.9, 700.5, 1200])
def test_trap_15_a_line_outside_the_visible_is_told_as_ignored(read, nm):
    found = read(spectrum_lines_nm=[450, nm])
    assert [r.shown for r in found.readings] == ["450"]
    assert [i.field for i in found.ignored] == ["spectrum_lines_nm"]
    assert "400 to 700" in found.ignored[0].reason
    assert not read(spectrum_lines_nm=[nm]).readings


def test_trap_07_a_line_read_some_nanometres_off_still_finds_its_own(
    population, log_rows, with_line, without_lines
):
    """A flat error of 4.5 nm once missed 470 against 475, and read the red too strictly."""
    for nm, off in ((470.0, 475.0), (693.0, 684.0)):
        rows = with_line(nm)
        log = log_rows(spectrum_lines_nm=[off])
        assert np.median(log[rows]) > np.median(log[without_lines])


def test_a_line_far_from_all_of_its_own_speaks_against_a_stone(log_rows, with_line, without_lines):
    log = log_rows(spectrum_lines_nm=[560])
    assert log[without_lines].max() <= 0
    right = log_rows(spectrum_lines_nm=[450])
    iron = with_line(450.0)
    assert right[iron].max() > log[iron].max()


def test_no_line_at_450_is_evidence_against_iron(log_rows, with_line, without_lines):
    log = log_rows(spectrum_text="no line at 450")
    assert log[with_line(450.0)].min() < log[without_lines].min()
    assert log[with_line(450.0)].max() < log[without_lines].max()


@pytest.mark.parametrize(
    "said",
    ["no line at 450", "no 450 line", "no 450 nm line", "no lines near 450", "450 line absent",
     "line at 450 not seen"],
)  # fmt: skip
def test_an_absent_line_may_be_told_in_other_words(sparse, one, said):
    plain = one(spectrum_text="no line at 450").term(sparse).rows
    assert np.allclose(one(spectrum_text=said).term(sparse).rows, plain)


@pytest.mark.parametrize("said", ["no chromium lines", "chromium lines not seen", "no iron lines"])
def test_denied_lines_are_not_read_as_seen(population, one, said):
    element = "chromium" if "chromium" in said else "iron"
    denied = one(spectrum_text=said).term(population).rows
    given = one(spectrum_text=f"{element} lines").term(population).rows
    assert np.corrcoef(denied, given)[0, 1] < 0


def test_a_line_written_twice_counts_once(sparse, one):
    once, twice = (
        one(spectrum_lines_nm=lines).term(sparse).rows for lines in ([450], [450, 450.0])
    )
    assert np.allclose(once, twice)


def test_the_order_of_lines_does_not_matter(sparse, one):
    first, second = (
        one(spectrum_lines_nm=lines).term(sparse).rows for lines in ([450, 460], [460, 450])
    )
    assert np.allclose(first, second)


def test_chromium_lines_part_ruby_from_glass(log_rows, rows_of):
    log = log_rows(spectrum_text="chromium lines in the red")
    assert log[rows_of(variety="ruby", treatment="")].max() > log[rows_of(species="glass")].max()


def test_lines_and_their_name_count_as_one_look(read):
    found = read(spectrum_lines_nm=[693], spectrum_text="chromium lines")
    assert {r.cause for r in found.readings} == {"spectrum"}
