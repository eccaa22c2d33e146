"""The application: pages and doors put together behind the gate."""

import os
from collections.abc import AsyncIterator, Collection
from contextlib import asynccontextmanager
from http import HTTPStatus

from fastapi import FastAPI, Request
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from isogyre import __version__
from isogyre.desk import House, LedgerError, UnknownEntryError, open_house
from isogyre.web import door, features, kits, materials, photographs, stones, take_ins
from isogyre.web.faults import ledger_fault, unknown_entry
from isogyre.web.gate import Gate
from isogyre.web.pages import STATIC, refusal
from isogyre.web.refresh import Refresher
from isogyre.web.stones import listing


def create_app(house: House | None = None, hosts: Collection[str] = ()) -> FastAPI:
    """Return the application, ready to be served.

    Parameters
    ----------
    house
        Where stones are kept and what they are weighed with; opened here if not given, at
        ``ISOGYRE_DATA`` and ``ISOGYRE_DATABASE_URL`` if these are set.
    hosts
        Names under which it may be reached, besides this machine's own and the address that a
        request came in on. The variable ``ISOGYRE_HOSTS`` adds more, with commas between them.
    """
    home = house or open_house(database_url=os.environ.get("ISOGYRE_DATABASE_URL", ""))
    refresher = Refresher(home)

    @asynccontextmanager
    async def open_hours(app: FastAPI) -> AsyncIterator[None]:
        refresher.start()
        yield
        refresher.stop()

    # The usual pages of documentation load scripts from elsewhere, which no page here does.
    app = FastAPI(
        title="isogyre",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=open_hours,
    )
    for routes in (
        listing.router(home),
        stones.router(home),
        photographs.router(home),
        take_ins.router(home),
        materials.router(home.workbench),
        kits.router(home),
        features.router(home.workbench),
        door.router(home),
    ):
        app.include_router(routes)
    app.mount("/static", KeptFiles(directory=STATIC), name="static")
    app.add_exception_handler(HTTPException, _refused)
    app.add_exception_handler(LedgerError, ledger_fault)
    app.add_exception_handler(UnknownEntryError, unknown_entry)
    # Pages are mostly words: a phone in a vault or at a fair gets them in a fraction of the time.
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=5)
    named = (host.strip() for host in os.environ.get("ISOGYRE_HOSTS", "").split(","))
    app.add_middleware(Gate, refuse=refusal, hosts={*hosts, *filter(None, named)})
    return app


class KeptFiles(StaticFiles):
    """Static files that a browser keeps: their addresses change when they do."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """Return a file; one under an address of its own content is kept for a year."""
        response = await super().get_response(path, scope)
        if b"v=" in scope["query_string"] or path.endswith(".woff2"):
            response.headers["cache-control"] = "public, max-age=31536000, immutable"
        return response


async def _refused(request: Request, error: Exception) -> Response:
    status = HTTPStatus(error.status_code) if isinstance(error, HTTPException) else HTTPStatus(500)
    return refusal(request.scope, status)
