"""The page of a stone: what was read, where it stands, what to test next."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from isogyre.desk import House, RecordTroubleError
from isogyre.desk.kits import kit_in_use
from isogyre.desk.page.forms import entries_in
from isogyre.desk.page.kept import Draft, kept_page
from isogyre.desk.standings import note_afresh
from isogyre.desk.thread import Taken, keep_entries
from isogyre.web.pages import render
from isogyre.web.typed import Typed, typed_in

SECTION = "Stones"


@dataclass(frozen=True)
class Question:
    """What the next test is chosen by."""

    kit: str = ""
    settle: str = ""

    @classmethod
    def of(cls, typed: Sequence[tuple[str, str]]) -> "Question":
        """Return the question that an address or a form asks."""
        said = dict(typed)
        return cls(said.get("kit", ""), said.get("settle", ""))

    def address(self, stone_id: str, anchor: str = "") -> str:
        """Return the page of a stone with this question asked."""
        asked = {key: word for key, word in vars(self).items() if word}
        query = f"?{urlencode(asked)}" if asked else ""
        return f"/stones/{stone_id}{query}{f'#{anchor}' if anchor else ''}"


def router(house: House) -> APIRouter:
    """Return the routes of the stone's page."""
    routes = APIRouter(prefix="/stones/{stone_id}", include_in_schema=False)

    @routes.get("")
    def show_stone(stone_id: str, kit: str = "", settle: str = "") -> Response:
        return render("stones/stone.html", kept_page(house, stone_id, kit, settle), SECTION)

    @routes.post("/readings")
    async def keep_readings(request: Request, stone_id: str) -> Response:
        typed = await typed_in(request)
        return await run_in_threadpool(_keep, house, stone_id, typed)

    return routes


def _keep(house: House, stone_id: str, typed: Typed) -> Response:
    """Keep what the sheets sent, or show the page with everything as it was typed."""
    asked = Question.of(typed)
    entries = entries_in(house.workbench, typed)
    shown, withdrawn, back = (_all(typed, name) for name in ("shown", "withdraw", "put-back"))
    taken = Taken(
        reasons=_beside(typed, "reason."),
        notes=_beside(typed, "remark."),
        kit=kit_in_use(house, asked.kit),
    )
    try:
        keep_entries(house, stone_id, entries, shown, taken, withdrawn, back)
    except RecordTroubleError as error:
        draft = Draft(entries, error.troubles, taken.reasons, taken.notes)
        page = kept_page(house, stone_id, asked.kit, asked.settle, draft)
        return render("stones/stone.html", page, SECTION, 422)
    note_afresh(house, [stone_id])
    return RedirectResponse(asked.address(stone_id, dict(typed).get("sheet", "")), 303)


def _all(typed: Typed, name: str) -> list[str]:
    return [text for key, text in typed if key == name]


def _beside(typed: Typed, beginning: str) -> dict[str, str]:
    """Return what was typed beside the readings, by the names of the instruments."""
    said = {key: text.strip() for key, text in typed if key.startswith(beginning)}
    return {key.removeprefix(beginning): text for key, text in said.items() if text}
