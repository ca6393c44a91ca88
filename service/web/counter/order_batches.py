"""Many orders at once: a CSV file is uploaded, a page shows how far it is, and the results are downloaded."""

import io
import logging
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Path, Request
from starlette.datastructures import UploadFile
from starlette.responses import Response

from service.documents.rendering import printable
from service.explain.safety import SAFETY
from service.usecases.check_sheet import write_results
from service.usecases.order_batches import KEPT_DAYS, MOST_ORDERS, JudgedOrder, OrderBatches
from service.usecases.order_sheet import KNOWN, REQUIRED, SheetError
from service.web.batch_work import AppBatchWork
from service.web.counter.forms import sent_form
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.errors import InvalidQueryError, NoRoomError, ParameterFault
from service.web.resources import AppOrderBatches, AppResources, Resources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

PATH = "/order/batches"
UPLOAD_LIMIT_BYTES = 4 * 1024 * 1024

_MOST_SHOWN = 50
_MOST_LINK = 1_200
_MOST_WORDS = 200
"""So many orders, and so much of each, that the page stays light; the results as CSV have all of it."""
_FILE = "orders"

_log = logging.getLogger(__name__)


@router.get(PATH)
async def start(request: Request) -> Response:
    return shown(request, "order_batches.html", required=REQUIRED, known=KNOWN, most=MOST_ORDERS, days=KEPT_DAYS)


@router.post(PATH)
async def upload(request: Request, resources: AppResources, batches: AppOrderBatches, work: AppBatchWork) -> Response:
    if work.is_full:
        raise NoRoomError("too many files of orders are waiting to be checked")
    if not await resources.look(batches.has_room):
        raise NoRoomError(f"as many files of orders are kept as may be; each goes after {KEPT_DAYS} days")
    try:
        async with sent_form(request) as form:
            id_ = await _kept(resources, batches, form.get(_FILE))
    except OSError as error:  # a file is put aside while it comes
        _log.error("a file of orders could not be put aside: %s", error)
        raise NoRoomError(f"the file could not be put aside: {error.strerror or 'no place for it'}") from error
    work.begin(id_)
    return gone_to(f"{PATH}/{id_}")


async def _kept(resources: Resources, batches: OrderBatches, file: object) -> str:
    if not isinstance(file, UploadFile) or not file.filename:
        raise InvalidQueryError(ParameterFault(_FILE, "no file", "a CSV file of orders"))
    try:
        return await resources.take_in(batches.keep, file.file)
    except SheetError as error:
        found = f"{printable(file.filename)}, in which {error}"
        raise InvalidQueryError(ParameterFault(_FILE, found, "a CSV file as this page describes it")) from None


@router.get(f"{PATH}/{{id}}.csv")
async def results(
    resources: AppResources, batches: AppOrderBatches, wanted: Annotated[str, Path(alias="id")]
) -> Response:
    progress = await resources.look(batches.progress, wanted)
    if not progress.is_done:
        return gone_to(f"{PATH}/{progress.id}")
    content = await resources.take_in(_csv, batches, progress.id)
    headers = {"Content-Disposition": 'attachment; filename="orders.checked.csv"', "Cache-Control": "private, no-cache"}
    return Response(content, headers=headers, media_type="text/csv")


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
        to_mend=[(judged, _link(judged)) for judged in to_mend],
        most=_MOST_SHOWN,
        most_words=_MOST_WORDS,
        safety=SAFETY,
        days=KEPT_DAYS,
    )


def _csv(batches: OrderBatches, id_: str) -> str:
    written = io.StringIO()
    write_results(written, batches.results(id_))
    return written.getvalue()


def _link(judged: JudgedOrder) -> str | None:
    """The page that judges the order alone, with its reasons; none where it cannot be asked or is too long."""
    told: dict[str, Any] = {name: value for name, value in judged.order.fields.items() if name != "lines"}
    ordered = judged.order.fields.get("lines", [])
    lines = "\n".join(f"{line.get('qty', '')} x {line.get('sku', '')}" for line in ordered)
    link = f"/order?{urlencode({'lines': lines} | told)}"
    return link if len(link) <= _MOST_LINK else None
