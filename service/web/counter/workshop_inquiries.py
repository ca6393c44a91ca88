"""What the catalog could not answer: who asked what, and whether the newest revision, or a draft, answers it now."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, get_args

from fastapi import APIRouter, Depends, Path, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.answer import Answer, Line
from service.documents.faults import faults_of
from service.documents.inquiry import InquiryChange, InquiryGroup, InquiryStatus, WorkshopInquiry
from service.documents.request import BillRequest
from service.usecases.answer_inquiry import answer_inquiry, tag_of
from service.usecases.draft_contents import answers_to, contents_of
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError, EditedMeanwhileError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.keep_inquiry import KIND, Inquiries, document_of
from service.usecases.library import Edition, Library
from service.usecases.list_inquiries import group_inquiries, told_inquiry
from service.usecases.publish import looked_at
from service.web.access import caller_of
from service.web.counter.forms import own_form
from service.web.counter.question_form import link_of
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.errors import OverloadedError
from service.web.handing import go_elsewhere
from service.web.pages.workshop_words import Names
from service.web.reckonings import AppReckonings, Reckonings
from service.web.resources import AppInquiries, AppResources, Resources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_EACH = 20
_MOST_DRAFTS = 60
_LONGEST_ID = 64
_OPEN = "open"


async def drafts_if_any(request: Request) -> Drafts | None:
    """What keeps the drafts of the caller's account; None where the application was composed without."""
    kept: Drafts | None = request.app.state.drafts
    return None if kept is None else kept.of(caller_of(request.scope).account)


DraftsIfAny = Annotated[Drafts | None, Depends(drafts_if_any)]


@dataclass(frozen=True)
class Row:
    """An inquiry with what is answered to it now; `link` asks its question, `is_now`: it had no bill when it came."""

    inquiry: WorkshopInquiry
    words: str
    link: str | None
    answer: Answer | None = None
    is_now: bool = False

    @property
    def lines(self) -> list[Line]:
        """The lines of the best bill."""
        return self.answer["bills"][0]["lines"] if self.answer is not None and self.answer["bills"] else []


@dataclass(frozen=True)
class Held:
    """What inquiries are held against: the newest revision, or a draft with its name; `version` names its content."""

    edition: Edition
    version: tuple[str, int]
    draft_id: str = ""
    draft_name: str = ""
    fault: str | None = None


@router.get("/inquiries")
async def listed(
    request: Request, resources: AppResources, inquiries: AppInquiries, drafts: DraftsIfAny, reckonings: AppReckonings
) -> Response:
    go_elsewhere()
    status = _status(request.query_params.get("status", _OPEN))
    groups = await resources.look(group_inquiries, inquiries.store, _EACH, status)
    held = await resources.look(_held, resources.library, drafts, request.query_params.get("draft", "")[:_LONGEST_ID])
    answers = _answers(resources, reckonings, held, groups)
    return await resources.look(_page, request, drafts, groups, held, answers, status)


def _held(library: Library, drafts: Drafts | None, draft_id: str) -> Held:
    """What inquiries are held against. Raises NotFoundError for a draft that is not known."""
    edition = library.edition()
    if not draft_id or drafts is None:
        return Held(edition, ("", edition.number))
    draft = contents_of(drafts, draft_id).draft
    version = draft.id, draft.version
    try:
        ready = looked_at(drafts, draft_id)
    except ConflictError as error:
        return Held(edition, version, draft.id, draft.name, error.told)
    return Held(Edition(ready.base + 1, ready.catalog), version, draft.id, draft.name)


def _answers(
    resources: Resources, reckonings: Reckonings, held: Held, groups: list[InquiryGroup]
) -> dict[str, Answer | None] | None:
    """By the id of each inquiry what is answered to it now; None while that is worked out."""
    if held.fault is not None:
        return {}
    every = [one for group in groups for one in group["inquiries"]]
    requests = {one["id"]: one["request"] for one in every if "chassis" in one["request"]}
    new_meter = resources.lanes.paced
    try:
        told: dict[str, Answer | None] | None = reckonings.get(
            ("inquiries in", *held.version, tuple(requests)), lambda: answers_to(held.edition, requests, new_meter)
        )
    except OverloadedError:
        return None
    return told


def _page(
    request: Request,
    drafts: Drafts | None,
    groups: list[InquiryGroup],
    held: Held,
    answers: dict[str, Answer | None] | None,
    status: InquiryStatus | None,
) -> Response:
    names = Names(held.edition.catalog.texts)
    told = answers or {}
    kept = drafts.store.page(_MOST_DRAFTS) if drafts is not None else []
    return shown(
        request,
        "inquiries.html",
        groups=[(group, [_row(one, names, told.get(one["id"])) for one in group["inquiries"]]) for group in groups],
        held=held,
        drafts=[one for one in kept if one.published is None],
        is_waiting=answers is None,
        chosen=status or "",
        statuses=get_args(InquiryStatus),
        currency=names.currency,
    )


def _row(inquiry: WorkshopInquiry, names: Names, answer: Answer | None) -> Row:
    asked: Mapping[str, Any] = inquiry["request"]
    if "chassis" not in asked:
        words = ", ".join(f"{name.replace('_', ' ')}: {value}" for name, value in asked.items())
        return Row(inquiry, words, None)
    words = f"{names.of('chassis', asked['chassis'])}, {names.of('layouts', asked['layout'])}"
    has_bill = answer is not None and answer["total_valid"] > 0
    link = link_of(BillRequest.model_validate(asked))
    return Row(inquiry, words, link, answer, has_bill and not inquiry["total_valid"])


def _status(told: str) -> InquiryStatus | None:
    """The status that is asked for; None: every one."""
    return next((one for one in get_args(InquiryStatus) if one == told), None)


@router.get("/inquiries/{id}/answer")
async def to_answer(
    request: Request, resources: AppResources, inquiries: AppInquiries, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    return await resources.look(_one, request, resources.library, inquiries, wanted)


def _one(
    request: Request,
    library: Library,
    inquiries: Inquiries,
    wanted: str,
    given: Mapping[str, str] | None = None,
    faults: tuple[RequestFault, ...] = (),
    in_the_way: str | None = None,
) -> Response:
    """An inquiry by itself, to be answered; with what was typed where it could not be kept."""
    kept = inquiries.store.get(wanted)
    if kept is None:
        raise NotFoundError(KIND, wanted)
    return shown(
        request,
        "workshop_inquiry.html",
        status=409 if in_the_way else 422 if faults else 200,
        row=_row(told_inquiry(kept), Names(library.catalog(library.newest()).texts), None),
        tag=tag_of(document_of(kept).encode()),
        reply=kept.reply or "" if given is None else given.get("reply", ""),
        wrong=faults,
        in_the_way=in_the_way,
    )


@router.post("/inquiries/{id}/answer")
async def answer(
    request: Request, resources: AppResources, inquiries: AppInquiries, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    form = await own_form(request)
    return await resources.write(_answered, request, resources.library, inquiries, wanted, form)


def _answered(
    request: Request, library: Library, inquiries: Inquiries, wanted: str, form: Mapping[str, str]
) -> Response:
    """Keep the reply and the status; where others answered meanwhile, show theirs with what was typed."""
    reply = form.get("reply", "").replace("\r\n", "\n").strip() or None
    status = _status(form.get("status", "")) or "answered"
    try:
        asked = InquiryChange.model_validate({"status": status, "reply": reply})
        answer_inquiry(inquiries.store, wanted, asked, (form.get("tag", ""),))
    except EditedMeanwhileError as error:
        return _one(request, library, inquiries, wanted, form, in_the_way=error.told)
    except RequestFaultsError as error:
        return _one(request, library, inquiries, wanted, form, error.faults)
    except ValidationError as error:
        faults = tuple(RequestFault(x.pointer, x.found, x.expected) for x in faults_of(error))
        return _one(request, library, inquiries, wanted, form, faults)
    return gone_to("/inquiries")
