"""How a feature looks in a small round field of the loupe."""

import hashlib
from functools import cache
from urllib.parse import quote

from isogyre.desk.workbench import Workbench


def feature_drawing(workbench: Workbench, name: str) -> str | None:
    """Return a drawing of a feature as SVG that stands alone, or None if none is known by it."""
    return _drawn(name) if name in workbench.catalogue.features else None


def drawing_address(workbench: Workbench, name: str) -> str:
    """Return where the drawing of a feature is kept: it changes with what is drawn."""
    digest = hashlib.sha256((feature_drawing(workbench, name) or "").encode()).hexdigest()[:10]
    return f"/features/{quote(name, safe='')}.svg?v={digest}"


@cache
def _drawn(name: str) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 96 96" width="96" height="96">'
        '<circle cx="48" cy="48" r="45" fill="none" stroke="#7b7d80" stroke-width="3"/></svg>'
    )
