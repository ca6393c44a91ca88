"""Which part next: the part that would give most questions without a bill one."""

from functools import partial

from fastapi import APIRouter, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.impact import BeingWorkedOut
from service.documents.next_part import NextPart
from service.usecases.impact import NewMeter
from service.usecases.library import Library
from service.usecases.next_parts import next_parts_in
from service.usecases.standing import KeptQuestions
from service.web import examples
from service.web.handing import go_elsewhere
from service.web.operations import OF_ID, Later, query, worked_out
from service.web.queries import RevisionAsked, RevisionQuery, parameters_of
from service.web.reckonings import AppReckonings, kept_questions, not_yet
from service.web.representations import REVALIDATE, represent
from service.web.resources import AppResources

router = APIRouter(prefix="/v1/next-parts", tags=["catalog"])


@router.get(
    "",
    operation_id="listNextParts",
    summary="Which part should the maker make next?",
    description="Every plug and fitting over the port standards that, once it is in the catalog, gives standing "
    "questions without a bill one: what unlocks most first. It is worked out in the background for a revision.",
    response_model=list[NextPart],
    responses=worked_out("The parts.", BeingWorkedOut, examples.being_worked_out(), Later(examples.next_parts), *OF_ID),
    openapi_extra=query(parameters_of(RevisionQuery)),
)
async def list_next_parts(
    request: Request, resources: AppResources, reckonings: AppReckonings, given: RevisionAsked
) -> Response:
    go_elsewhere()
    library = resources.library
    kept = kept_questions(request)
    number, newest = await resources.run(_what_counts, library, kept, given.revision)
    call = partial(_reckoned, library, kept, number, resources.lanes.paced)
    told: list[NextPart] | None = reckonings.get(("next-parts", number, newest), call)
    if told is None:
        return not_yet(number)
    return represent(to_json(told), caching=REVALIDATE, revision=number)


def _what_counts(library: Library, kept: KeptQuestions, revision: int | None) -> tuple[int, tuple[object, ...]]:
    """The number of the revision and what tells whether other questions stand by now."""
    return library.edition(revision).number, kept.newest()


def _reckoned(library: Library, kept: KeptQuestions, number: int, new_meter: NewMeter) -> list[NextPart]:
    return next_parts_in(library.edition(number), kept.gather(), new_meter)
