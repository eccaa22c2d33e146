"""Stones are entered, described, handed on and found; what could not be kept is not lost."""

from datetime import UTC, datetime, timedelta

import pytest
from fastapi.testclient import TestClient

from isogyre.desk.house import House
from isogyre.desk.standings import reweigh
from isogyre.web import create_app

HERE = "http://127.0.0.1"
NOW = datetime(2026, 5, 4, 12, tzinfo=UTC)
RUBY = {"colour": "red", "ri_low": "1.762", "ri_high": "1.770", "spectrum_text": "chromium lines"}
SPINEL = {"colour": "red", "ri_low": "1.718", "ri_high": "1.718", "polariscope": "SR"}


@pytest.fixture
def home(tmp_path, workbench):
    house = House(workbench, tmp_path, now=lambda: NOW)
    yield house
    house.close()


@pytest.fixture
def bench(home):
    return TestClient(create_app(home), base_url=HERE, raise_server_exceptions=False)


@pytest.fixture
def enter(bench):
    def entered(name, **record):
        return bench.post("/api/stones", json={"id": name, **record}).json()["id"]

    return entered


@pytest.fixture
def names(bench, read_page):
    def listed(**asked):
        page = read_page(bench.get("/stones", params=asked).text)
        links = [e for tag, e in page.elements if tag == "a" and "/stones/" in e.get("href", "")]
        ids = [e["href"].rsplit("/", 1)[1] for e in links if e["href"].count("/") == 2]
        kept = [bench.get(f"/api/stones/{i}").json()["name"] for i in ids if i != "new"]
        return kept

    return listed


# ---- the list --------------------------------------------------------------------------------


def test_a_bare_bench_says_what_it_is_for_and_offers_the_invented_one(bench):
    page = bench.get("/").text
    assert "No stone is kept here yet" in page
    assert "isogyre demo" in page
    assert 'href="/stones/new"' in page


def test_the_list_says_where_each_stone_stands(bench, enter):
    enter("red oval", claim="ruby", **SPINEL)
    enter("bare one")
    page = bench.get("/stones").text
    assert "Spinel, " in page
    assert "said to be <i>ruby</i>" in page
    assert "not tested yet" in page


def test_open_and_settled_stones_are_all_that_were_weighed(enter, names):
    enter(
        "settled", **SPINEL, not_seen=["gas bubbles", "curved striae"], magnification=["octahedra"]
    )
    enter("open", colour="red")
    enter("untouched")
    found = names(show="open"), names(show="settled")
    assert sorted(found[0] + found[1]) == sorted(names())
    assert "open" in found[0]
    assert not set(found[0]) & set(found[1])


def test_what_does_not_fit_is_found(enter, names):
    enter("sound", **SPINEL)
    enter("odd", **RUBY, polariscope="SR", sg="2.65")
    assert names(show="misfit") == ["odd"]


def test_stones_are_found_by_the_instrument_they_wait_for(bench, home, enter, names):
    enter("waiting", colour="blue")
    with home.ledger.view() as work:
        awaits = work.stones.page().stones[0].note.awaits
    assert names(awaits=awaits) == ["waiting"]
    assert names(awaits="magnet") == []


def test_stones_are_found_by_words_and_by_whose_they_are(bench, enter, names):
    ring, other = enter("ring", place="tray 3"), enter("other")
    bench.post(f"/stones/{ring}/custody", data={"holding": "client's", "party": "Client A."})
    bench.post(f"/stones/{other}/custody", data={"holding": "out to setter", "party": "Setter"})
    assert names(words="TRAY 3") == ["ring"]
    assert names(whose="client's") == ["ring"]
    assert names(whose="out to setter") == ["other"]


def test_what_is_overdue_is_due_too_and_the_day_itself_is_not_late(bench, enter, names):
    for name, days in (("late", -1), ("today", 0), ("soon", 7), ("far", 8)):
        due = (NOW.date() + timedelta(days=days)).isoformat()
        sent = {"holding": "out to laboratory", "party": "Laboratory", "due": due}
        bench.post(f"/stones/{enter(name)}/custody", data=sent)
    assert names(show="overdue") == ["late"]
    assert sorted(names(show="due")) == ["late", "soon", "today"]


def test_the_archive_is_a_place_of_its_own_and_can_be_left(bench, enter, names):
    sold = enter("sold")
    enter("here")
    bench.post(f"/stones/{sold}/archive")
    assert (names(), names(show="archived")) == (["here"], ["sold"])
    bench.post(f"/stones/{sold}/restore")
    assert sorted(names()) == ["here", "sold"]


def test_a_long_list_goes_on_where_it_ended(bench, home, enter, names):
    entered = [enter(f"stone {n}") for n in range(53)]
    first = names()
    assert len(first) == 50
    page = bench.get("/stones").text
    older = page.split('href="/stones?after=')[1].split('"')[0]
    rest = names(after=older)
    assert len(first + rest) == len({*first, *rest}) == len(entered)


def test_stones_that_were_not_weighed_again_are_owned_up_to(bench, home, enter):
    stone = enter("changed", **SPINEL)
    home.made_by = "another catalogue"
    page = bench.get("/stones").text
    assert "1 stone is being weighed again" in page
    reweigh(home, [stone])
    assert "being weighed again" not in bench.get("/stones").text


def test_a_search_that_finds_nothing_says_how_to_go_on(bench, enter):
    enter("a")
    assert "No stone is found by that" in bench.get("/stones?words=zzz").text
    assert bench.get("/stones?after=nothing").status_code == 404


def test_a_measured_stone_is_drawn_and_the_scale_is_shown(bench, enter):
    enter("Blue pear", measures_mm=[9, 6, 4], colour="blue")
    page = bench.get("/stones").text
    assert "10 mm" in page
    assert "plan-0" in page


def test_a_name_never_becomes_part_of_the_page(bench, enter):
    enter("<b>bold</b>", claim="<script>alert(1)</script>")
    page = bench.get("/stones").text
    assert "<b>bold</b>" not in page
    assert "<script>alert" not in page


# ---- a new stone, its details, whose it is ---------------------------------------------------

COUNTER = {"claim": "sapphire, not heated", "asking": "480", "asking_per": "carat", "met": "market"}


def test_a_new_stone_is_kept_with_claim_and_price_and_named_after_its_claim(bench):
    answer = bench.post("/stones/new", data=COUNTER, follow_redirects=False)
    assert answer.status_code == 303
    kept = bench.get(f"/api{answer.headers['location']}").json()
    assert kept["name"] == "sapphire 1"
    assert kept["asking"] == {"minor": 48000, "currency": "EUR"}
    assert (kept["asking_per"], kept["met"]) == ("carat", "market")
    again = bench.post("/stones/new", data=COUNTER, follow_redirects=False)
    assert bench.get(f"/api{again.headers['location']}").json()["name"] == "sapphire 2"


def test_a_colour_is_kept_as_the_first_reading(bench, read_page):
    answer = bench.post("/stones/new", data={"colour": "light blue"})
    assert read_page(answer.text).entries["colour"] == "light blue"


def test_the_currency_of_the_last_price_is_remembered(bench):
    bench.post("/stones/new", data=COUNTER | {"currency": "CHF"})
    answer = bench.post("/stones/new", data={"asking": "90"}, follow_redirects=False)
    kept = bench.get(f"/api{answer.headers['location']}").json()
    assert kept["asking"] == {"minor": 9000, "currency": "CHF"}


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("asking", "a lot"),
        ("length_mm", "-3"),
        ("length_mm", "six"),
        ("count", "1.5"),
        ("kind", "spaceship"),
        ("met", "the moon"),
        ("currency", "euros"),
    ],
)
def test_a_stone_that_cannot_be_is_not_kept_and_nothing_is_lost(bench, read_page, key, text):
    typed = COUNTER | {"name": "a", "place": "box", key: text}
    answer = bench.post("/stones/new", data=typed)
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert {k: page.entries.get(k) for k in typed} == typed
    described = page.named(key).get("aria-describedby", f"enter-{key}-more")
    assert "This cannot be:" in page.text.split(f'id="{described}"')[1].split("</div>")[0]
    assert "No stone is kept here yet" in bench.get("/").text


def test_details_are_amended_with_a_trail(bench, home, enter):
    stone = enter("a", claim="ruby")
    answer = bench.post(
        f"/stones/{stone}/details",
        data={"name": "b", "claim": "spinel", "length_mm": "6,1", "asking": "1.200"},
        follow_redirects=False,
    )
    assert answer.status_code == 303
    kept = bench.get(f"/api/stones/{stone}").json()
    assert (kept["name"], kept["claim"], kept["length_mm"]) == ("b", "spinel", 6.1)
    # What was told is a reading too, and the first telling stays in its thread.
    told = [r["value"] for r in kept["readings"] if r["field"] == "claim"]
    assert told == ["ruby", "spinel"]
    with home.ledger.view() as work:
        trail = [event.changes for event in work.stones.events(stone) if event.kind == "amended"]
    assert {"was": "a", "is": "b"} in [change.get("name") for change in trail]


def test_bad_details_keep_what_was_typed(bench, enter, read_page):
    stone = enter("a")
    answer = bench.post(f"/stones/{stone}/details", data={"name": "b", "depth_mm": "deep"})
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert (page.entries["name"], page.entries["depth_mm"]) == ("b", "deep")


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ({}, "say whose it is"),
        ({"holding": "client's"}, "name somebody"),
        ({"holding": "stolen by", "party": "x"}, "is none of"),
        ({"holding": "client's", "party": "x", "due": "soon"}, "is no date"),
    ],
)
def test_custody_that_cannot_be_is_told_and_kept_typed(bench, enter, sent, words):
    stone = enter("a")
    answer = bench.post(f"/stones/{stone}/custody", data={**sent, "custody_note": "with its box"})
    assert answer.status_code == 422
    assert words in answer.text
    assert "with its box" in answer.text


def test_a_party_is_made_once_and_its_stones_say_whose_they_are(bench, home, enter):
    for name in ("one", "two"):
        sent = {"holding": "client's", "party": "Client A.", "due": "2026-05-31"}
        bench.post(f"/stones/{enter(name)}/custody", data=sent)
    with home.ledger.view() as work:
        assert [party.name for party in work.parties.all()] == ["Client A."]
    page = bench.get("/stones").text
    assert page.count("client&#39;s: Client A., due 31 May 2026") == 2


def test_details_of_a_stone_nobody_entered_are_not_there(bench):
    assert bench.get("/stones/nobody/details").status_code == 404
    assert bench.post("/stones/nobody/details", data={"name": "x"}).status_code == 404
