"""Drafts: begun, listed, looked at, moved to a newer revision, deleted. Without keys: for loopback alone."""

from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.draft import BegunDraft, Draft, DraftChanges, DraftMove, DraftPage, DraftTrail
from service.usecases.drafts import Drafts
from service.web import draft_examples
from service.web.bodies import body_of
from service.web.cursors import Cursor
from service.web.operations import OF_BODY, OF_ID, answers, edited, json_body, made, query
from service.web.paging import onward, start_of
from service.web.queries import AuthorQuery, ListAsked, ListQuery, NothingAsked, parameters_of, query_of
from service.web.representations import JSON, NEVER, OWN, represent
from service.web.resources import AppDrafts, AppResources

PREFIX = "/v1/drafts"
DraftId = Annotated[str, Path(alias="id", description="the id of a draft", examples=[draft_examples.ID])]

router = APIRouter(prefix=PREFIX, tags=["drafts"])

_LIST, _TRAIL, _CHANGES = "drafts", "trail", "changes"


@router.post(
    "",
    status_code=201,
    operation_id="beginDraft",
    summary="Begin a draft: a named working copy of a revision",
    response_model=Draft,
    responses=made("The draft.", draft_examples.new_draft(), *OF_BODY, "no-room"),
    openapi_extra=json_body("BegunDraft", draft_examples.begun()),
)
async def begin(
    resources: AppResources,
    drafts: AppDrafts,
    _: NothingAsked,
    asked: Annotated[BegunDraft, Depends(body_of(BegunDraft))],
) -> Response:
    begun = await resources.write(drafts.begin, asked)
    told = await resources.look(drafts.told, begun.id)
    return Response(to_json(told), 201, {"Location": f"{PREFIX}/{begun.id}", "Cache-Control": NEVER}, JSON)


@router.get(
    "",
    operation_id="listDrafts",
    summary="The drafts, the newest first",
    response_model=DraftPage,
    responses=answers("A page.", draft_examples.page(), "invalid-request", "no-catalog", revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def list_drafts(request: Request, resources: AppResources, drafts: AppDrafts, given: ListAsked) -> Response:
    results, after = await resources.look(drafts.page, given.limit, start_of(given, _LIST).revision or None)
    return _paged(request, {"results": results}, given, after, _LIST)


@router.get(
    "/{id}",
    operation_id="getDraft",
    summary="A draft: how much it changes, and what does not hold in it",
    response_model=Draft,
    responses=answers("The draft.", draft_examples.draft(), *OF_ID, revision=False),
)
async def get_draft(resources: AppResources, drafts: AppDrafts, id_: DraftId, _: NothingAsked) -> Response:
    told = await resources.look(drafts.told, id_)
    return represent(to_json(told), caching=OWN)


@router.delete(
    "/{id}",
    operation_id="deleteDraft",
    summary="Delete a draft with its edits; what was done to it stays in its trail",
    response_model=DraftTrail,
    responses=edited(
        "It is deleted: the last of its trail.",
        DraftTrail,
        draft_examples.discarded(),
        *OF_ID,
        "draft-published",
        may_be_new=False,
        is_left=False,
    ),
    openapi_extra=query(parameters_of(AuthorQuery)),
)
async def delete_draft(
    resources: AppResources,
    drafts: AppDrafts,
    id_: DraftId,
    given: Annotated[AuthorQuery, Depends(query_of(AuthorQuery))],
) -> Response:
    told = await resources.write(_deleted, drafts, id_, given.author)
    return represent(to_json(told), caching=NEVER)


def _deleted(drafts: Drafts, id_: str, author: str | None) -> DraftTrail:
    drafts.discard(id_, author)
    return drafts.last_of_trail(id_)


@router.get(
    "/{id}/changes",
    operation_id="listDraftChanges",
    summary="What a draft has otherwise than its base, by page",
    response_model=DraftChanges,
    responses=answers("A page.", draft_examples.changes(), *OF_ID, revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def list_changes(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, given: ListAsked
) -> Response:
    section = f"{_CHANGES}/{id_}"
    told, after = await resources.look(drafts.changes, id_, given.limit, start_of(given, section).revision)
    return _paged(request, told, given, after, section)


@router.get(
    "/{id}/trail",
    operation_id="listDraftTrail",
    summary="Who did what to a draft, when and why, oldest first; also of a deleted one",
    response_model=DraftTrail,
    responses=answers("A page.", draft_examples.trail(), *OF_ID, revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def list_trail(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, given: ListAsked
) -> Response:
    section = f"{_TRAIL}/{id_}"
    told, after = await resources.look(drafts.trail, id_, given.limit, start_of(given, section).revision)
    return _paged(request, told, given, after, section)


@router.post(
    "/{id}/rebase",
    operation_id="rebaseDraft",
    summary="Move a draft to the newest revision, object by object",
    description="What the draft changes stays, what others published comes in. Where both changed one object, and not "
    "alike, nothing is moved unless `keep` says whose state stays.",
    response_model=Draft,
    responses=edited(
        "The draft on the newest revision.",
        Draft,
        draft_examples.draft(),
        *("unknown-id", "draft-published", "draft-conflict", "draft-changed", *OF_BODY),
        may_be_new=False,
        is_left=False,
    ),
    openapi_extra=json_body("DraftMove", draft_examples.move()),
)
async def rebase(
    resources: AppResources,
    drafts: AppDrafts,
    id_: DraftId,
    _: NothingAsked,
    asked: Annotated[DraftMove, Depends(body_of(DraftMove))],
) -> Response:
    await resources.write(drafts.rebase, id_, asked)
    told = await resources.look(drafts.told, id_)
    return represent(to_json(told), caching=NEVER)


def _paged(request: Request, content: Mapping[str, Any], given: ListQuery, after: int | None, section: str) -> Response:
    """Answer with a page; `after`: where the next one begins."""
    way = onward(request, given, section, None if after is None else Cursor(after, 1))
    return represent(to_json({**content, **way.field}), caching=OWN, more=way.header)
