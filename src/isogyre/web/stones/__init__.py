"""The page of a stone: what was read, where it stands, what to test next."""

from urllib.parse import parse_qsl, urlencode

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from isogyre.desk import Workbench
from isogyre.desk.page import stone_page
from isogyre.desk.page.forms import entries_in
from isogyre.web.pages import render
from isogyre.web.stones.examples import EXAMPLES, StoneView

# A stone is kept in the address, so that it can be marked, sent on and gone back to; one that is
# too long for that is answered in place.
LONGEST_ADDRESS = 6000
# What the page asks besides the stone's own entries.
ASKED = ("kit", "settle", "example")


def router(workbench: Workbench) -> APIRouter:
    """Return the routes of the stone's page."""
    routes = APIRouter(include_in_schema=False)

    def answer(typed: list[tuple[str, str]]) -> Response:
        asked = {key: text for key, text in typed if key in ASKED}
        page = stone_page(
            workbench, entries_in(workbench, typed), asked.get("kit", ""), asked.get("settle", "")
        )
        example = EXAMPLES.get(asked.get("example", ""))
        return render("stones/stone.html", StoneView(page, example), "Stones")

    @routes.get("/")
    async def show_stone(request: Request) -> Response:
        return await run_in_threadpool(answer, request.query_params.multi_items())

    @routes.post("/")
    async def weigh_stone(request: Request) -> Response:
        body = (await request.body()).decode(errors="replace")
        typed = [(key, text.replace("\r\n", "\n")) for key, text in parse_qsl(body)]
        kept = entries_in(workbench, typed) | {key: text for key, text in typed if key in ASKED}
        address = f"/?{urlencode(kept)}"
        if len(address) <= LONGEST_ADDRESS:
            return RedirectResponse(address, status_code=303)
        return await run_in_threadpool(answer, typed)

    return routes
