"""A ring is taken in on a phone, its receipt printed, and the ring given back."""

import re
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

AXE = (Path(__file__).parent / "axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# One A4 side at 96 px to the inch, inside margins of 14 mm.
A4_WIDTH_PX, A4_HEIGHT_PX = 688, 1016
SIZES_PX = (320, 390, 768, 1440)


def picture(name="ring.png", shade=110):
    written = BytesIO()
    Image.new("RGB", (900, 600), (120, 120, shade)).save(written, "PNG")
    return {"name": name, "mimeType": "image/png", "buffer": written.getvalue()}


def mark(page, number, kind, place, severity):
    group = page.get_by_role("group", name=f"damage {number}", exact=True)
    group.get_by_label("kind").select_option(kind)
    group.get_by_label(re.compile("^where")).fill(place)
    group.get_by_role("radio", name=severity).check(force=True)


def take_in(page, client):
    page.get_by_label(re.compile("^client")).fill(client)
    page.get_by_label(re.compile("^what it is")).fill("yellow ring with a green stone")
    page.get_by_label(re.compile("^weight")).fill("4.31")
    page.locator("#photographs-file").set_input_files([picture()])
    mark(page, 1, "chip", "girdle at 3 o’clock", "slight")
    mark(page, 2, "worn prong", "prong at 11 o’clock", "clear")
    page.get_by_label(re.compile("^value")).fill("1 200")
    page.get_by_label(re.compile("^promised for")).fill("2031-05-31")
    page.get_by_label(re.compile("^risk agreed")).fill("the emerald may not survive setting")


def pass_axe(page):
    page.wait_for_load_state("load")
    page.evaluate(AXE)
    found = page.evaluate("(tags) => axe.run(document, {runOnly: tags})", RULES)
    assert [(fault["id"], fault["nodes"][0]["html"][:160]) for fault in found["violations"]] == []
    assert len(found["passes"]) > 10


@pytest.mark.parametrize("script", [True, False])
def test_a_ring_is_taken_in_printed_and_given_back(open_page, script):
    page = open_page("/take-ins", java_script_enabled=script)
    page.locator(".keel").get_by_role("link", name="take in").click()
    take_in(page, f"Client {script}")
    page.locator(".keel").get_by_role("button", name="take in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Receipt")
    receipt = page.url

    page.emulate_media(media="print")
    page.set_viewport_size({"width": A4_WIDTH_PX, "height": A4_HEIGHT_PX})
    expect(page.get_by_text("nothing in it is an identification")).to_be_visible()
    expect(page.get_by_text("handed over")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("^Marks on a clock"))).to_be_visible()
    expect(page.get_by_role("link", name="give it back")).to_be_hidden()
    assert page.locator("#main").bounding_box()["height"] <= A4_HEIGHT_PX

    page.emulate_media(media="screen")
    page.get_by_role("link", name="give it back").click()
    page.get_by_label(re.compile("^weight now")).fill("4.32")
    for state, group in (("as it was", re.compile("^1: ")), ("mended", re.compile("^2: "))):
        marked = page.get_by_role("group", name=group)
        marked.get_by_role("radio", name=state).check(force=True)
    page.locator("#photographs-file").set_input_files([picture("after.png")])
    page.get_by_role("button", name=re.compile("^compare")).click()
    expect(page.get_by_role("radio", name="changed")).to_be_checked()
    expect(page.locator("#main")).to_contain_text("worn prong, prong at 11 o’clock: mended")
    page.get_by_role("button", name="give it back").click()
    expect(page.locator("#main")).to_contain_text("Went back on")
    assert page.url == receipt
    expect(page.locator("#main img")).to_have_count(2)
    assert page.complaints == []


def test_a_receipt_with_much_to_say_stays_on_one_side(open_page):
    page = open_page("/take-ins/new")
    take_in(page, "Client with a full case")
    for number in range(3, 9):
        page.get_by_role("button", name="room for another mark").click()
        mark(page, number, "chip", f"girdle at {number} o’clock, seen from the table", "slight")
    page.get_by_label(re.compile("^what is to be done")).fill("two prongs new, polish. " * 12)
    pictures = [picture(f"{number}.png", shade=number) for number in range(15)]
    page.locator("#photographs-file").set_input_files(pictures)
    page.locator(".keel").get_by_role("button", name="take in").click()
    expect(page.locator("#main img")).to_have_count(16)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": A4_WIDTH_PX, "height": A4_HEIGHT_PX})
    expect(page.get_by_text("handed over")).to_be_visible()
    assert page.locator("#main").bounding_box()["height"] <= A4_HEIGHT_PX


@pytest.mark.parametrize("light", ["light", "dark"])
def test_take_ins_can_be_used_by_everybody(open_page, light):
    page = open_page("/take-ins/new", light=light)
    pass_axe(page)
    page.locator(".keel").get_by_role("button", name="take in").click()
    expect(page.get_by_role("alert")).to_contain_text("client")
    pass_axe(page)
    take_in(page, "Client who reads by ear")
    page.locator(".keel").get_by_role("button", name="take in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Receipt")
    pass_axe(page)
    page.get_by_role("link", name="give it back").click()
    with page.expect_navigation():
        page.get_by_role("button", name=re.compile("^compare")).click()
    pass_axe(page)
    page.goto("/take-ins")
    pass_axe(page)


def test_nothing_spills_over_the_side(open_page):
    page = open_page("/take-ins/new")
    take_in(page, "Client" * 12)
    page.locator(".keel").get_by_role("button", name="take in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Receipt")
    receipt = page.url
    for width in SIZES_PX:
        page.set_viewport_size({"width": width, "height": 844})
        for path in ("/take-ins", "/take-ins/new", receipt, f"{receipt}/return"):
            page.goto(path)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (width, path)
