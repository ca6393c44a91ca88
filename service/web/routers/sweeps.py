"""Sweeps: what one catalog does to all standing questions of another, in the background, with progress and cancel.

Without keys: for loopback alone.
"""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.impact import ImpactAnswer
from service.documents.sweep import BegunSweep, Sweep
from service.usecases.errors import NotFoundError
from service.usecases.impact_sweeps import KIND, PREFIX
from service.web import examples
from service.web.bodies import body_of
from service.web.cursors import Cursor
from service.web.handing import go_elsewhere
from service.web.operations import OF_BODY, OF_ID, Later, accepted, answers, edited, json_body, query
from service.web.paging import onward, start_of
from service.web.queries import ListAsked, ListQuery, NothingAsked, parameters_of
from service.web.reckonings import RETRY_S, page_of
from service.web.representations import JSON, NEVER, OWN, represent
from service.web.resources import AppResources, AppSweeps
from service.web.sweep_work import AppSweepWork

router = APIRouter(prefix=PREFIX, tags=["catalog"])

SweepId = Annotated[str, Path(alias="id", description="the id of a sweep", examples=[examples.swept()["id"]])]


@router.post(
    "",
    status_code=202,
    operation_id="beginSweep",
    summary="Try a catalog on all standing questions, in the background",
    description="The impact of one revision, or of a draft, on another by processes on all cores. What was found is"
    " kept: a sweep that is interrupted goes on when somebody looks at it. One between the same catalogs that is not at"
    " its end is given again.",
    response_model=Sweep,
    responses=accepted("It is on its way.", examples.swept(), *OF_BODY, *("catalog-faults", "no-room")),
    openapi_extra=json_body("BegunSweep", examples.begun_sweep()),
)
async def begin(
    resources: AppResources,
    sweeps: AppSweeps,
    work: AppSweepWork,
    _: NothingAsked,
    asked: Annotated[BegunSweep, Depends(body_of(BegunSweep))],
) -> Response:
    go_elsewhere()
    told = await resources.write(sweeps.begin, asked)
    work.begin(told["id"])
    headers = {"Location": f"{PREFIX}/{told['id']}", "Cache-Control": NEVER, "Retry-After": str(RETRY_S)}
    return Response(to_json(told), 202, headers, JSON)


@router.get(
    "/{id}",
    operation_id="getSweep",
    summary="How far a sweep is",
    response_model=Sweep,
    responses=answers("The sweep.", Later(examples.done_sweep), *OF_ID, revision=False),
)
async def get_sweep(
    resources: AppResources, sweeps: AppSweeps, work: AppSweepWork, id_: SweepId, _: NothingAsked
) -> Response:
    go_elsewhere()
    if await resources.look(sweeps.is_left, id_):
        work.begin(id_)
    return represent(to_json(await resources.look(sweeps.told, id_)), caching=OWN)


@router.delete(
    "/{id}",
    operation_id="cancelSweep",
    summary="Cancel a sweep; one that is at its end is deleted",
    response_model=Sweep,
    responses=edited(
        "The sweep as it was left.",
        Sweep,
        examples.swept() | {"status": "cancelled"},
        *OF_ID,
        may_be_new=False,
        is_left=False,
    ),
)
async def cancel(resources: AppResources, sweeps: AppSweeps, id_: SweepId, _: NothingAsked) -> Response:
    told = await resources.write(sweeps.cancel, id_)
    return represent(to_json(told), caching=NEVER)


@router.get(
    "/{id}/impact",
    operation_id="getSweepImpact",
    summary="What a sweep that is done has found, by page",
    response_model=ImpactAnswer,
    responses=answers("A page.", Later(examples.impact), *OF_ID, revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def get_impact(
    request: Request, resources: AppResources, sweeps: AppSweeps, id_: SweepId, given: ListAsked
) -> Response:
    section = f"sweep/{id_}"
    start = start_of(given, section).offset
    end = start + given.limit
    found = await resources.look(sweeps.page, id_, start, end)
    if found is None:
        raise NotFoundError(f"{KIND} that is done", id_)
    told, count = found
    way = onward(request, given, section, Cursor(1, end) if end < count else None)
    return represent(to_json(page_of(request, told) | way.field), caching=OWN, more=way.header)
