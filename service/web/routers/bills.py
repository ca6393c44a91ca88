"""Bills: asking for them, and giving one again by its key."""

from functools import partial
from typing import Annotated

import orjson
from fastapi import APIRouter, Depends, Path, Request
from starlette.responses import Response

from service.documents.answer import RecalledBill
from service.documents.found import AnswerInDetail
from service.documents.request import BillRequest, Detail, DetailedRequest
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import found_in
from service.usecases.library import Edition, Library
from service.usecases.recall_bill import edition_of_key, recall_bill
from service.web import examples
from service.web.asked_questions import AppAskedQuestions
from service.web.bodies import body_of
from service.web.languages import ACCEPT_LANGUAGE, PARAMETER, AppLanguages, worded
from service.web.negotiation import negotiated
from service.web.operations import answers, json_body, query
from service.web.pages.take_along import csv_of
from service.web.queries import NoQuery, parameters_of, query_of
from service.web.question_query import BillsQuery, of_query
from service.web.representations import CSV, JSON, NEVER, REVALIDATE, represent
from service.web.resources import AppResources
from service.web.routers.sections import caching
from service.web.visitors import DETAIL, visitor

router = APIRouter(prefix="/v1/bills", tags=["bills"])

_ASK_PROBLEMS = ("malformed-json", "invalid-request", "unsupported-media-type", "body-timeout", "no-catalog")


@router.post(
    "",
    operation_id="findBills",
    summary="What does this car need?",
    description="Every valid bill is counted; the best are given with their reasons. Nothing fits: 200, with none.",
    response_model=AnswerInDetail,
    responses=answers("The answer.", examples.answer(), *_ASK_PROBLEMS, conditional=False, worded=True),
    openapi_extra=json_body("DetailedRequest", examples.question()) | query([PARAMETER]),
)
async def find(
    resources: AppResources,
    noted: AppAskedQuestions,
    _: Annotated[NoQuery, Depends(query_of(NoQuery))],
    asked: Annotated[DetailedRequest, Depends(body_of(DetailedRequest))],
    languages: AppLanguages,
) -> Response:
    visitor().state[DETAIL] = asked.detail
    question = asked.question()
    call = partial(_found, question, asked.detail, languages)
    found = await resources.answer(asked.revision, resources.library.edition_for, call)
    noted.note(question)
    return found


def _found(question: BillRequest, detail: Detail, languages: str, edition: Edition) -> Response:
    with worded(languages, edition.revision) as told:
        answer = found_in(edition, question, detail)
    body = orjson.dumps(answer)
    return represent(body, caching=NEVER, revision=answer["revision"], more=told(body))


@router.get(
    "",
    operation_id="findBillsByQuery",
    summary="The same question as a query",
    description="As POST /v1/bills, with the question in the query, so that the answer can be cached.",
    response_model=AnswerInDetail,
    responses=answers("The answer.", examples.answer(), "unknown-id", "invalid-request", "no-catalog", worded=True),
    openapi_extra=query([*parameters_of(BillsQuery), PARAMETER]),
)
async def find_by_query(
    resources: AppResources,
    noted: AppAskedQuestions,
    given: Annotated[BillsQuery, Depends(query_of(BillsQuery))],
    languages: AppLanguages,
) -> Response:
    visitor().state[DETAIL] = given.detail
    found = await resources.answer(
        given.revision, resources.library.edition, partial(_found_by_query, given, languages)
    )
    noted.note(given.question())
    return found


def _found_by_query(given: BillsQuery, languages: str, edition: Edition) -> Response:
    try:
        with worded(languages, edition.revision) as told:
            answer = found_in(edition, given.question(), given.detail)
    except RequestFaultsError as error:
        raise of_query(error) from error
    body = orjson.dumps(answer)
    return represent(body, caching=caching(given), revision=answer["revision"], more=told(body))


@router.get(
    "/{key}",
    operation_id="recallBill",
    summary="A bill again, by its key",
    description="In its own revision, from any worker, after a restart; `current` tells what the newest makes of it.",
    response_model=RecalledBill,
    responses=answers(
        "The bill.",
        examples.recalled(),
        *("unknown-id", "not-acceptable", "invalid-request", "no-catalog"),
        also={CSV: {"type": "string"}},
        worded=True,
    ),
    openapi_extra=query([PARAMETER]),
)
async def recall(
    request: Request,
    resources: AppResources,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.recalled()["bill"]["key"]])],
    _: Annotated[NoQuery, Depends(query_of(NoQuery))],
    languages: AppLanguages,
) -> Response:
    return await resources.run(_recalled, resources.library, key, negotiated(request, (JSON, CSV)), languages)


def _recalled(library: Library, key: str, media_type: str, languages: str) -> Response:
    if media_type == CSV:
        bill = recall_bill(library, key)
        body, more = csv_of(bill["bill"], bill).encode(), {"Vary": "Accept"}
    else:
        with worded(languages, edition_of_key(library, key).revision) as told:
            bill = recall_bill(library, key)
        body = orjson.dumps(bill)
        more = {**told(body), "Vary": f"Accept, {ACCEPT_LANGUAGE}"}
    return represent(body, caching=REVALIDATE, revision=bill["revision"], media_type=media_type, more=more)
