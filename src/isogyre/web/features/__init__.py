"""Drawings of the features of the vocabulary, each at an address of its own content."""

from http import HTTPStatus

from fastapi import APIRouter
from starlette.exceptions import HTTPException
from starlette.responses import Response

from isogyre.desk import Workbench
from isogyre.desk.page.feature_drawing import feature_drawing

KEPT = "public, max-age=31536000, immutable"


def router(workbench: Workbench) -> APIRouter:
    """Return the route of the drawings."""
    routes = APIRouter(prefix="/features", include_in_schema=False)

    @routes.get("/{name}.svg")
    def show_drawing(name: str, v: str = "") -> Response:
        picture = feature_drawing(workbench, name)
        if picture is None:
            raise HTTPException(HTTPStatus.NOT_FOUND)
        headers = {"cache-control": KEPT} if v else {}
        return Response(picture, media_type="image/svg+xml", headers=headers)

    return routes
