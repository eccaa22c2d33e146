"""The pages of take-ins: nothing typed or sent is lost, and the receipt says what was agreed."""

from io import BytesIO

import pytest
from fastapi.testclient import TestClient
from PIL import Image

from isogyre.desk import LedgerLockedError, open_house
from isogyre.ledger.take_ins import TakeIns
from isogyre.web import create_app

RING = {
    "client": "Client “One” <&>",
    "kind": "ring",
    "description": "yellow ring\nwith a green stone",
    "weight_g": "4.31",
    "value": "480.50",
    "value_note": "agreed",
    "risk_note": "the emerald may not survive setting",
    "mark-1-kind": "chip",
    "mark-1-place": "girdle at 3 o'clock",
    "mark-1-severity": "slight",
}


@pytest.fixture
def pages(tmp_path, workbench):
    house = open_house(tmp_path, workbench=workbench)
    yield TestClient(create_app(house), base_url="http://127.0.0.1", follow_redirects=False)
    house.close()


def file():
    written = BytesIO()
    Image.new("RGB", (40, 30), (30, 90, 60)).save(written, "PNG")
    return [("photographs", ("a.png", written.getvalue(), "image/png"))]


def received(pages, **changes):
    answer = pages.post("/take-ins/new", data={**RING, **changes}, files=file())
    assert answer.status_code == 303
    return answer.headers["location"]


def test_a_refused_form_keeps_every_word_and_the_photographs(pages, read_page):
    answer = pages.post("/take-ins/new", data={**RING, "weight_g": "heavy"}, files=file())
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert page.entries["client"] == RING["client"]
    assert page.entries["description"] == RING["description"]
    assert page.entries["mark-1-kind"] == "chip"
    assert page.named("weight_g")["aria-invalid"] == "true"
    again = {**RING, "picture": page.entries["picture"]}
    assert pages.get(f"/take-ins/pictures/{again['picture']}").status_code == 200
    receipt = pages.get(pages.post("/take-ins/new", data=again).headers["location"]).text
    assert receipt.count("/small") == 1
    # A picture that waits to be scrolled to would be missing on paper.
    assert 'loading="eager"' in receipt


def test_a_fault_of_the_ledger_hands_back_words_and_photographs(pages, read_page, monkeypatch):
    def locked(self, entry):
        raise LedgerLockedError("busy")

    with monkeypatch.context() as patched:
        patched.setattr(TakeIns, "append", locked)
        answer = pages.post("/take-ins/new", data=RING, files=file())
    assert answer.status_code == 503
    again = read_page(answer.text).entries
    assert again["client"] == RING["client"]
    receipt = pages.get(pages.post("/take-ins/new", data=again).headers["location"]).text
    assert receipt.count("/small") == 1


def test_a_file_that_is_no_photograph_keeps_the_form_back(pages, read_page):
    bad = [("photographs", ("a.txt", b"words", "text/plain"))]
    answer = pages.post("/take-ins/new", data=RING, files=bad)
    assert answer.status_code == 422
    assert read_page(answer.text).named("photographs")["aria-invalid"] == "true"


def test_the_receipt_says_what_was_agreed(pages):
    text = pages.get(received(pages)).text
    for words in (
        *("Receipt 20", "EUR 480.50", "4.31 g", "Client “One” &lt;&amp;&gt;", "may not survive"),
        *("nothing in it is an identification or an appraisal", "Liability follows local law"),
    ):
        assert words in text


def test_room_for_another_mark_keeps_nothing_yet(pages, read_page):
    answer = pages.post("/take-ins/new", data={**RING, "mark-2-place": "prong", "again": "mark"})
    assert answer.status_code == 200
    assert "mark-3-kind" in read_page(answer.text).entries
    assert "Nothing of a client" in pages.get("/take-ins").text


def test_a_piece_goes_back_after_it_was_compared(pages, read_page):
    address = received(pages)
    entries = {"weight_g": "4.28", "state-1": "worse", "note": "polished"}
    compared = pages.post(f"{address}/return", data={**entries, "again": "compare"})
    assert compared.status_code == 200
    assert read_page(compared.text).entries["verdict"] == "changed"
    assert "0.03 g less" in compared.text
    done = pages.post(f"{address}/return", data={**entries, "verdict": "changed"}, files=file())
    assert done.status_code == 303
    record = pages.get(address).text
    assert "changed" in record
    assert record.count("/small") == 2
    assert "Nothing of a client" in pages.get("/take-ins").text
    assert pages.get(f"{address}/return").status_code == 200


def test_a_stone_in_the_ledger_is_named_in_the_form(pages):
    made = pages.post("/stones/new", data={"name": "Kept <already>"})
    stone = made.headers["location"].rpartition("/")[2]
    form = pages.get(f"/take-ins/new?stone={stone}").text
    assert "Kept &lt;already&gt;" in form
    address = received(pages, stone=stone)
    assert f"/stones/{stone}" in pages.get(address).text


@pytest.mark.parametrize("path", ["/take-ins/none", "/take-ins/none/return"])
def test_an_unknown_take_in_is_not_found(pages, path):
    assert pages.get(path).status_code == 404


def test_an_unknown_stone_or_picture_is_not_found(pages):
    assert pages.get("/take-ins/new?stone=none").status_code == 404
    assert pages.post("/take-ins/new", data={**RING, "stone": "none"}).status_code == 404
    assert pages.get(f"/take-ins/pictures/{'0' * 64}").status_code == 404
