"""The counter when the ledger is busy, and words that would be markup in a page."""

import sqlite3

import pytest
from fastapi.testclient import TestClient

from isogyre.desk.house import LEDGER_FILE, House
from isogyre.web import create_app

HERE = "http://127.0.0.1"
MARKUP = "</datalist><script>alert('1')</script>\"><b>"
TYPED = {"claim": "sapphire", "asking": "480", "asking_per": "carat", "met": "market"}


@pytest.fixture
def home(tmp_path, workbench):
    # A fault is told after a tenth of a second here; a bench waits longer for another writer.
    house = House(workbench, tmp_path, wait_s=0.1)
    yield house
    house.close()


@pytest.fixture
def bench(home):
    return TestClient(create_app(home), base_url=HERE, raise_server_exceptions=False)


def test_a_stone_that_another_writer_kept_out_can_be_sent_again(bench, home, read_page):
    assert bench.get("/stones").status_code == 200  # the ledger is there
    other = sqlite3.connect(home.folder / LEDGER_FILE, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    refused = bench.post("/stones/new", data=TYPED)
    other.execute("ROLLBACK")
    other.close()
    assert refused.status_code == 503
    page = read_page(refused.text)
    assert page.entries.items() >= TYPED.items()
    assert "/stones/new" in [e.get("action") for tag, e in page.elements if tag == "form"]
    kept = bench.post("/stones/new", data=page.entries, follow_redirects=False)
    assert kept.status_code == 303
    assert bench.get("/stones").text.count("stone-row") == 1


def test_markup_in_an_entry_is_words_on_every_page(bench, read_page):
    typed = dict.fromkeys(("name", "claim", "place", "where_met", "note"), MARKUP)
    stone = bench.post("/stones/new", data=typed, follow_redirects=False).headers["location"]
    handed = {"holding": "client's", "party": MARKUP, "custody_note": MARKUP}
    bench.post(f"{stone}/custody", data=handed)
    pages = [bench.get(path) for path in ("/stones", f"{stone}/details", stone)]
    pages.append(bench.get("/stones", params={"words": MARKUP, "whose": MARKUP, "show": MARKUP}))
    pages.append(bench.post("/stones/new", data=typed | {"asking": MARKUP, "met": MARKUP}))
    pages.append(bench.post(f"{stone}/details", data=typed | {"count": MARKUP}))
    pages.append(bench.post(f"{stone}/custody", data=handed | {"due": MARKUP}))
    assert [page.status_code for page in pages] == [200, 200, 200, 200, 422, 422, 422]
    for page in pages:
        assert "<script>alert" not in page.text
        assert "&lt;script&gt;alert" in page.text
    assert read_page(pages[1].text).entries["claim"] == MARKUP


def test_what_no_form_asks_for_is_not_kept(bench, home):
    sent = TYPED | {"id": "mine", "created_at": "1970-01-01", "search_text": "x", "by": "nobody"}
    stone = bench.post("/stones/new", data=sent, follow_redirects=False).headers["location"]
    assert stone != "/stones/mine"
    with home.ledger.view() as work:
        (event,) = work.stones.events(stone.rsplit("/", 1)[1])
    assert event.by == "the bench"


@pytest.mark.parametrize("words", ["100%", "_", "'", "\\", "a\0b", "ß" * 400])
def test_words_that_a_database_might_take_for_its_own_find_nothing(bench, words):
    bench.post("/stones/new", data={"name": "plain stone"})
    answer = bench.get("/stones", params={"words": words})
    assert answer.status_code == 200
    assert "stone-row" not in answer.text
