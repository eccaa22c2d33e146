"""What a form sent, kept where it can be given back whatever happens to it."""

from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.types import Scope

Typed = list[tuple[str, str]]
KEPT = "isogyre.typed"


async def typed_in(request: Request) -> Typed:
    """Return the pairs of name and text that a form sent, in its order.

    They stay with the request, so that a page that tells of a fault can hand them back.
    """
    body = (await request.body()).decode(errors="replace")
    pairs = parse_qsl(body, keep_blank_values=True)
    typed = [(name, text.replace("\r\n", "\n").replace("\0", "")) for name, text in pairs]
    request.scope[KEPT] = typed
    return typed


def typed_of(scope: Scope) -> Typed:
    """Return what was typed into the form of this request, as far as it was read."""
    typed: Typed = scope.get(KEPT, [])
    return typed
