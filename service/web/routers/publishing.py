"""What a draft would do to answers, and publishing it, or an old revision anew. Without keys: for loopback alone."""

from functools import partial
from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.draft import Publication, Published
from service.documents.impact import BeingWorkedOut, ImpactAnswer
from service.usecases.drafts import Drafts
from service.usecases.errors import NotFoundError
from service.usecases.impact import NewMeter
from service.usecases.publish import Ready, impact_on, looked_at, publish, ready_draft, ready_revision, refuse_losses
from service.usecases.standing import KeptQuestions
from service.web import draft_examples, examples
from service.web.bodies import body_of
from service.web.cursors import Cursor
from service.web.handing import go_elsewhere
from service.web.operations import OF_BODY, OF_ID, Later, json_body, published, query, worked_out
from service.web.paging import onward, start_of
from service.web.queries import ListAsked, ListQuery, NothingAsked, parameters_of
from service.web.reckonings import AppReckonings, Reckonings, kept_questions, not_yet, page_of
from service.web.representations import NEVER, OWN, represent
from service.web.resources import AppDrafts, AppResources, Resources
from service.web.routers.drafts import PREFIX, DraftId

router = APIRouter(tags=["drafts"])

_MOST_DIGITS = 10
_PUBLISHING = ("unknown-id", "newer-revision", "nothing-to-publish", "answers-lost", *OF_BODY)
_ASKED_FIRST = (
    "Without `accept` the impact is worked out first: 202 with `Retry-After` until it is there, and nothing is "
    "published yet; send it again then. Where promises are broken or bills lost, 409."
)


@router.get(
    f"{PREFIX}/{{id}}/impact",
    operation_id="getDraftImpact",
    summary="What a draft does to the standing questions of its base",
    description="As the impact of one revision on another, in the background; `to` is the draft's id.",
    response_model=ImpactAnswer,
    responses=worked_out(
        "The impact, by page.",
        BeingWorkedOut,
        examples.being_worked_out(),
        Later(draft_examples.impact),
        *OF_ID,
        "catalog-faults",
        paged=True,
    ),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def get_impact(
    request: Request,
    resources: AppResources,
    drafts: AppDrafts,
    reckonings: AppReckonings,
    id_: DraftId,
    given: ListAsked,
) -> Response:
    go_elsewhere()
    ready = await resources.write(looked_at, drafts, id_)
    section = f"draft-impact/{'/'.join(map(str, ready.name))}"
    start = start_of(given, section).offset
    told = await _impact(request, resources, drafts, reckonings, ready)
    if told is None:
        return not_yet(ready.base)
    end = start + given.limit
    way = onward(request, given, section, Cursor(ready.base, end) if end < len(told["questions"]) else None)
    page = page_of(request, told, start, end) | way.field
    return represent(to_json(page), caching=OWN, revision=ready.base, more=way.header)


@router.post(
    f"{PREFIX}/{{id}}/publish",
    status_code=201,
    operation_id="publishDraft",
    summary="Publish a draft as the next revision: whole, or not at all",
    description=_ASKED_FIRST,
    response_model=Published,
    responses=published(
        "The revision.",
        draft_examples.published(),
        BeingWorkedOut,
        examples.being_worked_out(),
        *("draft-published", "draft-changed", "catalog-faults", *_PUBLISHING),
    ),
    openapi_extra=json_body("Publication", draft_examples.publication()),
)
async def publish_draft(
    request: Request,
    resources: AppResources,
    drafts: AppDrafts,
    reckonings: AppReckonings,
    id_: DraftId,
    _: NothingAsked,
    asked: Annotated[Publication, Depends(body_of(Publication))],
) -> Response:
    go_elsewhere()
    ready = await resources.write(ready_draft, drafts, id_)
    return await _published(request, resources, drafts, reckonings, ready, asked)


@router.post(
    "/v1/revisions/{number}/restore",
    status_code=201,
    operation_id="restoreRevision",
    summary="Publish an old revision anew, as the next one",
    description=_ASKED_FIRST,
    response_model=Published,
    responses=published(
        "The revision.", draft_examples.restored(), BeingWorkedOut, examples.being_worked_out(2), *_PUBLISHING
    ),
    openapi_extra=json_body("Publication", draft_examples.publication()),
)
async def restore_revision(
    request: Request,
    resources: AppResources,
    drafts: AppDrafts,
    reckonings: AppReckonings,
    number: Annotated[str, Path(description="the number of a revision, from 1", examples=["1"])],
    _: NothingAsked,
    asked: Annotated[Publication, Depends(body_of(Publication))],
) -> Response:
    go_elsewhere()
    if not (number.isascii() and number.isdecimal() and len(number) <= _MOST_DIGITS):
        raise NotFoundError("revision", number)
    ready = await resources.write(ready_revision, drafts, int(number))
    return await _published(request, resources, drafts, reckonings, ready, asked)


async def _published(
    request: Request, resources: Resources, drafts: Drafts, reckonings: Reckonings, ready: Ready, asked: Publication
) -> Response:
    if asked.accept is None:
        told = await _impact(request, resources, drafts, reckonings, ready)
        if told is None:
            return not_yet(ready.base)
        refuse_losses(told)
    made = await resources.write(publish, drafts, ready, asked)
    return represent(to_json(made), caching=NEVER, status=201)


async def _impact(
    request: Request, resources: Resources, drafts: Drafts, reckonings: Reckonings, ready: Ready
) -> ImpactAnswer | None:
    """The impact of what is ready on its base; None while it is being worked out."""
    kept = kept_questions(request)
    call = partial(_reckoned, drafts, ready, kept, resources.lanes.paced)
    newest = await resources.look(kept.newest)
    told: ImpactAnswer | None = reckonings.get(("impact on", ready.base, *ready.name, newest), call)
    return told


def _reckoned(drafts: Drafts, ready: Ready, kept: KeptQuestions, new_meter: NewMeter) -> ImpactAnswer:
    return impact_on(drafts.library, ready, kept, new_meter)
