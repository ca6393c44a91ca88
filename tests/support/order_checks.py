"""The one place where tests of order checks call the service: catalog and order in, result out, plain JSON."""

from collections.abc import Mapping
from typing import Any

from service.documents.order import OrderRequest
from service.usecases.check_order import check_order
from service.usecases.library import Edition
from tests.support.builders import HOSE, catalog
from tests.support.engine import edition

Json = dict[str, Any]

RIGHT: Json = {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 2}
"""What the bill of the layout `hose-centre` takes on the small catalog."""


def checked_in(ready: Edition, asked: Json) -> Json:
    """The result of an order, from a catalog made ready before."""
    return dict(check_order(ready, OrderRequest.model_validate(asked)))


def checked(units: Mapping[str, int], asked: Json = HOSE, *changes: Json) -> Json:
    """The result of an order, by SKU and quantity, on the small catalog with changes."""
    return checked_in(edition(catalog(*changes)), asked | {"lines": lines(units)})


def lines(units: Mapping[str, int]) -> list[Json]:
    return [{"sku": sku, "qty": qty} for sku, qty in units.items()]


def units(changes: list[Json]) -> dict[str, int]:
    """What is added or removed, by SKU."""
    return {change["sku"]: change["qty"] for change in changes}


def swaps(document: Json) -> list[tuple[str, str, int, str | None]]:
    return [(swap["out"], swap["in"], swap["qty"], swap["spot"]) for swap in document["swap"]]


def notes(document: Json) -> dict[str, str]:
    return {note["sku"]: note["text"] for note in document["notes"]}
