"""What describes the service itself: the catalog's JSON Schema, the problem types."""

from functools import cache
from typing import Annotated, Any

from fastapi import APIRouter, Path
from pydantic_core import to_json
from starlette.responses import Response
from typing_extensions import TypedDict

from service.documents.catalog import Catalog
from service.documents.nearest import nearest
from service.usecases.errors import NotFoundError
from service.web.operations import answers
from service.web.problems import PROBLEM_TYPES, ProblemType
from service.web.queries import NothingAsked
from service.web.representations import LASTING, represent

router = APIRouter(tags=["descriptions"])

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class ProblemPage(TypedDict):
    """What a type of problem means and what the caller can do."""

    type: str
    title: str
    status: int
    meaning: str
    remedy: str


@cache
def _catalog_schema() -> dict[str, Any]:
    return {"$schema": DIALECT, **Catalog.model_json_schema()}


@router.get(
    "/v1/schema/catalog",
    operation_id="getCatalogSchema",
    summary="The JSON Schema of the catalog document",
    response_model=dict[str, Any],
    responses=answers("The schema.", {"$schema": DIALECT, "title": "Catalog"}, "invalid-request", revision=False),
)
async def catalog_schema(_: NothingAsked) -> Response:
    return represent(to_json(_catalog_schema()), caching=LASTING)


def _page(kind: ProblemType) -> ProblemPage:
    return {
        "type": kind.uri,
        "title": kind.title,
        "status": kind.status,
        "meaning": kind.meaning,
        "remedy": kind.remedy,
    }


@router.get(
    "/v1/problems/{code}",
    operation_id="getProblem",
    summary="What a type of problem means and what to do",
    response_model=ProblemPage,
    responses=answers("The type.", _page(PROBLEM_TYPES["unknown-id"]), "unknown-id", "invalid-request", revision=False),
)
async def problem(
    code: Annotated[str, Path(description="the last part of a problem's `type`", examples=["unknown-id"])],
    _: NothingAsked,
) -> Response:
    if code not in PROBLEM_TYPES:
        raise NotFoundError("problem type", code, tuple(nearest(code, PROBLEM_TYPES)))
    return represent(_page(PROBLEM_TYPES[code]), caching=LASTING)
