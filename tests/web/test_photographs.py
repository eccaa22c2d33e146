"""Photographs are kept unchanged, shown small without their place, and refused with a reason."""

import struct
import zlib
from io import BytesIO

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from PIL import Image

from isogyre.desk import LedgerError, LedgerLockedError, UnknownEntryError, open_house
from isogyre.ledger import Stone
from isogyre.ledger.photographs import Photographs
from isogyre.web import photographs
from isogyre.web.faults import ledger_fault, unknown_entry
from isogyre.web.gate import Gate
from isogyre.web.pages import refusal


@pytest.fixture
def home(tmp_path, workbench):
    house = open_house(tmp_path, workbench=workbench)
    with house.ledger.session() as work:
        work.stones.enter(Stone(id="ring", name="Old ring", created_at=house.now()), by="me")
    yield house
    house.close()


@pytest.fixture
def pages(home):
    app = FastAPI()
    app.include_router(photographs.router(home))
    app.add_exception_handler(UnknownEntryError, unknown_entry)
    app.add_exception_handler(LedgerError, ledger_fault)
    app.add_middleware(Gate, refuse=refusal)
    return TestClient(app, base_url="http://127.0.0.1", follow_redirects=False)


def picture(kind="JPEG", size=(900, 600), colour=(30, 90, 60), **options):
    written = BytesIO()
    Image.new("RGB", size, colour).save(written, kind, **options)
    return written.getvalue()


def as_a_camera_writes(taken="2026:03:04 10:20:30"):
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8769)[0x9003] = taken
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (48.0, 30.0, 0.0)
    return picture(exif=exif)


def sent(pages, *files, note=""):
    uploads = [("photographs", (name, data, "image/jpeg")) for name, data in files]
    return pages.post("/stones/ring/photographs", files=uploads, data={"note": note})


def kept(home):
    with home.ledger.view() as work:
        return work.photographs.of_stone("ring")


def test_a_photograph_is_kept_as_it_came_and_shown_upright(home, pages):
    data = as_a_camera_writes()
    assert sent(pages, ("ring.jpg", data), note="from above").status_code == 303
    [photograph] = kept(home)
    assert (photograph.width_px, photograph.height_px) == (600, 900)
    assert photograph.taken_at.astimezone().replace(tzinfo=None).isoformat() == (
        "2026-03-04T10:20:30"
    )
    whole = pages.get(f"/photographs/{photograph.id}")
    assert whole.content == data
    assert "immutable" in whole.headers["cache-control"]
    small = Image.open(BytesIO(pages.get(f"/photographs/{photograph.id}/small").content))
    assert small.size == (320, 480)
    assert dict(small.getexif()) == {}
    assert 'alt="Old ring, photograph 1: from above"' in pages.get("/stones/ring/photographs").text


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_other_open_formats_are_taken(home, pages, kind):
    assert sent(pages, ("a", picture(kind))).status_code == 303
    assert kept(home)[0].media_type == f"image/{kind.lower()}"


def bomb():
    """Return a PNG of a few bytes that claims twenty thousand pixels each way."""

    def part(name, data):
        check = struct.pack(">I", zlib.crc32(name + data))
        return struct.pack(">I", len(data)) + name + data + check

    head = struct.pack(">IIBBBBB", 20000, 20000, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", b"") + part(b"IEND", b"")


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"no picture", "JPEG, PNG or WebP"),
        (b"", "JPEG, PNG or WebP"),
        (picture("GIF"), "JPEG, PNG or WebP"),
        (picture()[:900], "not whole"),
        (bomb(), "million pixels"),
    ],
)
def test_a_bad_file_is_named_with_its_reason_and_the_good_one_kept(home, pages, data, why):
    answer = sent(pages, ("bad <1>.jpg", data), ("good.jpg", picture()), note="my words")
    assert answer.status_code == 422
    assert why in answer.text
    assert "bad &lt;1&gt;.jpg" in answer.text
    assert 'value="my words"' in answer.text
    assert len(kept(home)) == 1


def test_a_fault_of_the_ledger_loses_no_photograph(home, pages, read_page, monkeypatch):
    def locked(self, *entries):
        raise LedgerLockedError("busy")

    with monkeypatch.context() as patched:
        patched.setattr(Photographs, "append", locked)
        answer = sent(pages, ("a.jpg", picture()), note="my words")
    assert answer.status_code == 503
    again = pages.post("/stones/ring/photographs", data=read_page(answer.text).entries)
    assert again.status_code == 303
    assert [photograph.note for photograph in kept(home)] == ["my words"]


def test_a_date_that_the_camera_never_set_is_no_date(home, pages):
    assert sent(pages, ("a.jpg", as_a_camera_writes("0000:00:00 00:00:00"))).status_code == 303
    assert kept(home)[0].taken_at is None


def test_choosing_none_is_told(pages):
    answer = pages.post("/stones/ring/photographs", data={"note": ""})
    assert answer.status_code == 422
    assert "choose one" in answer.text


def test_an_unknown_stone_or_photograph_is_not_found(pages):
    files = [("photographs", ("a.jpg", picture(), "image/jpeg"))]
    assert pages.post("/stones/none/photographs", files=files).status_code == 404
    assert pages.get("/photographs/none").status_code == 404
    assert pages.get("/photographs/none/small").status_code == 404


@pytest.mark.parametrize("left", [None, b"other bytes"])
def test_a_photograph_whose_file_is_lost_or_damaged_is_not_shown(home, pages, left):
    sent(pages, ("a.jpg", picture()))
    [photograph] = kept(home)
    [file] = home.folder.glob(f"photographs/*/{photograph.sha256}")
    file.unlink()
    if left:
        file.write_bytes(left)
    assert pages.get(f"/photographs/{photograph.id}/small").status_code == 404


def test_only_paths_of_photographs_take_large_bodies(pages):
    large = b"x" * 300_000
    files = [("photographs", ("a.jpg", large, "image/jpeg"))]
    assert pages.post("/stones/ring/photographs", files=files).status_code == 422
    assert pages.post("/stones/ring/readings", files=files).status_code == 413
    too_large = [("photographs", ("a.jpg", b"x" * (21 * 1024 * 1024), "image/jpeg"))]
    assert pages.post("/stones/ring/photographs", files=too_large).status_code == 413
