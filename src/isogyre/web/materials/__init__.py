"""The materials: a list to find one in, and a card for each."""

from functools import lru_cache, partial
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from isogyre.desk import Workbench
from isogyre.desk.page.compare import compare_page
from isogyre.desk.page.material_records import UnknownMaterialPage
from isogyre.desk.page.materials import material_page, materials_page
from isogyre.web.pages import render

SECTION = "Materials"
# A card weighs every look-alike against the bench, which takes a second for the greatest of them.
CARDS_KEPT = 64


def router(workbench: Workbench) -> APIRouter:
    """Return the routes of the materials."""
    routes = APIRouter(prefix="/materials", include_in_schema=False)
    card = lru_cache(CARDS_KEPT)(partial(material_page, workbench))

    @routes.get("")
    def list_materials(find: str = "") -> Response:
        return render("materials/list.html", materials_page(workbench, find), SECTION)

    @routes.get("/compare")
    def compare_materials(
        wanted: Annotated[list[str] | None, Query(alias="with")] = None,
    ) -> Response:
        page = compare_page(workbench, wanted or ())
        return render("materials/compare.html", page, SECTION, 422 if page.is_refused else 200)

    @routes.get("/{name}")
    def show_material(name: str) -> Response:
        page = card(name)
        if isinstance(page, UnknownMaterialPage):
            return render("materials/unknown.html", page, SECTION, 404)
        return render("materials/card.html", page, SECTION)

    return routes
