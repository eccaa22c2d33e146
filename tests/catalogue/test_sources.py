"""Sources: nobody is cited for what he does not print, and copies count as one voice."""

import re
from collections import defaultdict
from functools import cache

import pytest

from isogyre.catalogue.follow import followed_range
from isogyre.catalogue.memory import memory_share
from isogyre.catalogue.model import Claim, Constants
from tests.catalogue.comparison import CONSTANT_OF
from tests.catalogue.stones import catalogue, table, words

# Keys that stand for no publication.
OWN_KEYS = {"memory", "common", "judgement", "computed"}
PUBLISHED = ("published_properties.csv", "open_minerals.csv")
GROUP = re.compile(r"independence group: *([^;(]+)")
POSITION = re.compile(r"(?<![\d.])([3-7]\d\d(?:\.\d)?)(?![\d.])")
# Positions are printed to a nanometre or two; a broad band may stand between two lists.
LINE_ROUNDING_NM = 2.0
BAND_SHARE = 0.25


def family(constant: str) -> str:
    """Return one word for all indices: one list prints them apart, another as a range."""
    return "n" if constant.startswith("n") else constant


@cache
def printed_ends() -> dict[tuple[str, str], set[float]]:
    """Return every end of a range that a source prints, by (source, family of constants)."""
    ends: dict[tuple[str, str], set[float]] = defaultdict(set)
    names = {**CONSTANT_OF, "density_calc": "sg"}
    for name in PUBLISHED:
        for row in table(name):
            if row["low"] and row["property"] in names:
                key = row["source_id"], family(names[row["property"]])
                ends[key] |= {float(row["low"]), float(row["high"])}
    return ends


def _claims():
    for material in catalogue().materials.values():
        held = (
            material.constants,
            *(body.constants for body in material.bodies),
            *(treatment.constants for treatment in material.treatments),
        )
        for constants in held:
            for constant in Constants.model_fields:
                for claim in getattr(constants, constant):
                    yield material.name, constant, claim


def test_no_claim_cites_a_source_that_does_not_print_its_figures():
    invented = [
        (name, constant, claim.low, claim.high, key)
        for name, constant, claim in _claims()
        for key in set(words(claim.source)) - OWN_KEYS
        if not {claim.low, claim.high} <= printed_ends()[key, family(constant)]
    ]
    assert invented == []


def test_most_published_figures_are_claims():
    cited = sum(not set(words(claim.source)) & OWN_KEYS for _, _, claim in _claims())
    assert cited >= 1500


@cache
def printed_lines() -> dict[str, list[tuple[float, float]]]:
    """Return the (from, to) of each line or group that a source prints, in nanometres."""
    lines: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in table("published_properties.csv"):
        if row["property"] == "absorption_nm":
            lines[row["source_id"]].append((float(row["low"]), float(row["high"])))
    for row in table("absorption_lines.csv"):
        ends = [row["line_or_band_nm_low"], row["line_or_band_nm_high"]]
        in_words = [(float(nm), float(nm)) for nm in POSITION.findall(row["text"])]
        for key in words(row["source_id"]) if ends[0] else ():
            lines[key] += [(float(ends[0]), float(ends[1])), *in_words]
    return lines


def test_no_line_cites_a_source_that_does_not_print_it():
    invented = [
        (spectrum.name, line.nm, key)
        for spectrum in catalogue().spectra.values()
        for line in spectrum.lines
        for key in set(words(line.source)) - OWN_KEYS
        if not any(
            low - slack <= line.nm <= high + slack
            for slack in [max(LINE_ROUNDING_NM, BAND_SHARE * line.width_nm)]
            for low, high in printed_lines()[key]
        )
    ]
    assert invented == []


# ---- independence groups ---------------------------------------------------------------------


def _published_groups():
    for name in ("sources.csv", "open_minerals_sources.csv"):
        for row in table(name):
            found = GROUP.search(row["licence_note"])
            if found:
                yield row["source_id"], found[1].strip()


def test_sources_stand_in_the_groups_that_their_table_gives():
    ours = {key: catalogue().sources[key].group for key, _ in _published_groups()}
    # A group of one may be left out: its own key is its voice.
    assert {key: ours[key] or group for key, group in _published_groups()} == dict(
        _published_groups()
    )


@pytest.mark.parametrize(("one", "other"), [("WIKIMIN", "WIKI"), ("RIX", "RII")])
def test_two_tables_of_one_origin_are_one_voice(one, other):
    sources = catalogue().sources
    assert sources[one].group == sources[other].group != ""
    claims = [Claim(low=3.0, high=4.0, source=key) for key in (one, other)]
    claims += [Claim(low=3.4, high=3.6, source=key) for key in ("GPW", "ODON", "GG")]
    # Two voices of one group are one outlier among four, and the second end is followed.
    assert followed_range(claims, sources) == (3.4, 3.6)


def test_group_names_are_plain_words():
    groups = {source.group for source in catalogue().sources.values()}
    assert [group for group in groups if not re.fullmatch(r"[a-z0-9-]*", group)] == []


# ---- from memory -----------------------------------------------------------------------------


def test_the_share_from_memory_is_known_for_every_material(capsys):
    shares = {m.name: memory_share(m) for m in catalogue().materials.values()}
    ordered = sorted(shares, key=shares.__getitem__)
    middle = shares[ordered[len(ordered) // 2]]
    with capsys.disabled():
        print(f"\nfrom memory, middle of {len(shares)} materials: {middle:.0%}; least:", end=" ")
        print(", ".join(f"{name} {shares[name]:.0%}" for name in ordered[:5]))
    assert all(0 <= share <= 1 for share in shares.values())
    # The stones that published tables describe best rest on them for more than half.
    assert all(shares[name] < 0.5 for name in ("almandine", "sinhalite", "pyrope"))


def test_a_sourced_claim_lowers_the_share_from_memory():
    quartz = catalogue().materials["quartz"]
    claims = tuple(c.model_copy(update={"source": "memory"}) for c in quartz.constants.sg)
    forgotten = quartz.model_copy(
        update={"constants": quartz.constants.model_copy(update={"sg": claims})}
    )
    assert memory_share(quartz) < memory_share(forgotten) < 1
