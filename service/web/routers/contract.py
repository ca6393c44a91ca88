"""The standing cases: questions with what their answers promise, for partners to run against the service."""

from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.responses import Response

from service.documents.contract import CaseFile
from service.usecases.contract_cases import contract_cases
from service.web import examples
from service.web.operations import answers, query
from service.web.queries import RevisionQuery, parameters_of, query_of
from service.web.representations import represent
from service.web.resources import AppResources, Resources
from service.web.routers.sections import caching

router = APIRouter(prefix="/v1/contract", tags=["descriptions"])


@router.get(
    "/cases",
    operation_id="listContractCases",
    summary="What a partner can count on, as questions with promises",
    description=(
        "The standing cases of a revision, in the format of a partner's own file. A promise that tells a `key` is of "
        "the revision that its request names; all others hold of the newest until a catalog says otherwise."
    ),
    response_model=CaseFile,
    responses=answers("The cases.", examples.contract_cases(), "unknown-id", "invalid-request", "no-catalog"),
    openapi_extra=query(parameters_of(RevisionQuery)),
)
async def list_cases(
    resources: AppResources, given: Annotated[RevisionQuery, Depends(query_of(RevisionQuery))]
) -> Response:
    return await resources.run(_represented, resources, given)


def _represented(resources: Resources, given: RevisionQuery) -> Response:
    edition = resources.library.edition(given.revision)
    content = contract_cases(edition).model_dump_json(exclude_defaults=True).encode()
    return represent(content, caching=caching(given), revision=edition.number)
