"""Check an order: what was read of it row by row, what is to be settled, then the verdict and the right order.

What somebody pasted goes by POST and never into an address; what is kept under the page's own is what was read.
"""

import csv
import io
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Path, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.domain.money import priced
from service.reading.orders import MOST_ROWS, rows_in
from service.usecases.check_sheet import plain
from service.usecases.keep_reading import OrderReadings
from service.usecases.library import Edition, Library
from service.usecases.order_draft import Draft, changed, drafted
from service.usecases.read_order import reading_of
from service.usecases.sheet_names import amount
from service.web.counter.forms import sent_form
from service.web.counter.order_key import edition_for
from service.web.counter.order_question import asked_fields, judged, order_values
from service.web.counter.showing import PageRoute, shown
from service.web.counter.visits import visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.order_answer import corrected, total_of
from service.web.resources import AppOrderReadings, AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

PATH = "/order"
MOST_TEXT = 200_000
_MOST_UNREAD = 40
_LONGEST_UNREAD = 120
_UNREAD = "unread"
_DRAFT = "draft"
_ROWS = "rows"
_MOST_DIGITS = 4
Told = tuple[Draft, list[tuple[int, str]], int]
"""An order, the rows that were no parts, and which page of its rows is shown."""


@dataclass(frozen=True)
class Form:
    """What a form sends: all its fields, and the last of each name."""

    pairs: tuple[tuple[str, str], ...]

    @property
    def last(self) -> dict[str, str]:
        return dict(self.pairs)


async def _form(request: Request) -> Form:
    async with sent_form(request) as form:
        return Form(tuple((name, value) for name, value in form.multi_items() if isinstance(value, str)))


@router.get(PATH)
async def start(request: Request, resources: AppResources) -> Response:
    return await resources.run(_start, request, resources.library)


def _start(request: Request, library: Library) -> Response:
    fields = asked_fields(request.query_params.multi_items(), library.edition())
    edition, draft = edition_for(library, fields), Draft(fields=fields)
    return order_page(request, edition, draft, None, [])


@router.post(PATH)
async def read(request: Request, resources: AppResources, readings: AppOrderReadings) -> Response:
    form = await _form(request)
    draft, unread = await resources.run(_read, resources.library, form)
    return await _kept(request, resources, readings, (draft, unread, 1), None)


@router.post(f"{PATH}/{{id}}")
async def mend(
    request: Request, resources: AppResources, readings: AppOrderReadings, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    form = await _form(request)
    before = await resources.look(readings.recall, wanted)
    draft = await resources.run(_mended, resources.library, before, form)
    return await _kept(request, resources, readings, (draft, _unread_in(form), _page_in(form.last)), wanted)


@router.get(f"{PATH}/{{id}}.csv")
async def corrected_csv(
    resources: AppResources, readings: AppOrderReadings, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    draft = await resources.look(readings.recall, wanted)
    return await resources.run(_file, resources.library, draft, _csv, "csv")


@router.get(f"{PATH}/{{id}}.txt")
async def corrected_text(
    resources: AppResources, readings: AppOrderReadings, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    draft = await resources.look(readings.recall, wanted)
    return await resources.run(_file, resources.library, draft, _text, "plain")


@router.get(f"{PATH}/{{id}}")
async def look(
    request: Request, resources: AppResources, readings: AppOrderReadings, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    draft = await resources.look(readings.recall, wanted)
    return await resources.run(_look, request, resources.library, draft, wanted)


def _look(request: Request, library: Library, draft: Draft, id_: str) -> Response:
    return order_page(request, edition_for(library, draft.fields), draft, id_, [], _page_in(request.query_params))


async def _kept(
    request: Request, resources: AppResources, readings: OrderReadings, told: Told, id_: str | None
) -> Response:
    """Keep an order as it is now, and show it; the words that were no parts stand in the answer alone."""
    kept = await resources.write(readings.keep, told[0], id_)
    return await resources.run(_shown, request, resources.library, told, kept)


def _shown(request: Request, library: Library, told: Told, id_: str) -> Response:
    draft, unread, page = told
    return order_page(request, edition_for(library, draft.fields), draft, id_, unread, page)


def _page_in(told: Mapping[str, str]) -> int:
    """Which of the rows are asked for, from 1."""
    asked = told.get(_ROWS, "")
    return int(asked) if asked.isdecimal() and len(asked) <= _MOST_DIGITS else 1


def _read(library: Library, form: Form) -> tuple[Draft, list[tuple[int, str]]]:
    """The order that a form sends: a text, or one that was read already. Raises InvalidQueryError."""
    if form.last.get(_DRAFT):
        return _mended(library, _sent(form.last[_DRAFT]), form), _unread_in(form)
    text = form.last.get("lines", "").replace("\r\n", "\n")
    _hold_to_size(text)
    fields = asked_fields(form.pairs, library.edition())
    reading = reading_of(edition_for(library, fields), text)
    draft = Draft(
        lines=drafted(reading.lines),
        unread_rows=tuple(row for row, _ in reading.unread),
        fields=fields,
        text=text if form.last.get("keep_text") else None,
    )
    return draft, [(row, words[:_LONGEST_UNREAD]) for row, words in reading.unread[:_MOST_UNREAD]]


def _sent(document: str) -> Draft:
    try:
        return Draft.model_validate_json(document)
    except ValidationError:
        raise InvalidQueryError(ParameterFault(_DRAFT, "what is no order", "what this page had in it")) from None


def _hold_to_size(text: str) -> None:
    count = len(rows_in(text))
    if count > MOST_ROWS:
        raise InvalidQueryError(ParameterFault("lines", f"{count:,} rows", f"at most {MOST_ROWS:,}"))
    if len(text) > MOST_TEXT:
        raise InvalidQueryError(ParameterFault("lines", f"{len(text):,} characters", f"at most {MOST_TEXT:,}"))


def _mended(library: Library, draft: Draft, form: Form) -> Draft:
    """An order after what a form tells of its lines and of what is asked with it. Raises InvalidQueryError."""
    fields = asked_fields(form.pairs, library.edition())
    _hold_to_size(form.last.get("more", ""))
    mended = changed(draft, form.last, edition_for(library, fields).order_reader)
    if len(mended.lines) > MOST_ROWS:
        raise InvalidQueryError(ParameterFault("more", f"{len(mended.lines):,} lines", f"at most {MOST_ROWS:,}"))
    return mended.model_copy(update={"fields": fields})


def _unread_in(form: Form) -> list[tuple[int, str]]:
    """The rows that were no parts, as the page had them; nothing for what it did not have."""
    try:
        told = json.loads(form.last.get(_UNREAD, "[]"))
        return [(int(row), str(words)[:_LONGEST_UNREAD]) for row, words in told[:_MOST_UNREAD]]
    except (ValueError, TypeError, RecursionError):
        return []


def order_page(
    request: Request, edition: Edition, draft: Draft, id_: str | None, unread: list[tuple[int, str]], page: int = 1
) -> Response:
    """The page of an order; `id_`: under which it is kept, None where it is not; `page`: which of its rows."""
    values = order_values(edition, draft, visit_of(request).units, page)
    return shown(
        request,
        "order.html",
        status=422 if values["faults"] else 200,
        id=id_,
        draft=draft,
        unread=unread,
        unread_json=json.dumps(unread),
        draft_json="" if id_ is not None or not draft.lines else draft.model_dump_json(exclude_defaults=True),
        **values,
    )


def _file(library: Library, draft: Draft, write: Callable[[Edition, Any], str], kind: str) -> Response:
    """The order as it should be, as a file. Raises InvalidQueryError while there is none."""
    edition = edition_for(library, draft.fields)
    told = judged(edition, draft)
    result = told.result
    if result is None:
        raise InvalidQueryError(*told.faults or [ParameterFault("order", "rows to be settled, or no car", "none")])
    name = "order.csv" if kind == "csv" else "order.txt"
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "private, no-cache"}
    return Response(write(edition, result), headers=headers, media_type=f"text/{kind}")


def _csv(edition: Edition, result: Any) -> str:
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\r\n")
    currency, tax = edition.revision.currency, edition.revision.tax or ""
    rows.writerow(["qty", "sku", "name", "price", "currency", "unit_price", "tax"])
    for line in corrected(edition, result):
        one, all_ = (amount(x, currency) for x in (line.price // line.qty, line.price))
        rows.writerow([line.qty, plain(line.sku), plain(line.name), all_, currency, one, tax])
    rows.writerow(["", "", "total", amount(total_of(edition, result), currency), currency, "", tax])
    return written.getvalue()


def _text(edition: Edition, result: Any) -> str:
    lines = [f"{line.qty} x {line.sku}  {line.name}" for line in corrected(edition, result)]
    return "\n".join([*lines, f"Total {priced(total_of(edition, result), edition.revision.currency)}", ""])
