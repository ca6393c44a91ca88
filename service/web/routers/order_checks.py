"""Order checks: one order, or a batch of them, judged and kept; and a kept one given again."""

from functools import partial
from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from starlette.convertors import StringConvertor, register_url_convertor
from starlette.responses import Response

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderCheck, RecalledOrderCheck
from service.storage.keeping import USUAL
from service.storage.order_checks import StoredOrderCheck
from service.usecases.keep_order_check import OrderChecks, languages_of
from service.usecases.kept_once import Kept
from service.web import examples, languages
from service.web.batches import MAX_ORDERS, BatchLine, NdjsonResponse, answered, batch_of
from service.web.bodies import body_of, parsed
from service.web.idempotency import PARAMETER, idempotency_key_of
from service.web.languages import ACCEPT_LANGUAGE, AppLanguages, tongue_for
from service.web.middleware import request_id_of
from service.web.operations import OF_BODY, OF_ID, answers, created, json_body, lines_body, query, streamed
from service.web.queries import NothingAsked
from service.web.representations import CONTENT_LANGUAGE, JSON, NEVER, OWN, REVISION, represent
from service.web.resources import AppOrderChecks, AppResources, Resources

PREFIX = "/v1/order-checks"
BATCH_PATH = f"{PREFIX}/batch"


class _CheckId(StringConvertor):
    """What stands for the id of a check in a path: anything but the name of the batch, which takes no GET."""

    regex = "(?!batch$)[^/]+"


register_url_convertor("check_id", _CheckId())

router = APIRouter(tags=["order checks"])


@router.post(
    PREFIX,
    status_code=201,
    operation_id="checkOrder",
    summary="Does this order make a whole assembly?",
    description="Judges an order by the valid bill that is nearest to it, says what to add, remove and swap, what is"
    " in stock, and keeps all that. No bill is valid: 201 as well, with that verdict. With the `key` of a bill in place"
    " of car and wishes, the order is compared with that very bill. Where layouts tie, the reasons ask which is meant.",
    response_model=OrderCheck,
    responses=created(
        "The check, kept.",
        "The check that was kept when this request came before.",
        OrderCheck,
        examples.order_check(),
        *OF_BODY,
        *("idempotency-key-reused", "unknown-id", "no-room"),
        worded=True,
    ),
    openapi_extra=json_body("OrderRequest", examples.order()) | query([PARAMETER, languages.PARAMETER]),
)
async def check(
    resources: AppResources,
    checks: AppOrderChecks,
    _: NothingAsked,
    key: Annotated[str | None, Depends(idempotency_key_of)],
    order: Annotated[OrderRequest, Depends(body_of(OrderRequest))],
    wish: AppLanguages,
) -> Response:
    judged = await resources.run(checks.judge, order, key, partial(tongue_for, wish))
    kept = await _kept(resources, checks, judged)
    headers = {REVISION: str(kept.revision), "Location": f"{PREFIX}/{kept.id}", "Cache-Control": NEVER}
    headers |= {CONTENT_LANGUAGE: languages_of(kept.document), "Vary": ACCEPT_LANGUAGE}
    return Response(kept.document, 200 if kept.again else 201, headers, JSON)


@router.post(
    BATCH_PATH,
    operation_id="checkOrders",
    summary="Many orders at once, one a line",
    description=f"Up to {MAX_ORDERS} orders, each a JSON object on a line of its own; blank lines do not count. Each is"
    " judged and kept as if it had come alone, and answered by one line, in order, as soon as it is judged. A line that"
    " is refused has its own problem and spoils no other. No order is known again: a batch that is sent twice is"
    " checked and kept twice.",
    response_class=NdjsonResponse,
    responses=streamed(
        "A line for each order.",
        BatchLine,
        examples.batch_answer(),
        *("invalid-request", "unsupported-media-type", "body-timeout", "no-catalog"),
    ),
    openapi_extra=lines_body("OrderRequest", examples.batch()),
)
async def check_batch(
    request: Request,
    resources: AppResources,
    checks: AppOrderChecks,
    _: NothingAsked,
    batch: Annotated[bytes, Depends(batch_of)],
) -> Response:
    async def answer(order: bytes) -> bytes:
        kept = await _kept(resources, checks, await resources.run_in_batch(_judged, checks, order))
        return kept.document

    return NdjsonResponse(answered(batch, answer, request_id_of(request.scope)), headers={"Cache-Control": NEVER})


def _judged(checks: OrderChecks, order: bytes) -> StoredOrderCheck | Kept:
    return checks.judge(parsed(OrderRequest, order))


async def _kept(resources: Resources, checks: OrderChecks, judged: StoredOrderCheck | Kept) -> Kept:
    """Write what was judged, in a turn of its own: a database that is slow to write holds up no question."""
    return judged if isinstance(judged, Kept) else await resources.write(checks.store, judged)


@router.get(
    f"{PREFIX}/{{id:check_id}}",
    operation_id="recallOrderCheck",
    summary="A kept check again, and how the newest catalog judges the order",
    description="Word for word as it was answered, from any worker, after a restart; `current` is added. It is kept "
    f"for {USUAL.order_checks_days} days unless the service is set otherwise.",
    response_model=RecalledOrderCheck,
    responses=answers("The check.", examples.recalled_order_check(), *OF_ID),
)
async def recall(
    resources: AppResources,
    checks: AppOrderChecks,
    wanted: Annotated[str, Path(alias="id", description="the id of a check", examples=[examples.order_check()["id"]])],
    _: NothingAsked,
) -> Response:
    return await resources.run(_recalled, checks, wanted)


def _recalled(checks: OrderChecks, wanted: str) -> Response:
    recalled = checks.recall(wanted)
    more = {CONTENT_LANGUAGE: recalled.languages}
    return represent(recalled.document, caching=OWN, revision=recalled.revision, more=more)
