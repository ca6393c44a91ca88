"""One bill by its key: its picture, list, total and power on one page, which prints as one; as text, and as rows."""

from collections.abc import Callable

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.assembly import rail_plans
from service.documents.answer import CurrentBill
from service.documents.money import money_of
from service.explain.safety import SAFETY
from service.explain.sheet_rails import rail_told
from service.usecases.current_bill import current_bill
from service.usecases.library import Library
from service.usecases.recall_bill import Recalled, held_by, recall
from service.web.counter.showing import PageRoute, shown
from service.web.pages.bills import shown_bill
from service.web.pages.pictures import Pictures
from service.web.pages.qr import qr_of
from service.web.pages.take_along import csv_of, text_of
from service.web.pages.today import told_today
from service.web.queries import NothingAsked
from service.web.resources import AppResources
from service.web.site import Site

router = APIRouter(include_in_schema=False, route_class=PageRoute)


@router.get("/bills/{key}")
async def bill(request: Request, resources: AppResources, key: str, _: NothingAsked) -> Response:
    return await resources.run(_page, request, resources.library, key)


@router.get("/bills/{key}/list.txt")
async def as_text(request: Request, resources: AppResources, key: str, _: NothingAsked) -> Response:
    return await resources.run(_file, request, resources.library, key, _text, "plain")


@router.get("/bills/{key}/list.csv")
async def as_rows(request: Request, resources: AppResources, key: str, _: NothingAsked) -> Response:
    return await resources.run(_file, request, resources.library, key, _rows, "csv")


def _page(request: Request, library: Library, key: str) -> Response:
    recalled = recall(library, key)
    pictures = Pictures(recalled.edition)
    rails = [rail_told(rail) for rail in rail_plans(recalled.bill)]
    asked = recalled.request
    return shown(
        request,
        "bill.html",
        recalled=asked,
        best=shown_bill(recalled.document, rails, pictures),
        pictures=pictures,
        currency=recalled.edition.revision.currency,
        revision=recalled.edition.number,
        safety=SAFETY,
        today=told_today("bill", recalled.edition.number, _current(library, recalled, key)),
        code=qr_of(_link(request, recalled)),
        as_text=_text(request, recalled),
    )


def _current(library: Library, recalled: Recalled, key: str) -> CurrentBill:
    return current_bill(recalled.edition, held_by(key), recalled.bill, library.edition())


def _file(
    request: Request, library: Library, key: str, write: Callable[[Request, Recalled], str], kind: str
) -> Response:
    name = "bill.csv" if kind == "csv" else "bill.txt"
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "private, no-cache"}
    return Response(write(request, recall(library, key)), headers=headers, media_type=f"text/{kind}")


def _text(request: Request, recalled: Recalled) -> str:
    title = f"{recalled.request.chassis.name}: {recalled.request.layout.name}"
    return text_of(recalled.document, title, recalled.edition.revision.currency, _link(request, recalled))


def _rows(_: Request, recalled: Recalled) -> str:
    return csv_of(recalled.document, money_of(recalled.edition.revision))


def _link(request: Request, recalled: Recalled) -> str:
    site: Site = request.app.state.site
    return f"{site.url}/bills/{recalled.document['key']}"
