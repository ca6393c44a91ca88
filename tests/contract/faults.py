"""The ways in which a server can quietly break a shop: each a table row with what spoils the answers, the promise that
notices it, and the words that it is told by."""

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from tests.contract import broken_servers as breaks
from tests.contract.broken_servers import Answered, Corrupt
from tests.contract.recorded import Request, without_wish

Edit = Callable[[dict[str, Any]], Any]
BILLS, KEY = r"/v1/bills", r"/v1/bills/[^/]+"


def on(path: str, edit: Edit, method: str = ".*") -> Corrupt:
    """Edit the documents of this path that are JSON and no refusals."""

    def corrupt(answered: Answered) -> Answered:
        fits = re.fullmatch(path, answered.path.split("?")[0]) and re.fullmatch(method, answered.method)
        is_json = answered.headers.get("content-type", "").startswith("application/json")
        return answered.edited(edit) if fits and is_json and answered.status < 300 and answered.content else answered

    return corrupt


def each_bill(edit: Edit) -> Corrupt:
    """Edit each bill that is found, but those in brief."""
    return on(BILLS, lambda document: document["detail"] != "brief" and [edit(bill) for bill in document["bills"]])


def header(name: str, value: str | None, path: str = ".*", method: str = ".*") -> Corrupt:
    """Set a header of what is answered, or leave it out."""

    def corrupt(answered: Answered) -> Answered:
        if not (re.fullmatch(path, answered.path.split("?")[0]) and re.fullmatch(method, answered.method)):
            return answered
        without = answered.without(name)
        return without if value is None else replace(without, headers=without.headers | {name: value})

    return corrupt


def refused(edit: Edit) -> Corrupt:
    """Edit each refusal."""
    return lambda answered: (
        answered.edited(edit) if answered.status in (400, 404, 405, 422) and answered.content else answered
    )


def first_kept(path: str, method: str = "GET") -> Callable[[], Corrupt]:
    """Of all that is asked of this path the first answer is given each time."""

    def make() -> Corrupt:
        kept: list[Answered] = []

        def corrupt(answered: Answered) -> Answered:
            if not re.fullmatch(path, answered.path.split("?")[0]) or answered.method != method:
                return answered
            kept.append(answered)
            return kept[0]

        return corrupt

    return make


def _foreign_304(answered: Answered) -> Answered:
    return replace(answered, status=304, content=b"") if "if-none-match" in answered.asked else answered


def _tag_of_all(answered: Answered) -> Answered:
    return answered if "etag" not in answered.headers else replace(answered, headers=answered.headers | {"etag": '"1"'})


def _head_with_content(answered: Answered) -> Answered:
    return replace(answered, content=b"{}") if answered.method == "HEAD" else answered


def _reused_key(answered: Answered) -> Answered:
    return replace(answered, status=200) if "idempotency-key" in answered.asked else answered


def _failing_on_a_path(answered: Answered) -> Answered:
    return replace(answered, status=500) if answered.status == 404 else answered


def _other_when_packed(answered: Answered) -> Answered:
    packed = answered.asked.get("accept-encoding") == "gzip" and answered.status == 200
    return answered.edited(lambda x: x["results"].pop()) if packed else answered


def _looping(document: dict[str, Any]) -> None:
    if document.get("next"):
        document["next"] = "/v1/items?limit=7"


def _lost(document: dict[str, Any]) -> None:
    document["results"] = document["results"][1:]


def _tenfold_drop(bill: dict[str, Any]) -> None:
    for path in bill["flow"]["paths"]:
        path["drop_kpa"] *= 10


def _over_limit(bill: dict[str, Any]) -> None:
    for path in bill["flow"]["paths"]:
        path["peak_m_s"] = path["limit_m_s"] * 2


def _without_reasons(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        line["reasons"] = line["reasons"][:1]


def _without_facts(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        for reason in line["reasons"]:
            reason.pop("facts", None)


def _flipped(document: dict[str, Any]) -> None:
    flipped = {"complete": "short", "short": "complete", "surplus": "wrong", "wrong": "surplus"}
    document["verdict"] = flipped.get(document["verdict"], "complete")


def _everywhere(document: dict[str, Any]) -> None:
    document["in_bills"], document["where"] = True, ["rail", "left", "right", "centre", "top", "box"]


def _nowhere(document: dict[str, Any]) -> None:
    document["in_bills"], document["where"] = False, []


def _mine(name: str, by: int) -> Edit:
    """Change a figure of each layout that has one."""

    def edit(document: dict[str, Any]) -> None:
        for one in document["layouts"]:
            if one[name] is not None:
                one[name] += by

    return edit


def _fewer_parts(document: dict[str, Any]) -> None:
    for step in document["steps"]:
        step["parts"] = []


def _other_parts(document: dict[str, Any]) -> None:
    for rail in document["rails"]:
        for spot in rail["spots"]:
            for part in spot["standing"]:
                part["sku"] = "quite-another"


def _shorter_station(document: dict[str, Any]) -> None:
    for path in document["paths"]:
        path["stations"][-1]["lost_kpa"] *= 3


@dataclass(frozen=True)
class Fault:
    """A row: `promise` notices it (a part of its name; cases: the standing cases), and a line has `said`."""

    name: str
    promise: str
    said: str
    corrupt: Corrupt = breaks.same
    misheard: Callable[[Request], Request] | None = None
    made: Callable[[], Corrupt] | None = field(default=None)


FAULTS = (
    # Bills by themselves.
    Fault("a wrong total", "cases", "total_valid is", breaks.wrong_total),
    Fault("a bill dearer than its lines", "cases", "but its lines add up to", breaks.wrong_price),
    Fault(
        "pieces that are not the units", "cases", "units to get", each_bill(lambda x: x.update(pieces=x["pieces"] + 1))
    ),
    Fault("bills out of order", "cases", "are not in the order of their price", breaks.reordered_bills),
    Fault("a part without its line", "cases", "spot, but no line for it", breaks.lost_line),
    Fault("a spot left out", "cases", "says nothing of what goes into", each_bill(lambda x: x["chains"].clear())),
    Fault("no cautions", "cases", "has no cautions for who works on it", breaks.no_cautions),
    Fault("no HTML where JSON is told", "cases", "BrokenAnswerError", breaks.rubbish),
    Fault("the keys of other bills", "cases", "not the very bill that is promised", breaks.keys_changed),
    Fault(
        "no bills at all",
        "cases",
        "has no bill, but one is promised",
        on(BILLS, lambda x: x.update(bills=[], total_valid=0)),
    ),
    Fault(
        "a line without a reason",
        "cases",
        "a line without a reason",
        each_bill(lambda x: [y.update(reasons=[], repeats=[]) for y in x["lines"]]),
    ),
    Fault("a path over its limit", "cases", "is over its limit on the feed path", each_bill(_over_limit)),
    Fault(
        "a power verdict that is flipped",
        "cases",
        "is told to be over where",
        each_bill(lambda x: x["power"].update(verdict="over")),
    ),
    Fault(
        "twice the power of the least limit",
        "cases",
        "but its least limit is",
        each_bill(lambda x: x["power"].update(carries_kw=x["power"]["carries_kw"] * 2)),
    ),
    Fault(
        "another limit than the least",
        "cases",
        "not by its least limit",
        each_bill(lambda x: x["power"].update(limited_by="pump")),
    ),
    Fault(
        "the same bill twice",
        "cases",
        "a bill is listed twice",
        on(BILLS, lambda x: x.update(bills=x["bills"][:1] * len(x["bills"]))),
    ),
    Fault(
        "the bills of another revision",
        "cases",
        "of another revision than was asked of",
        on(BILLS, lambda x: x.update(revision=1)),
    ),
    Fault(
        "no bill and no conflict",
        "cases",
        "no conflict says why",
        on(BILLS, lambda x: x.update(conflicts=[], stories=[])),
    ),
    # Bills beside other answers.
    Fault(
        "another currency in joints",
        "currency",
        "is in another currency",
        on("/v1/joints", lambda x: x.update(currency="SEK")),
    ),
    Fault(
        "another currency in bills", "currency", "is in another currency", on(BILLS, lambda x: x.update(currency="SEK"))
    ),
    Fault(
        "another revision in a list",
        "revision and",
        "is of another revision than the newest",
        on("/v1/items", lambda x: x.update(revision=1)),
    ),
    Fault(
        "another revision in the header",
        "revision and",
        "has another revision in its header",
        header("x-catalog-revision", "9", BILLS),
    ),
    Fault("a drop ten times too large", "drawings", "is another one than along its drawing", each_bill(_tenfold_drop)),
    Fault(
        "stations that do not add up", "drawings", "do not add up to its drop", on(f"{KEY}/drawing", _shorter_station)
    ),
    Fault(
        "reasons that are lost",
        "reasons and facts",
        "does not give the reasons that its explanation gives",
        each_bill(_without_reasons),
    ),
    Fault("facts that are lost", "reasons and facts", "gives no facts for the rule", each_bill(_without_facts)),
    Fault(
        "brief that says what full does not",
        "brief,",
        "in brief says what the full one does not: price",
        on(BILLS, lambda x: x["detail"] == "brief" and [y.update(price=y["price"] + 5) for y in x["bills"]]),
    ),
    Fault(
        "brief lines of another bill",
        "brief,",
        "in brief says what the full one does not: lines",
        on(BILLS, lambda x: x["detail"] == "brief" and x["lines"].reverse()),
    ),
    Fault(
        "wishes ignored in the query",
        "wishes count",
        "max_price is ignored in the query",
        misheard=without_wish("max_price"),
    ),
    Fault(
        "an exclusion ignored in the query",
        "wishes count",
        "exclude is ignored in the query",
        misheard=without_wish("exclude"),
    ),
    Fault(
        "a power ignored in the query",
        "wishes count",
        "power_kw is ignored in the query",
        misheard=without_wish("power_kw"),
    ),
    Fault(
        "a limit ignored in the query", "wishes count", "limit is ignored in the query", misheard=without_wish("limit")
    ),
    Fault(
        "a retired part in a bill",
        "parts are as",
        ", which is retired",
        on("/v1/items/[^/]+", lambda x: x["result"].update(status="retired")),
    ),
    Fault(
        "an item at another price",
        "parts are as",
        "which is not the price of the item",
        on("/v1/items/[^/]+", lambda x: x["result"].update(price=x["result"]["price"] + 10)),
    ),
    Fault(
        "an item with another stock",
        "parts are as",
        "tells another stock",
        on("/v1/items/[^/]+", lambda x: x["result"].update(stock=(x["result"].get("stock") or 0) + 1)),
    ),
    Fault(
        "repairs that do not help",
        "repairs",
        "the repair",
        on(BILLS, lambda x: [y.update(total_valid=y["total_valid"] + 3) for y in x["repairs"]]),
    ),
    Fault(
        "alternatives that are not valid",
        "repairs",
        "the alternative",
        on(BILLS, lambda x: [y.update(total_valid=999) for y in x["alternatives"]]),
    ),
    Fault(
        "layouts with other totals",
        "layouts tell",
        "is told to have",
        on("/v1/chassis/[^/]+/layouts", _mine("total_valid", 1)),
    ),
    Fault(
        "layouts with other prices",
        "layouts tell",
        "is told to begin at",
        on("/v1/chassis/[^/]+/layouts", _mine("lowest_price", 1)),
    ),
    # What a key leads to.
    Fault(
        "another bill recalled",
        "recalled",
        "the bill that its key recalls is another one",
        breaks.another_bill_recalled,
    ),
    Fault("a sheet of another bill", "sheets", "is that of another bill", made=first_kept(f"{KEY}/sheet")),
    Fault("a sheet with other parts", "sheets", "which the bill has not", on(f"{KEY}/sheet", _other_parts)),
    Fault("steps without their parts", "sheets", "no step of the sheet", on(f"{KEY}/sheet", _fewer_parts)),
    Fault("a drawing of another bill", "drawings", "is that of another bill", made=first_kept(f"{KEY}/drawing")),
    Fault(
        "a link for all bills",
        "short links",
        "does not lead to the sheet of that bill",
        made=first_kept(f"{KEY}/link", "POST"),
    ),
    Fault(
        "a link to another place",
        "short links",
        "does not lead to the sheet of that bill",
        header("location", "/", "/b/.+"),
    ),
    # Parts.
    Fault(
        "explained where no bill has it",
        "explanations",
        "is said to be in bills, but none",
        on("/v1/explain", _everywhere),
    ),
    Fault(
        "explained away where it stands",
        "explanations",
        "but its explanation says otherwise",
        on("/v1/explain", _nowhere),
    ),
    Fault(
        "parts that are said not to meet",
        "joints",
        "are said not to meet",
        on("/v1/joints", lambda x: x.update(meets=False, joints=[])),
    ),
    Fault("all ends meet", "joints", "are said to meet", on("/v1/joints", lambda x: x.update(meets=True))),
    Fault("uses at another spot", "are used", "at nowhere, but is in no such bill", breaks.used_at_another_spot),
    Fault("no uses", "are used", "is told to be used nowhere", on("/v1/items/.+/uses", lambda x: x.update(results=[]))),
    # Orders.
    Fault("always complete", "key", "of one unit more than a bill buys is complete by the key", breaks.keys_of_nothing),
    Fault(
        "verdicts flipped",
        "compared with",
        "is short by the key of that bill, not complete",
        on("/v1/order-checks", _flipped),
    ),
    Fault("stock without end", "stock is told", "are said to be short", breaks.stock_without_end),
    Fault(
        "needs of one set",
        "stock is told",
        "sets are said to need",
        on("/v1/order-checks", lambda x: [y.update(need=1, short=max(0, 1 - y["in_stock"])) for y in x["stock"]]),
    ),
    Fault("ties not marked", "tie are asked", "as a tie", breaks.lost_ties),
    Fault(
        "changes that lead elsewhere",
        "changes of an order",
        "is not what the bill buys",
        on("/v1/order-checks", lambda x: x.update(add=[])),
    ),
    Fault(
        "another change of price",
        "changes of an order",
        "not that of the parts",
        on("/v1/order-checks", lambda x: x.update(price_change=(x["price_change"] or 0) + 1)),
    ),
    Fault(
        "another check recalled",
        "changes of an order",
        "that is recalled is another one",
        on("/v1/order-checks/.+", lambda x: x.update(sets=1)),
    ),
    Fault("always sure", "orders are read", "is read for sure, though no part is called so", breaks.always_sure),
    # Lists.
    Fault("a page with something twice", "pages add up", "gives something twice", breaks.repeated_page),
    Fault("pages that loop", "pages add up", "lead back to one that was read", on("/v1/items", _looping)),
    Fault("pages that end early", "pages add up", "by pages of 7 and", on("/v1/items", lambda x: x.pop("next", None))),
    Fault("a list that loses something", "pages add up", "that the revision has", on("/v1/fuels", _lost)),
    Fault(
        "an id that leads to another thing", "ids lead", "is another one by its id", made=first_kept("/v1/layouts/.+")
    ),
    Fault("no suggestions", "ids lead", "suggests nothing, but not", breaks.no_suggestions),
    Fault("a kind that is ignored", "filters", "the filter kind is ignored", misheard=without_wish("kind")),
    Fault("mates that is ignored", "filters", "the filter mates is ignored", misheard=without_wish("mates")),
    Fault("fits that is ignored", "filters", "the filter fits is ignored", misheard=without_wish("fits")),
    Fault(
        "fewer standing cases",
        "every standing case",
        "standing cases are told of the",
        on("/v1/contract/cases", lambda x: x["cases"].pop(0)),
    ),
    # The wire.
    Fault("no tag", "conditional", "has no strong ETag", breaks.missing_etag),
    Fault("never 304", "conditional", "not 304", breaks.never_304),
    Fault("304 to a foreign tag", "conditional", "that is not its own gives 304", _foreign_304),
    Fault("tags that stay", "entity tags", "has the same ETag in two revisions", _tag_of_all),
    Fault("HEAD with content", "HEAD", "is answered with content", _head_with_content),
    Fault("no Allow", "methods are told", "does not tell in Allow", header("allow", None)),
    Fault(
        "a list that caches keep",
        "caches",
        "the newest of a list is cached",
        header("cache-control", "public, max-age=9", "/v1/layouts"),
    ),
    Fault(
        "cases that all caches keep",
        "caches",
        "the standing cases is cached",
        header("cache-control", "no-cache", "/v1/contract/cases"),
    ),
    Fault(
        "answers to POST that caches keep",
        "caches",
        "asked by POST may be kept",
        header("cache-control", "max-age=9", BILLS, "POST"),
    ),
    Fault("another content when compressed", "compressed", "by gzip is another", _other_when_packed),
    Fault("an idempotency key that is ignored", "idempotency", "was kept twice", made=breaks.lost_idempotency),
    Fault("an idempotency key for all", "idempotency", "not 409 or 422", _reused_key),
    Fault("500 on bad input", "errors", "bad input must never be a fault", breaks.failing_on_bad_input),
    Fault("500 where there is nothing", "errors", "bad input must never be a fault", _failing_on_a_path),
    Fault("refusals as plain JSON", "errors", "is refused with application/json", breaks.plain_errors),
    Fault(
        "other types of problems",
        "errors",
        "as another problem than it is",
        refused(lambda x: x.update(type="/v1/problems/other")),
    ),
    Fault(
        "no place in a refusal",
        "errors",
        "does not name the field",
        refused(lambda x: [y.update(pointer="#/else", parameter=None) for y in x["errors"]]),
    ),
    Fault("another status in a problem", "errors", "the problem says status", refused(lambda x: x.update(status=418))),
    Fault(
        "refusals that caches keep",
        "errors",
        "may be kept by caches",
        header("cache-control", "max-age=9", "/v1/(bills|items)/no.*|/v1/no-such-path"),
    ),
)
