"""Readings are kept in a real browser: with a thumb, with the keyboard alone, without script."""

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

SPINEL = {"colour": "red", "ri_low": "1.718", "ri_high": "1.718", "polariscope": "SR"}


def sheet(page, name):
    return page.locator("details.sheet", has=page.get_by_text(name, exact=True)).first


def open_sheet(page, name):
    sheet(page, name).locator("summary").first.click()


def figure(page, key):
    return page.locator(f"#enter-{key}")


def keep(page, name):
    sheet(page, name).get_by_role("button", name=re.compile("^keep")).click()


def tab_to(page, pattern, most=90):
    for _ in range(most):
        page.keyboard.press("Tab")
        said = page.evaluate(
            "() => { const e = document.activeElement;"
            " const said = (e.labels?.[0] ?? e).textContent + ' ' + e.tagName;"
            " return said.trim().replace(/\\s+/g, ' '); }"
        )
        if re.search(pattern, said):
            return
    pytest.fail(f"no way to {pattern} by Tab")


def test_each_reading_changes_the_standing_at_once_and_the_page_stays(open_page, enter):
    page = open_page(enter(colour="blue"))
    page.evaluate("window.isTheSamePage = true")
    open_sheet(page, "refractometer")
    figure(page, "ri_low").fill("1,762")
    figure(page, "ri_high").fill("1.770")
    keep(page, "refractometer")
    verdict = page.locator(".verdict")
    expect(verdict).to_contain_text("Corundum")
    before = verdict.text_content()
    open_sheet(page, "polariscope and conoscope")
    page.get_by_role("radio", name="SR", exact=True).check()
    keep(page, "polariscope and conoscope")
    expect(page.locator(".fit")).to_contain_text("Look at it again first")
    assert verdict.text_content() != before
    assert page.evaluate("window.isTheSamePage")
    expect(page.locator("#heard")).to_have_text(verdict.text_content().strip())
    expect(figure(page, "ri_low")).to_have_value("1,762")
    assert page.complaints == []


def test_without_script_a_reading_is_kept_and_weighed_too(open_page, enter):
    page = open_page(enter(colour="blue"), java_script_enabled=False)
    open_sheet(page, "refractometer")
    figure(page, "ri_low").fill("1.762")
    figure(page, "ri_high").fill("1.770")
    keep(page, "refractometer")
    expect(page.locator(".verdict")).to_contain_text("Corundum")


@pytest.mark.parametrize("script", [True, False])
def test_a_bad_entry_keeps_every_value_and_says_what_to_mend(open_page, enter, script):
    page = open_page(enter(), java_script_enabled=script)
    open_sheet(page, "naked eye")
    page.get_by_label("colour", exact=True).fill("bluish green")
    open_sheet(page, "refractometer")
    figure(page, "ri_low").fill("17.62")
    figure(page, "ri_high").fill("1.770")
    keep(page, "refractometer")
    expect(page.get_by_role("alert")).to_contain_text("17.62 lies outside 1.3 to 3.5")
    bad = figure(page, "ri_low")
    expect(bad).to_be_visible()
    expect(bad).to_have_value("17.62")
    expect(bad).to_have_attribute("aria-invalid", "true")
    expect(figure(page, "ri_high")).to_have_value("1.770")
    expect(figure(page, "colour")).to_have_value("bluish green")
    bad.fill("1.762")
    keep(page, "refractometer")
    expect(page.locator(".verdict")).to_contain_text("Corundum")


def test_a_stone_is_read_by_the_keyboard_alone(open_page, enter):
    page = open_page(enter(), size="wide")
    keys = page.keyboard
    tab_to(page, "^to the page")
    tab_to(page, "^naked eye.* SUMMARY")
    keys.press("Enter")
    tab_to(page, "^colour INPUT")
    keys.type("red")
    tab_to(page, "^refractometer.* SUMMARY")
    keys.press("Enter")
    tab_to(page, "^lower edge")
    keys.type("1.717")
    keys.press("ArrowUp")
    tab_to(page, "^upper edge")
    keys.type("1.708")
    keys.press("Shift+ArrowUp")
    keys.press("Enter")
    expect(page.locator(".verdict")).to_contain_text("Spinel")
    expect(figure(page, "ri_low")).to_have_value("1.718")
    expect(figure(page, "ri_high")).to_have_value("1.718")
    assert page.complaints == []


def test_what_was_typed_elsewhere_outlives_another_question(open_page, enter):
    page = open_page(enter(**SPINEL), size="wide")
    open_sheet(page, "loupe and microscope")
    page.get_by_label("seen with loupe or microscope").fill("octahedra")
    page.get_by_role("link", name="natural or not", exact=True).click()
    expect(page.locator("[aria-current=true]", has_text="natural or not")).to_be_visible()
    box = page.get_by_label("seen with loupe or microscope")
    expect(box).to_be_visible()
    expect(box).to_have_value("octahedra")


def test_a_reading_is_taken_back_and_put_back(open_page, enter):
    page = open_page(enter(**SPINEL))
    open_sheet(page, "refractometer")
    page.get_by_role("button", name="take back lower edge 1.718").click()
    expect(figure(page, "ri_low")).to_have_value("")
    page.get_by_role("button", name="put back 1.718").click()
    expect(figure(page, "ri_low")).to_have_value("1.718")


def test_what_has_the_focus_is_seen_to_have_it(open_page, enter):
    page = open_page(enter(**SPINEL), size="wide")
    for _ in range(8):
        page.keyboard.press("Tab")
        width = page.evaluate("() => getComputedStyle(document.activeElement).outlineWidth")
        shown = page.evaluate(
            "() => document.activeElement.matches('.skip') ||"
            " getComputedStyle(document.activeElement).outlineStyle !== 'none'"
        )
        assert shown and float(width.removesuffix("px")) >= 2


def test_a_test_worth_making_leads_to_its_field(open_page, enter):
    page = open_page(enter(colour="red", polariscope="SR"), size="wide")
    link = page.locator(".test h3 a").first
    target = link.get_attribute("href")
    link.click()
    expect(page.locator(target)).to_be_visible()


def test_a_number_says_how_it_came_about(open_page, enter):
    page = open_page(enter(**SPINEL))
    page.locator(".verdict .ask").click()
    expect(page.locator("#how-species-0")).to_be_visible()
    expect(page.locator("#how-species-0")).to_contain_text("odds before × weight")
    page.keyboard.press("Escape")
    expect(page.locator("#how-species-0")).to_be_hidden()


def test_two_tabs_on_one_stone_keep_both_readings(open_page, enter):
    path = enter(colour="red")
    one, other = open_page(path), open_page(path)
    open_sheet(one, "refractometer")
    figure(one, "ri_low").fill("1.718")
    figure(one, "ri_high").fill("1.718")
    keep(one, "refractometer")
    expect(one.locator(".verdict")).to_contain_text("Spinel")
    open_sheet(other, "polariscope and conoscope")
    other.get_by_role("radio", name="SR", exact=True).check()
    keep(other, "polariscope and conoscope")
    expect(figure(other, "ri_low")).to_have_value("1.718")
    expect(other.locator(".verdict")).to_contain_text("Spinel")


def test_back_returns_to_the_stone_as_it_was(open_page, enter):
    page = open_page(enter(**SPINEL))
    page.locator(".names a").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Spinel")
    page.go_back()
    expect(page.locator(".verdict")).to_contain_text("Spinel, about")
    expect(figure(page, "ri_low")).to_have_value("1.718")


def test_the_page_is_printed_without_its_controls(open_page, enter):
    page = open_page(enter(**SPINEL), size="wide")
    page.emulate_media(media="print")
    expect(page.locator(".verdict")).to_be_visible()
    for control in (".keel", ".top", ".choosers", ".sheet.unread"):
        expect(page.locator(control).first).to_be_hidden()
