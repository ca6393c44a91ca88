"""Ask: pick the car, power and fuel, then how fuel runs; see the bills. The address holds the whole question."""

import secrets
from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.documents.answer import Answer, LayoutChoice
from service.documents.request import BillRequest
from service.documents.sheet import SheetRail
from service.domain.vehicles import Layout
from service.usecases.browse import chassis_layouts, find, find_chassis
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.find_bills import seen_in
from service.usecases.glimpse import glimpses
from service.usecases.library import Edition, Library
from service.web.counter.question_form import changed, doubts, link_of, query_fields
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.visits import visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages import faults as fault_words
from service.web.pages.ask import asked_told, cautions_of, form_of, stopped
from service.web.pages.bills import other_bill, shown_bill, together
from service.web.pages.cards import GROUPS, ChangeCard, chosen, layout_cards
from service.web.pages.cars import cars_like, engine_told, engines_of
from service.web.pages.pictures import Pictures
from service.web.pages.qr import qr_of
from service.web.pages.take_along import text_of
from service.web.queries import RevisionQuery, read_query
from service.web.question_query import QuestionQuery, WishesQuery, of_query, query_text
from service.web.resources import AppResources
from service.web.site import Site

router = APIRouter(include_in_schema=False, route_class=PageRoute)

SHOWN_AT_FIRST = 6
MOST_SHOWN = 12
"""So many bills are looked at: mirror images stand together, all but the first are told by what differs."""
_MOST_GLIMPSES = 6
_CAR = "car"
_KEPT = frozenset(WishesQuery.model_fields) | {"layout"} - {"revision"}
_OF_A_LAYOUT = {"chassis", "layout"}
_LONGEST_NAME = 120
"""No id and no word of a car's name is longer; what is, is looked for, and shown, so far."""
_TOKEN_BYTES = 18


@router.get("/")
async def start() -> Response:
    return gone_to("/ask")


@router.get("/ask/")
async def start_again(request: Request) -> Response:
    return gone_to(f"/ask?{request.url.query}" if request.url.query else "/ask")


@router.get("/ask")
async def ask(request: Request, resources: AppResources) -> Response:
    return await resources.run(_asked, request, resources.library)


def _asked(request: Request, library: Library) -> Response:
    given = [(name, value) for name, value in request.query_params.multi_items() if value.strip()]
    revisions = [(name, value.strip()) for name, value in given if name == "revision"]
    edition = library.edition(read_query(RevisionQuery, revisions).revision)
    car = " ".join(value for name, value in given if name == _CAR)[:_LONGEST_NAME]
    given = [pair for pair in given if pair[0] != _CAR]
    fields = query_fields(given, edition.revision.currency)
    if "chassis" not in fields:
        return _cars(request, edition, car, fields)
    try:
        chassis = find_chassis(edition, fields["chassis"])
    except NotFoundError:
        return _cars(request, edition, fields.pop("chassis")[:_LONGEST_NAME], fields, status=404)
    doubtful = doubts(given)
    if doubtful or "layout" not in fields:
        return _page(request, edition, fields, None, doubtful)
    try:
        read = read_query(QuestionQuery, list(fields.items()))
        question = read.question()
        canonical = query_text(question) | ({"limit": fields["limit"]} if "limit" in fields else {})
        if dict(request.query_params) != canonical or len(request.query_params.multi_items()) != len(canonical):
            return gone_to(link_of(question) + (f"&limit={fields['limit']}" if "limit" in fields else ""))
        most = min(question.limit if "limit" in fields else SHOWN_AT_FIRST, MOST_SHOWN)
        found = seen_in(edition, question.model_copy(update={"limit": most}))
        request.app.state.asked_questions.note(question)
    except RequestFaultsError as error:
        return _page(request, edition, fields, None, list(of_query(error).faults))
    except InvalidQueryError as error:
        return _page(request, edition, fields, None, list(error.faults))
    return _page(request, edition, fields | {"chassis": chassis.id}, (question, *found), [])


def _cars(request: Request, edition: Edition, words: str, fields: Mapping[str, str], status: int = 200) -> Response:
    """The cars to pick from; what else was asked stays in their links."""
    cars, total = cars_like(edition, words)
    kept = {name: value for name, value in fields.items() if name in _KEPT and len(value) <= _LONGEST_NAME}
    return shown(
        request, "cars.html", status=status, cars=cars, total=total, words=words, kept=kept, engines=engines_of(edition)
    )


def _page(
    request: Request,
    edition: Edition,
    fields: Mapping[str, str],
    found: tuple[BillRequest, Answer, list[list[SheetRail]]] | None,
    faults: list[ParameterFault],
) -> Response:
    revision = edition.revision
    chassis = revision.chassis[fields["chassis"]]
    units = visit_of(request).units
    pictures = Pictures(edition)
    groups = layout_cards(_layouts(edition, chassis.id, fields), revision.layouts, chassis.banks, pictures)
    layout = revision.layouts.get(fields.get("layout", ""))
    return shown(
        request,
        "ask.html",
        status=422 if faults else 200,
        chassis=chassis,
        engine=engine_told(find(edition.catalog.chassis, "chassis", chassis.id)),
        form=form_of(fields, chassis, revision, units),
        asked=asked_told(fields, chassis, revision),
        layout=layout,
        groups=groups,
        headings=GROUPS,
        chosen=chosen(groups, None if layout is None else layout.id),
        currency=revision.currency,
        faults=faults,
        told=fault_words.told(faults),
        pictures=pictures,
        **({"answer": None} if found is None else _results(request, edition, pictures, *found)),
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


def _results(
    request: Request,
    edition: Edition,
    pictures: Pictures,
    question: BillRequest,
    answer: Answer,
    rails: Sequence[Sequence[SheetRail]],
) -> dict[str, Any]:
    bills = answer["bills"]
    seen: dict[str, Any] = {"best": None, "others": []}
    if bills:
        (_, ways), *others = together(bills)
        best = bills[0]
        site: Site = request.app.state.site
        link = f"{site.url}/bills/{best['key']}"
        layout = edition.revision.layouts[question.layout]
        title = f"{edition.revision.chassis[question.chassis].name}: {layout.name}"
        seen = {
            "best": shown_bill(best, rails[0], pictures, [bills[place] for place in ways]),
            "others": [
                (
                    other_bill(best, bills[place], [bills[way] for way in alike]),
                    ""
                    if bills[place]["duties"] == best["duties"]
                    else pictures.of_layout(layout, bills[place]["duties"]),
                )
                for place, alike in others
            ],
            "code": qr_of(link),
            "as_text": text_of(best, title, answer["currency"], link),
        }
    more = min(len(bills) + SHOWN_AT_FIRST, MOST_SHOWN) if len(bills) < min(answer["total_valid"], MOST_SHOWN) else 0
    return {
        "answer": answer,
        "question": query_text(question),
        "cautions": cautions_of(answer),
        "stopped": None if bills else stopped(answer),
        "alternatives": _changes(edition, question, answer["alternatives"], pictures),
        "repairs": _changes(edition, question, answer["repairs"], pictures),
        "more_link": f"{link_of(question)}&limit={more}" if more else None,
        "once": secrets.token_urlsafe(_TOKEN_BYTES),
        **seen,
    }


def _changes(
    edition: Edition, question: BillRequest, changes: Sequence[Mapping[str, Any]], pictures: Pictures
) -> list[ChangeCard]:
    """The changes as cards; the first of them with what their first bill costs and carries."""
    requests = [changed(question, one["change"]) for one in changes]
    seen = [*glimpses(edition, requests[:_MOST_GLIMPSES]), *([None] * len(requests[_MOST_GLIMPSES:]))]
    cards = []
    for one, request, glimpse in zip(changes, requests, seen, strict=True):
        layout = edition.revision.layouts[request.layout]
        picture = pictures.of_layout(layout, None if glimpse is None else glimpse.duties)
        price = one.get("price", None if glimpse is None else glimpse.price)
        power = one.get("power", None if glimpse is None else glimpse.power)
        cards.append(ChangeCard(_change_told(one, layout), link_of(request), picture, price, power))
    return cards


def _change_told(change: Mapping[str, Any], layout: Layout) -> str:
    """A change as the head of its card: of an alternative, whose price and power stand beside, in short."""
    if "power" not in change:
        return str(change["text"])
    bills = "1 valid bill" if change["total_valid"] == 1 else f"{change['total_valid']} valid bills"
    gauge = change["change"].get("gauge")
    return f"{layout.name if gauge is None else f'Gauge at {gauge}'}: {bills}"
