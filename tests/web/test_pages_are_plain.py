"""No page carries script or style of its own, or fetches anything from elsewhere."""

import re

import pytest

from isogyre.web.pages import STATIC

PATHS = [
    "/",
    "/?colour=bluish+green&ri_low=1.762&ri_high=1.770&ri_turn=full&uv_sw=weak+blue&claim=ruby",
    "/?ri_low=1.7&ri_high=1.6",
    "/?id=alone",
    "/materials",
    "/materials?find=zzzzqq",
    "/materials/corundum",
    "/materials/no such stone",
    "/nowhere",
]


@pytest.mark.parametrize("path", PATHS)
def test_a_page_has_no_inline_script_and_no_inline_style(client, read_page, path):
    page = read_page(client.get(path).text)
    for tag, element in page.elements:
        assert tag != "style"
        assert "style" not in element
        assert not [name for name in element if name.startswith("on")]
        assert tag != "script" or element["src"].startswith("/static/")


@pytest.mark.parametrize("path", PATHS)
def test_a_page_points_nowhere_else(client, read_page, path):
    page = read_page(client.get(path).text)
    for tag, element in page.elements:
        for name in ("src", "href", "action", "formaction"):
            address = element.get(name, "/")
            assert address.startswith(("/", "#")), (tag, address)
            assert not address.startswith("//")


@pytest.mark.parametrize("path", PATHS)
def test_every_control_has_a_label_and_no_id_stands_twice(client, read_page, path):
    page = read_page(client.get(path).text)
    ids = [element["id"] for _, element in page.elements if "id" in element]
    assert len(ids) == len(set(ids))
    labelled = {element["for"] for tag, element in page.elements if "for" in element}
    for tag, element in page.elements:
        if tag in {"select", "textarea"} or element.get("type") in {"text", "search"}:
            assert element["id"] in labelled


@pytest.mark.parametrize("path", PATHS)
def test_every_link_within_a_page_has_its_end(client, read_page, path):
    page = read_page(client.get(path).text)
    ids = {element["id"] for _, element in page.elements if "id" in element}
    ends = {e["href"][1:] for _, e in page.elements if e.get("href", "").startswith("#")}
    assert ends <= ids


def test_static_files_load_nothing_from_elsewhere():
    for file in STATIC.rglob("*"):
        if file.suffix in {".css", ".js"}:
            # The name of the space that drawings live in is an address nobody asks.
            text = file.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
            assert not re.search(r"https?://|@import|url\(//", text), file.name


def test_the_face_is_shipped_with_its_licence():
    fonts = STATIC / "fonts"
    assert len(list(fonts.glob("*.woff2"))) == 4
    assert "SIL OPEN FONT LICENSE" in (fonts / "OFL.txt").read_text("utf-8").upper()


def test_a_static_file_is_kept_by_its_content(client, read_page):
    page = read_page(client.get("/nowhere").text)
    sheets = [e["href"] for _, e in page.elements if e.get("rel") == "stylesheet"]
    assert sheets
    for sheet in sheets:
        assert "immutable" in client.get(sheet).headers["cache-control"]
    assert "immutable" not in client.get("/static/house.css").headers["cache-control"]
