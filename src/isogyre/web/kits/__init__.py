"""The kits: what is at hand, which one is in use, and the form of one's own."""

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from isogyre.desk import House
from isogyre.desk.kits import (
    BuiltInKitError,
    KitNameTakenError,
    choose_kit,
    chosen_kit,
    kit_named,
    remove_kit,
    save_kit,
)
from isogyre.desk.page.kits import (
    KitEntries,
    kit_of_entries,
    kit_page,
    kits_page,
    name_taken,
)
from isogyre.web.pages import render
from isogyre.web.typed import Typed, typed_in

SECTION = "Kits"
LIST = "/kits"


def router(house: House) -> APIRouter:
    """Return the routes of the kits."""
    routes = APIRouter(prefix=LIST, include_in_schema=False)

    @routes.get("")
    def list_kits() -> Response:
        return render("kits/list.html", kits_page(house), SECTION)

    @routes.post("/choose")
    async def take_into_use(request: Request) -> Response:
        said = dict(await typed_in(request))
        await run_in_threadpool(choose_kit, house, said.get("name", ""))
        return RedirectResponse(LIST, 303)

    @routes.post("/remove")
    async def remove(request: Request) -> Response:
        said = dict(await typed_in(request))
        return await run_in_threadpool(_remove, house, said.get("name", ""))

    @routes.get("/new")
    def show_blank() -> Response:
        page = kit_page(house.workbench, KitEntries.of(chosen_kit(house)).unnamed())
        return render("kits/kit.html", page, SECTION)

    @routes.post("/new")
    async def keep_new(request: Request) -> Response:
        return await run_in_threadpool(_keep, house, "", await typed_in(request))

    @routes.get("/{name}")
    def show_kit(name: str) -> Response:
        page = kit_page(house.workbench, KitEntries.of(kit_named(house, name)), name)
        return render("kits/kit.html", page, SECTION)

    @routes.post("/{name}")
    async def keep_kit(request: Request, name: str) -> Response:
        return await run_in_threadpool(_keep, house, name, await typed_in(request))

    return routes


def _keep(house: House, name: str, typed: Typed) -> Response:
    """Keep the kit that a form sent, or show the form as it was typed."""
    entries = KitEntries.typed(typed)
    kit, troubles = kit_of_entries(house.workbench, entries)
    if kit:
        try:
            save_kit(house, kit, instead_of=name)
        except KitNameTakenError as error:
            troubles = (name_taken(error),)
        else:
            if dict(typed).get("use"):
                choose_kit(house, kit.name)
            return RedirectResponse(LIST, 303)
    page = kit_page(house.workbench, entries, name, troubles)
    return render("kits/kit.html", page, SECTION, 422)


def _remove(house: House, name: str) -> Response:
    """Remove a kit and show the list, from which it can be made again."""
    was_in_use = chosen_kit(house).name == name
    try:
        removed = remove_kit(house, name)
    except BuiltInKitError:
        return RedirectResponse(LIST, 303)
    return render("kits/list.html", kits_page(house, removed, was_in_use), SECTION)
