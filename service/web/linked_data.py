"""An item in the words of schema.org, as JSON-LD: what it is, what it costs, what it is an accessory for.

The terms are those of schema.org; which of them may stand where is held in the tests.
"""

from collections.abc import Iterator
from typing import Any
from urllib.parse import quote

from service.documents.catalog import Item
from service.usecases.goes_with import goes_with
from service.usecases.library import Edition
from service.usecases.sheet_names import amount

CONTEXT = "https://schema.org"
_GRAM = "GRM"
"""UN/CEFACT Recommendation 20: gram; of pieces `C62`, of days `DAY`."""

Node = dict[str, Any]


def product_of(edition: Edition, item: Item, site: str, before: str = "") -> Node:
    """The item as a `Product` with its `Offer`. `site`: the address of the service; `before`: what stands before the
    paths of the API, where that is not the one that the pages show."""
    goes, api = goes_with(edition, item), f"{site}{before}/v1/items"
    told: Node = {
        "@context": CONTEXT,
        "@type": "Product",
        "@id": _address(api, item.sku),
        "sku": item.sku,
        "name": item.name,
        "category": item.kind,
        "url": item.url or (None if before else f"{site}/catalog/{quote(item.sku)}"),
        "gtin": item.gtin,
        "mpn": item.mpn,
        "image": item.image,
        "inProductGroupWithID": item.family,
        "countryOfOrigin": None if item.country is None else {"@type": "Country", "identifier": item.country},
        "weight": {"@type": "QuantitativeValue", "value": item.mass_g, "unitCode": _GRAM},
        "offers": _offer(edition, item) if item.sold else None,
        "isAccessoryOrSparePartFor": [
            *(
                {"@type": "Vehicle", "name": edition.revision.chassis[id_].name, "identifier": id_}
                for id_ in goes.chassis
            ),
            *(
                {"@type": "Product", "@id": _address(api, sku), "sku": sku, "name": edition.revision.items[sku].name}
                for sku in goes.rails
            ),
        ],
    }
    return dict(_without_nothing(told))


def _offer(edition: Edition, item: Item) -> Node:
    maker = edition.catalog.maker
    price: Node = {"price": amount(item.price, maker.currency), "priceCurrency": maker.currency}
    offer: Node = {
        "@type": "Offer",
        **price,
        "availability": f"{CONTEXT}/{_availability(item)}",
        "inventoryLevel": {"@type": "QuantitativeValue", "value": item.stock, "unitCode": "C62"},
        "seller": {"@type": "Organization", "name": maker.name},
    }
    if maker.tax is not None:
        is_in = maker.tax == "gross"
        offer["priceSpecification"] = {"@type": "UnitPriceSpecification", **price, "valueAddedTaxIncluded": is_in}
    return offer


def _availability(item: Item) -> str:
    if item.status == "retired":
        return "Discontinued"
    return "InStock" if item.stock else "BackOrder"


def _address(api: str, sku: str) -> str:
    return f"{api}/{quote(sku, safe='')}"


def _without_nothing(node: Node) -> Iterator[tuple[str, Any]]:
    return ((name, value) for name, value in node.items() if value not in (None, []))
