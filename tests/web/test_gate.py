"""The gate: whose host, how much, and what a browser may do with what it gets."""

import pytest
from fastapi.testclient import TestClient
from starlette.responses import PlainTextResponse

import isogyre.web.stones
from isogyre.web.gate import MOST_BODY_BYTES, PROTECTION, Gate, host_named

READINGS = "/stones/a/readings"
PATHS = ["/", "/?colour=red&ri_low=9", "/materials", "/materials/topaz", "/materials/nothing-such",
         "/nowhere", "/static/house.css", "/api/openapi.json"]  # fmt: skip


@pytest.mark.parametrize("path", PATHS)
def test_every_answer_carries_the_headers_that_protect_it(client, path):
    headers = client.get(path).headers
    assert {name: headers[name] for name in PROTECTION} == PROTECTION
    assert "default-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert "frame-ancestors 'none'" in headers["content-security-policy"]


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example:8000", "", "[::2]"]
)
def test_a_foreign_host_name_is_turned_away_from_pages_and_data(client, host):
    assert client.get("/", headers={"host": host}).status_code == 421
    answer = client.post("/api/identify", json={"colour": "red"}, headers={"host": host})
    assert answer.status_code == 421
    assert "species" not in answer.text


@pytest.mark.parametrize(
    "host", ["127.0.0.1", "127.0.0.1:8000", "localhost:1", "LOCALHOST", "[::1]:8000", "[::1]"]
)
def test_this_machine_is_let_in_under_each_of_its_names(client, host):
    assert client.get("/materials?find=topaz", headers={"host": host}).status_code == 200


def test_the_address_it_is_served_on_is_let_in(app):
    client = TestClient(app, base_url="http://192.0.2.7:8000")
    assert client.get("/nowhere").status_code == 404


def test_a_name_given_at_the_start_is_let_in():
    gate = Gate(PlainTextResponse("in"), lambda scope, status: PlainTextResponse("", status),
                hosts={"Bench.Example"})  # fmt: skip
    client = TestClient(gate, base_url="http://127.0.0.1")
    assert client.get("/", headers={"host": "bench.example:80"}).text == "in"


@pytest.mark.parametrize(
    ("header", "host"),
    [
        ("a.b:80", "a.b"),
        ("[::1]:80", "::1"),
        ("[::1", "::1"),
        ("A.", "a"),
        ("a:b:c", "a"),
        ("", ""),
    ],
)
def test_a_host_is_read_without_port_brackets_and_dot(header, host):
    assert host_named(header) == host


def test_too_long_a_form_is_refused_on_a_page_that_says_what_to_do(client):
    answer = client.post(READINGS, data={"magnification": "x" * MOST_BODY_BYTES})
    assert answer.status_code == 413
    assert "shorten the longest text" in answer.text
    assert "<h1>" in answer.text


@pytest.mark.parametrize("path", [READINGS, "/api/identify"])
def test_a_length_that_is_not_announced_is_counted_as_it_comes(client, path):
    def pieces():
        for _ in range(MOST_BODY_BYTES // 1024 + 1):
            yield b"x" * 1024

    assert client.post(path, content=pieces()).status_code == 413


def test_a_length_that_is_no_number_is_refused(client):
    assert client.post(READINGS, content=b"", headers={"content-length": "-1"}).status_code == 413


def test_a_record_of_the_greatest_allowed_size_is_let_in(client):
    stone = client.post("/api/stones", json={"id": "a"}).json()["id"]
    body = b"colour=red" + b"&" * (MOST_BODY_BYTES - 10)
    answer = client.post(f"/stones/{stone}/readings", content=body, follow_redirects=False)
    assert answer.status_code == 303


@pytest.mark.parametrize(
    ("method", "path", "status", "words"),
    [
        ("GET", "/nowhere", 404, "There is no such page"),
        ("GET", "/static/nothing.css", 404, "There is no such page"),
        ("GET", "/static/../gate.py", 404, "There is no such page"),
        ("DELETE", "/stones/a", 405, "does not take that"),
        ("PUT", "/materials", 405, "does not take that"),
    ],
)
def test_a_page_that_is_not_there_says_where_to_go(client, method, path, status, words):
    answer = client.request(method, path)
    assert answer.status_code == status
    assert words in answer.text
    assert 'href="/materials"' in answer.text


def test_the_data_door_refuses_in_data(client):
    answer = client.get("/api/identify")
    assert answer.status_code == 405
    assert answer.json()["troubles"][0]["field"] == "request"


def test_a_fault_of_the_program_is_owned_and_gives_nothing_away(client, monkeypatch, caplog):
    def broken(*_):
        raise RuntimeError("a secret of the house")

    monkeypatch.setattr(isogyre.web.stones, "kept_page", broken)
    answer = client.get("/stones/a")
    assert answer.status_code == 500
    assert "The fault is the program" in answer.text
    assert "secret" not in answer.text
    assert "a secret of the house" in caplog.text
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_page_is_sent_compressed_to_whoever_takes_it_so(client):
    plain = client.get("/materials", headers={"accept-encoding": "identity"})
    packed = client.get("/materials", headers={"accept-encoding": "gzip"})
    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert packed.text == plain.text
