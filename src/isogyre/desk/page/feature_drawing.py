"""How a feature looks in a small round field of the loupe."""

import hashlib
from functools import cache
from urllib.parse import quote

from isogyre.desk.workbench import Workbench
from isogyre.drawing.scenes import draw_feature


def feature_drawing(workbench: Workbench, name: str) -> str | None:
    """Return a drawing of a feature as SVG that stands alone, or None if none is known by it."""
    return _drawn(name) if name in workbench.catalogue.features else None


def drawing_address(workbench: Workbench, name: str) -> str:
    """Return where the drawing of a feature is kept: it changes with what is drawn."""
    digest = hashlib.sha256((feature_drawing(workbench, name) or "").encode()).hexdigest()[:10]
    return f"/features/{quote(name, safe='')}.svg?v={digest}"


@cache
def _drawn(name: str) -> str:
    return draw_feature(name, "feature", size="list")
