"""Whatever is typed into whatever field, an answer or a trouble comes back, never a crash."""

import json
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from isogyre.catalogue import load_catalogue
from isogyre.evidence import fields_of, read_record, setting_of, stand
from isogyre.instruments import bench
from isogyre.instruments.instrument import Ignored, Reading, Trouble
from isogyre.population import build_population

CATALOGUE = load_catalogue()
BENCH = bench(CATALOGUE)
FIELDS = fields_of(BENCH)
KEYS = [*FIELDS, "id", "met", "measures_mm", "an unheard-of field"]

SCRAPS = st.sampled_from(
    [
        "", " ", "\n", "\0", ";", ",", "/", "-", "+", "no", "not", "none", "not seen", "1.762",
        "1,762", "1.76-1.77", "1e308", "-1", "0", "1e999", "nan", "inf", "\u0663\u066b\u0665", "²",
        "½", "💎🔬",
        "over 1.81", "over 9.99", "beyond", "typical for sapphire", "typical for", "range",
        "weak red", "red / red / red / red", "chromium, no line at 450", "no line at 999",
        "single", "ADR", "isotropic or uniaxial", "full", "bull", "[]", "{}", "null", "a" * 5000,
        "gas bubbles", "no gas bubbles", "bluish", "(((", "\\", "%s {0}", "<b>", "sinks", "yes",
    ]
)  # fmt: skip
NUMBERS = st.one_of(
    st.integers(),
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from([10**400, -(10**400), 0, -0.0, 1.5, 1.762, 3.52, 450, 5e-324, 1e308]),
)
LEAVES = st.one_of(st.none(), st.booleans(), NUMBERS, SCRAPS, st.text(max_size=30))
PARTS = ("sg", "result", "conclusion", "degree", "date", "matched", "words", "text", "trust")
ANYTHING = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(st.sampled_from(PARTS) | st.text(max_size=5), inner, max_size=4),
    ),
    max_leaves=6,
)
RECORDS = st.dictionaries(st.sampled_from(KEYS), ANYTHING, max_size=12)
# Keys that only describe the stone or qualify another reading may stand alone in silence.
QUALIFIERS = {
    *("id", "measures_mm", "form", "weight_ct", "light", "uv_peak_nm", "ri_sd", "ri_turn", "sg_sd"),
    *(
        "sg_method",
        "liquid",
        "temperature_c",
        "balance_readability_ct",
        "met",
        "ri_limit",
        "ri_spot_sd",
    ),
    "reflectivity_sd",
}


def search(examples: int) -> settings:
    """Return settings that try the same examples at every run: a failure must come again."""
    return settings(
        max_examples=examples,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow],
    )


@pytest.fixture(scope="module")
def few_stones():
    return build_population(CATALOGUE, stones=2)


def assert_told_in_words(found: Any) -> None:
    assert all(isinstance(r, Reading) and r.shown.strip() for r in found.readings)
    assert all(isinstance(i, Ignored) and i.reason.strip() for i in found.ignored)
    assert all(isinstance(t, Trouble) and t.message.strip() for t in found.troubles)


@pytest.mark.parametrize("key", KEYS)
@search(40)
@given(value=ANYTHING)
def test_any_value_in_one_field_is_read_refused_or_ignored(key, value):
    found = read_record({key: value}, BENCH)
    assert_told_in_words(found)
    says_nothing = value is None or not any(sign.isalnum() for sign in str(value))
    if key not in QUALIFIERS and not says_nothing:
        assert found.readings or found.ignored or found.troubles, "dropped in silence"


@search(300)
@given(record=RECORDS)
def test_any_record_gives_finite_evidence_or_troubles(few_stones, record):
    found = read_record(record, BENCH)
    assert_told_in_words(found)
    if found.troubles:
        return
    standing = stand(few_stones, found.readings, found.setting)
    assert np.isfinite(standing.posterior).all()
    assert sum(standing.species.values()) == pytest.approx(1, abs=1e-9)
    assert 0 <= standing.misfit.tail_probability <= 1
    assert np.isfinite([weight.log10_odds for weight in standing.weights]).all()


@search(100)
@given(record=RECORDS)
def test_what_was_read_can_be_written_as_json(record):
    found = read_record(record, BENCH)
    told = [(r.field, r.shown) for r in found.readings]
    told += [(i.field, f"{i.value} {i.reason}") for i in found.ignored]
    told += [(t.field, t.message) for t in found.troubles]
    assert json.loads(json.dumps(told)) == [list(entry) for entry in told]


@search(100)
@given(said=SCRAPS | st.text(max_size=40))
def test_any_place_is_a_known_setting_or_none(said):
    assert setting_of(said) is None or setting_of(said).by_origin is not None
