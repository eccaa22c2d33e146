"""The door for data: records in, standings out, and stones kept between."""

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from isogyre.desk import House, RecordTroubleError, UnknownWordError, identify
from isogyre.desk.intake import add_readings, standing_of, stone_as_data, take_record
from isogyre.desk.schema import record_schema

SHAPE = 'send one stone as a JSON object, for instance {"ri_low": 1.762, "ri_high": 1.770}'


def router(house: House) -> APIRouter:
    """Return the routes of the data door."""
    routes = APIRouter(prefix="/api")
    workbench = house.workbench
    described = {"content": {"application/json": {"schema": record_schema(workbench)}}}
    takes_a_record = {"requestBody": {**described, "required": True}}

    @routes.post("/identify", openapi_extra=takes_a_record)
    async def identify_record(
        request: Request, kit: str = "bench", settle: str = "name"
    ) -> Response:
        """Return what the stone can be, how sure, why, and what to test next."""
        return await _answered(request, lambda record: identify(workbench, record, kit, settle))

    @routes.post("/stones", status_code=201, openapi_extra=takes_a_record)
    async def enter_stone(request: Request) -> Response:
        """Keep a stone with the readings of its record; return its id."""

        def enter(record: Mapping[str, Any]) -> Mapping[str, Any]:
            return stone_as_data(house, take_record(house, record))

        return await _answered(request, enter, 201)

    @routes.get("/stones/{stone_id}")
    def show_stone(stone_id: str) -> Response:
        """Return a stone as it is entered, with its thread of readings."""
        return JSONResponse(stone_as_data(house, stone_id))

    @routes.post("/stones/{stone_id}/readings", status_code=201, openapi_extra=takes_a_record)
    async def append_readings(request: Request, stone_id: str) -> Response:
        """Keep more readings of a stone: a record, or {"readings": [{"field", "value", ...}]}."""
        return await _answered(request, lambda said: add_readings(house, stone_id, said), 201)

    @routes.get("/stones/{stone_id}/standing")
    def show_standing(stone_id: str, kit: str = "bench", settle: str = "name") -> Response:
        """Return where a stone stands, as `identify` answers."""
        return _told(lambda: standing_of(house, stone_id, kit, settle))

    return routes


async def _answered(
    request: Request,
    answer: Callable[[Mapping[str, Any]], Mapping[str, Any]],
    status: int = 200,
) -> Response:
    """Answer the JSON object that a request brings."""
    body = await request.body()
    try:
        record = json.loads(body)
    except (ValueError, RecursionError):
        return _troubles([("record", f"this is not JSON: {SHAPE}")])
    if not isinstance(record, Mapping):
        return _troubles([("record", SHAPE)])
    return await run_in_threadpool(_told, lambda: answer(record), status)


def _told(answer: Callable[[], Mapping[str, Any]], status: int = 200) -> Response:
    try:
        return JSONResponse(answer(), status)
    except RecordTroubleError as error:
        return _troubles([(t.field, t.message) for t in error.troubles])
    except UnknownWordError as error:
        return _troubles([(error.what, str(error))])


def _troubles(troubles: Sequence[tuple[str, str]]) -> Response:
    told = [{"field": field, "message": message} for field, message in troubles]
    return JSONResponse({"troubles": told}, 422)
