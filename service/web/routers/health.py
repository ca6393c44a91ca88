"""Health: whether the process answers, and whether it can answer questions."""

from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic_core import to_json
from starlette.responses import Response
from typing_extensions import TypedDict

from service.web.operations import answers
from service.web.queries import NoQuery, query_of
from service.web.representations import JSON, NEVER
from service.web.resources import AppResources

router = APIRouter(prefix="/v1/health", tags=["health"])


class Live(TypedDict):
    """The process answers."""

    live: bool


class Ready(TypedDict):
    """The database answers and holds a catalog; `revision` is the newest."""

    live: bool
    ready: bool
    revision: int


def _fresh(content: object) -> Response:
    return Response(to_json(content), headers={"Cache-Control": NEVER}, media_type=JSON)


@router.get(
    "/live",
    operation_id="getLiveness",
    summary="Does the process answer?",
    response_model=Live,
    responses=answers("It does.", {"live": True}, "invalid-request", revision=False, conditional=False),
)
async def live(_: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return _fresh({"live": True})


_READY = answers(
    "It can.",
    {"live": True, "ready": True, "revision": 1},
    "invalid-request",
    "no-catalog",
    revision=False,
    conditional=False,
)


@router.get("", operation_id="getHealth", summary="Live and ready?", response_model=Ready, responses=_READY)
@router.get(
    "/ready",
    operation_id="getReadiness",
    summary="Can it answer questions?",
    description="503 while the database does not answer or holds no catalog.",
    response_model=Ready,
    responses=_READY,
)
async def ready(resources: AppResources, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    revision = await resources.run(lambda: resources.library.edition().number)
    return _fresh({"live": True, "ready": True, "revision": revision})
