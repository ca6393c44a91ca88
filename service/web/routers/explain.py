"""Explanations: why a part is, or is not, in the bills of a request."""

from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.explain import ExplainRequest, Explanation
from service.usecases.explain_part import explain_in
from service.usecases.library import Library
from service.web import examples
from service.web.bodies import body_of
from service.web.languages import PARAMETER, AppLanguages, worded
from service.web.operations import OF_BODY, answers, json_body, query
from service.web.queries import NothingAsked
from service.web.representations import NEVER, represent
from service.web.resources import AppResources

router = APIRouter(prefix="/v1/explain", tags=["bills"])


@router.post(
    "",
    operation_id="explainPart",
    summary="Why is this part, or is it not, in the bills?",
    description=(
        "For each spot (or the one that is asked about): whether the part stands there in any valid bill, with what is "
        "left of each limit. Where not: every rule that stops the chain of it that comes furthest, with what is "
        "missing, and the smallest change of one wish that would let it in, which was tried."
    ),
    response_model=Explanation,
    responses=answers("The explanation.", examples.explanation(), *OF_BODY, conditional=False, worded=True),
    openapi_extra=json_body("ExplainRequest", examples.explain_question()) | query([PARAMETER]),
)
async def explain(
    resources: AppResources,
    _: NothingAsked,
    question: Annotated[ExplainRequest, Depends(body_of(ExplainRequest))],
    languages: AppLanguages,
) -> Response:
    return await resources.run(_explained, resources.library, question, languages)


def _explained(library: Library, question: ExplainRequest, languages: str) -> Response:
    edition = library.edition_for(question.request.revision, "/request/revision")
    with worded(languages, edition.revision) as told:
        answer = explain_in(edition, question)
    body = to_json(answer)
    return represent(body, caching=NEVER, revision=answer["revision"], more=told(body))
