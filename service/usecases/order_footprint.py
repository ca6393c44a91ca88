"""All of a catalog that the judgement of an order hangs on."""

from collections.abc import Hashable

from service.documents.order import OrderRequest
from service.domain.request import Request
from service.impact.footprint import Footprints
from service.usecases.bill_keys import decode_key
from service.usecases.library import Edition
from service.usecases.resolve_order import ordered_units, resolve_order, successor
from service.usecases.resolve_request import resolve_request


def order_footprint(asked: OrderRequest, edition: Edition, footprints: Footprints) -> Hashable:
    """The footprints of the questions that an order makes, and the items that it names whole, with their successors.

    Raises RequestFaultsError, NotFoundError and NoKeyError where it cannot be judged.
    """
    items = edition.revision.items
    ordered = ordered_units(asked, edition.revision)
    last = {successor(items, sku) for sku in ordered.known}
    chain = {sku for sku in edition.items if sku in ordered.known or sku in last}
    questions = tuple(map(footprints.of, _questions(asked, edition)))
    named = tuple(edition.items[sku].model_dump_json(exclude_none=True) for sku in sorted(chain))
    return questions, named, ordered.unknown


def _questions(asked: OrderRequest, edition: Edition) -> tuple[Request, ...]:
    if asked.key is None:
        return resolve_order(asked, edition.revision).requests
    return (resolve_request(decode_key(asked.key).request, edition.revision),)
