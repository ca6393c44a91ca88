"""Reading an order: what somebody wrote, as lines that are sure and lines that are asked back."""

from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.order_reading import OrderText, ReadOrder
from service.usecases.library import Library
from service.usecases.read_order import read_order
from service.web import examples
from service.web.bodies import body_of
from service.web.operations import OF_BODY, answers, json_body
from service.web.queries import NothingAsked
from service.web.representations import NEVER, represent
from service.web.resources import AppResources

router = APIRouter(tags=["order checks"])


@router.post(
    "/v1/orders/read",
    operation_id="readOrder",
    summary="Which parts does this order mean, and how many of each?",
    description="Reads the rows of an e-mail or a sheet by the SKUs, names and aliases of the catalog. A line is sure"
    " only where one part and one quantity can be meant; whatever else it might be is asked back with its candidates."
    " Rows that are no parts are given back unread. Nothing is kept.",
    response_model=ReadOrder,
    responses=answers("What was read.", examples.read_order(), *OF_BODY, conditional=False),
    openapi_extra=json_body("OrderText", examples.order_text()),
)
async def read(
    resources: AppResources, _: NothingAsked, asked: Annotated[OrderText, Depends(body_of(OrderText))]
) -> Response:
    return await resources.run(_read, resources.library, asked)


def _read(library: Library, asked: OrderText) -> Response:
    answer = read_order(library, asked)
    return represent(to_json(answer), caching=NEVER, revision=answer["revision"])
