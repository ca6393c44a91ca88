"""The workshop: the drafts of the catalog; begin one, see what it changes, move it to the newest revision, drop it."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from json import loads
from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.draft import BegunDraft, DraftMove
from service.documents.faults import faults_of
from service.documents.fuel_order import FUEL_ORDER
from service.documents.overlay import Conflict, conflicts_of
from service.storage.drafts import StoredDraft
from service.usecases.draft_contents import Contents, contents_of
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError
from service.web.counter.forms import own_form
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.workshop_desk import PATH, AppForesight, keep_who, who_works
from service.web.errors import ParameterFault
from service.web.handing import go_elsewhere
from service.web.pages.faults import told as told_faults
from service.web.pages.workshop_shapes import shape_of
from service.web.pages.workshop_words import (
    ONE_OF,
    SECTION_WORDS,
    Names,
    changes_told,
    counted,
    differences,
    order_worded,
    when,
    worded,
)
from service.web.resources import AppDrafts, AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

DraftId = Annotated[str, Path(alias="id")]
MOST_SHOWN = 8
_MOST_DRAFTS = 60
_TOLD_BEFORE = timedelta(days=30)
"""So long before it goes it is told that a draft goes."""
_MOST_DONE = 200


@router.get(PATH)
async def desk(request: Request, resources: AppResources, drafts: AppDrafts) -> Response:
    return await resources.look(_desk, request, drafts, {}, [])


def _desk(request: Request, drafts: Drafts, form: Mapping[str, str], faults: list[ParameterFault]) -> Response:
    newest = drafts.library.newest()
    found = drafts.store.page(_MOST_DRAFTS)
    return shown(
        request,
        "workshop.html",
        status=422 if faults else 200,
        open=[(draft, newest - draft.base, _goes_soon(drafts, draft)) for draft in found if draft.published is None],
        published=[draft for draft in found if draft.published is not None],
        newest=newest,
        when=when,
        who=form.get("author", "") or who_works(request),
        given=form,
        faults=faults,
        told=told_faults(faults),
    )


def _goes_soon(drafts: Drafts, draft: StoredDraft) -> str | None:
    """The day on which a draft goes, where that is near."""
    at = drafts.store.ends_at(draft)
    return when(at).partition(" ")[0] if at is not None and at - datetime.now(UTC) < _TOLD_BEFORE else None


@router.post(PATH)
async def begin(request: Request, resources: AppResources, drafts: AppDrafts) -> Response:
    form = await own_form(request)
    told = {name: form[name].strip() for name in ("name", "author") if form.get(name, "").strip()}
    try:
        asked = BegunDraft.model_validate(told)
    except ValidationError as error:
        faults = [ParameterFault(x.pointer.strip("/"), x.found, x.expected) for x in faults_of(error)]
        return await resources.look(_desk, request, drafts, form, faults)
    begun = await resources.write(drafts.begin, asked)
    return keep_who(gone_to(f"{PATH}/{begun.id}"), told.get("author", ""), request)


@router.get(f"{PATH}/{{id}}")
async def draft(
    request: Request, resources: AppResources, drafts: AppDrafts, foresight: AppForesight, id_: DraftId
) -> Response:
    go_elsewhere()
    contents = await resources.look(contents_of, drafts, id_)
    effect, fault = None, None
    try:
        if contents.edits:
            effect = await foresight.of_draft(id_)
        else:
            await foresight.expect(contents.draft.base)
    except ConflictError as error:
        fault = error.told
    return await resources.look(_draft, request, drafts, contents, effect=effect, effect_fault=fault)


def _draft(request: Request, drafts: Drafts, contents: Contents, **effect: Any) -> Response:
    told = effect["effect"]
    return shown(
        request,
        "workshop_draft.html",
        draft=contents.draft,
        when=when,
        behind=drafts.library.newest() - contents.draft.base if contents.draft.published is None else 0,
        goes=_goes_soon(drafts, contents.draft),
        changes=changes_told(contents.base, contents.texts),
        faults_in=[(Names(contents.texts).of(x.section, x.key), x) for x in contents.faults[:_MOST_DRAFTS]],
        sections=[(name, words, len(contents.texts.get(name, {}))) for name, words in SECTION_WORDS.items()],
        one_of=ONE_OF,
        who=who_works(request) or contents.draft.author or "",
        counted=[] if told is None else counted(told["counts"]),
        most=MOST_SHOWN,
        **effect,
    )


@router.get(f"{PATH}/{{id}}/trail")
async def trail(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    return await resources.look(_trail, request, drafts, id_)


def _trail(request: Request, drafts: Drafts, id_: str) -> Response:
    told, more = drafts.trail(id_, _MOST_DONE, 0)
    titles = {section: {part.name: part.title for part in shape_of(section).parts} for section in SECTION_WORDS}
    titles[FUEL_ORDER] = {"fuels": "Order"}
    return shown(
        request,
        "workshop_trail.html",
        when=_minute,
        id=id_,
        entries=told["results"],
        more=more,
        titles=titles,
        one_of=ONE_OF,
    )


def _minute(moment: str) -> str:
    return when(datetime.fromisoformat(moment))


@router.post(f"{PATH}/{{id}}/rebase")
async def rebase(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    form = await own_form(request)
    return await resources.write(_rebased, request, drafts, id_, form)


def _rebased(request: Request, drafts: Drafts, id_: str, form: Mapping[str, str]) -> Response:
    """Move a draft to the newest revision; where both changed an object, ask whose state is to stay."""
    author = form.get("author", "").strip() or None
    told = {"author": author, "keep": form.get("keep") if form.get("keep") in ("draft", "newest") else None}
    try:
        drafts.rebase(id_, DraftMove.model_validate(told))
    except ConflictError as error:
        if error.code != "draft-conflict":
            raise
        return _conflicts(request, drafts, id_, author or "")
    return keep_who(gone_to(f"{PATH}/{id_}"), author or "", request)


def _conflicts(request: Request, drafts: Drafts, id_: str, author: str) -> Response:
    contents = contents_of(drafts, id_)
    newest = drafts.library.newest()
    texts = drafts.library.catalog(newest).texts
    found = conflicts_of(contents.base, texts, contents.edits)
    names = Names(contents.base, contents.texts, texts)
    return shown(
        request,
        "workshop_conflicts.html",
        status=409,
        draft=contents.draft,
        newest=newest,
        conflicts=[(one, names.of(one.section, one.key), *_both(one, names)) for one in found],
        one_of=ONE_OF,
        who=author,
    )


def _both(conflict: Conflict, names: Names) -> tuple[list[Any], list[Any]]:
    """What the draft and what the newest revision make of an object: the differences, else a sentence."""
    return _became(conflict, conflict.in_draft, names), _became(conflict, conflict.in_newest, names)


def _became(conflict: Conflict, text: str | None, names: Names) -> list[Any]:
    if text is None:
        return ["It is removed."]
    if conflict.section == FUEL_ORDER:
        return [order_worded(text, names)]
    shape = shape_of(conflict.section)
    if conflict.in_base is None:
        return [worded(shape, loads(text), names)]
    return list(differences(shape, loads(conflict.in_base), loads(text), names))


@router.post(f"{PATH}/{{id}}/discard")
async def discard(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    form = await own_form(request)
    author = form.get("author", "").strip()
    if form.get("sure") != "yes":
        return gone_to(f"{PATH}/{id_}#discard")
    await resources.write(drafts.discard, id_, author or None)
    return keep_who(gone_to(PATH), author, request)
