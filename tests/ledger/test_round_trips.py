"""What goes in comes out equal, on both databases, or is refused before it is kept."""

from datetime import UTC, date, datetime, timedelta, timezone
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from isogyre.ledger import (
    Damage,
    Kit,
    Money,
    Party,
    Photograph,
    Reading,
    ReturnCheck,
    Stone,
    TakeIn,
    UnknownEntryError,
)
from isogyre.ledger.values import LARGEST_NUMBER
from tests.ledger.conftest import NOW
from tests.ledger.made import custody, photograph, reading, stone, take_in

numbers = count(1)
# One ledger serves all examples of a property: what is there already does not matter to it.
shared_ledger = settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60
)

texts = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=40)
zones = st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m)))
times = st.datetimes(datetime(1, 1, 3), datetime(9999, 12, 29), timezones=zones)
amounts = st.builds(
    Money,
    st.integers(0, LARGEST_NUMBER),
    st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=3, max_size=3),
)
leaves = (
    st.none()
    | st.booleans()
    | st.integers(-LARGEST_NUMBER, LARGEST_NUMBER)
    | st.floats(-LARGEST_NUMBER, LARGEST_NUMBER)
    | texts
)
json_values = st.recursive(
    leaves,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=12,
)


def fresh(word):
    return f"{word} {next(numbers):06}"


def test_a_stone_keeps_every_field(ledger):
    whole = Stone(
        id="s1",
        name="T 12",
        created_at=NOW,
        kind="parcel",
        form="cabochon",
        length_mm=6.1,
        width_mm=5.4,
        depth_mm=3.2,
        count=40,
        place="safe, second drawer",
        where_met="a fair in the south",
        met="market",
        claim="sapphire, not heated",
        asking=Money(48000, "EUR"),
        asking_per="carat",
        note="naïve ✓ 蓝宝石 🔷",
    )
    bare = Stone(id="s2", name="T 13", created_at=NOW)
    with ledger.session() as work:
        work.stones.enter(whole, by="me")
        work.stones.enter(bare, by="me")
    with ledger.view() as work:
        assert work.stones.get("s1") == whole
        assert work.stones.get("s2") == bare


def test_custody_parties_and_photographs_keep_every_field(ledger, stone_id):
    party = Party(id="p", name="Laboratory", kind="laboratory", contact="by post", note="slow")
    out = custody(
        "c", "out to laboratory", party_id="p", due=date(2026, 6, 1), note="report asked for"
    )
    shown = Photograph(
        id="f",
        stone_id=stone_id,
        sha256="a1" * 32,
        media_type="image/jpeg",
        width_px=4000,
        height_px=3000,
        added_at=NOW,
        taken_at=NOW - timedelta(days=3),
        note="girdle",
    )
    with ledger.session() as work:
        work.parties.enter(party)
        work.custody.append(out)
        work.photographs.append(shown)
    with ledger.view() as work:
        assert work.parties.get("p") == party
        assert work.custody.history(stone_id) == (out,)
        assert work.photographs.of_stone(stone_id) == (shown,)
        assert work.photographs.get("f") == shown


def test_a_reading_keeps_every_field(ledger, stone_id):
    first = reading("r1", value={"low": 1.762, "high": 1.770}, light="589 nm", note="warm")
    second = Reading(
        id="r2",
        stone_id=stone_id,
        field="ri_low",
        value=None,
        taken_at=NOW,
        taken_by="me",
        state="withdrawn",
        error=0.002,
        light="white-led",
        instrument="refractometer",
        note="the liquid had dried",
        supersedes="r1",
        reason="another stone",
    )
    with ledger.session() as work:
        work.readings.append(first, second)
    with ledger.view() as work:
        assert work.readings.thread(stone_id) == (first, second)
        assert (work.readings.get("r1"), work.readings.get("r2")) == (first, second)


def test_a_take_in_and_its_return_keep_every_field(ledger, stone_id):
    pictures = [
        Photograph(
            id=id,
            stone_id=stone_id,
            sha256=id * 64,
            media_type="image/png",
            width_px=10,
            height_px=10,
            added_at=NOW,
        )
        for id in "abc"
    ]
    received = TakeIn(
        id="t",
        receipt="2026-0007",
        stone_id=stone_id,
        party_id="client",
        received_at=NOW,
        received_by="me",
        description="ring, yellow, one stone",
        weight_g=4.31,
        value=Money(250000, "EUR"),
        value_note="as the client says",
        risk=Money(0, "JPY"),
        risk_note="stone may break when unset, agreed",
        note="box too",
        damage=(
            Damage(kind="worn prong", place="at six o'clock", severity="clear", note="lifts"),
            Damage(kind="chip", place="girdle", severity="slight"),
        ),
        photographs=("b", "a"),
    )
    back = ReturnCheck(
        id="k",
        take_in_id="t",
        checked_at=NOW + timedelta(days=9),
        checked_by="me",
        verdict="changed",
        weight_g=4.28,
        note="polished",
        damage=(Damage(kind="chip", place="girdle", severity="slight"),),
        photographs=("c",),
    )
    with ledger.session() as work:
        work.photographs.append(*pictures)
        work.take_ins.append(received)
        work.take_ins.append_return(back)
    with ledger.view() as work:
        assert work.photographs.of_stone(stone_id) == tuple(pictures)
        assert work.take_ins.get("t") == received
        assert work.take_ins.by_receipt("2026-0007") == received
        assert work.take_ins.of_stone(stone_id) == (received,)
        assert work.take_ins.returns("t") == (back,)


def test_a_take_in_is_open_until_something_came_back(ledger, stone_id, later):
    early, late = later(), later()
    back = ReturnCheck(
        id="k", take_in_id="done", checked_at=late, checked_by="me", verdict="as received"
    )
    with ledger.session() as work:
        work.take_ins.append(take_in("late", received_at=late))
        work.take_ins.append(take_in("done", received_at=early))
        work.take_ins.append(take_in("early", received_at=early))
        work.take_ins.append_return(back)
        assert [each.id for each in work.take_ins.open(9)] == ["early", "late"]
        assert [each.id for each in work.take_ins.open(1)] == ["early"]


def test_the_newest_photographs_of_many_stones_come_together(ledger, stone_id, later):
    early, late = later(), later()
    with ledger.session() as work:
        work.stones.enter(stone("other"), by="me")
        work.stones.enter(stone("bare"), by="me")
        work.photographs.append(
            photograph("a", added_at=late),
            photograph("b", added_at=early),
            photograph("c", stone_id="other", added_at=early),
            photograph("d", stone_id="other", added_at=early),
        )
        newest = work.photographs.newest_of([stone_id, "other", "bare"])
    assert {key: shown.id for key, shown in newest.items()} == {stone_id: "a", "other": "d"}


def test_many_parties_come_together(ledger, stone_id):
    with ledger.view() as work:
        found = work.parties.of(["setter", "nobody", "client"])
        assert found == {id: work.parties.get(id) for id in ("client", "setter")}


def test_the_last_receipt_of_a_year_is_found(ledger, stone_id):
    with ledger.session() as work:
        for receipt in ("2025-0119", "2026-0009", "2026-0010"):
            work.take_ins.append(take_in(receipt, receipt=receipt))
        assert work.take_ins.last_receipt("2026-") == "2026-0010"
        assert work.take_ins.last_receipt("2027-") is None


def test_kits_and_settings_are_replaced_by_name(ledger):
    kit = Kit(name="pocket", fields=("colour", "magnification"), minutes={"colour": 0.5})
    other = Kit(name="pocket", fields=("colour",), errors={"ri_low": 0.003}, note="at fairs")
    with ledger.session() as work:
        work.kits.save(kit)
        work.settings.put("default_kit", "bench")
    with ledger.session() as work:
        assert work.kits.all() == (kit,)
        work.kits.save(other)
        work.settings.put("default_kit", "pocket")
        work.settings.put("light", None)
    with ledger.session() as work:
        assert work.kits.get("pocket") == other
        assert work.settings.all() == {"default_kit": "pocket", "light": None}
        assert work.settings.get("light", "daylight") is None
        assert work.settings.get("rounds", 3) == 3
        work.kits.remove("pocket")
        work.kits.remove("pocket")
    with ledger.view() as work, pytest.raises(UnknownEntryError, match="pocket"):
        work.kits.get("pocket")


def test_a_party_is_amended_and_listed_by_name(ledger, stone_id):
    with ledger.session() as work:
        work.parties.amend(Party(id="client", name="A dealer after all", kind="dealer"))
    with ledger.view() as work:
        assert [party.id for party in work.parties.all()] == ["client", "setter"]
        assert [party.id for party in work.parties.all("setter")] == ["setter"]
        with pytest.raises(UnknownEntryError, match="nobody"):
            work.parties.amend(Party(id="nobody", name="Nobody", kind="client"))


# ---- properties ------------------------------------------------------------------------------


@shared_ledger
@given(moment=times, value=json_values, note=texts)
def test_any_time_json_and_text_come_back_equal(ledger, stone_id, moment, value, note):
    made = reading(fresh("r"), field=fresh("f"), value=value, taken_at=moment, note=note)
    with ledger.session() as work:
        work.readings.append(made)
    with ledger.view() as work:
        found = next(r for r in work.readings.thread(stone_id) if r.id == made.id)
    assert found == made
    assert found.taken_at.tzinfo is UTC
    # Equality takes True for 1 and 1 for 1.0; the kinds have to come back too.
    assert repr(shape(found.value)) == repr(shape(value))


def shape(value):
    """Return the kinds a JSON value is made of; the order of keys does not matter."""
    if isinstance(value, dict):
        return {key: shape(value[key]) for key in sorted(value)}
    if isinstance(value, list):
        return [shape(item) for item in value]
    return type(value)


@shared_ledger
@given(asking=amounts, name=texts.filter(bool))
def test_any_amount_and_name_come_back_equal(ledger, asking, name):
    made = stone(fresh("s"), name=name, asking=asking, asking_per="stone")
    with ledger.session() as work:
        work.stones.enter(made, by="me")
    with ledger.view() as work:
        assert work.stones.get(made.id) == made


@shared_ledger
@given(moments=st.lists(times, min_size=2, max_size=5))
def test_a_thread_is_in_order_of_time_whatever_the_zones(ledger, stone_id, moments):
    made = stone(fresh("s"))
    with ledger.session() as work:
        work.stones.enter(made, by="me")
        work.readings.append(
            *(reading(fresh("r"), stone_id=made.id, taken_at=moment) for moment in moments)
        )
        thread = work.readings.thread(made.id)
    assert [found.taken_at for found in thread] == sorted(moments)
