"""Bills: asking for them, and giving one again by its key."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.answer import Answer, RecalledBill
from service.documents.request import BillRequest
from service.usecases.errors import NotFoundError, RequestFault, RequestFaultsError
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.usecases.recall_bill import recall_bill
from service.web import examples
from service.web.bodies import body_of
from service.web.operations import answers, json_body, query
from service.web.queries import NoQuery, parameters_of, query_of
from service.web.question_query import QuestionQuery, of_query
from service.web.representations import JSON, LASTING, NEVER, REVISION, represent
from service.web.resources import AppResources, Resources
from service.web.routers.sections import caching

router = APIRouter(prefix="/v1/bills", tags=["bills"])

_ASK_PROBLEMS = (
    "malformed-json",
    "invalid-request",
    "unsupported-media-type",
    "body-timeout",
    "no-catalog",
)


@router.post(
    "",
    operation_id="findBills",
    summary="What does this car need?",
    description="Every valid bill is counted; the best are given with their reasons. Nothing fits: 200, with none.",
    response_model=Answer,
    responses=answers("The answer.", examples.answer(), *_ASK_PROBLEMS, conditional=False),
    openapi_extra=json_body("BillRequest", examples.question()),
)
async def find(
    resources: AppResources,
    _: Annotated[NoQuery, Depends(query_of(NoQuery))],
    question: Annotated[BillRequest, Depends(body_of(BillRequest))],
) -> Response:
    return await resources.run(_found, resources, question)


def _found(resources: Resources, question: BillRequest) -> Response:
    try:
        revision, answer = _answer(resources, question)
    except NotFoundError as error:  # of a body's revision the body's place is told
        fault = RequestFault("/revision", error.value, f"the number of a known {error.kind}", error.nearest)
        raise RequestFaultsError((fault,)) from error
    headers = {REVISION: str(revision), "Cache-Control": NEVER}
    return Response(answer, headers=headers, media_type=JSON)


def _answer(resources: Resources, question: BillRequest) -> tuple[int, bytes]:
    """The revision that answers a question, and the answer as JSON: kept, where it was asked before."""
    number = resources.library.edition(question.revision).number
    asked = question.model_copy(update={"revision": number})
    key = (number, asked.model_dump_json())
    answer = resources.answers.get(key)
    if answer is None:
        answer = to_json(find_bills(resources.library, asked))
        resources.answers.keep(key, answer)
    return number, answer


@router.get(
    "",
    operation_id="findBillsByQuery",
    summary="The same question as a query",
    description="As POST /v1/bills, with the question in the query, so that the answer can be cached.",
    response_model=Answer,
    responses=answers("The answer.", examples.answer(), "unknown-id", "invalid-request", "no-catalog"),
    openapi_extra=query(parameters_of(QuestionQuery)),
)
async def find_by_query(
    request: Request,
    resources: AppResources,
    given: Annotated[QuestionQuery, Depends(query_of(QuestionQuery))],
) -> Response:
    return await resources.run(_found_by_query, request, resources, given)


def _found_by_query(request: Request, resources: Resources, given: QuestionQuery) -> Response:
    try:
        revision, answer = _answer(resources, given.question())
    except RequestFaultsError as error:
        raise of_query(error) from error
    return represent(request, answer, caching=caching(given), revision=revision)


@router.get(
    "/{key}",
    operation_id="recallBill",
    summary="A bill again, by its key",
    description="In its own revision, from any worker, after a restart.",
    response_model=RecalledBill,
    responses=answers("The bill.", examples.recalled(), "unknown-id", "invalid-request", "no-catalog"),
)
async def recall(
    request: Request,
    resources: AppResources,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.recalled()["bill"]["key"]])],
    _: Annotated[NoQuery, Depends(query_of(NoQuery))],
) -> Response:
    return await resources.run(_recalled, request, resources.library, key)


def _recalled(request: Request, library: Library, key: str) -> Response:
    bill = recall_bill(library, key)
    return represent(request, to_json(bill), caching=LASTING, revision=bill["revision"])
