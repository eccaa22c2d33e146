"""The comparison in a real browser: it fits a phone, everybody can use it, figures answer."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

AXE = (Path(__file__).parent / "axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
THREE = "/materials/compare?with=ruby&with=spinel&with=pyrope-almandine"
PAGES = {
    "two": "/materials/compare?with=natural+ruby&with=synthetic+ruby",
    "three": THREE,
    "blank": "/materials/compare",
    "refused": "/materials/compare?with=xyzzy&with=hydrothermal+spinel",
    "card": "/materials/beryl",
    "list": "/materials",
}


def unfold(page):
    """Open everything that is folded, so that it is looked at too."""
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_the_comparison_can_be_used_by_everybody(open_page, name, light):
    page = open_page(PAGES[name], light=light)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    unfold(page)
    page.evaluate(AXE)
    found = page.evaluate("(tags) => axe.run(document, {runOnly: tags})", RULES)
    assert [f"{v['id']}: {v['nodes'][0]['html'][:160]}" for v in found["violations"]] == []
    assert len(found["passes"]) > 10


@pytest.mark.parametrize("width", [320, 390, 768, 1024, 1440])
@pytest.mark.parametrize("name", PAGES)
def test_three_kinds_fit_a_phone_without_spilling(open_page, name, width):
    page = open_page(PAGES[name])
    page.set_viewport_size({"width": width, "height": 844})
    unfold(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scripted", [True, False])
def test_a_figure_says_who_measured_it(open_page, scripted):
    page = open_page(THREE, java_script_enabled=scripted)
    row = page.locator(".property-row").first
    row.get_by_role("button").click()
    answer = page.locator(".how:popover-open")
    expect(answer).to_contain_text("ordinary index")
    expect(answer.get_by_role("link").first).to_be_visible()


def test_two_kinds_are_chosen_and_compared_by_keyboard(open_page):
    page = open_page("/materials/compare", size="wide")
    page.get_by_label("first").focus()
    page.keyboard.type("ruby")
    page.keyboard.press("Tab")
    page.keyboard.type("red spinel")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Ruby or red spinel?")
    expect(page.locator(".verdict").first).to_contain_text("Refractometer")


def test_a_card_leads_to_the_comparison(open_page):
    page = open_page("/materials/spinel", size="wide")
    page.locator("#alike ~ details summary").first.click()
    page.get_by_role("link", name="compare", exact=True).first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Spinel or corundum?")
