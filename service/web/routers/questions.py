"""Reading a question: what a customer says, as fields of a request and what has to be asked."""

from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.question_reading import QuestionText, ReadQuestion
from service.usecases.library import Library
from service.usecases.read_question import read_question
from service.web import examples
from service.web.bodies import body_of
from service.web.operations import OF_BODY, answers, json_body
from service.web.queries import NothingAsked
from service.web.representations import NEVER, represent
from service.web.resources import AppResources

router = APIRouter(tags=["bills"])


@router.post(
    "/v1/questions/read",
    operation_id="readQuestion",
    summary="What does this customer ask for?",
    description="Reads a sentence by the names and aliases of the catalog and the words of the trade. What is"
    " understood quotes the words that it came from; what is missing, said twice or could mean two things is asked"
    " back with its choices. A car that is not in the catalog is told apart, with what can be said of it now, for POST"
    " /v1/inquiries/cars. `request` is taken by POST /v1/bills once chassis and layout are understood. Nothing is"
    " kept.",
    response_model=ReadQuestion,
    responses=answers("What was read.", examples.read_question(), *OF_BODY, conditional=False),
    openapi_extra=json_body("QuestionText", examples.question_text()),
)
async def read(
    resources: AppResources, _: NothingAsked, asked: Annotated[QuestionText, Depends(body_of(QuestionText))]
) -> Response:
    return await resources.run(_read, resources.library, asked)


def _read(library: Library, asked: QuestionText) -> Response:
    answer = read_question(library, asked)
    return represent(to_json(answer), caching=NEVER, revision=answer["revision"])
