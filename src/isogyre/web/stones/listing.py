"""The list of stones, a new stone, and what is said of a stone besides its readings."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from isogyre.desk import House, RecordTroubleError
from isogyre.desk.entering import (
    amend_stone,
    archive_stone,
    enter_stone,
    restore_stone,
    take_custody,
)
from isogyre.desk.page.entering import details_page, new_stone_page
from isogyre.desk.page.listing import Asked, stones_page
from isogyre.web.pages import render
from isogyre.web.typed import typed_in

SECTION = "Stones"


def router(house: House) -> APIRouter:
    """Return the routes of the list, and of what is entered of a stone itself."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/")
    @routes.get("/stones")
    def list_stones(
        words: str = "",
        show: str = "",
        awaits: str = "",
        whose: str = "",
        place: str = "",
        after: Annotated[str, Query(max_length=60)] = "",
    ) -> Response:
        asked = Asked(*map(_plain, (words, show, awaits, whose, place, after)))
        return render("stones/list.html", stones_page(house, asked), SECTION)

    @routes.get("/stones/new")
    def show_new(claim: str = "") -> Response:
        return render("stones/new.html", new_stone_page(house, {"claim": claim}), SECTION)

    @routes.post("/stones/new")
    async def keep_new(request: Request) -> Response:
        return await run_in_threadpool(_keep_new, house, dict(await typed_in(request)))

    @routes.get("/stones/{stone_id}/details")
    def show_details(stone_id: str) -> Response:
        return render("stones/details.html", details_page(house, stone_id), SECTION)

    @routes.post("/stones/{stone_id}/details")
    async def keep_details(request: Request, stone_id: str) -> Response:
        return await run_in_threadpool(_describe, house, stone_id, dict(await typed_in(request)))

    @routes.post("/stones/{stone_id}/custody")
    async def keep_custody(request: Request, stone_id: str) -> Response:
        return await run_in_threadpool(_hand_on, house, stone_id, dict(await typed_in(request)))

    @routes.post("/stones/{stone_id}/archive")
    async def archive(request: Request, stone_id: str) -> Response:
        await run_in_threadpool(archive_stone, house, stone_id)
        return RedirectResponse(f"/stones/{stone_id}", 303)

    @routes.post("/stones/{stone_id}/restore")
    async def restore(request: Request, stone_id: str) -> Response:
        await run_in_threadpool(restore_stone, house, stone_id)
        return RedirectResponse(f"/stones/{stone_id}", 303)

    return routes


def _plain(text: str) -> str:
    # An address may spell a null character, which no database keeps or finds.
    return text.replace("\0", "").strip()


def _keep_new(house: House, typed: dict[str, str]) -> Response:
    try:
        stone_id = enter_stone(house, typed)
    except RecordTroubleError as error:
        page = new_stone_page(house, typed, error.troubles)
        return render("stones/new.html", page, SECTION, 422)
    return RedirectResponse(f"/stones/{stone_id}", 303)


def _describe(house: House, stone_id: str, typed: dict[str, str]) -> Response:
    try:
        amend_stone(house, stone_id, typed)
    except RecordTroubleError as error:
        page = details_page(house, stone_id, typed, error.troubles)
        return render("stones/details.html", page, SECTION, 422)
    return RedirectResponse(f"/stones/{stone_id}", 303)


def _hand_on(house: House, stone_id: str, typed: dict[str, str]) -> Response:
    try:
        take_custody(house, stone_id, typed)
    except RecordTroubleError as error:
        page = details_page(house, stone_id, troubles=error.troubles, handed=typed)
        return render("stones/details.html", page, SECTION, 422)
    return RedirectResponse(f"/stones/{stone_id}", 303)
