"""The page that says what callers of the API may count on."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.web.counter.showing import PageRoute, shown

router = APIRouter(include_in_schema=False, route_class=PageRoute)


@router.get("/policy")
async def policy(request: Request) -> Response:
    return shown(request, "policy.html", deprecated_told=request.app.state.deprecated_told)
