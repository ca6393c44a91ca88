"""Revisions of the catalog: which there are, what each changed, what one does to the answers of another."""

from functools import partial
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.impact import BeingWorkedOut, ChangesSince, ImpactAnswer, RevisionPage
from service.documents.rendering import rendered
from service.usecases.changes_since import changes_since, revision_told
from service.usecases.errors import NoCatalogError, NotFoundError
from service.usecases.impact import NewMeter, impact_of, impact_told
from service.usecases.impact_orders import orders_told
from service.usecases.library import Library
from service.usecases.standing import KeptQuestions
from service.web import examples
from service.web.cursors import Cursor
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.handing import go_elsewhere
from service.web.negotiation import negotiated
from service.web.operations import OF_ID, Later, answers, query, worked_out
from service.web.paging import next_header, onward, start_of
from service.web.queries import ListAsked, ListQuery, SinceQuery, parameters_of, query_of
from service.web.reckonings import AppReckonings, kept_questions, not_yet, page_of
from service.web.representations import CSV, JSON, REVALIDATE, represent
from service.web.resources import AppResources
from service.web.tabular import changes_csv

router = APIRouter(prefix="/v1", tags=["catalog"])

_LIST, _IMPACT, _CHANGES = "revisions", "impact", "changes"
_MOST_DIGITS = 10
_LIST_PROBLEMS = ("invalid-request", "not-acceptable", "no-catalog")
_NUMBER = "the number of a revision, from 1"


@router.get(
    "/revisions",
    operation_id="listRevisions",
    summary="The published revisions of the catalog, the newest first",
    response_model=RevisionPage,
    responses=answers("A page.", examples.revisions(), *_LIST_PROBLEMS, revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def list_revisions(request: Request, resources: AppResources, given: ListAsked) -> Response:
    negotiated(request, (JSON,))
    return await resources.look(_revisions, request, resources.library, given)


def _revisions(request: Request, library: Library, given: ListQuery) -> Response:
    summaries = library.summaries()
    if not summaries:
        raise NoCatalogError("no catalog has been imported yet")
    start = start_of(given, _LIST)
    newest = start.revision or summaries[0].number
    listed = [one for one in summaries if one.number <= newest]
    end = start.offset + given.limit
    way = onward(request, given, _LIST, Cursor(newest, end) if end < len(listed) else None)
    content = {"results": [revision_told(one) for one in listed[start.offset : end]], **way.field}
    return represent(content, caching=REVALIDATE, more={"Vary": "Accept"} | way.header)


@router.get(
    "/changes",
    operation_id="listChanges",
    summary="What changed since a revision, by revision",
    description="Items, cars, layouts, add-ons and fuels that were added, retired, removed or changed, with the fields "
    "that differ; of a few revisions at once, `next` goes on.",
    response_model=ChangesSince,
    responses=answers(
        "The changes.",
        examples.changes(),
        *("invalid-request", "not-acceptable", "no-catalog"),
        paged=True,
        also={CSV: {"type": "string"}},
    ),
    openapi_extra=query(parameters_of(SinceQuery)),
)
async def list_changes(
    request: Request, resources: AppResources, given: Annotated[SinceQuery, Depends(query_of(SinceQuery))]
) -> Response:
    media_type = negotiated(request, (JSON, CSV))
    return await resources.run(_changes, request, resources.library, given, media_type)


def _changes(request: Request, library: Library, given: SinceQuery, media_type: str) -> Response:
    try:
        content, last = changes_since(library, given.since)
    except NotFoundError as error:
        raise InvalidQueryError(ParameterFault("since", rendered(given.since), "the number of a revision")) from error
    more = {"Vary": "Accept"}
    if last is not None:
        content["next"] = f"{request.url.path}?{urlencode({'since': last})}"
        more |= next_header(content["next"])
    body = changes_csv(content) if media_type == CSV else content
    return represent(body, caching=REVALIDATE, revision=content["revision"], media_type=media_type, more=more)


@router.get(
    "/revisions/{from}/impact/{to}",
    operation_id="getImpact",
    summary="What one revision does to the standing questions of another",
    description="Every standing question is asked of both, in the background. Its outcome is told, and for promises "
    "that are broken and bills that are lost or gained the changes without which that would not be so.",
    response_model=ImpactAnswer,
    responses=worked_out(
        "The impact, by page.",
        BeingWorkedOut,
        examples.being_worked_out(2),
        Later(examples.impact),
        *OF_ID,
        paged=True,
    ),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def get_impact(
    request: Request,
    resources: AppResources,
    reckonings: AppReckonings,
    from_: Annotated[str, Path(alias="from", description=_NUMBER, examples=["1"])],
    to: Annotated[str, Path(description=_NUMBER, examples=["2"])],
    given: ListAsked,
) -> Response:
    go_elsewhere()
    library = resources.library
    before, after = [await resources.look(_known, library, number) for number in (from_, to)]
    section = f"{_IMPACT}/{before}/{after}"
    start = start_of(given, section)
    kept = kept_questions(request)
    call = partial(_reckoned, library, kept, before, after, resources.lanes.paced)
    newest = await resources.look(kept.newest)
    told: ImpactAnswer | None = reckonings.get((_IMPACT, before, after, newest), call)
    if told is None:
        return not_yet(after)
    end = start.offset + given.limit
    way = onward(request, given, section, Cursor(after, end) if end < len(told["questions"]) else None)
    page = page_of(request, told, start.offset, end) | way.field
    return represent(to_json(page), caching=REVALIDATE, revision=after, more=way.header)


def _known(library: Library, number: str) -> int:
    """The number of a revision that there is. Raises NotFoundError, NoCatalogError."""
    newest = library.edition().number
    if not (number.isascii() and number.isdecimal() and len(number) <= _MOST_DIGITS and 1 <= int(number) <= newest):
        raise NotFoundError("revision", number)
    return int(number)


def _reckoned(library: Library, kept: KeptQuestions, before: int, after: int, new_meter: NewMeter) -> ImpactAnswer:
    old, new = library.edition(before), library.edition(after)
    told = impact_told(impact_of(old, new, kept.gather(), new_meter=new_meter), old, new)
    return told | {"orders": orders_told(old, new, kept.orders, new_meter)}
