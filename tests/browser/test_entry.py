"""What eases entering, in a real browser: dragged scales, picked words, found features."""

import socket
import threading
import time
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI, Request
from playwright.sync_api import expect
from starlette.responses import HTMLResponse
from starlette.staticfiles import StaticFiles

from isogyre.desk import open_workbench
from isogyre.desk.page.forms import Remarks, sheets
from isogyre.instruments.hues import hue_weights
from isogyre.population.words import HUES
from isogyre.web import features
from isogyre.web.gate import Gate
from isogyre.web.pages import ENVIRONMENT, STATIC, refusal

pytestmark = pytest.mark.browser

AXE = (Path(__file__).parent / "axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

# One sheet on a page of its own, as any page of the house writes it down.
PAGE = ENVIRONMENT.from_string(
    """{% extends "templates/base.html" %}
{% import "stones/controls.html" as controls %}
{% block title %}{{ page.name }}{% endblock %}
{% block styles %}<link rel="stylesheet" href="{{ asset("entry.css") }}">{% endblock %}
{% block scripts %}<script type="module" src="{{ asset("entry.js") }}"></script>{% endblock %}
{% block main %}<h1>{{ page.name }}</h1><form method="get" action="/sent">
{% for caution in page.cautions %}{{ marks.caution(caution) }}{% endfor %}
<div class="controls">
{% for control in page.controls %}{{ controls.any(control) }}{% endfor %}
</div>
<button class="btn main" type="submit">put it down</button></form>{% endblock %}"""
)
TELLING = ("silk", "gas bubbles")


def sheet_app():
    workbench = open_workbench()
    app = FastAPI()
    app.include_router(features.router(workbench))
    app.mount("/static", StaticFiles(directory=STATIC))

    @app.get("/sheet/{name}")
    def show_sheet(name: str, request: Request):
        entries = dict(request.query_params)
        shown = sheets(workbench, entries, Remarks(telling=TELLING))
        sheet = next(sheet for sheet in shown if sheet.name == name)
        return HTMLResponse(PAGE.render(page=sheet, section="Stones"))

    @app.get("/sent")
    def show_sent(request: Request):
        return dict(request.query_params)

    app.add_middleware(Gate, refuse=refusal)
    return app


@pytest.fixture(scope="module")
def address():
    """Return where the sheets are served."""
    listener = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(sheet_app(), log_level="warning"))
    thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    server.should_exit = True
    thread.join()


LOW, HIGH = "#enter-ri_low", "#enter-ri_high"
REFRACTOMETER = "/sheet/refractometer"


def scale_of(page, key):
    """Return the drawn scale that serves a figure."""
    return page.locator(f"[data-scale~='enter-{key}'] svg")


def centre_of(locator):
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page, handle, by_px):
    handle.scroll_into_view_if_needed()
    x, y = centre_of(handle)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + by_px / 2, y, steps=4)
    page.mouse.move(x + by_px, y, steps=4)
    page.mouse.up()


def typed(page, key):
    return float(page.locator(f"#enter-{key}").input_value().replace(",", "."))


def test_a_dragged_handle_writes_its_figure_to_the_step(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_spot=1.54")
    drag(page, scale_of(page, "ri_spot").locator("[data-handle]"), 60)
    # A step is six pixels wide, so sixty pixels are ten steps, give or take the one it lands in.
    assert abs(typed(page, "ri_spot") - 1.550) <= 0.0011
    assert len(page.locator("#enter-ri_spot").input_value()) == len("1.550")
    assert page.complaints == []


def test_the_arrow_keys_go_on_by_steps_where_a_mouse_has_let_go(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_spot=1.54")
    drag(page, scale_of(page, "ri_spot").locator("[data-handle]"), 60)
    before = typed(page, "ri_spot")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Shift+ArrowUp")
    assert typed(page, "ri_spot") == pytest.approx(before + 0.009)


def test_two_handles_share_a_scale_and_do_not_cross(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_low=1.762&ri_high=1.770", size="wide")
    scale = scale_of(page, "ri_low")
    assert scale.count() == 1
    drag(page, scale.locator("[data-handle='0']"), 200)
    expect(page.locator(LOW)).to_have_value("1.770")
    drag(page, scale.locator("[data-handle='0']"), -90)
    drag(page, scale.locator("[data-handle='1']"), -300)
    assert page.locator(HIGH).input_value() == page.locator(LOW).input_value()
    page.locator(HIGH).press("ArrowDown")
    assert typed(page, "ri_high") == typed(page, "ri_low")


def test_a_scale_follows_what_is_typed_from_end_to_end(open_page):
    page = open_page(REFRACTOMETER)
    for figure in ("1,432", "2.417", "3.5"):
        page.locator(LOW).fill(figure)
        expect(scale_of(page, "ri_low").locator("[data-handle='0']")).to_be_visible()
        expect(scale_of(page, "ri_low")).to_contain_text(f"{figure} lower edge")
    page.locator(LOW).fill("17.62")
    expect(scale_of(page, "ri_low")).to_contain_text("not on this scale")


def test_the_window_moves_on_while_a_handle_is_held_at_its_end(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_spot=1.54")
    handle = scale_of(page, "ri_spot").locator("[data-handle]")
    handle.scroll_into_view_if_needed()
    x, y = centre_of(handle)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(386, y, steps=5)
    # The window held 1.51 to 1.57 when it was taken hold of.
    page.wait_for_function("() => Number(document.querySelector('#enter-ri_spot').value) > 1.6")
    page.mouse.up()
    after = typed(page, "ri_spot")
    page.wait_for_timeout(200)
    assert typed(page, "ri_spot") == after


def test_an_empty_scale_is_set_by_a_tap_as_finely_as_it_is_drawn(open_page):
    page = open_page(REFRACTOMETER)
    scale = scale_of(page, "ri_low")
    expect(scale.locator("[data-handle]")).to_have_count(0)
    box = scale.bounding_box()
    # The whole usual scale, 1.40 to 1.82, is seen; its lower half is the lower edge's.
    page.mouse.click(box["x"] + box["width"] * 0.5, box["y"] + box["height"] - 10)
    expect(page.locator(LOW)).to_have_value("1.61")
    expect(page.locator(HIGH)).to_have_value("")
    page.mouse.click(box["x"] + box["width"] * 0.5 + 60, box["y"] + 10)
    assert 1.615 <= typed(page, "ri_high") <= 1.625


def test_a_finger_drags_a_handle_and_calls_up_no_pad(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_spot=1.54", has_touch=True)
    handle = scale_of(page, "ri_spot").locator("[data-handle]")
    handle.scroll_into_view_if_needed()
    x, y = centre_of(handle)
    session = page.context.new_cdp_session(page)
    for kind, points in (
        ("touchStart", [{"x": x, "y": y}]),
        ("touchMove", [{"x": x + 30, "y": y}]),
        ("touchMove", [{"x": x + 60, "y": y}]),
        ("touchEnd", []),
    ):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    page.wait_for_function("() => document.querySelector('#enter-ri_spot').value !== '1.54'")
    assert abs(typed(page, "ri_spot") - 1.550) <= 0.0011
    assert page.evaluate("document.activeElement === document.body")


def test_what_no_hand_has_touched_is_sent_empty(open_page):
    page = open_page(REFRACTOMETER)
    page.locator(LOW).fill("1.718")
    page.get_by_role("button", name="put it down").click()
    page.wait_for_url("**/sent*")
    sent = page.evaluate("JSON.parse(document.body.innerText)")
    assert {key: text for key, text in sent.items() if text} == {"ri_low": "1.718"}


def test_a_part_of_the_page_that_is_fetched_anew_is_eased_once_too(open_page):
    page = open_page(f"{REFRACTOMETER}?ri_spot=1.54")
    page.evaluate(
        """async () => {
          const fresh = new DOMParser().parseFromString(
            await (await fetch(location.href)).text(), "text/html");
          document.querySelector(".controls").replaceWith(fresh.querySelector(".controls"));
          for (let time = 0; time < 2; time++) document.dispatchEvent(new Event("htmx:load"));
        }"""
    )
    page.get_by_role("button", name="spot on a curved surface, more by 0.001").click()
    expect(scale_of(page, "ri_spot")).to_contain_text("1.541")


def picks(page, control, *words):
    for word in words:
        row = page.locator(f"[data-palette-for='enter-{control}']")
        row.get_by_role("button", name=word, exact=True).click()


def open_palettes(page):
    page.evaluate("document.querySelectorAll('.palette').forEach((fold) => { fold.open = true; })")


def test_words_are_put_where_they_are_said_in_whatever_order_they_are_picked(open_page):
    page = open_page("/sheet/naked eye")
    open_palettes(page)
    box = page.locator("#enter-colour")
    picks(page, "colour", "blue", "greyish", "light", "slightly")
    expect(box).to_have_value("light slightly greyish blue")
    picks(page, "colour", "very dark", "blue-green")
    expect(box).to_have_value("very dark slightly greyish blue-green")
    picks(page, "colour", "slightly", "greyish", "very dark")
    expect(box).to_have_value("blue-green")
    picks(page, "colour", "and another colour", "brownish", "yellow")
    expect(box).to_have_value("blue-green / brownish yellow")
    assert hue_weights(box.input_value()).argmax() in {
        HUES.index("yellow"),
        HUES.index("blue-green"),
    }
    assert page.complaints == []


def test_what_was_typed_beside_the_words_stays(open_page):
    page = open_page("/sheet/naked eye?colour=cornflower blue, zoned")
    open_palettes(page)
    pressed = page.locator("[data-palette-for='enter-colour'] [aria-pressed='true']")
    expect(pressed).to_have_text(["blue"])
    picks(page, "colour", "medium", "violet")
    expect(page.locator("#enter-colour")).to_have_value("cornflower medium violet, zoned")


def test_pleochroism_is_told_by_its_strength_and_its_colours(open_page):
    page = open_page("/sheet/dichroscope")
    open_palettes(page)
    box = page.locator("#enter-pleochroism")
    picks(page, "pleochroism", "blue", "and another colour", "yellow-green", "distinct", "dark")
    expect(box).to_have_value("distinct blue / dark yellow-green")
    picks(page, "pleochroism", "none")
    expect(box).to_have_value("none")
    picks(page, "pleochroism", "weak", "red")
    expect(box).to_have_value("weak red")


def test_a_glow_is_inert_or_has_a_colour(open_page):
    page = open_page("/sheet/ultraviolet lamps")
    open_palettes(page)
    picks(page, "uv_lw", "green", "chalky", "moderate")
    expect(page.locator("#enter-uv_lw")).to_have_value("moderate chalky green")
    picks(page, "uv_lw", "inert")
    expect(page.locator("#enter-uv_lw")).to_have_value("inert")
    expect(page.locator("#enter-uv_sw")).to_have_value("")


def test_a_feature_is_found_by_another_word_for_it_and_put_down(open_page):
    page = open_page("/sheet/loupe and microscope")
    page.get_by_label("find a feature").fill("dried glue")
    item = page.locator("[data-feature]:visible")
    expect(item).to_have_count(1)
    expect(item).to_contain_text("crackled or dried cement")
    expect(page.get_by_role("status")).to_have_text("1 found")
    page.get_by_label("find a feature").press("Enter")
    item.get_by_role("button", name="crackled or dried cement: not seen").click()
    expect(page.locator("#enter-not_seen")).to_have_value("crackled or dried cement")
    expect(item.get_by_role("button", name="not seen")).to_have_attribute("aria-pressed", "true")
    page.get_by_label("find a feature").press("Escape")
    expect(page.locator("[data-feature]:visible")).not_to_have_count(1)
    assert page.complaints == []


def test_a_word_nobody_knows_finds_nothing_and_says_what_to_do(open_page):
    page = open_page("/sheet/loupe and microscope")
    page.get_by_label("find a feature").fill("zzzz")
    expect(page.locator("[data-feature]:visible")).to_have_count(0)
    expect(page.get_by_role("status")).to_contain_text("in your own")


def test_features_that_would_tell_most_stand_open_and_first(open_page):
    page = open_page("/sheet/loupe and microscope")
    shown = page.locator("[data-feature]:visible .feature-name")
    expect(shown).to_have_count(len(TELLING))
    names = page.locator("[data-feature]").evaluate_all("all => all.map(e => e.dataset.feature)")
    assert tuple(names[: len(TELLING)]) == TELLING
    assert len(names) == len(set(names))


def test_a_feature_is_drawn_from_an_address_of_its_content(open_page):
    page = open_page("/sheet/loupe and microscope")
    drawing = page.locator("[data-feature='silk'] img")
    answer = page.request.get(drawing.get_attribute("src"))
    assert answer.headers["content-type"] == "image/svg+xml"
    assert "immutable" in answer.headers["cache-control"]
    assert answer.text().startswith("<svg")
    assert drawing.evaluate("image => image.decode().then(() => image.naturalWidth)") > 0
    assert page.request.get("/features/no such feature.svg").status == 404


@pytest.mark.parametrize("name", ["refractometer", "naked eye", "loupe and microscope"])
def test_without_script_the_boxes_alone_are_there_and_work(open_page, name):
    page = open_page(f"/sheet/{name}", java_script_enabled=False)
    for eased in (".scale-place", ".palette", ".find-feature", ".nudge", ".word-add"):
        for found in page.locator(eased).all():
            expect(found).to_be_hidden()
    box = page.locator("input[type=text], textarea").first
    box.fill("1.7")
    page.get_by_role("button", name="put it down").click()
    expect(page.locator("body")).to_contain_text("1.7")


SHEETS = ["refractometer", "naked eye", "loupe and microscope", "dichroscope", "balance"]


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_can_be_used_by_everybody(open_page, name, light):
    page = open_page(f"/sheet/{name}?ri_low=1.762&colour=blue&sg=3.52", light=light)
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    page.evaluate(AXE)
    found = page.evaluate("(tags) => axe.run(document, {runOnly: tags})", RULES)
    assert [f"{fault['id']}: {fault['nodes'][0]['html']}" for fault in found["violations"]] == []


@pytest.mark.parametrize("width", [320, 390, 1440])
@pytest.mark.parametrize("name", SHEETS)
def test_nothing_of_a_sheet_spills_or_is_too_small_for_a_thumb(open_page, name, width):
    page = open_page(f"/sheet/{name}?ri_low=1.762&ri_high=1.77&colour=blue&sg=3.52")
    page.set_viewport_size({"width": width, "height": 844})
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            '.btn, summary, select, input[type=text], input[type=search], .seg label, .grip')]
          .filter((e) => e.getClientRects().length && e.getBoundingClientRect().height < 43.5)
          .map((e) => e.outerHTML.slice(0, 90))"""
    )
    assert small == []
