"""Publish a draft, or an old revision anew: what it does first, who and why, and the reason where answers are lost."""

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.draft import Publication
from service.documents.faults import faults_of
from service.documents.impact import ImpactAnswer
from service.usecases.draft_contents import contents_of
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError, NotFoundError
from service.usecases.publish import Ready, publish, ready_draft, ready_revision
from service.web.counter.forms import own_form
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.workshop_desk import PATH, AppForesight, Foresight, keep_who, who_works
from service.web.errors import ParameterFault
from service.web.handing import go_elsewhere
from service.web.pages.faults import ToldFault
from service.web.pages.workshop_words import counted
from service.web.resources import AppDrafts, AppResources, Resources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

DraftId = Annotated[str, Path(alias="id")]
Number = Annotated[str, Path(alias="number")]
_MOST_DIGITS = 10
_EACH = 100
_MOST_SHOWN = 12
_FIELDS = ("author", "reason", "accept")
_RIGHT = {"author": "Say who publishes it", "reason": "Say why, in one line"}
_WHY_ALL_THE_SAME = "Answers are broken or lost: say why it is published all the same."
_NOT_YET = "What it does is not worked out yet: nothing was published. Publish it once it stands here."


@dataclass(frozen=True)
class Offer:
    """What may be published: `title` names it, `path` is where its page is, `back` where it comes from."""

    title: str
    path: str
    back: str
    ready: Callable[[], Awaitable[Ready]]


async def _of_draft(resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Offer:
    at = f"{PATH}/{id_}"
    return Offer("Publish the draft", f"{at}/publish", at, lambda: resources.write(ready_draft, drafts, id_))


async def _of_revision(resources: AppResources, drafts: AppDrafts, number: Number) -> Offer:
    if not (number.isascii() and number.isdecimal() and len(number) <= _MOST_DIGITS):
        raise NotFoundError("revision", number)
    at = f"{PATH}/revisions/{number}"
    title = f"Publish revision {number} anew"
    return Offer(title, f"{at}/restore", at, lambda: resources.write(ready_revision, drafts, int(number)))


OfDraft = Annotated[Offer, Depends(_of_draft)]
OfRevision = Annotated[Offer, Depends(_of_revision)]


@router.get(f"{PATH}/{{id}}/publish")
async def offer_draft(request: Request, offer: OfDraft, foresight: AppForesight) -> Response:
    go_elsewhere()
    return await _offered(request, offer, foresight)


@router.post(f"{PATH}/{{id}}/publish")
async def publish_draft(
    request: Request, resources: AppResources, drafts: AppDrafts, offer: OfDraft, foresight: AppForesight
) -> Response:
    go_elsewhere()
    return await _published(request, resources, drafts, offer, foresight)


@router.get(f"{PATH}/revisions/{{number}}/restore")
async def offer_revision(request: Request, offer: OfRevision, foresight: AppForesight) -> Response:
    go_elsewhere()
    return await _offered(request, offer, foresight)


@router.post(f"{PATH}/revisions/{{number}}/restore")
async def restore(
    request: Request, resources: AppResources, drafts: AppDrafts, offer: OfRevision, foresight: AppForesight
) -> Response:
    go_elsewhere()
    return await _published(request, resources, drafts, offer, foresight)


async def _offered(request: Request, offer: Offer, foresight: Foresight) -> Response:
    try:
        ready = await offer.ready()
    except ConflictError as error:
        return _page(request, offer, None, {}, in_the_way=error.told)
    return _page(request, offer, await foresight.of(ready), {})


async def _published(
    request: Request, resources: Resources, drafts: Drafts, offer: Offer, foresight: Foresight
) -> Response:
    form = await own_form(request)
    try:
        ready = await offer.ready()
        effect = await foresight.of(ready)
        asked, faults = _asked(form)
        if asked is None:
            return _page(request, offer, effect, form, faults)
        if effect is None and asked.accept is None:
            return _page(request, offer, effect, form, [ToldFault("", _NOT_YET)])
        if effect is not None and effect["needs_accept"] and asked.accept is None:
            return _page(request, offer, effect, form, [ToldFault("accept", _WHY_ALL_THE_SAME)])
        made = await resources.write(publish, drafts, ready, asked)
    except ConflictError as error:
        return _page(request, offer, None, form, in_the_way=error.told)
    return keep_who(gone_to(f"{PATH}/revisions/{made['revision']}?made=yes"), asked.author, request)


def _asked(form: Mapping[str, str]) -> tuple[Publication | None, list[ToldFault]]:
    """Who publishes and why, as a form tells it; or what is wrong with that."""
    told = {name: form[name].strip() for name in _FIELDS if form.get(name, "").strip()}
    try:
        return Publication.model_validate(told), []
    except ValidationError as error:
        faults = [ParameterFault(x.pointer.strip("/"), x.found, x.expected) for x in faults_of(error)]
        return None, [ToldFault(x.parameter, _worded(x)) for x in faults]


def _worded(fault: ParameterFault) -> str:
    if fault.found == "nothing":
        return f"{_RIGHT.get(fault.parameter, 'This has to be told')}."
    return f"Expected {fault.expected}; found {fault.found}."


def _page(
    request: Request,
    offer: Offer,
    effect: ImpactAnswer | None,
    form: Mapping[str, str],
    faults: list[ToldFault] | None = None,
    in_the_way: str | None = None,
) -> Response:
    is_wrong = bool(faults or (in_the_way and form))
    return shown(
        request,
        "workshop_publish.html",
        status=409 if in_the_way and form else 422 if is_wrong else 200,
        offer=offer,
        effect=effect,
        counted=[] if effect is None else counted(effect["counts"]),
        most=_MOST_SHOWN,
        given=form,
        who=form.get("author") or who_works(request),
        told=faults or [],
        in_the_way=in_the_way,
    )


@router.get(f"{PATH}/{{id}}/impact")
async def impact(
    request: Request, resources: AppResources, drafts: AppDrafts, foresight: AppForesight, id_: DraftId
) -> Response:
    """The whole of what a draft does, by page."""
    go_elsewhere()
    contents = await resources.look(contents_of, drafts, id_)
    values: dict[str, Any] = {"effect": None, "effect_fault": None}
    try:
        values["effect"] = await foresight.of_draft(id_)
    except ConflictError as error:
        values["effect_fault"] = error.told
    told = values["effect"]
    start = _start(request)
    return shown(
        request,
        "workshop_impact.html",
        draft=contents.draft,
        counted=[] if told is None else counted(told["counts"]),
        start=start,
        questions=[] if told is None else told["questions"][start : start + _EACH],
        next_start=start + _EACH if told is not None and start + _EACH < len(told["questions"]) else None,
        **values,
    )


def _start(request: Request) -> int:
    told = request.query_params.get("from", "")
    return int(told) if told.isascii() and told.isdecimal() and len(told) < _MOST_DIGITS else 0
