"""Colours, glows and phrases: from what people write to what the tables are laid out by."""

import numpy as np
import pytest
from pytest import approx

from isogyre.instruments.hues import hue_weights
from isogyre.instruments.lamps import glow_weights
from isogyre.instruments.loupe import (
    OBVIOUS,
    UNMENTIONED_EXPONENT,
    UNMENTIONED_OBVIOUS_EXPONENT,
)
from isogyre.population.words import GLOWS, HUES


def share(text, hue):
    weights = hue_weights(text)
    assert weights is not None
    assert weights.sum() == approx(1)
    return float(weights[HUES.index(hue)])


@pytest.mark.parametrize("hue", HUES)
def test_every_hue_means_itself(hue):
    assert share(hue, hue) == approx(1)
    assert share(f"vivid dark {hue.upper()}", hue) == approx(1)


def test_bluish_green_lies_between_green_and_blue_green():
    assert share("bluish green", "green") > 0.5
    assert 0 < share("bluish green", "blue") < share("bluish green", "green")
    assert share("bluish green", "blue-green") > 0


@pytest.mark.parametrize(
    ("text", "hue"),
    [
        ("colorless", "colourless"),
        ("near colourless", "colourless"),
        ("gray", "grey"),
        ("blue-green", "blue-green"),
        ("yellow green", "yellow-green"),
        ("yellowish green", "green"),
        ("slightly purplish red", "red"),
        ("brownish", "brown"),
        ("lilac", "purple"),
        ("turqoise", "blue-green"),
        ("violett", "violet"),
        ("pale orangy yellow", "yellow"),
    ],
)
def test_a_colour_is_known_by_the_hue_that_rules(text, hue):
    weights = hue_weights(text)
    assert weights is not None
    assert HUES[int(weights.argmax())] == hue


def test_two_colours_of_one_stone_share_the_weight():
    assert share("green and pink", "green") == approx(0.5)
    assert share("green / pink", "pink") == approx(0.5)


def test_the_last_of_two_hues_without_a_joint_rules_nothing_alone():
    assert share("red orange", "red") == approx(0.5)


@pytest.mark.parametrize("text", ["", "qwxzy", "bright", "123", "dark", "\U0001f48e", "(((" * 50])
def test_words_without_a_colour_give_none(text):
    assert hue_weights(text) is None


def glow(text):
    weights = glow_weights(text)
    assert weights is not None
    assert weights.sum() == approx(1)
    return {GLOWS[i]: weights[i] for i in np.flatnonzero(weights)}


@pytest.mark.parametrize(
    ("text", "glows"),
    [
        ("inert", {"inert"}),
        ("no reaction", {"inert"}),
        ("none", {"inert"}),
        ("weak red", {"weak red"}),
        ("very weak red", {"very weak red"}),
        ("very strong blue", {"strong blue"}),
        ("weak to moderate red", {"weak red", "moderate red"}),
        ("crown inert, pavilion moderate red", {"inert", "moderate red"}),
        ("Strong Orange-Red", {"strong orange", "strong red"}),
        ("weak red, no phosphorescence", {"weak red"}),
    ],
)
def test_a_glow_is_known_by_strength_and_hue(text, glows):
    assert set(glow(text)) == glows


def test_chalky_green_is_green_more_than_white():
    weights = glow("strong chalky green")
    assert weights["strong green"] > weights["strong white"] > 0


def test_a_glow_of_unnamed_hue_leaves_all_hues_alike():
    weights = glow("moderate")
    assert len(weights) == 8
    assert len({round(w, 12) for w in weights.values()}) == 1


@pytest.mark.parametrize("text", ["not inert", "qwxzy", "unknown"])
def test_words_without_a_glow_give_none(text):
    assert glow_weights(text) is None


def test_a_violet_torch_counts_less_than_a_lamp(sparse, one):
    lamp, torch = (
        one(uv_lw="strong red", **peak).term(sparse).rows
        for peak in ({"uv_peak_nm": 365}, {"uv_peak_nm": 395})
    )
    assert np.ptp(torch) < np.ptp(lamp)
    # The short-wave lamp is another tube: the peak of the torch does not touch it.
    plain, beside = (
        one(uv_sw="strong red", **peak).term(sparse).rows for peak in ({}, {"uv_peak_nm": 395})
    )
    assert (plain == beside).all()


def test_long_and_short_wave_count_as_one_cause(read):
    causes = {r.field: (r.cause, r.dependence) for r in read(uv_lw="red", uv_sw="red").readings}
    assert causes["uv_lw"] == causes["uv_sw"]
    assert causes["uv_lw"][1] == (1.0, 0.6)


@pytest.mark.parametrize("light", ["daylight", "white-led"])
def test_a_colour_in_white_light_is_the_daylight_colour(sparse, one, light):
    plain = one(colour="green").term(sparse).rows
    assert (one(colour="green", light=light).term(sparse).rows == plain).all()


def test_alexandrite_is_red_in_incandescent_light_only(log_rows, rows_of):
    alexandrite = rows_of(variety="alexandrite", treatment="")
    by_day = log_rows(colour="red")[alexandrite].max()
    by_lamp = log_rows(colour="red", light="incandescent")[alexandrite].max()
    assert by_lamp > by_day + 1
    assert log_rows(colour_incandescent="red")[alexandrite].max() == approx(by_lamp)


@pytest.mark.parametrize(
    ("text", "speaks_for"),
    [
        ("transparent", "transparent"),
        ("semi-transparent", "transparent"),
        ("transparent to translucent", "translucent"),
        ("translucent to opaque", "opaque"),
        ("semi-translucent", "opaque"),
    ],
)
def test_a_transparency_between_two_speaks_for_both(sparse, one, text, speaks_for):
    both = one(transparency=text).term(sparse).rows
    pure = one(transparency=speaks_for).term(sparse).rows
    other = {"transparent": "opaque", "translucent": "opaque", "opaque": "transparent"}[speaks_for]
    against = one(transparency=other).term(sparse).rows
    assert np.corrcoef(both, pure)[0, 1] > np.corrcoef(both, against)[0, 1]


def test_not_transparent_is_not_read_as_transparent(read):
    assert not any(r.shown.startswith("not") for r in read(transparency="not transparent").readings)


# ---- phrases of the loupe --------------------------------------------------------------------


@pytest.fixture(scope="module")
def features(sparse, read):
    """Return which features a record says were seen, and which not."""

    def features(**entries):
        table = sparse.tables.features
        seen, unseen = set(), set()
        for reading in read(**entries).readings:
            term = reading.term(sparse)
            if term.outcome is None or reading.field not in ("magnification", "not_seen"):
                continue
            column = int(term.outcome.argmax())
            with np.errstate(invalid="ignore"):  # a feature that no row lists has no spread
                ranks = np.corrcoef(term.table[:, 0], table, rowvar=False)[0, 1:]
            (unseen if column else seen).add(sparse.feature_names[int(np.nanargmax(ranks))])
        return seen, unseen

    return features


@pytest.mark.parametrize(
    ("phrase", "feature"),
    [
        ("gas bubbles", "gas bubbles"),
        ("Gas Bubble", "gas bubbles"),
        ("several large gas bubbles", "gas bubbles"),
        ("curved striae", "curved striae"),
        ("striae, curved", "curved striae"),
        ("striae that are curved", "curved striae"),
        ("unmeltd powdr", "unmelted powder"),
        ("straight color zoning", "straight colour zoning"),
        ("colour zoning, straight", "straight colour zoning"),
        ("three-phase inclusion", "three-phase inclusions"),
    ],
)
def test_spelling_and_the_order_of_words_do_not_matter(features, phrase, feature):
    seen, unseen = features(magnification=[phrase], not_seen=[])
    assert feature in seen
    assert not unseen


def test_two_phases_are_not_three(features):
    assert features(magnification=["three-phase inclusions"], not_seen=[])[0] == {
        "three-phase inclusions"
    }
    assert features(magnification=["two phase inclusion"], not_seen=[])[0] == {
        "two-phase inclusions"
    }


@pytest.mark.parametrize(
    "phrase",
    ["no gas bubbles", "without gas bubbles", "gas bubbles not seen", "absence of gas bubbles",
     "none seen: gas bubbles", "lacks gas bubbles", "not a single gas bubble"],
)  # fmt: skip
def test_a_denied_feature_counts_as_looked_for_and_not_seen(features, phrase):
    seen, unseen = features(magnification=[phrase])
    assert not seen
    assert unseen == {"gas bubbles"}


def test_a_feature_both_seen_and_denied_counts_as_seen(features):
    seen, unseen = features(magnification=["gas bubbles"], not_seen=["gas bubbles"])
    assert (seen, unseen) == ({"gas bubbles"}, set())


def test_prose_is_split_at_commas_and_each_clause_denied_by_itself(features):
    seen, unseen = features(magnification="curved striae, no gas bubbles; unmelted powder")
    assert seen == {"curved striae", "unmelted powder"}
    assert unseen == {"gas bubbles"}


def test_no_inclusions_is_a_feature_in_its_own_right(features):
    seen, _ = features(magnification=["no inclusions"], not_seen=[])
    assert seen == {"very clean"}


def test_no_sign_of_treatment_is_no_evidence(read):
    found = read(magnification=["no signs of treatment"])
    assert not found.readings
    assert "no proof" in found.ignored[0].reason


def test_trap_11_what_prose_leaves_out_counts_at_a_small_exponent(population, read):
    """Silence of a description counts an eighth or a half; a look that missed, in full."""
    names, table = population.feature_names, population.tables.features
    prose = read(magnification=[name for name in names if name != "gas bubbles"])
    (silence,) = [r.term(population).rows for r in prose.readings if r.cause == "unmentioned"]
    asked = read(not_seen=["gas bubbles"])
    (missed,) = [r.term(population).rows for r in asked.readings]
    bubbles = table[:, names.index("gas bubbles")]
    usual, obvious = bubbles <= OBVIOUS, bubbles > OBVIOUS
    assert usual.any()
    assert obvious.any()
    whole = np.log1p(-np.minimum(bubbles, 0.97))
    assert silence[usual] == approx(UNMENTIONED_EXPONENT * whole[usual])
    assert silence[obvious] == approx(UNMENTIONED_OBVIOUS_EXPONENT * whole[obvious])
    assert (missed[bubbles > 0.2] < silence[bubbles > 0.2]).all()
    assert not any(r.cause == "unmentioned" for r in asked.readings)


def test_what_was_not_understood_leaves_nothing_unmentioned(read):
    """An unknown phrase may be the very feature: silence about it proves nothing."""
    assert not read(magnification=["qwxzy"]).readings


# ---- quick tests with one answer -------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "said", "choice"),
    [
        ("chelsea", "Red", "red"),
        ("chelsea", "strong red to orange-red", "red"),
        ("chelsea", "stays green", "no reaction"),
        ("chelsea", "not red", "no reaction"),
        ("chelsea", "pinkish", "pink"),
        ("magnet", "no attraction", "none"),
        ("magnet", "notable drag", "weak"),
        ("magnet", "slightly attracted", "weak"),
        ("magnet", "picks up", "strong"),
        ("thermal", "not diamond", "low"),
        ("thermal", "no diamond response", "low"),
        ("thermal", "diamond", "diamond-like"),
        ("electrical", "does not conduct", "no"),
        ("electrical", "conductive", "conducts"),
        ("electrical", "non-conducting", "no"),
    ],
)
def test_a_quick_test_is_known_by_its_word(sparse, one, field, said, choice):
    first, second = (one(**{field: word}).term(sparse).rows for word in (said, choice))
    assert (first == second).all()
