"""Turn typed page records into pages, and refusals into pages that say what to do next."""

import hashlib
from dataclasses import dataclass
from functools import cache
from http import HTTPStatus
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.types import Scope

from isogyre.web.gate import MOST_BODY_BYTES, MOST_PHOTOGRAPH_BYTES

ROOM = Path(__file__).parent
STATIC = ROOM / "static"
# Sections of the house that have pages, under their plain nouns.
SECTIONS = (("Stones", "/stones"), ("Materials", "/materials"))

ENVIRONMENT = Environment(
    loader=FileSystemLoader(ROOM),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


@dataclass(frozen=True)
class Refusal:
    """Why a page is not shown, and what can be done about it."""

    title: str
    what_to_do: str


REFUSALS = {
    HTTPStatus.NOT_FOUND: Refusal(
        "There is no such page", "The address may be misspelt. Stones and materials start here:"
    ),
    HTTPStatus.METHOD_NOT_ALLOWED: Refusal(
        "This page does not take that", "It can be opened, or filled in and sent. Go on from here:"
    ),
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: Refusal(
        "That is more than can be taken at once",
        f"A record may have {MOST_BODY_BYTES // 1024} kB, and photographs "
        f"{MOST_PHOTOGRAPH_BYTES // 1024**2} MB together. Go back, your entries are still in the "
        "form: shorten the longest text, or send fewer photographs at a time.",
    ),
    HTTPStatus.FORBIDDEN: Refusal(
        "Not from another site",
        "A page of another site tried to write here, and was kept from it. If it was you: open "
        "the form here and send it again.",
    ),
    HTTPStatus.MISDIRECTED_REQUEST: Refusal(
        "Not under this name",
        "isogyre answers only to the address it was started on, so that no other site can read "
        "your stones. Open it by that address, or start it with ISOGYRE_HOSTS set to this name.",
    ),
    HTTPStatus.INTERNAL_SERVER_ERROR: Refusal(
        "Something broke here",
        "The fault is the program's, not yours, and is written in its log. Go back: your entries "
        "are still in the form.",
    ),
}


@cache
def asset(name: str) -> str:
    """Return the address of a static file, changing with what the file holds."""
    digest = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:10]
    return f"/static/{name}?v={digest}"


ENVIRONMENT.globals["asset"] = asset
ENVIRONMENT.globals["sections"] = SECTIONS


def render(template: str, page: object, section: str, status: int = 200) -> Response:
    """Return a page record in its template; ``section`` is marked in the line at the top."""
    text = ENVIRONMENT.get_template(template).render(page=page, section=section)
    return HTMLResponse(text, status)


def refusal(scope: Scope, status: HTTPStatus) -> Response:
    """Return a refusal, as a page or, at the data door, as data."""
    why = REFUSALS.get(status) or Refusal(status.phrase, "Go on from here:")
    if is_for_programs(scope):
        trouble = {"field": "request", "message": f"{why.title}. {why.what_to_do}"}
        return JSONResponse({"troubles": [trouble]}, status)
    return render("templates/refusal.html", why, "", status)


def is_for_programs(scope: Scope) -> bool:
    """Whether a request came to the data door, which answers with data."""
    path: str = scope["path"]
    return path.startswith("/api/")
