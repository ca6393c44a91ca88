"""What the API promises of the forms of an answer: CSV says what JSON says, a page has its limit, an id comes back,
a Product is its item."""

import csv
import io
import json
from collections.abc import Generator, Iterator
from html import unescape
from itertools import zip_longest
from urllib.parse import parse_qsl, urlsplit

import httpx

from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.questions import bought, first_bill, newest
from service.contract.site import NotTriedError, Site, given
from service.contract.wire_promises import object_of

_CSV = "text/csv"
_ID = "6b3f0d5e-2c41-4f0e-9a57-1d2c3b4a5f60"


def csv_says_what_json_says(site: Site) -> Iterator[Broken]:
    """Items and a bill as CSV have the same prices, quantities and stock, in the same order."""
    items = site.ask(operations.page(sections.ITEMS, limit=200)).results
    rows = yield from _rows(site, "/v1/items?limit=200")
    expected = [[one.sku, _digits(one.price), one.status, one.superseded_by or "", str(one.stock)] for one in items]
    names = ("status", "superseded_by", "stock")
    got = [[row.get("sku") or "", _digits(row.get("unit_price")), *map(row.get, names)] for row in rows]
    if rows and got != expected:
        odd = next(pair for pair in zip_longest(expected, got) if pair[0] != pair[1])
        yield Broken("the items as CSV are not those of the JSON", "", str(odd[0]), str(odd[1]))
    bill = first_bill(site)
    rows = yield from _rows(site, f"/v1/bills/{bill['key']}")
    lines = [[line["sku"], str(line["qty"])] for line in bill["lines"]]
    told = [
        [row.get("sku"), row.get("qty")] for row in rows if row.get("sku") in {line["sku"] for line in bill["lines"]}
    ]
    if rows and sorted(map(str, told)) != sorted(map(str, lines)):
        yield Broken("the bill as CSV has other parts than the JSON", "", str(lines), str(told))
    paid = {
        line["sku"]: [_digits(line["price"]), _digits(line["unit_price"])]
        for line in bill["lines"]
        if line["source"] == "buy"
    }
    for row in rows:
        sku, price = row.get("sku") or "", _digits(row.get("price"))
        if sku in paid and row.get("source") == "bought" and price not in paid[sku]:
            yield Broken(f"the bill as CSV asks another price for {sku}", "", " or ".join(paid[sku]), price)


def _rows(site: Site, path: str) -> Generator[Broken, None, list[dict[str, str]]]:
    """The rows of an answer as CSV; none, and what is broken, where it is none."""
    response = given(site.get(path, Accept=_CSV))
    media_type = response.headers.get("content-type", "").partition(";")[0]
    if not response.is_success or media_type != _CSV:
        what = f"GET {path} does not come as CSV to who accepts only that"
        yield Broken(what, "Content-Type", _CSV, f"{response.status_code} {media_type}")
        return []
    return list(csv.DictReader(io.StringIO(response.text)))


def _digits(price: int | str | None) -> str:
    """A price as its digits alone, so that it is the same in minor units and with the decimals of its currency."""
    return str(price or "").replace(".", "").lstrip("0")


def pages_have_their_limit(site: Site) -> Iterator[Broken]:
    """A page has no more than was asked for; what leads on is the same in the page and in its header."""
    for section in sections.SECTIONS:
        response = site.get(section.path, {"limit": "2"})
        page = object_of(response)
        results = page.get("results", [])
        if len(results) > 2:
            yield Broken(f"{section.path} ignores the limit", "#/results", "at most 2", str(len(results)))
        if page.get("next") and f"<{page['next']}>" not in response.headers.get("link", ""):
            what = f"{section.path} leads on to another page in Link than in next"
            yield Broken(what, "Link", str(page["next"]), response.headers.get("link", "none"))
        if page.get("next"):
            kept = dict(parse_qsl(urlsplit(str(page["next"])).query))
            if kept.get("limit") != "2":
                yield Broken(
                    f"the next page of {section.path} has another limit", "#/next", "2", str(kept.get("limit"))
                )


def tags_go_by_the_question(site: Site) -> Iterator[Broken]:
    """Two questions with different answers have different tags, so that none is taken for the other."""
    for path, one, other in (
        ("/v1/items", {"limit": "1"}, {"limit": "2"}),
        ("/v1/items", {"limit": "2"}, {"limit": "2", "sold": "false"}),
    ):
        first, second = site.get(path, one), site.get(path, other)
        tag = first.headers.get("etag")
        if first.content != second.content and tag is not None and tag == second.headers.get("etag"):
            yield Broken(f"GET {path} has the same ETag for two questions", "ETag", "another tag", tag)
            known = site.get(path, other, If_None_Match=tag)
            if known.status_code == httpx.codes.NOT_MODIFIED:
                yield Broken(f"GET {path} tells who knows another question that it is the same", "", "200", "304")


def ids_come_back(site: Site) -> Iterator[Broken]:
    """The caller's request id is that of the answer and of a refusal; what was made is where Location says."""
    for path in ("/v1/layouts", "/v1/no-such-path"):
        got = site.get(path, X_Request_Id=_ID).headers.get("x-request-id", "none")
        if got != _ID:
            yield Broken(f"GET {path} does not give the caller's request id back", "X-Request-Id", _ID, got)
    bill = first_bill(site)
    lines = bought(bill)
    if not lines:
        raise NotTriedError("the first bill buys nothing")
    made = given(site.post("/v1/order-checks", json.dumps({"key": bill["key"], "lines": lines}).encode()))
    if made.status_code != httpx.codes.CREATED:
        yield Broken("an order check that is made is not told as made", "", "201", str(made.status_code))
        return
    place = made.headers.get("location", "")
    id_ = str(object_of(made).get("id"))
    if not place.endswith(f"/{id_}"):
        yield Broken("Location does not lead to the order check that was made", "Location", f"…/{id_}", place or "none")
        return
    again = object_of(site.get(urlsplit(place).path))
    if again.get("id") != id_:
        yield Broken("Location leads to another order check", "#/id", id_, str(again.get("id")))


def changes_lead_to_the_newest(site: Site) -> Iterator[Broken]:
    """What changed since a revision ends with the newest, each revision once; since the newest nothing did."""
    number = newest(site)["number"]
    listed = [one.get("number") for one in object_of(site.get("/v1/revisions", {"limit": "20"})).get("results", [])]
    if listed != sorted(listed, reverse=True) or listed[:1] != [number]:
        yield Broken("the revisions are not told from the newest on", "#/results", f"{number} first", str(listed))
    now = object_of(site.get("/v1/changes", {"since": str(number)}))
    if now.get("revisions") or now.get("revision") != number:
        what = f"since revision {number}, the newest, there are said to be changes, or it is not the newest"
        yield Broken(what, "#/revisions", f"none, revision {number}", str(now)[:200])
    if number > 1:
        then = object_of(site.get("/v1/changes", {"since": str(number - 1)}))
        told = [one.get("revision") for one in then.get("revisions", [])]
        if told != [number]:
            what = f"what changed since revision {number - 1} is not told as of revision {number}"
            yield Broken(what, "#/revisions", str([number]), str(told))
    ready = object_of(site.get("/v1/health"))
    if ready.get("revision") != number:
        told_ready = str(ready.get("revision"))
        yield Broken("health tells another revision than the newest", "#/revision", str(number), told_ready)


def forms_that_are_not_there(site: Site) -> Iterator[Broken]:
    """Who accepts only a form that there is not is told so, and JSON says that it is JSON."""
    refused = site.get("/v1/layouts", Accept=_CSV)
    yield from faults_of_problem("a list as CSV that has none", refused, 406, code="not-acceptable")
    plain = site.get("/v1/layouts")
    media_type = plain.headers.get("content-type", "none")
    if media_type.partition(";")[0] != "application/json" or "charset" in media_type.replace("charset=utf-8", ""):
        yield Broken("JSON does not say that it is JSON", "Content-Type", "application/json", media_type)


def products_are_the_items(site: Site) -> Iterator[Broken]:
    """An item as a Product of schema.org has its SKU and name, its price in the same money, and is there if it is."""
    page = site.ask(operations.page(sections.ITEMS, limit=200))
    stocked = {bool(item.stock): item for item in page.results if item.sold and item.status == "active"}
    for item in stocked.values():
        product = object_of(site.get(f"/v1/items/{item.sku}", Accept="application/ld+json"))
        offer = product.get("offers") or {}
        told = (product.get("sku"), product.get("name"), _digits(offer.get("price")), offer.get("priceCurrency"))
        if told != (item.sku, item.name, _digits(item.price), page.currency):
            expected = f"{item.sku}, {item.name}, {item.price} {page.currency}"
            yield Broken(
                f"{item.sku} as a Product is another one, or at another price", "#/offers", expected, str(told)
            )
        if (str(offer.get("availability")).rpartition("/")[2] == "InStock") is not bool(item.stock):
            what = f"{item.sku} as a Product is {offer.get('availability')}, but {item.stock} are in stock"
            yield Broken(what, "#/offers/availability", f"{item.stock} in stock", str(offer.get("availability")))


def sheets_are_printed_whole(site: Site) -> Iterator[Broken]:
    """The page of a sheet names every part that is worked on; with inches first it is worded otherwise."""
    path = f"/v1/bills/{first_bill(site)['key']}/sheet"
    page = given(site.get(path, Accept="text/html"))
    if not (page.is_success and page.headers.get("content-type", "").startswith("text/html")):
        got = f"{page.status_code} {page.headers.get('content-type', '')}"
        yield Broken("a sheet does not come as a page to who accepts only that", "Content-Type", "text/html", got)
        return
    text, sheet = unescape(page.text), site.ask(operations.sheet(first_bill(site)["key"]))
    missing = {part["name"] for step in sheet["steps"] for part in step["parts"] if part["name"] not in text}
    if missing:
        yield Broken("the page of a sheet does not name a part of its steps", "", ", ".join(sorted(missing)), "none")
    if site.get(path, {"units": "inch"}, Accept="text/html").text == page.text:
        yield Broken("units is ignored: the page of a sheet in inches is the one in millimetres", "", "inches first")
