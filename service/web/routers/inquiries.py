"""Inquiries: questions sent to the workshop, and what it answers. Whom they are from is taken here and never given out.

Answering is without keys: for loopback alone.
"""

from typing import Annotated

from fastapi import APIRouter, Depends, Path
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.inquiry import Inquiry, InquiryChange, SentInquiry
from service.documents.unknown_car import SentUnknownCar, UnknownCarAnswer
from service.storage.keeping import USUAL
from service.usecases.answer_inquiry import answer_inquiry, tag_of
from service.usecases.keep_inquiry import Inquiries
from service.usecases.kept_once import Kept
from service.usecases.library import Library
from service.usecases.preconditions import Precondition
from service.usecases.unknown_car import answer_of, judged
from service.web import examples
from service.web.bodies import body_of
from service.web.idempotency import PARAMETER, idempotency_key_of
from service.web.operations import OF_BODY, OF_ID, answers, created, edited, json_body, patch_body, query
from service.web.preconditions import parameters, precondition_of
from service.web.queries import NothingAsked
from service.web.representations import JSON, MERGE_PATCH, NEVER, OWN, REVISION, represent
from service.web.resources import AppInquiries, AppResources

PREFIX = "/v1/inquiries"

router = APIRouter(tags=["inquiries"])

_SENDING = (*OF_BODY, "idempotency-key-reused", "no-room")


@router.post(
    PREFIX,
    status_code=201,
    operation_id="sendInquiry",
    summary="Send a question to the workshop",
    description="For a question without a valid bill, or without the right one. The question is answered again here,"
    " and kept with what conflicts and what was missing, a contact line and a note. Contact and note are for the"
    " workshop alone: the API never gives them out.",
    response_model=Inquiry,
    responses=created(
        "The inquiry, kept.", "The inquiry that was kept when this came before.", Inquiry, examples.inquiry(), *_SENDING
    ),
    openapi_extra=json_body("SentInquiry", examples.inquiry_request()) | query([PARAMETER]),
)
async def send(
    resources: AppResources,
    inquiries: AppInquiries,
    _: NothingAsked,
    key: Annotated[str | None, Depends(idempotency_key_of)],
    inquiry: Annotated[SentInquiry, Depends(body_of(SentInquiry))],
) -> Response:
    judged = await resources.run(inquiries.judge, inquiry, key)
    kept = judged if isinstance(judged, Kept) else await resources.write(inquiries.store_judged, judged)
    headers = {REVISION: str(kept.revision), "Location": f"{PREFIX}/{kept.id}", "Cache-Control": NEVER}
    return Response(kept.document, 200 if kept.again else 201, headers, JSON)


InquiryId = Annotated[str, Path(alias="id", description="the id of an inquiry", examples=[examples.inquiry()["id"]])]


@router.patch(
    f"{PREFIX}/{{id}}",
    operation_id="answerInquiry",
    summary="Answer an inquiry, or close it: JSON Merge Patch, RFC 7396",
    description="A reply makes it answered, unless another status is told. Whoever has the id reads the reply with the "
    "inquiry. `If-Match` is the ETag that it was read with; 412 where somebody answered meanwhile.",
    response_model=Inquiry,
    responses=edited(
        "The inquiry with its answer.",
        Inquiry,
        examples.answered_inquiry(),
        *("unknown-id", "edited-meanwhile", "precondition-required"),
        *OF_BODY,
        may_be_new=False,
    ),
    openapi_extra=patch_body("InquiryChange", examples.inquiry_change()) | query(parameters(may_be_new=False)),
)
async def answer(
    resources: AppResources,
    inquiries: AppInquiries,
    wanted: InquiryId,
    _: NothingAsked,
    meant: Annotated[Precondition, Depends(precondition_of)],
    asked: Annotated[InquiryChange, Depends(body_of(InquiryChange, MERGE_PATCH, JSON))],
) -> Response:
    kept = await resources.write(answer_inquiry, inquiries.store, wanted, asked, meant.tags or ())
    headers = {"ETag": tag_of(kept.document), "Cache-Control": NEVER}
    return Response(kept.document, 200, headers, JSON)


@router.post(
    f"{PREFIX}/cars",
    status_code=201,
    operation_id="sendUnknownCar",
    summary="Ask about a car that is not in the catalog",
    description="All that is known of the car goes to the workshop as one inquiry, and is answered with what can be"
    " said now: the rails of engines with as many cylinders and banks, what it takes to keep the rail that is there,"
    " and what has to be measured. Contact and note are for the workshop alone: the API never gives them out.",
    response_model=UnknownCarAnswer,
    responses=created(
        "The inquiry, kept, and what can be said now.",
        "The inquiry that was kept when this came before.",
        UnknownCarAnswer,
        examples.unknown_car(),
        *_SENDING,
    ),
    openapi_extra=json_body("SentUnknownCar", examples.sent_unknown_car()) | query([PARAMETER]),
)
async def send_car(
    resources: AppResources,
    inquiries: AppInquiries,
    _: NothingAsked,
    key: Annotated[str | None, Depends(idempotency_key_of)],
    asked: Annotated[SentUnknownCar, Depends(body_of(SentUnknownCar))],
) -> Response:
    made = await resources.run(judged, resources.library, asked, key)
    kept = await resources.write(inquiries.store_judged, made)
    answer = await resources.run(_told_car, resources.library, kept)
    headers = {REVISION: str(kept.revision), "Location": f"{PREFIX}/{kept.id}", "Cache-Control": NEVER}
    return Response(answer, 200 if kept.again else 201, headers, JSON)


def _told_car(library: Library, kept: Kept) -> bytes:
    return to_json(answer_of(library, kept))


@router.get(
    f"{PREFIX}/{{id}}",
    operation_id="recallInquiry",
    summary="A kept inquiry again",
    description="As it was judged, with what the workshop answered, until the workshop deletes it, for "
    f"{USUAL.inquiries_days} days at most unless the service is set otherwise; without contact and note.",
    response_model=Inquiry,
    responses=answers("The inquiry.", examples.inquiry(), *OF_ID),
)
async def recall(resources: AppResources, inquiries: AppInquiries, wanted: InquiryId, _: NothingAsked) -> Response:
    return await resources.look(_recalled, inquiries, wanted)


def _recalled(inquiries: Inquiries, wanted: str) -> Response:
    kept = inquiries.recall(wanted)
    return represent(kept.document, caching=OWN, revision=kept.revision)
