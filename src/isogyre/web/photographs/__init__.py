"""Photographs of stones: added, shown whole and shown small."""

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from isogyre.desk import House, RecordTroubleError
from isogyre.desk.photographs import (
    File,
    Refused,
    add_photographs,
    keep_pictures,
    known_pictures,
    photograph_bytes,
    photographs_page,
    small_picture,
)
from isogyre.web.pages import render
from isogyre.web.typed import KEPT, Typed

SECTION = "Stones"
# What lies under the id of a photograph never changes.
KEPT_FOR_GOOD = {"cache-control": "private, max-age=31536000, immutable"}
MOST_FILES = 40


def router(house: House) -> APIRouter:
    """Return the routes of photographs."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/stones/{stone_id}/photographs")
    def show_photographs(stone_id: str) -> Response:
        return render("photographs/page.html", photographs_page(house, stone_id), SECTION)

    @routes.post("/stones/{stone_id}/photographs")
    async def add(request: Request, stone_id: str) -> Response:
        typed, files = await sent_in(request)
        return await run_in_threadpool(_add, house, stone_id, typed, files)

    @routes.get("/photographs/{photograph_id}")
    def show_whole(photograph_id: str) -> Response:
        data, media_type = photograph_bytes(house, photograph_id)
        return Response(data, media_type=media_type, headers=KEPT_FOR_GOOD)

    @routes.get("/photographs/{photograph_id}/small")
    def show_small(photograph_id: str) -> Response:
        data, _ = photograph_bytes(house, photograph_id)
        return Response(small_picture(data), media_type="image/jpeg", headers=KEPT_FOR_GOOD)

    return routes


async def sent_in(request: Request) -> tuple[Typed, list[File]]:
    """Return the texts that a form sent, in its order, and the files that came with them.

    The texts stay with the request, so that a page that tells of a fault can hand them back.
    """
    typed: Typed = []
    files: list[File] = []
    async with request.form(max_files=MOST_FILES, max_fields=500) as form:
        for name, sent in form.multi_items():
            if isinstance(sent, UploadFile):
                data = await sent.read()
                if data or sent.filename:
                    files.append((sent.filename or "", data))
            else:
                typed.append((name, sent.replace("\r\n", "\n").replace("\0", "")))
    request.scope[KEPT] = typed
    return typed, files


def pictures_sent(house: House, sent: Typed, files: list[File]) -> tuple[tuple[str, ...], Refused]:
    """Keep what came now; return it with what came before, and what was no photograph.

    What was sent names it from then on, so that it comes back with a fault of the ledger too.
    """
    hashes, troubles = keep_pictures(house, files)
    sent.extend(("picture", name) for name in hashes)
    return known_pictures(house, [text for name, text in sent if name == "picture"]), troubles


def _add(house: House, stone_id: str, sent: Typed, files: list[File]) -> Response:
    note = dict(sent).get("note", "").strip()
    pictures, refused = pictures_sent(house, sent, files)
    try:
        add_photographs(house, stone_id, pictures, note, refused)
    except RecordTroubleError as error:
        page = photographs_page(house, stone_id, note, error.troubles)
        return render("photographs/page.html", page, SECTION, 422)
    return RedirectResponse(f"/stones/{stone_id}#photographs", 303)
