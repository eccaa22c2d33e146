"""Faults of the ledger: a page that says what to do, and every entry of the form on it."""

import sqlite3

import pytest
from fastapi.testclient import TestClient

from isogyre.desk.house import LEDGER_FILE, House
from isogyre.web import create_app

HERE = "http://127.0.0.1"
TYPED = {"colour": "slightly greyish blue", "ri_low": "1.762", "ri_high": "1.770"}


@pytest.fixture
def home(tmp_path, workbench):
    # A fault is told after a tenth of a second here; a bench waits longer for another writer.
    house = House(workbench, tmp_path, wait_s=0.1)
    yield house
    house.close()


@pytest.fixture
def bench(home):
    return TestClient(create_app(home), base_url=HERE, raise_server_exceptions=False)


@pytest.fixture
def stone(bench):
    entered = bench.post("/api/stones", json={"id": "blue", "colour": "blue"}).json()
    return f"/stones/{entered['id']}"


def keep(bench, stone):
    return bench.post(f"{stone}/readings", data=TYPED, follow_redirects=False)


def is_told(read_page, answer, words, address):
    """Whether a page tells the fault and would send every entry again to the same place."""
    page = read_page(answer.text)
    forms = [e.get("action") for tag, e in page.elements if tag == "form"]
    return (
        answer.status_code == 503
        and words in answer.text
        and address in forms
        and page.entries.items() >= TYPED.items()
    )


def test_another_writer_in_the_way_is_told_and_the_entries_can_be_sent_again(
    bench, home, stone, read_page
):
    other = sqlite3.connect(home.folder / LEDGER_FILE, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    answer = keep(bench, stone)
    assert is_told(read_page, answer, "Somebody else is writing", f"{stone}/readings")
    assert bench.get(stone).status_code == 200  # who only looks does not wait
    other.execute("ROLLBACK")
    other.close()
    page = read_page(answer.text)
    assert bench.post(f"{stone}/readings", data=page.entries).status_code == 200
    assert read_page(bench.get(stone).text).entries["ri_low"] == "1.762"


def test_a_full_disk_is_told_and_nothing_is_lost(bench, home, stone, read_page):
    with home.ledger.session() as work:
        # The file may not grow, as on a disk without room.
        connection = work.readings._session.connection()
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
    long = {**TYPED, "remark.naked eye": "x" * 400, "magnification": "\n".join(["y" * 390] * 9)}
    answers = [
        bench.post(f"{stone}/readings", data=long | {"colour": f"blue {n}"}, follow_redirects=False)
        for n in range(40)
    ]
    refused = next(answer for answer in answers if answer.status_code == 503)
    assert "The disk is full" in refused.text
    assert read_page(refused.text).entries["remark.naked eye"] == "x" * 400


def test_a_ledger_of_a_newer_version_is_left_alone_and_told(bench, home, stone, read_page):
    home.close()
    file = sqlite3.connect(home.folder / LEDGER_FILE)
    table = next(
        name
        for (name,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        if "version" in name
    )
    file.execute(f"UPDATE {table} SET version_num = 'from_the_future'")
    file.commit()
    file.close()
    answer = keep(bench, stone)
    assert is_told(read_page, answer, "newer than this program", f"{stone}/readings")
    assert bench.get(stone).status_code == 503
    assert bench.get("/materials").status_code == 200
    troubles = bench.get(f"/api{stone}").json()["troubles"]
    assert "newer" in troubles[0]["message"]


def test_a_file_that_is_no_ledger_is_told(bench, home, stone, read_page):
    home.close()
    for name in (LEDGER_FILE, f"{LEDGER_FILE}-wal", f"{LEDGER_FILE}-shm"):
        (home.folder / name).unlink(missing_ok=True)
    (home.folder / LEDGER_FILE).write_bytes(b"this is a shopping list, and no database" * 50)
    answer = keep(bench, stone)
    assert is_told(read_page, answer, "The ledger is damaged", f"{stone}/readings")


def test_the_ledger_is_opened_again_once_the_cause_is_mended(bench, home, stone):
    home.close()
    kept = home.folder / LEDGER_FILE
    aside = kept.rename(kept.with_suffix(".aside"))
    kept.mkdir()
    assert bench.get(stone).status_code == 503
    kept.rmdir()
    aside.rename(kept)
    assert bench.get(stone).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"origin": "http://127.0.0.1:9999"},
    ],
)
def test_another_site_cannot_write_here(bench, stone, headers):
    answer = bench.post(f"{stone}/readings", data=TYPED, headers=headers, follow_redirects=False)
    assert answer.status_code == 403
    assert "another site" in answer.text
    assert bench.get(f"/api{stone}").json()["readings"][-1]["value"] == "blue"


def test_our_own_page_can_write_here(bench, stone):
    headers = {"origin": HERE, "sec-fetch-site": "same-origin"}
    answer = bench.post(f"{stone}/readings", data=TYPED, headers=headers, follow_redirects=False)
    assert answer.status_code == 303
