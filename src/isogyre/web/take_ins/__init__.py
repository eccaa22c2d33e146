"""Take-ins: what is here, a piece received, its receipt, and its return."""

from fastapi import APIRouter, HTTPException, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from isogyre.desk import House, RecordTroubleError
from isogyre.desk.page.take_in import (
    new_take_in_page,
    return_page,
    take_in_page,
    take_ins_page,
)
from isogyre.desk.photographs import File, known_pictures, small_picture
from isogyre.desk.take_in import give_back, take_in
from isogyre.web.pages import render
from isogyre.web.photographs import KEPT_FOR_GOOD, pictures_sent, sent_in
from isogyre.web.typed import Typed

SECTION = "Stones"
# A button of this name asks for the page again instead of keeping what it holds.
AGAIN = "again"


def router(house: House) -> APIRouter:
    """Return the routes of take-ins."""
    routes = APIRouter(prefix="/take-ins", include_in_schema=False)

    @routes.get("")
    def list_open() -> Response:
        return render("take_ins/list.html", take_ins_page(house), SECTION)

    @routes.get("/new")
    def show_new(stone: str = "") -> Response:
        page = new_take_in_page(house, {}, stone_id=stone)
        return render("take_ins/new.html", page, SECTION)

    @routes.post("/new")
    async def keep_new(request: Request) -> Response:
        typed, files = await sent_in(request)
        return await run_in_threadpool(_keep_new, house, typed, files)

    @routes.get("/pictures/{sha256}")
    def show_waiting(sha256: str) -> Response:
        if not known_pictures(house, [sha256]):
            raise HTTPException(404)
        small = small_picture(house.photos.get(sha256))
        return Response(small, media_type="image/jpeg", headers=KEPT_FOR_GOOD)

    @routes.get("/{take_in_id}")
    def show(take_in_id: str) -> Response:
        return render("take_ins/take_in.html", take_in_page(house, take_in_id), SECTION)

    @routes.get("/{take_in_id}/return")
    def show_return(take_in_id: str) -> Response:
        return render("take_ins/return.html", return_page(house, take_in_id, {}), SECTION)

    @routes.post("/{take_in_id}/return")
    async def keep_return(request: Request, take_in_id: str) -> Response:
        typed, files = await sent_in(request)
        return await run_in_threadpool(_keep_return, house, take_in_id, typed, files)

    return routes


def _keep_new(house: House, sent: Typed, files: list[File]) -> Response:
    typed, stone_id = dict(sent), dict(sent).get("stone", "")
    pictures, troubles = pictures_sent(house, sent, files)
    try:
        if troubles:
            raise RecordTroubleError(troubles)
        if AGAIN not in typed:
            take_in_id = take_in(house, typed, pictures, stone_id)
            return RedirectResponse(f"/take-ins/{take_in_id}", 303)
    except RecordTroubleError as error:
        troubles = list(error.troubles)
    page = new_take_in_page(house, typed, troubles, pictures, stone_id)
    return render("take_ins/new.html", page, SECTION, 422 if troubles else 200)


def _keep_return(house: House, take_in_id: str, sent: Typed, files: list[File]) -> Response:
    typed = dict(sent)
    pictures, troubles = pictures_sent(house, sent, files)
    try:
        if troubles:
            raise RecordTroubleError(troubles)
        if AGAIN not in typed:
            give_back(house, take_in_id, typed, pictures)
            return RedirectResponse(f"/take-ins/{take_in_id}", 303)
    except RecordTroubleError as error:
        troubles = list(error.troubles)
    page = return_page(house, take_in_id, typed, troubles, pictures, is_compared=True)
    return render("take_ins/return.html", page, SECTION, 422 if troubles else 200)
