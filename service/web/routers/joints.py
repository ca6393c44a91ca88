"""Joints: whether two ports or parts meet, how, and what would join them if not."""

from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.joint import JointAnswer, JointQuestion
from service.usecases.join import join_in
from service.usecases.library import Library
from service.web import examples
from service.web.bodies import body_of
from service.web.languages import PARAMETER, AppLanguages, worded
from service.web.operations import OF_BODY, answers, json_body, query
from service.web.queries import NothingAsked
from service.web.representations import NEVER, represent
from service.web.resources import AppResources

router = APIRouter(prefix="/v1/joints", tags=["joints"])


@router.post(
    "",
    operation_id="joinPorts",
    summary="Can these two meet?",
    description=(
        "Each side is a part of the catalog, with one of its ports or with all of them, or a bare port. Yes: by which "
        "ports and how the joint is made up. No: what stands between them, and the shortest chain of fittings (lines "
        "only where fittings do not reach) that joins them. Only ports are compared."
    ),
    response_model=JointAnswer,
    responses=answers("The answer.", examples.joint_answer(), *OF_BODY, conditional=False, worded=True),
    openapi_extra=json_body("JointQuestion", examples.joint_question()) | query([PARAMETER]),
)
async def join_ports(
    resources: AppResources,
    _: NothingAsked,
    question: Annotated[JointQuestion, Depends(body_of(JointQuestion))],
    languages: AppLanguages,
) -> Response:
    return await resources.run(_joined, resources.library, question, languages)


def _joined(library: Library, question: JointQuestion, languages: str) -> Response:
    edition = library.edition_for(question.revision)
    with worded(languages, edition.revision) as told:
        answer = join_in(edition, question)
    body = to_json(answer)
    return represent(body, caching=NEVER, revision=answer["revision"], more=told(body))
