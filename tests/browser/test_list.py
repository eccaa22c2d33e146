"""The list and the counter in a real browser: with one thumb, by the keyboard, without script."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

AXE = (Path(__file__).parent / "axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# What a person does at a dealer's table before the stone goes back into its paper: open the
# form, three things touched and two typed, keep. One more is left for a slip of the thumb.
MOST_ACTIONS = 8
SIZES_PX = (320, 390, 768, 1024, 1440)


class Thumb:
    """One thumb, whose taps and typed words are counted."""

    def __init__(self, page):
        self.page, self.actions = page, 0

    def tap(self, target):
        self.actions += 1
        target.tap()

    def type(self, words):
        self.actions += 1
        self.page.keyboard.type(words)


def row(page, name):
    return page.locator(".stone-row", has_text=name)


@pytest.mark.parametrize("script", [True, False])
def test_a_stone_is_entered_from_the_list_with_one_thumb(open_page, script):
    page = open_page("/stones", has_touch=True, java_script_enabled=script)
    thumb = Thumb(page)
    thumb.tap(page.locator(".keel").get_by_role("link", name="new stone"))
    thumb.tap(page.get_by_label("said to be"))
    thumb.type("padparadscha")
    thumb.tap(page.get_by_label(re.compile("^price asked")))
    thumb.type("480")
    thumb.tap(page.locator("label", has=page.get_by_role("radio", name="carat", exact=True)))
    thumb.tap(page.locator("label", has=page.get_by_role("radio", name="market", exact=True)))
    thumb.tap(page.get_by_role("button", name="keep", exact=True))
    expect(page.get_by_role("heading", level=1)).to_contain_text("padparadscha")
    expect(page.locator("#main")).to_contain_text("EUR 480 a carat")
    assert thumb.actions <= MOST_ACTIONS
    assert re.fullmatch(r".*/stones/[0-9a-f]+", page.url)


def test_what_is_needed_at_the_counter_is_seen_without_scrolling(open_page):
    page = open_page("/stones/new")
    keel = page.locator(".keel").bounding_box()
    for control in ("#enter-claim", "#enter-asking", "#enter-asking_per", "#enter-met"):
        box = page.locator(control).bounding_box()
        assert box["y"] + box["height"] <= keel["y"]


@pytest.mark.parametrize("script", [True, False])
def test_a_bad_price_keeps_every_entry_and_is_led_to(open_page, script):
    page = open_page("/stones/new", java_script_enabled=script)
    page.get_by_label("said to be").fill("ruby, “no heat” & <old>")
    page.get_by_label(re.compile("^price asked")).fill("four hundred")
    page.get_by_role("radio", name="parcel", exact=True).check(force=True)
    page.get_by_role("button", name="keep", exact=True).click()
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("price asked")
    expect(page.get_by_label("said to be")).to_have_value("ruby, “no heat” & <old>")
    price = page.locator("#enter-asking")
    expect(price).to_have_value("four hundred")
    expect(price).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#enter-asking-more")).to_contain_text("four hundred")
    expect(page.get_by_role("radio", name="parcel", exact=True)).to_be_checked()
    alert.get_by_role("link").click()
    expect(price).to_be_in_viewport()


def test_a_bad_entry_that_was_folded_away_is_unfolded(open_page):
    page = open_page("/stones/new", java_script_enabled=False)
    page.get_by_text("name, measures, place and more").click()
    page.get_by_label("length").fill("long")
    page.get_by_role("button", name="keep", exact=True).click()
    expect(page.get_by_label("length")).to_be_visible()
    expect(page.get_by_label("length")).to_have_value("long")


@pytest.mark.parametrize("script", [True, False])
def test_the_list_is_narrowed_and_widened_again(open_page, enter, script):
    enter(id="Quiet zoisite", colour="blue")
    enter(id="Loud spinel", colour="red")
    page = open_page("/stones", size="wide", java_script_enabled=script)
    page.get_by_label("find").fill("quiet")
    page.get_by_role("button", name="show").click()
    expect(row(page, "Quiet zoisite").first).to_be_visible()
    expect(row(page, "Loud spinel")).to_have_count(0)
    page.get_by_role("link", name=re.compile("^archived")).click()
    expect(page.get_by_label("find")).to_have_value("quiet")
    expect(page.locator("#main")).to_contain_text("No stone is found by that")
    page.get_by_role("link", name="Show all").click()
    expect(row(page, "Loud spinel").first).to_be_visible()


def test_a_stone_is_found_and_opened_by_the_keyboard_alone(open_page, enter):
    enter(id="Kornerupine 7", colour="green")
    page = open_page("/stones", size="wide")
    page.keyboard.press("/")
    page.keyboard.type("kornerupine")
    page.keyboard.press("Enter")
    expect(row(page, "Kornerupine 7")).to_be_visible()
    page.get_by_role("link", name="Kornerupine 7").first.focus()
    outline = "getComputedStyle(document.querySelector('.stone-row')).outlineStyle"
    assert page.evaluate(outline) == "solid"
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Kornerupine 7")


def test_a_row_is_one_link_wherever_it_is_tapped(open_page, enter):
    enter(id="Whole row", measures_mm=[9, 7, 4], colour="violet")
    page = open_page("/stones?words=whole+row", has_touch=True)
    page.locator(".stone-plan").first.tap(force=True)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Whole row")


@pytest.fixture
def details(enter):
    return enter(id="Handed on", claim="ruby", colour="red") + "/details"


def test_a_stone_is_handed_on_and_the_list_says_to_whom(open_page, details):
    page = open_page(details)
    page.get_by_role("radio", name="out to setter").check(force=True)
    page.get_by_role("button", name="keep whose it is").click()
    expect(page.get_by_role("alert")).to_contain_text("name somebody")
    expect(page.get_by_role("radio", name="out to setter")).to_be_checked()
    page.get_by_role("combobox", name="who").fill("Setter over the way")
    page.get_by_label("due back").fill("2031-05-31")
    page.get_by_role("button", name="keep whose it is").click()
    expect(page).to_have_url(re.compile(r"/stones/[0-9a-f]+$"))
    page.goto("/stones?whose=out+to+setter")
    expect(row(page, "Handed on").first).to_contain_text("Setter over the way, due 31 May 2031")


@pytest.mark.parametrize("light", ["light", "dark"])
def test_details_can_be_used_by_everybody(open_page, details, light):
    page = open_page(details, light=light)
    page.get_by_role("button", name="keep whose it is").click()
    expect(page.get_by_role("alert")).to_be_visible()
    page.wait_for_load_state("load")
    page.evaluate(AXE)
    found = page.evaluate("(tags) => axe.run(document, {runOnly: tags})", RULES)
    assert [(fault["id"], fault["nodes"][0]["html"][:160]) for fault in found["violations"]] == []
    assert len(found["passes"]) > 10


@pytest.mark.parametrize("width", SIZES_PX)
def test_nothing_spills_over_the_side_however_long_the_words(open_page, enter, width):
    address = enter(
        id="Kornerupine" * 8,
        claim="chrysoberyl" * 9,
        measures_mm=[9, 7, 4],
        colour="very slightly bluish green",
    )
    page = open_page("/stones")
    page.set_viewport_size({"width": width, "height": 844})
    for path in ("/stones?words=kornerupinekorner", "/stones/new", f"{address}/details"):
        page.goto(path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
