"""Many orders at once: a CSV file is uploaded, a page shows how far it is, and the results are downloaded."""

import io
import logging
from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.datastructures import UploadFile
from starlette.responses import Response

from service.documents.question_parameters import query_of
from service.documents.rendering import printable
from service.explain.safety import SAFETY
from service.usecases.check_sheet import write_results, write_workbook
from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.usecases.order_batches import KEPT_DAYS, MOST_ORDERS, OrderBatches
from service.usecases.order_draft import given
from service.usecases.order_sheet import KNOWN, REQUIRED, SheetError, SheetOrder
from service.usecases.sheet_names import resolve_names
from service.web.batch_work import AppBatchWork
from service.web.counter.forms import sent_form
from service.web.counter.order import order_page
from service.web.counter.order_key import edition_for
from service.web.counter.order_question import asked_fields
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.errors import NoRoomError, ParameterFault
from service.web.resources import AppOrderBatches, AppResources, Resources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

PATH = "/order/batches"
UPLOAD_LIMIT_BYTES = 4 * 1024 * 1024

_MOST_SHOWN = 50
_MOST_WORDS = 200
"""So many orders, and so much of each, that the page stays light; the results as CSV have all of it."""
_LONGEST_NAME = 120
_MOST_DIGITS = 6
_FILE = "orders"

_log = logging.getLogger(__name__)


@router.get(PATH)
async def start(request: Request) -> Response:
    return _start(request)


def _start(request: Request, *faults: ParameterFault) -> Response:
    """The page that takes a file, with what was wrong with the one before."""
    return shown(
        request,
        "order_batches.html",
        status=422 if faults else 200,
        required=REQUIRED,
        known=KNOWN,
        most=MOST_ORDERS,
        days=KEPT_DAYS,
        faults=list(faults),
    )


@router.post(PATH)
async def upload(request: Request, resources: AppResources, batches: AppOrderBatches, work: AppBatchWork) -> Response:
    if work.is_full:
        raise NoRoomError("too many files of orders are waiting to be checked")
    if not await resources.look(batches.has_room):
        raise NoRoomError(f"as many files of orders are kept as may be; each goes after {KEPT_DAYS} days")
    try:
        async with sent_form(request) as form:
            kept = await _kept(resources, batches, form.get(_FILE))
    except OSError as error:  # a file is put aside while it comes
        _log.error("a file of orders could not be put aside: %s", error)
        raise NoRoomError(f"the file could not be put aside: {error.strerror or 'no place for it'}") from error
    if isinstance(kept, ParameterFault):
        return _start(request, kept)
    work.begin(kept)
    return gone_to(f"{PATH}/{kept}")


async def _kept(resources: Resources, batches: OrderBatches, file: object) -> str | ParameterFault:
    """The id under which a file is kept, or what is wrong with it."""
    if not isinstance(file, UploadFile) or not file.filename:
        return ParameterFault(_FILE, "no file", "a CSV or XLSX file of orders")
    try:
        return await resources.take_in(batches.keep, file.file)
    except SheetError as error:
        found = f"{printable(file.filename)[:_LONGEST_NAME]}, in which {error}"
        return ParameterFault(_FILE, found, "a file as this page describes it")


@router.get(f"{PATH}/{{id}}.csv")
async def results(
    resources: AppResources, batches: AppOrderBatches, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    return await _results(resources, batches, wanted, "csv")


@router.get(f"{PATH}/{{id}}.xlsx")
async def workbook(
    resources: AppResources, batches: AppOrderBatches, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    return await _results(resources, batches, wanted, "xlsx")


async def _results(resources: Resources, batches: OrderBatches, wanted: str, form: str) -> Response:
    progress = await resources.look(batches.progress, wanted)
    if not progress.is_done:
        return gone_to(f"{PATH}/{progress.id}")
    write, kind = _FORMS[form]
    content = await resources.take_in(write, batches, progress.id)
    named = f'attachment; filename="orders.checked.{form}"'
    return Response(
        content, headers={"Content-Disposition": named, "Cache-Control": "private, no-cache"}, media_type=kind
    )


@router.get(f"{PATH}/{{id}}")
async def watch(
    request: Request,
    resources: AppResources,
    batches: AppOrderBatches,
    work: AppBatchWork,
    wanted: Annotated[str, Path(alias="id")],
) -> Response:
    progress = await resources.look(batches.progress, wanted)
    if progress.needs_worker:
        work.begin(progress.id)
    to_mend = await resources.look(batches.to_mend, progress.id, _MOST_SHOWN)
    return shown(
        request,
        "order_batch.html",
        progress=progress,
        is_waiting=work.is_waiting(progress.id),
        verdicts=sorted(progress.verdicts.items(), key=lambda counted: -counted[1]),
        to_mend=to_mend,
        notes=await resources.look(_notes, batches, progress.id),
        most=_MOST_SHOWN,
        most_words=_MOST_WORDS,
        safety=SAFETY,
        days=KEPT_DAYS,
    )


@router.get(f"{PATH}/{{id}}/{{position}}")
async def one(
    request: Request,
    resources: AppResources,
    batches: AppOrderBatches,
    wanted: Annotated[str, Path(alias="id")],
    position: str,
) -> Response:
    """The order at a place of the file, on the page that judges it alone."""
    if not position.isdecimal() or len(position) > _MOST_DIGITS:
        raise NotFoundError("order of this batch", position)
    order = await resources.look(batches.order, wanted, int(position))
    return await resources.run(_one, request, resources.library, order)


def _one(request: Request, library: Library, order: SheetOrder) -> Response:
    edition = edition_for(library, order.fields)
    resolve_names(edition, order)
    told = {name: value for name, value in order.fields.items() if name != "lines"}
    fields = asked_fields(query_of(told).items(), edition)
    return order_page(request, edition, given(order.fields.get("lines", []), fields, edition.order_reader), None, [])


def _notes(batches: OrderBatches, id_: str) -> list[str]:
    """What is to be said aloud of how the file was read."""
    return batches.order(id_, 0).notes


def _csv(batches: OrderBatches, id_: str) -> bytes:
    written = io.StringIO()
    write_results(written, batches.results(id_))
    return written.getvalue().encode()


def _xlsx(batches: OrderBatches, id_: str) -> bytes:
    written = io.BytesIO()
    write_workbook(written, batches.results(id_))
    return written.getvalue()


_FORMS = {
    "csv": (_csv, "text/csv"),
    "xlsx": (_xlsx, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
}
