"""Faults of the ledger as pages: what happened, what to do, and everything that was typed."""

from dataclasses import dataclass
from http import HTTPStatus

from fastapi import Request
from starlette.responses import JSONResponse, Response

from isogyre.desk import (
    LedgerConflictError,
    LedgerDamagedError,
    LedgerForeignError,
    LedgerFullError,
    LedgerLockedError,
    LedgerNewerError,
    LedgerReadOnlyError,
    LedgerUnreachableError,
    RefusedEntryError,
)
from isogyre.web.pages import is_for_programs, refusal, render
from isogyre.web.typed import typed_of

TITLES: dict[type[Exception], str] = {
    LedgerLockedError: "Somebody else is writing",
    LedgerConflictError: "Somebody else was first",
    LedgerReadOnlyError: "The ledger can be read, not written",
    LedgerFullError: "The disk is full",
    LedgerDamagedError: "The ledger is damaged",
    LedgerUnreachableError: "The ledger does not answer",
    LedgerForeignError: "This database belongs to something else",
    LedgerNewerError: "The ledger is newer than this program",
    RefusedEntryError: "The ledger refused the entry",
}


@dataclass(frozen=True)
class FaultPage:
    """What went wrong, and the entries of the form that met it, ready to be sent again."""

    title: str
    what_to_do: str
    address: str
    entries: tuple[tuple[str, str], ...]


async def ledger_fault(request: Request, error: Exception) -> Response:
    """Return a page, or at the data door data, that tells a fault of the ledger."""
    title = TITLES.get(type(error), "The ledger could not do that")
    words = str(error)
    status = HTTPStatus.SERVICE_UNAVAILABLE
    if is_for_programs(request.scope):
        trouble = {"field": "ledger", "message": f"{title}: {words}"}
        return JSONResponse({"troubles": [trouble]}, status)
    page = FaultPage(
        title=title,
        what_to_do=words[:1].upper() + words[1:] + ".",
        address=request.url.path,
        entries=tuple(typed_of(request.scope)),
    )
    return render("templates/fault.html", page, "", status)


async def unknown_entry(request: Request, error: Exception) -> Response:
    """Return the refusal of something that is not in the ledger."""
    return refusal(request.scope, HTTPStatus.NOT_FOUND)
