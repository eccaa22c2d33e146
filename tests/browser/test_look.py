"""Every page in both lights and both widths: nothing spills, every control can be reached."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

AXE = (Path(__file__).parent / "axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# A path, or what is known of a stone whose page is meant.
PAGES = {
    "new stone": "/stones/new",
    "list": "/stones",
    "bare": {},
    "standing": {
        "colour": "bluish green",
        "ri_low": "1.762",
        "ri_high": "1.770",
        "ri_turn": "full",
        "polariscope": "SR",
        "magnification": ["silk"],
        "not_seen": ["gas bubbles"],
        "claim": "sapphire, not heated",
        "transparency": "transparent",
    },
    "kits": "/kits",
    "own kit": "/kits/new",
    "materials": "/materials?find=garnet",
    "card": "/materials/spinel",
    "unknown": "/materials/no-such-material-at-all",
    "missing": "/nowhere",
}


@pytest.fixture
def path_of(enter):
    def path(name):
        meant = PAGES[name]
        return meant if isinstance(meant, str) else enter(**meant)

    return path


def unfold(page):
    """Open everything that is folded, so that it is looked at too."""
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_a_page_can_be_used_by_everybody(open_page, path_of, name, light):
    page = open_page(path_of(name), light=light)
    unfold(page)
    page.evaluate(AXE)
    found = page.evaluate("(tags) => axe.run(document, {runOnly: tags})", RULES)
    told = [
        f"{fault['id']}: {fault['help']}: {fault['nodes'][0]['html'][:160]}"
        for fault in found["violations"]
    ]
    assert told == []
    assert len(found["passes"]) > 10


@pytest.mark.parametrize("name", PAGES)
def test_nothing_spills_over_the_side(open_page, path_of, name):
    page = open_page(path_of(name))
    unfold(page)
    for width in (320, 390, 768, 1024, 1440):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("name", ["bare", "standing", "materials", "new stone"])
def test_whatever_is_tapped_is_large_enough_for_a_thumb(open_page, path_of, name):
    page = open_page(path_of(name))
    unfold(page)
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            '.btn, summary, select, input[type=text], input[type=search], .seg label, .top a')]
          .filter((e) => e.offsetParent && e.getBoundingClientRect().height < 43.5)
          .map((e) => e.outerHTML.slice(0, 90))"""
    )
    assert small == []


@pytest.mark.parametrize(("system", "other"), [("light", "field"), ("dark", "paper")])
def test_the_light_follows_the_system_until_it_is_switched_and_is_then_remembered(
    open_page, system, other
):
    page = open_page("/materials", light=system)
    ground = "getComputedStyle(document.body).backgroundColor"
    before = page.evaluate(ground)
    page.locator("[data-light-switch]").click()
    after = page.evaluate(ground)
    assert after != before
    page.goto("/materials")
    assert page.evaluate(ground) == after
    assert page.evaluate("document.documentElement.dataset.light") == other


def test_without_script_the_system_s_light_holds_and_no_dead_switch_is_shown(open_page):
    page = open_page("/materials", light="dark", java_script_enabled=False)
    expect(page.locator("[data-light-switch]")).to_be_hidden()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_asks_nobody_but_its_own_server(open_page, address, path_of, name):
    page = open_page("/materials")
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path_of(name))
    page.wait_for_load_state("networkidle")
    assert asked
    assert [url for url in asked if not url.startswith(address)] == []


def test_slash_goes_to_the_box_that_finds(open_page):
    page = open_page("/materials", size="wide")
    page.keyboard.press("/")
    page.keyboard.type("topaz")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("topaz")
