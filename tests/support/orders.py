"""Orders for tests of everything round the judging of them, with a judge that is plain enough to foretell."""

from typing import Any

from service.documents.money import money_of
from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.library import Edition

ORDER: dict[str, Any] = {
    "chassis": "brook",
    "layout": "factory",
    "lines": [{"sku": "RAIL-S", "qty": 1}, {"sku": "PLUG-B8", "qty": 2}],
}
WHOLE = ORDER | {"lines": [*ORDER["lines"], {"sku": "PLUG-B8", "qty": 1}]}


def three_plugs(edition: Edition, asked: OrderRequest) -> OrderResult:
    """Find an order complete when it has three units of the catalog's first plug; else it lacks or exceeds them."""
    unknown = [
        RequestFault(f"/lines/{index}/sku", line.sku, "the id of an item of this revision")
        for index, line in enumerate(asked.lines)
        if line.sku not in edition.items
    ]
    if asked.chassis not in edition.revision.chassis:
        unknown.insert(
            0, RequestFault("/chassis", asked.chassis or "", "the id of a chassis of this revision", ("brook",))
        )
    if unknown:
        raise RequestFaultsError(tuple(unknown))
    plug = next(item for item in edition.catalog.items if item.kind == "plug")
    missing = 3 - sum(line.qty for line in asked.lines if line.sku == plug.sku)
    result: OrderResult = {
        "revision": edition.number,
        **money_of(edition.revision),
        "sets": asked.sets,
        "verdict": "short" if missing > 0 else "surplus" if missing < 0 else "complete",
        "layout": asked.layout,
        "bill": None,
        "add": [{"sku": plug.sku, "qty": missing, "why": "Three are needed."}] if missing > 0 else [],
        "remove": [{"sku": plug.sku, "qty": -missing, "why": "Three are enough."}] if missing < 0 else [],
        "swap": [],
        "price_change": missing * plug.price,
        "also_possible": [],
        "extras": [],
        "notes": [],
        "reasons": [],
    }
    return result
