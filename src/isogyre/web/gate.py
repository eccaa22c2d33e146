"""The gate in front of every page: whose host, how much, and what the browser may do."""

import logging
import re
from collections.abc import Callable, Collection
from http import HTTPStatus

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BODY_BYTES = 256 * 1024
# Photographs come with a stone, with a piece taken in, and with one that goes back.
MOST_PHOTOGRAPH_BYTES = 20 * 1024 * 1024
TAKES_PHOTOGRAPHS = re.compile("/stones/[^/]+/photographs|/take-ins/new|/take-ins/[^/]+/return")
# What only looks may come from a link anywhere; what writes comes from our own pages.
LOOKING = frozenset(("GET", "HEAD", "OPTIONS"))
THIS_MACHINE = frozenset(("127.0.0.1", "localhost", "::1"))

# Everything comes from here and nothing is inline, so a page cannot be made to run what it shows.
PROTECTION = {
    "content-security-policy": (
        "default-src 'self'; base-uri 'none'; form-action 'self'; "
        "frame-ancestors 'none'; object-src 'none'"
    ),
    "x-content-type-options": "nosniff",
    # An address holds a stone's readings; it is nobody else's business.
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
}

log = logging.getLogger(__name__)

# Makes the answer to a request that is not let in: the scope and the status that says why.
Refuse = Callable[[Scope, HTTPStatus], Response]


class BodyTooLargeError(ValueError):
    """A request brings more than a record can hold."""

    def __init__(self, most_bytes: int) -> None:
        super().__init__(f"a request may hold {most_bytes} bytes; send one stone at a time")


class Gate:
    """Lets in requests that name one of our hosts and are of a sensible size.

    A page of a stranger can make a browser send requests here under the stranger's host name;
    checking the name keeps it from reading the answers.
    """

    def __init__(
        self,
        app: ASGIApp,
        refuse: Refuse,
        hosts: Collection[str] = (),
        most_body_bytes: int = MOST_BODY_BYTES,
    ) -> None:
        self.app = app
        self.refuse = refuse
        self.hosts = THIS_MACHINE | {host.lower() for host in hosts}
        self.most_body_bytes = most_body_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        answer = Answer(send)
        try:
            status = self._objection(scope)
            if status is None:
                await self.app(scope, measured(receive, self._most_bytes(scope)), answer)
                return
        except BodyTooLargeError:
            status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
        except Exception:
            log.exception("no answer to %s %s", scope["method"], scope["path"])
            status = HTTPStatus.INTERNAL_SERVER_ERROR
        if not answer.is_begun:
            await self.refuse(scope, status)(scope, receive, answer)

    def _objection(self, scope: Scope) -> HTTPStatus | None:
        headers = Headers(scope=scope)
        served_on = (scope.get("server") or ("",))[0]
        if host_named(headers.get("host", "")) not in self.hosts | {served_on}:
            return HTTPStatus.MISDIRECTED_REQUEST
        if scope["method"] not in LOOKING and is_from_elsewhere(headers):
            return HTTPStatus.FORBIDDEN
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > self._most_bytes(scope):
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE
        return None

    def _most_bytes(self, scope: Scope) -> int:
        if TAKES_PHOTOGRAPHS.fullmatch(scope["path"]):
            return max(self.most_body_bytes, MOST_PHOTOGRAPH_BYTES)
        return self.most_body_bytes


class Answer:
    """Sends an answer on with the headers that protect it."""

    def __init__(self, send: Send) -> None:
        self.send = send
        self.is_begun = False

    async def __call__(self, message: Message) -> None:
        """Send one part of the answer on."""
        if message["type"] == "http.response.start":
            self.is_begun = True
            headers = MutableHeaders(scope=message)
            for name, value in PROTECTION.items():
                headers[name] = value
            headers.setdefault("cache-control", "private, no-cache")
        await self.send(message)


def measured(receive: Receive, most_bytes: int) -> Receive:
    """Count what really comes in: a length need not be announced."""
    received = 0

    async def receive_measured() -> Message:
        nonlocal received
        message = await receive()
        received += len(message.get("body", b""))
        if received > most_bytes:
            raise BodyTooLargeError(most_bytes)
        return message

    return receive_measured


def host_named(header: str) -> str:
    """Return the host of a Host header without its port, brackets or final dot."""
    host = header.strip().lower()
    if host.startswith("["):
        return host[1:].partition("]")[0]
    return host.partition(":")[0].rstrip(".")


def is_from_elsewhere(headers: Headers) -> bool:
    """Whether a browser says that another site's page sends this; programs say nothing."""
    if headers.get("sec-fetch-site", "none") == "cross-site":
        return True
    origin = headers.get("origin", "")
    return bool(origin) and origin.partition("://")[2] != headers.get("host", "")
