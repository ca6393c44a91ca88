"""Check an order: lines as they were pasted, what is recognised, the verdict, and the order as it should be."""

import csv
import io
from collections import Counter
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.faults import faults_of
from service.documents.order import MAX_LINES, OrderRequest
from service.documents.order_answer import OrderResult
from service.documents.pasted_order import LONGEST_LINE, PastedLine
from service.domain.vehicles import Chassis
from service.explain.safety import SAFETY
from service.usecases.check_order import check_order
from service.usecases.check_sheet import plain
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition, Library
from service.usecases.long_work import begin_long_work
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.ask import car_meant
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_ASKED = ("layout", "fuel", "gauge", "finish", "sets")
_NUMBERS = ("sets",)
_LONGEST_NAME = 120
_MOST_AT_ONCE = 10_000
"""Lines times items: each line is held against all that it may mean."""


@router.get("/order")
async def order(request: Request, resources: AppResources) -> Response:
    return await resources.run(_page, request, resources.library)


@router.get("/order.csv")
async def corrected_csv(request: Request, resources: AppResources) -> Response:
    return await resources.run(_csv, request, resources.library)


def _page(request: Request, library: Library) -> Response:
    edition = library.edition()
    fields = _fields(request)
    cars, chassis = car_meant(edition.revision, fields.get("chassis", ""))
    text = fields.get("lines", "")
    excess = _excess(text)
    lines = [] if excess else _read(edition, text)
    mended = _mended(fields, lines, request.query_params.get("mend", ""))
    if mended is not None:
        return gone_to(mended)
    result, faults = (None, excess) if excess else _judged(edition, fields, chassis, lines)
    return shown(
        request,
        "order.html",
        status=422 if faults else 200,
        fields=fields,
        cars=cars,
        chassis=chassis,
        layouts=[(layout.id, layout.name) for layout in edition.revision.layouts.values()],
        fuels=[(fuel.id, fuel.name) for fuel in edition.revision.fuels.values()],
        lines=lines,
        result=result,
        faults=faults,
        currency=edition.revision.currency,
        corrected=corrected(result) if result else [],
        query=urlencode(fields),
        safety=SAFETY,
    )


def _fields(request: Request) -> dict[str, str]:
    """What the form holds; the lines as they were pasted, but for ends that browsers write in two signs."""
    given = {name: value for name, value in request.query_params.multi_items() if value.strip()}
    known = {name: value.strip()[:_LONGEST_NAME] for name, value in given.items() if name in ("chassis", *_ASKED)}
    return known | ({"lines": given["lines"].replace("\r\n", "\n")} if "lines" in given else {})


def _excess(text: str) -> list[ParameterFault]:
    """What is too much to be read: it is not, and its lines are not shown."""
    count = sum(1 for line in text.splitlines() if line.strip())
    longest = max(map(len, text.splitlines()), default=0)
    faults = [ParameterFault("lines", f"{count} lines", f"at most {MAX_LINES}")] if count > MAX_LINES else []
    if longest > LONGEST_LINE:
        expected = f"at most {LONGEST_LINE} characters"
        faults.append(ParameterFault("lines", f"a line of {longest} characters", expected))
    return faults


def _read(edition: Edition, text: str) -> list[PastedLine]:
    """What is recognised in the text. Raises LongWorkError where that takes long and only short work may be done."""
    if len(text.splitlines()) * len(edition.items) > _MOST_AT_ONCE:
        begin_long_work()
    return edition.sku_reader.lines(text)


def _mended(fields: dict[str, str], lines: list[PastedLine], mend: str) -> str | None:
    """The address of the page with one line mended as a suggestion says (`NUMBER:SKU`); None for any other text."""
    for line in lines:
        for sku in line.alike:
            if mend == f"{line.number}:{sku}":
                texts = fields["lines"].splitlines()
                texts[line.number - 1] = f"{line.qty} x {sku}"
                return f"/order?{urlencode(fields | {'lines': chr(10).join(texts)})}"
    return None


def _judged(
    edition: Edition, fields: dict[str, str], chassis: Chassis | None, lines: list[PastedLine]
) -> tuple[OrderResult | None, list[ParameterFault]]:
    """The verdict, once a car is known and a line recognised; else what is wrong."""
    ordered = [{"sku": line.sku, "qty": line.qty} for line in lines if line.sku is not None]
    if chassis is None or not ordered:
        return None, []
    asked: dict[str, Any] = {name: fields[name] for name in _ASKED if name in fields}
    asked |= {name: int(asked[name]) for name in _NUMBERS if asked.get(name, "").isdecimal()}
    try:
        return check_order(edition, OrderRequest.model_validate({"chassis": chassis.id, "lines": ordered} | asked)), []
    except ValidationError as error:
        return None, [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected) for x in faults_of(error)]
    except RequestFaultsError as error:
        return None, [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected, x.nearest) for x in error.faults]


def corrected(result: OrderResult) -> list[tuple[int, str, str]]:
    """The order as it should be: how many of what, for all sets; what is bought from the maker alone."""
    bill = result["bill"]
    if bill is None:
        return []
    wanted: Counter[str] = Counter()
    names: dict[str, str] = {}
    for line in bill["lines"]:
        if line["source"] == "buy":
            wanted[line["sku"]] += line["qty"] * result["sets"]
            names[line["sku"]] = line["name"]
    return [(qty, sku, names[sku]) for sku, qty in wanted.items()]


def _csv(request: Request, library: Library) -> Response:
    edition = library.edition()
    fields = _fields(request)
    _, chassis = car_meant(edition.revision, fields.get("chassis", ""))
    text = fields.get("lines", "")
    excess = _excess(text)
    if excess:
        raise InvalidQueryError(*excess)
    result, _ = _judged(edition, fields, chassis, _read(edition, text))
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\r\n")
    rows.writerow(["qty", "sku", "name"])
    rows.writerows([qty, plain(sku), plain(name)] for qty, sku, name in (corrected(result) if result else []))
    headers = {"Content-Disposition": 'attachment; filename="order.csv"', "Cache-Control": "private, no-cache"}
    return Response(written.getvalue(), headers=headers, media_type="text/csv")
