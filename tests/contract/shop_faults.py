"""Ways to break a shop that a partner thought of who had not read the promises: wishes that are not heard, words that
are none, money, languages, and what stands beside the bills."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import httpx

from tests.contract.broken_servers import Answered, Corrupt
from tests.contract.faults import BILLS, KEY, Edit, Fault, each_bill, header, on, refused
from tests.contract.quiet_faults import scaled, unheard
from tests.contract.recorded import Request, without_wish

_LAYOUTS, _ITEMS, _CURVES = "/v1/chassis/[^/]+/layouts", "/v1/items", "/v1/chassis/[^/]+/drop-curves"


def emptied(*names: str) -> Edit:
    """Lists of these names have nothing in them."""
    return lambda document: document.update({name: [] for name in names if name in document})


def each(name: str, edit: Edit) -> Edit:
    """Edit each of a list."""
    return lambda document: [edit(one) for one in document[name]]


def reworded(path: str, name: str, by: Callable[[str], str]) -> Corrupt:
    """Every text of this name, however deep, in other words."""

    def edit(part: Any) -> None:
        for inner in part if isinstance(part, list) else part.values() if isinstance(part, dict) else ():
            edit(inner)
        if isinstance(part, dict) and isinstance(part.get(name), str):
            part[name] = by(part[name])

    return on(path, edit)


def _never_the_page(answered: Answered) -> Answered:
    is_page = answered.headers.get("content-type", "").startswith("text/html")
    return replace(answered, content=b"<!doctype html><title>Sheet</title>") if is_page else answered


def _as_product(edit: Edit) -> Corrupt:
    def corrupt(answered: Answered) -> Answered:
        return answered.edited(edit) if "ld+json" in answered.headers.get("content-type", "") else answered

    return corrupt


def _lines_reversed(answered: Answered) -> Answered:
    if not answered.path.endswith("/batch"):
        return answered
    return replace(answered, content=b"\n".join(reversed(answered.content.splitlines())))


def _secrets_told(answered: Answered) -> Answered:
    if answered.path != "/v1/webhooks":
        return answered
    told = {"results": [{"id": "a", "url": "https://shop.example", "secret": "whsec_YQ=="}]}
    return replace(answered, status=200, content=json.dumps(told).encode())


def _sandbox_gone(answered: Answered) -> Answered:
    return replace(answered, status=404) if answered.path.startswith("/sandbox") else answered


def in_english(request: Request) -> Request:
    """Whatever language is wished for is not heard."""
    headers = {name: told for name, told in request.headers.items() if name != "accept-language"}
    return Request(request.method, request.url, headers=headers, content=request.read())


def without_units(request: Request) -> Request:
    """The query is not heard where a sheet is asked for."""
    url = request.url.copy_with(query=None) if request.url.path.endswith("/sheet") else request.url
    return Request(request.method, url, headers=request.headers, content=request.read())


def _beyond(document: dict[str, Any]) -> None:
    for rail in document["rails"]:
        rail["length_mm"] = rail["length_mm"] and rail["length_mm"] / 10


def _flat(document: dict[str, Any]) -> None:
    for path in document["paths"]:
        for station in path["stations"]:
            station["kpa"] = path["start_kpa"]


def _other_sides(document: dict[str, Any]) -> None:
    for joint in document["joints"]:
        joint["one"], joint["other"] = joint["other"], joint["one"]


def _stranger(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        line["choices"] = line["choices"] and [*line["choices"], "regulator-stub-6-satin"]


def _unit_is_line(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        line["unit_price"] = line["price"] + 1


def _retired(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        if line["sku"].startswith("adapter-"):
            line["sku"] = "adapter-8-flare-8-first"


def _doubled(document: dict[str, Any]) -> None:
    for step in document["steps"]:
        for part in step["parts"]:
            part["qty"] *= 2


def _unwary(answered: Answered) -> Answered:
    """What is wrong with a wish is not told: there are bills all the same."""
    if not (answered.path == BILLS and answered.status == httpx.codes.UNPROCESSABLE_ENTITY):
        return answered
    return replace(answered, status=200) if b"no-such-thing" in answered.content else answered


SHOP = (
    # Wishes.
    Fault("a wish that is not looked at", "are refused", "an impossible addons gives 200, not 422", _unwary),
    Fault(
        "what is not in stock all the same",
        "wishes count",
        "in_stock_only is ignored in the body",
        misheard=unheard("in_stock_only"),
    ),
    Fault("boost that is not heard", "fuel system", "the wish boost_kpa is ignored", misheard=unheard("boost_kpa")),
    Fault("injectors not heard", "fuel system", "the wish injectors is ignored", misheard=unheard("injectors")),
    Fault("a regulator not heard", "fuel system", "the wish regulator is ignored", misheard=unheard("regulator")),
    Fault("a pump not heard", "fuel system", "the wish pump is ignored", misheard=unheard("pump")),
    Fault("a hose of any length", "fuel system", "the wish feed_hose_m is ignored", misheard=unheard("feed_hose_m")),
    Fault("a revision not heard", "revision and", "the wish revision is ignored", misheard=unheard("revision")),
    Fault(
        "another power not heard by layouts",
        "layouts tell",
        "power_kw is ignored where layouts are told",
        misheard=lambda request: without_wish("power_kw")(request) if "/chassis/" in request.url.path else request,
    ),
    Fault("excluded and not told", "wishes count", "is not told to be ruled out", on(BILLS, emptied("ruled_out"))),
    # Words and money.
    Fault("texts that are not filled in", "cases", "is not in words", reworded(BILLS, "text", lambda x: x + " {n}")),
    Fault("texts that are empty", "cases", "is not in words", reworded(BILLS, "text", lambda x: "")),
    Fault("names for a page", "cases", "is not in words", reworded(BILLS, "name", lambda x: f"{x} &amp; more")),
    Fault("gross for net", "revision and", "is in another tax", on(BILLS, lambda x: x.update(tax="gross"))),
    Fault(
        "lists in another currency",
        "revision and",
        "the list of items is in another currency",
        on(_ITEMS, lambda x: x.update(currency="SEK")),
    ),
    Fault("a unit price that is not", "cases", "each", each_bill(_unit_is_line)),
    Fault("problems of one title", "errors", "another title than the page", refused(lambda x: x.update(title="Error"))),
    # Bills.
    Fault("a retired part in the bill of a case", "parts are as", ", which is retired", each_bill(_retired)),
    Fault("a choice of another family", "parts are as", "is of another family", each_bill(_stranger)),
    Fault("full without its checks", "brief,", "in full has no checks", each_bill(lambda x: x.pop("checks", None))),
    Fault("no way out of a low price", "repairs", "no repair raises it", on(BILLS, emptied("repairs"))),
    Fault("no other layout", "repairs", "no alternative is told, though", on(BILLS, emptied("alternatives"))),
    Fault(
        "layouts without a reason",
        "layouts tell",
        "no rule says why",
        on(_LAYOUTS, each("layouts", lambda x: x.update(ruled_out_by=None))),
    ),
    Fault("steps for two", "sheets are those", "take 2 of", on(f"{KEY}/sheet", _doubled)),
    Fault("rails in centimetres", "drawings", "beyond the length of its rail", on(f"{KEY}/drawing", _beyond)),
    Fault("a pressure that does not fall", "drawings", "does not fall by what is lost", on(f"{KEY}/drawing", _flat)),
    Fault(
        "a spot that is not drawn",
        "drawings",
        "has other spots than the bill",
        on(f"{KEY}/drawing", each("rails", lambda x: x["spots"].pop())),
    ),
    # Parts, lists and forms.
    Fault(
        "verdicts upside down",
        "explanations",
        "say otherwise where it stands",
        on("/v1/explain", each("verdicts", lambda x: x.update(stands=not x["stands"]))),
    ),
    Fault(
        "no change that helps",
        "least changes",
        "but no change is told",
        on("/v1/explain", each("verdicts", lambda x: x.update(change=None))),
    ),
    Fault(
        "nothing that joins",
        "bridges",
        "though a part has both ends",
        on("/v1/joints", lambda x: x.update(bridge=None)),
    ),
    Fault("joints the other way round", "joints are true", "is told of other sides", on("/v1/joints", _other_sides)),
    Fault(
        "uses of another part",
        "are used",
        "as those of another part",
        on("/v1/items/.+/uses", lambda x: x.update(sku="another")),
    ),
    Fault(
        "a car that is no use",
        "are used",
        "none of its uses",
        on(
            "/v1/items/.+/uses",
            lambda x: x.update(results=[y for y in x["results"] if y["layout"] != "own-hose-6-centre"]),
        ),
    ),
    Fault(
        "a SKU that is passed over",
        "filters",
        "the one that there is not is not told",
        on(_ITEMS, lambda x: x.pop("not_found", None)),
    ),
    Fault(
        "a car found by no name",
        "filters",
        "the filter q of the cars is ignored",
        misheard=lambda request: without_wish("q")(request) if request.url.path == "/v1/chassis" else request,
    ),
    Fault(
        "no successor of a retired part",
        "CSV says",
        "are not those of the JSON",
        on(_ITEMS, each("results", lambda x: x.pop("superseded_by", None))),
    ),
    Fault(
        "items that CSV alone has", "CSV says", "are not those of the JSON", on(_ITEMS, lambda x: x["results"].pop())
    ),
    Fault(
        "a hundred times the price",
        "a Product",
        "as a Product is another one, or at another price",
        _as_product(lambda x: x["offers"].update(price="9900.00")),
    ),
    Fault(
        "a Product always in stock",
        "a Product",
        "are in stock",
        _as_product(lambda x: x["offers"].update(availability="https://schema.org/InStock")),
    ),
    Fault("a page without its sheet", "page of a sheet", "does not name a part", _never_the_page),
    Fault("inches not heard", "page of a sheet", "units is ignored", misheard=without_units),
    Fault(
        "revisions from the oldest on",
        "changes lead",
        "not told from the newest on",
        on("/v1/revisions", lambda x: x["results"].reverse()),
    ),
    Fault("no revisions", "pages add up", "no revision is told", on("/v1/revisions", emptied("results"))),
    # Curves, orders, questions.
    Fault(
        "a curve backwards",
        "curves go",
        "does not rise in power",
        on(_CURVES, each("curves", lambda x: x["points"].reverse())),
    ),
    Fault(
        "a drop of the curve in bar",
        "curves go",
        "is not the share of its limit",
        on(_CURVES, scaled("drop_kpa", by=0.01)),
    ),
    Fault(
        "curves over their limits",
        "curves go",
        "leaves its limits",
        on(_CURVES, each("curves", each("points", lambda x: x.update(within=False)))),
    ),
    Fault(
        "curves at other prices",
        "curves go",
        "not of the first bill of each layout",
        on(_CURVES, each("curves", lambda x: x.update(price=x["price"] + 1))),
    ),
    Fault("curves of a stronger car", "curves go", "another stock power", on(_CURVES, scaled("stock_kw", by=2))),
    Fault(
        "a total that is off",
        "orders are read",
        "come to another total",
        on("/v1/orders/read", lambda x: x["total"] and x["total"].update(price=x["total"]["price"] + 1)),
    ),
    Fault(
        "rows that are swallowed",
        "orders are read",
        "is neither read nor told",
        on("/v1/orders/read", emptied("unread")),
    ),
    Fault("a batch in another order", "batches", "in their order", _lines_reversed),
    Fault(
        "a fuel that is not read",
        "questions are read",
        "the fuel is neither understood",
        on("/v1/questions/read", lambda x: x["request"].pop("fuel", None)),
    ),
    Fault(
        "nothing to ask back", "questions are read", "but is not asked for", on("/v1/questions/read", emptied("open"))
    ),
    Fault(
        "words that are swallowed",
        "questions are read",
        "is not told as unread",
        on("/v1/questions/read", emptied("unread")),
    ),
    # Around them.
    Fault("English whatever is wished for", "languages", "in English whatever is wished for", misheard=in_english),
    Fault(
        "German that is called English",
        "languages",
        "in another language does not say so",
        header("content-language", "en", BILLS),
    ),
    Fault(
        "caches that mix languages",
        "languages",
        "hangs on the language wished for",
        header("vary", "Accept-Encoding", BILLS),
    ),
    Fault("pages of any origin", "other origins", "any origin are allowed", header("access-control-allow-origin", "*")),
    Fault(
        "an operation that is not told",
        "the document",
        "the OpenAPI document lacks joinPorts",
        on("/openapi.json", lambda x: x["paths"].pop("/v1/joints")),
    ),
    Fault("no sandbox", "the sandbox", "the sandbox does not answer", _sandbox_gone),
    Fault(
        "a sandbox of today",
        "the sandbox",
        "is of another revision than 1",
        on("/sandbox/v1/items", lambda x: x.update(revision=2)),
    ),
    Fault("secrets in a list", "webhooks", "tells their secrets", _secrets_told),
)
