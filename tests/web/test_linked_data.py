"""An item as JSON-LD: in the terms of schema.org, at its address and in its page, with what it goes with."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog, seed_folder
from service.usecases.edition import Edition
from service.web.app import create_app
from service.web.linked_data import product_of
from tests.support.catalogs import changed, small_catalog
from tests.support.engineering_data import TRADE
from tests.web.calls import get, problem
from tests.web.conftest import library_in
from tests.web.schema_org import ABOVE, AVAILABILITY, PROPERTIES

LD = {"Accept": "application/ld+json"}
SEED = load_catalog(seed_folder())
_LITERALS = {str: {"Text", "URL", "ItemAvailability"}, bool: {"Boolean"}, int: {"Number"}, float: {"Number"}}


def _types(name: str) -> Iterator[str]:
    """Yield a type and all above it."""
    yield name
    if name in ABOVE:
        yield from _types(ABOVE[name])


def _faults(node: dict[str, Any]) -> Iterator[str]:
    """Yield what schema.org does not say may stand there."""
    kinds = set(_types(node["@type"]))
    for name, value in node.items():
        if name.startswith("@"):
            continue
        domain, range_ = PROPERTIES[name]
        if not kinds & domain:
            yield f"{node['@type']} has {name}"
        for one in value if isinstance(value, list) else [value]:
            found = set(_types(one["@type"])) if isinstance(one, dict) else _LITERALS[type(one)]
            if not found & range_:
                yield f"{name} is {one}"
            if isinstance(one, dict):
                yield from _faults(one)
            elif name == "availability" and one not in AVAILABILITY:
                yield f"availability {one}"
            elif range_ & {"URL"} and "Text" not in range_ and not urlsplit(one).netloc:
                yield f"{name} is no address: {one}"


def test_every_item_of_the_seed_is_told_in_published_terms() -> None:
    """Whatever it is; each part that is sold has its offer, at its price."""
    edition = Edition(1, SEED)
    seen: set[str] = set()
    for item in SEED.items:
        told = product_of(edition, item, "https://shop.example")
        assert list(_faults(told)) == []
        assert told["@context"] == "https://schema.org"
        assert ("offers" in told) is item.sold
        if item.sold:
            assert told["offers"]["price"] == f"{item.price / 100:.2f}"
            assert told["offers"]["priceSpecification"]["valueAddedTaxIncluded"] is False
        seen |= {name for name in told if not name.startswith("@")}
    assert seen >= {"gtin", "mpn", "image", "url", "countryOfOrigin", "isAccessoryOrSparePartFor", "offers"}


def test_the_check_of_terms_finds_what_is_wrong() -> None:
    """A property of another type, and a value of another type."""
    told = product_of(Edition(1, SEED), SEED.items[0], "https://shop.example")
    assert list(_faults(told | {"valueAddedTaxIncluded": True})) == ["Product has valueAddedTaxIncluded"]
    assert list(_faults(told | {"offers": {"@type": "Product"}}))
    assert list(_faults(told | {"url": "nowhere"})) == ["url is no address: nowhere"]


@pytest.fixture(scope="module", name="told_app")
def _told_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    catalog = changed(small_catalog(), {"/maker/tax": "gross"})
    catalog["items"][0].update(TRADE)
    with library_in(tmp_path_factory.mktemp("ld") / "file", catalog) as library:
        yield create_app(library)


def test_by_accept_at_the_address_of_the_item(told_app: FastAPI) -> None:
    """Whole: what is told of it, its offer, the cars that it is for; JSON stays what is given without a word."""
    answer = get(told_app, "/v1/items/RAIL-S", headers=LD)
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/ld+json")
    assert (answer.headers["vary"], answer.headers["x-catalog-revision"]) == ("Accept", "1")
    item = get(told_app, "/v1/items/RAIL-S").json()["result"]
    assert answer.json() == {
        "@context": "https://schema.org",
        "@type": "Product",
        "@id": "http://127.0.0.1:8000/v1/items/RAIL-S",
        "sku": "RAIL-S",
        "name": item["name"],
        "category": "rail",
        "url": TRADE["url"],
        "gtin": TRADE["gtin"],
        "mpn": TRADE["mpn"],
        "image": TRADE["image"],
        "inProductGroupWithID": item["family"],
        "countryOfOrigin": {"@type": "Country", "identifier": "NO"},
        "weight": {"@type": "QuantitativeValue", "value": item["mass_g"], "unitCode": "GRM"},
        "offers": {
            "@type": "Offer",
            "price": f"{item['price'] / 100:.2f}",
            "priceCurrency": "OVC",
            "availability": "https://schema.org/InStock",
            "inventoryLevel": {"@type": "QuantitativeValue", "value": item["stock"], "unitCode": "C62"},
            "seller": {"@type": "Organization", "name": small_catalog()["maker"]["name"]},
            "priceSpecification": {
                "@type": "UnitPriceSpecification",
                "price": f"{item['price'] / 100:.2f}",
                "priceCurrency": "OVC",
                "valueAddedTaxIncluded": True,
            },
        },
        "isAccessoryOrSparePartFor": [
            {"@type": "Vehicle", "name": car["name"], "identifier": car["id"]}
            for car in small_catalog()["chassis"]
            if car["pattern"] in item["patterns"]
        ],
    }
    assert get(told_app, "/v1/items/RAIL-S", headers={"Accept": "*/*"}).headers["content-type"] == "application/json"
    again = get(told_app, "/v1/items/RAIL-S", headers=LD | {"If-None-Match": answer.headers["etag"]})
    assert again.status_code == 304


def test_what_goes_with_what(told_app: FastAPI) -> None:
    """By what the catalog tells, held to it by brute force: the rails that a port meets or that bring it, the cars that
    it is mounted on."""
    catalog = Catalog.model_validate(small_catalog())
    rails = [item for item in catalog.items if item.kind == "rail"]
    for item in catalog.items:
        told = get(told_app, f"/v1/items/{item.sku}", headers=LD).json().get("isAccessoryOrSparePartFor", [])
        ends = {(port.standard, port.end) for port in item.ports}
        brought = {rail.sku for rail in rails if any(box.sku == item.sku for box in rail.supplied or ())}
        met = {rail.sku for rail in rails if any((x.standard, _opposite(x.end)) in ends for x in rail.ports)}
        assert {one["sku"] for one in told if "sku" in one} == (set() if item.kind == "rail" else brought | met)
        assert {one["identifier"] for one in told if "identifier" in one} == {
            car.id
            for car in catalog.chassis
            if car.pattern in (item.patterns or ()) or any(part.sku == item.sku for part in car.mounting)
        }


def _opposite(end: str) -> str:
    return "male" if end == "female" else "female"


def test_forms_that_there_are_not(told_app: FastAPI) -> None:
    """406 names those that there are; only items have this one."""
    assert (
        "application/ld+json"
        in problem(get(told_app, "/v1/items/RAIL-S", headers={"Accept": "text/csv"}), 406, "not-acceptable")["detail"]
    )
    problem(get(told_app, "/v1/chassis/brook", headers=LD), 406, "not-acceptable")
    problem(get(told_app, "/v1/items/NO-SUCH", headers=LD), 404, "unknown-id")


def test_the_sandbox_has_it_too(told_app: FastAPI) -> None:
    """At its own addresses; no page of ours shows its catalog."""
    bare = next(item for item in SEED.items if item.url is None)
    told = get(told_app, f"/sandbox/v1/items/{bare.sku}", headers=LD).json()
    assert told["@id"] == f"http://127.0.0.1:8000/sandbox/v1/items/{bare.sku}"
    assert "url" not in told


def test_it_stands_in_the_page(tmp_path: Path) -> None:
    """The same as at its address, as data that nothing runs; a text of the catalog cannot end it."""
    hostile = "</script><script>alert(1)</script>"
    with library_in(tmp_path / "file", changed(small_catalog(), {"/items/1/name": hostile})) as library:
        app = create_app(library)
        page = get(app, "/catalog/PLUG-B8")
        told = get(app, "/v1/items/PLUG-B8", headers=LD).json()
    [block] = re.findall(r'<script type="application/ld\+json">(.*?)</script>', page.text, re.DOTALL)
    assert json.loads(block) == told
    assert told["name"] == hostile
    assert "alert(1)</script>" not in page.text
    assert '<link rel="alternate" type="application/ld+json" href="/v1/items/PLUG-B8">' in page.text
    assert "script-src 'self'" in page.headers["content-security-policy"]
