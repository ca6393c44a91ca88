"""Ask: pick the car, see its layouts, add wishes, see the bills. The address holds the whole question."""

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.documents.answer import Answer, LayoutChoice
from service.documents.request import BillRequest
from service.usecases.browse import chassis_layouts, find_chassis
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition, Library
from service.web.counter.question_form import changed, link_of, query_fields
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.visits import visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.ask import cars_like, cautions_of, differing, form_of
from service.web.queries import RevisionQuery, read_query
from service.web.question_query import QuestionQuery, WishesQuery, of_query, query_text
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

SHOWN_AT_FIRST = 3
MOST_SHOWN = 6
"""So many bills are shown side by side at most: beyond that a page is neither light nor readable."""
_CAR = "car"
_KEPT = ("layout", "fuel", "power_kw", "gauge")
_OF_A_LAYOUT = {"chassis", "layout"}
_LONGEST_NAME = 120
"""No id and no word of a car's name is longer; what is, is looked for, and shown, so far."""


@router.get("/")
async def start() -> Response:
    return gone_to("/ask")


@router.get("/ask")
async def ask(request: Request, resources: AppResources) -> Response:
    return await resources.run(_asked, request, resources.library)


def _asked(request: Request, library: Library) -> Response:
    given = [(name, value) for name, value in request.query_params.multi_items() if value.strip()]
    revisions = [(name, value.strip()) for name, value in given if name == "revision"]
    edition = library.edition(read_query(RevisionQuery, revisions).revision)
    car = " ".join(value for name, value in given if name == _CAR)[:_LONGEST_NAME]
    fields = query_fields((pair for pair in given if pair[0] != _CAR), edition.revision.currency)
    if "chassis" not in fields:
        return _cars(request, edition, car, fields)
    try:
        chassis = find_chassis(edition, fields["chassis"])
    except NotFoundError:
        return _cars(request, edition, fields.pop("chassis")[:_LONGEST_NAME], fields, status=404)
    if "layout" not in fields:
        return _page(request, edition, fields, None, [])
    try:
        read = read_query(QuestionQuery, list(fields.items()))
        question = read.question()
        canonical = query_text(question) | ({"limit": fields["limit"]} if "limit" in fields else {})
        if dict(request.query_params) != canonical or len(request.query_params.multi_items()) != len(canonical):
            return gone_to(link_of(question) + (f"&limit={fields['limit']}" if "limit" in fields else ""))
        most = min(question.limit if "limit" in fields else SHOWN_AT_FIRST, MOST_SHOWN)
        answer = answer_in(edition, question.model_copy(update={"limit": most}))
    except RequestFaultsError as error:
        return _page(request, edition, fields, None, list(of_query(error).faults))
    except InvalidQueryError as error:
        return _page(request, edition, fields, None, list(error.faults))
    return _page(request, edition, fields | {"chassis": chassis.id}, (question, answer), [])


def _cars(request: Request, edition: Edition, words: str, fields: Mapping[str, str], status: int = 200) -> Response:
    """The cars to pick from; what else was asked stays in their links."""
    cars, total = cars_like(edition, words)
    kept = {name: value for name, value in fields.items() if name in _KEPT and len(value) <= _LONGEST_NAME}
    return shown(request, "cars.html", status=status, cars=cars, total=total, words=words, kept=kept)


def _page(
    request: Request,
    edition: Edition,
    fields: Mapping[str, str],
    found: tuple[BillRequest, Answer] | None,
    faults: list[ParameterFault],
) -> Response:
    chassis = edition.revision.chassis[fields["chassis"]]
    return shown(
        request,
        "ask.html",
        status=422 if faults else 200,
        chassis=chassis,
        form=form_of(fields, chassis, edition.revision, visit_of(request).units),
        layouts=_layouts(edition, chassis.id, fields),
        currency=edition.revision.currency,
        faults=faults,
        **_results(found),
    )


def _layouts(edition: Edition, chassis: str, fields: Mapping[str, str]) -> list[LayoutChoice]:
    """The layouts with the wishes of the form; without any while these have faults."""
    given = [(name, value) for name, value in fields.items() if name not in _OF_A_LAYOUT]
    try:
        asked = read_query(WishesQuery, given).question_on(chassis, chassis)
        wishes = asked.model_dump(exclude_unset=True, exclude=_OF_A_LAYOUT)
        return chassis_layouts(edition, chassis, wishes)
    except (InvalidQueryError, RequestFaultsError):
        return chassis_layouts(edition, chassis)


def _results(found: tuple[BillRequest, Answer] | None) -> dict[str, Any]:
    if found is None:
        return {"answer": None}
    question, answer = found
    bills = answer["bills"]
    more = min(len(bills) + SHOWN_AT_FIRST, MOST_SHOWN) if len(bills) < min(answer["total_valid"], MOST_SHOWN) else 0
    return {
        "answer": answer,
        "question": query_text(question),
        "layout": question.layout,
        "differing": differing(bills),
        "cautions": cautions_of(answer),
        "alternatives": [
            (alternative, link_of(changed(question, alternative["change"]))) for alternative in answer["alternatives"]
        ],
        "repairs": [(repair, link_of(changed(question, repair["change"]))) for repair in answer["repairs"]],
        "more_link": f"{link_of(question)}&limit={more}" if more else None,
    }
