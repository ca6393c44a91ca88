"""Which units stand first: chosen once, kept by the browser."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.web.counter.forms import own_form
from service.web.counter.showing import PageRoute, gone_to
from service.web.counter.visits import is_units, keep_units, local_path
from service.web.errors import InvalidQueryError, ParameterFault

router = APIRouter(include_in_schema=False, route_class=PageRoute)


@router.post("/units")
async def choose_units(request: Request) -> Response:
    form = await own_form(request)
    units = form.get("units", "")
    if not is_units(units):
        raise InvalidQueryError(ParameterFault("units", repr(units[:20]), "metric or inch"))
    response = gone_to(local_path(form.get("back", "")))
    keep_units(response, units, request)
    return response
