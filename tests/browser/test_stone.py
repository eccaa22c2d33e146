"""A stone is entered in a real browser: with a thumb, with the keyboard alone, without script."""

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


def open_sheet(page, name):
    page.locator("details.sheet", has=page.get_by_text(name, exact=True)).first.locator(
        "summary"
    ).first.click()


def figure(page, key):
    return page.locator(f"#enter-{key}")


def test_a_stone_is_entered_on_a_phone_and_its_standing_is_seen(open_page):
    page = open_page("/")
    page.get_by_label("colour", exact=True).fill("blue")
    open_sheet(page, "refractometer")
    figure(page, "ri_low").fill("1,762")
    figure(page, "ri_high").fill("1.770")
    open_sheet(page, "polariscope and conoscope")
    page.get_by_role("radio", name="DR", exact=True).check()
    page.get_by_role("button", name="weigh", exact=True).click()
    verdict = page.locator(".verdict")
    expect(verdict).to_contain_text("Corundum")
    expect(verdict).to_contain_text("to 1 on")
    expect(page.get_by_role("heading", name="standing")).to_be_visible()
    expect(figure(page, "ri_low")).to_have_value("1,762")
    assert page.complaints == []


@pytest.mark.parametrize("script", [True, False])
def test_a_bad_entry_keeps_every_value_and_says_what_to_mend(open_page, script):
    page = open_page("/", java_script_enabled=script)
    page.get_by_label("colour", exact=True).fill("bluish green")
    open_sheet(page, "refractometer")
    figure(page, "ri_low").fill("17.62")
    figure(page, "ri_high").fill("1.770")
    page.get_by_role("button", name="weigh", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("17.62 lies outside 1.3 to 3.5")
    bad = figure(page, "ri_low")
    expect(bad).to_be_visible()
    expect(bad).to_have_value("17.62")
    expect(bad).to_have_attribute("aria-invalid", "true")
    expect(figure(page, "ri_high")).to_have_value("1.770")
    expect(page.get_by_label("colour", exact=True)).to_have_value("bluish green")


def test_a_stone_is_entered_by_the_keyboard_alone(open_page):
    page = open_page("/", size="wide")
    keys = page.keyboard

    def tab_to(pattern, most=60):
        for _ in range(most):
            keys.press("Tab")
            said = page.evaluate(
                "() => { const e = document.activeElement;"
                " const said = (e.labels?.[0] ?? e).textContent + ' ' + e.tagName;"
                " return said.trim().replace(/\\s+/g, ' '); }"
            )
            if re.search(pattern, said):
                return
        pytest.fail(f"no way to {pattern} by Tab")

    tab_to("^to the page")
    tab_to("^colour INPUT")
    keys.type("red")
    tab_to("^refractometer.* SUMMARY")
    keys.press("Enter")
    tab_to("^lower edge")
    keys.type("1.717")
    keys.press("ArrowUp")
    tab_to("^upper edge")
    keys.type("1.708")
    keys.press("Shift+ArrowUp")
    tab_to("^polariscope and conoscope.* SUMMARY")
    keys.press("Enter")
    tab_to("not yet INPUT")
    keys.press("ArrowRight")
    tab_to("weigh the readings BUTTON")
    keys.press("Enter")
    expect(page.locator(".verdict")).to_contain_text("Spinel")
    expect(figure(page, "ri_low")).to_have_value("1.718")
    expect(figure(page, "ri_high")).to_have_value("1.718")
    assert page.complaints == []


def test_enter_in_a_figure_weighs_the_stone(open_page):
    page = open_page("/?colour=red&ri_low=1.718", size="wide")
    open_sheet(page, "refractometer")
    figure(page, "ri_high").fill("1.718")
    page.keyboard.press("Enter")
    expect(page.locator(".verdict")).to_contain_text("Spinel")


def test_what_has_the_focus_is_seen_to_have_it(open_page):
    page = open_page("/", size="wide")
    for _ in range(8):
        page.keyboard.press("Tab")
        width = page.evaluate("() => getComputedStyle(document.activeElement).outlineWidth")
        shown = page.evaluate(
            "() => document.activeElement.matches('.skip') ||"
            " getComputedStyle(document.activeElement).outlineStyle !== 'none'"
        )
        assert shown and float(width.removesuffix("px")) >= 2


def test_a_test_worth_making_leads_to_its_field(open_page):
    page = open_page("/?colour=red&polariscope=SR", size="wide")
    link = page.locator(".test h3 a").first
    target = link.get_attribute("href")
    link.click()
    expect(page.locator(target)).to_be_visible()


def test_a_number_says_how_it_came_about(open_page):
    page = open_page("/?colour=red&ri_low=1.718&ri_high=1.718&polariscope=SR")
    page.locator(".verdict .ask").click()
    expect(page.locator("#how-odds")).to_be_visible()
    expect(page.locator("#how-odds")).to_contain_text("odds before × weight")
    page.keyboard.press("Escape")
    expect(page.locator("#how-odds")).to_be_hidden()


def test_a_word_of_the_loupe_is_added_and_taken_out_with_a_tap(open_page):
    page = open_page("/")
    open_sheet(page, "loupe and microscope")
    page.get_by_text("words it knows").click()
    page.get_by_role("button", name="gas bubbles: not seen", exact=True).click()
    box = page.get_by_label("looked for and not seen")
    expect(box).to_have_value("gas bubbles")
    page.get_by_role("button", name="gas bubbles: not seen", exact=True).click()
    expect(box).to_have_value("")


def test_back_returns_to_the_stone_as_it_was(open_page):
    page = open_page("/?colour=red&ri_low=1.718&ri_high=1.718&polariscope=SR")
    page.locator(".names a").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Spinel")
    page.go_back()
    expect(page.locator(".verdict")).to_contain_text("Spinel, about")
    expect(figure(page, "ri_low")).to_have_value("1.718")
