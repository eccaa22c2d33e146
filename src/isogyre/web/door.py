"""The door for data: a record in, the standing out."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from isogyre.desk import RecordTroubleError, UnknownWordError, Workbench, identify
from isogyre.desk.schema import record_schema

SHAPE = 'send one stone as a JSON object, for instance {"ri_low": 1.762, "ri_high": 1.770}'


def router(workbench: Workbench) -> APIRouter:
    """Return the routes of the data door."""
    routes = APIRouter(prefix="/api")
    described = {"content": {"application/json": {"schema": record_schema(workbench)}}}

    @routes.post("/identify", openapi_extra={"requestBody": {**described, "required": True}})
    async def identify_record(
        request: Request, kit: str = "bench", settle: str = "name"
    ) -> Response:
        """Return what the stone can be, how sure, why, and what to test next."""
        body = await request.body()
        try:
            record = json.loads(body)
        except (ValueError, RecursionError):
            return _troubles([("record", f"this is not JSON: {SHAPE}")])
        if not isinstance(record, Mapping):
            return _troubles([("record", SHAPE)])
        return await run_in_threadpool(_identified, workbench, record, kit, settle)

    return routes


def _identified(workbench: Workbench, record: Mapping[str, Any], kit: str, settle: str) -> Response:
    try:
        return JSONResponse(identify(workbench, record, kit, settle))
    except RecordTroubleError as error:
        return _troubles([(t.field, t.message) for t in error.troubles])
    except UnknownWordError as error:
        return _troubles([(error.what, str(error))])


def _troubles(troubles: Sequence[tuple[str, str]]) -> Response:
    told = [{"field": field, "message": message} for field, message in troubles]
    return JSONResponse({"troubles": told}, 422)
