"""More ways to break a shop quietly: figures in other units, wishes of a body not heard, forms that disagree."""

import json
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import httpx

from tests.contract.broken_servers import Answered, Corrupt
from tests.contract.faults import BILLS, KEY, Edit, Fault, each_bill, header, on
from tests.contract.recorded import Request, without_wish

_HP_PER_KW = 1.36
_ITEM = "/v1/items/[^/]+"


def unheard(*names: str, value: Any = None) -> Callable[[Request], Request]:
    """The questions by body are heard without these wishes, or with this value of them."""

    def misheard(request: Request) -> Request:
        if request.method != "POST" or request.url.path != BILLS:
            return request
        asked = json.loads(request.read())
        left = {name: told for name, told in asked.items() if name not in names}
        left |= {} if value is None else dict.fromkeys(names, value)
        headers = {name: told for name, told in request.headers.items() if name != "content-length"}
        return Request(request.method, request.url, headers=headers, content=json.dumps(left).encode())

    return misheard


def scaled(*names: str, by: float) -> Edit:
    """Every figure of these names, however deep, is multiplied."""

    def edit(part: Any) -> None:
        for inner in part if isinstance(part, list) else part.values() if isinstance(part, dict) else ():
            edit(inner)
        if isinstance(part, dict):
            part.update({name: part[name] * by for name in names if isinstance(part.get(name), float | int)})

    return edit


def swapped(path: str, *, of: Callable[[dict[str, Any]], list[dict[str, Any]]], names: tuple[str, ...]) -> Corrupt:
    """The first two of a list change these fields with one another."""

    def edit(document: dict[str, Any]) -> None:
        one, other = of(document)[:2]
        for name in names:
            one[name], other[name] = other[name], one[name]

    return on(path, edit)


def as_csv(path: str, edit: Callable[[str], str]) -> Corrupt:
    """Edit what comes as CSV."""

    def corrupt(answered: Answered) -> Answered:
        is_csv = answered.headers.get("content-type", "").startswith("text/csv")
        if not (is_csv and re.fullmatch(path, answered.path.split("?")[0])):
            return answered
        return replace(answered, content=edit(answered.content.decode()).encode())

    return corrupt


def no_csv(answered: Answered) -> Answered:
    return replace(answered, status=200) if answered.status == httpx.codes.NOT_ACCEPTABLE else answered


def _swap_limits(bill: dict[str, Any]) -> None:
    """What limits first has the name of what limits last, everywhere in the bill."""
    limits = sorted(bill["power"]["limits"], key=lambda limit: limit["kw"])
    first, last = limits[0], limits[-1]
    first["what"], last["what"] = last["what"], first["what"]
    bill["power"]["limited_by"] = first["what"]


def _rate_otherwise(document: dict[str, Any]) -> None:
    for material in document["results"]:
        fuels = list(material["ratings"])
        rated = dict(zip(fuels, reversed(list(material["ratings"].values())), strict=True))
        material["ratings"] = {fuel: "D" if rated[fuel] != "D" else "A" for fuel in fuels}


def _hasten(bill: dict[str, Any]) -> None:
    bill["lead_days"] = 0


def _unshort(bill: dict[str, Any]) -> None:
    for line in bill["lines"]:
        if "short" in line:
            line["short"] = 3


def _change_facts(rule: str, name: str, by: float) -> Edit:
    def edit(bill: dict[str, Any]) -> None:
        for line in bill["lines"]:
            for reason in line["reasons"]:
                if reason["rule"] == rule and isinstance(reason.get("facts", {}).get(name), float | int):
                    reason["facts"][name] *= by

    return edit


def _tighter(document: dict[str, Any]) -> None:
    for step in document["steps"]:
        tight = step["tightening"]
        for part in filter(None, (tight and tight["torque"], tight and tight["past_hand_tight"])):
            for name in ("min_nm", "max_nm", "min_deg", "max_deg"):
                if part.get(name):
                    part[name] *= 2


def _other_tightening(document: dict[str, Any]) -> None:
    for step in document["steps"]:
        if step["tightening"]:
            step["tightening"]["text"] = "Half a turn past hand-tight."


def _useless_change(document: dict[str, Any]) -> None:
    for verdict in document["verdicts"]:
        if verdict["change"]:
            verdict["change"]["change"] = {"max_price": 0}


def _dearer_bridge(document: dict[str, Any]) -> None:
    if document["bridge"]:
        document["bridge"]["price"] += 100


def _long_pages(request: Request) -> Request:
    return without_wish("limit")(request) if re.fullmatch("/v1/(layouts|fuels|chassis)", request.url.path) else request


def _tag_by_path(answered: Answered) -> Answered:
    path = answered.path.split("?")[0]
    return (
        replace(answered, headers=answered.headers | {"etag": f'"{len(path)}"'})
        if answered.method == "GET"
        else answered
    )


def _other_tag_by_head(answered: Answered) -> Answered:
    is_head = answered.method == "HEAD" and "etag" in answered.headers
    return replace(answered, headers=answered.headers | {"etag": '"head"'}) if is_head else answered


def _cut_short(answered: Answered) -> Answered:
    if answered.asked.get("accept-encoding") != "gzip":
        return answered
    return replace(answered, headers=answered.headers | {"content-encoding": "gzip"}, content=b"\x1f\x8b\x08\x00cut")


def _misdecoded(document: dict[str, Any]) -> None:
    """A name that was written as Latin-1 and read as UTF-8."""
    document["result"]["name"] = document["result"]["name"].replace("e", "\ufffd")


def _shift_drops(bill: dict[str, Any]) -> None:
    for path in bill["flow"]["paths"]:
        path["drop_kpa"] *= 10


def _limits_in_psi(bill: dict[str, Any]) -> None:
    for path in bill["flow"]["paths"]:
        path["limit_kpa"] /= 6.895


def _two_bills(document: dict[str, Any]) -> list[dict[str, Any]]:
    return document["bills"] if len(document["bills"]) > 1 else [{"key": 0}, {"key": 0}]


def _without_line(text: str) -> str:
    head, _, *rest = text.splitlines()
    return "\r\n".join([head, *rest])


def _fewer_changes(document: dict[str, Any]) -> None:
    document["revisions"] = []


def _all_changes(document: dict[str, Any]) -> None:
    document["revisions"] = [{"revision": 1, "changes": []}]


QUIET = (
    Fault(
        "power in metric horsepower",
        "power is that",
        "kW are told to be asked",
        each_bill(scaled("asked_kw", "carries_kw", "kw", by=_HP_PER_KW)),
    ),
    Fault(
        "a demand ten times too small",
        "power is that",
        "does not go with the fuel at the limit",
        each_bill(lambda x: x["flow"].update(demand_l_h=x["flow"]["demand_l_h"] / 10)),
    ),
    Fault(
        "a drop ten times too large in its path",
        "power is that",
        "tells other figures than the feed path",
        each_bill(_shift_drops),
    ),
    Fault("a limit of the drop in psi", "power is that", "tells other figures than", each_bill(_limits_in_psi)),
    Fault(
        "limits that change their names",
        "sheets tell the power",
        "tells another limited_by of its power",
        each_bill(_swap_limits),
    ),
    Fault(
        "a sheet with another verdict",
        "sheets tell the power",
        "tells another verdict",
        on(f"{KEY}/sheet", lambda x: x["power"].update(verdict="over")),
    ),
    Fault(
        "a sheet with limits of another car",
        "sheets tell the power",
        "tells another limit:",
        on(f"{KEY}/sheet", lambda x: [y.update(kw=y["kw"] * 2) for y in x["power"]["limits"]]),
    ),
    Fault(
        "ratings of other fuels",
        "facts are those",
        "tells another rating than the catalog",
        on("/v1/materials", _rate_otherwise),
    ),
    Fault(
        "a pressure in bar",
        "facts are those",
        "tells another max_kpa than the catalog",
        each_bill(_change_facts("pressure", "max_kpa", 0.01)),
    ),
    Fault(
        "a pressure that is left in bar",
        "facts are those",
        "tells another left_kpa",
        each_bill(_change_facts("pressure", "left_kpa", 0.01)),
    ),
    Fault(
        "a stock of yesterday in the reasons",
        "facts are those",
        "tells another stock than the catalog",
        each_bill(_change_facts("supply", "stock", 3)),
    ),
    Fault("everything ships today", "lead times", "but its slowest part takes", each_bill(_hasten)),
    Fault("everything is short", "lead times", "are told to be short", each_bill(_unshort)),
    Fault(
        "an item that is faster than its bill",
        "lead times",
        "but its slowest part takes",
        on(_ITEM, lambda x: x["result"].update(lead_days=0)),
    ),
    Fault("torques of twice the figure", "tightened", "is another one in its", on(f"{KEY}/sheet", _tighter)),
    Fault(
        "another method on the sheet",
        "tightened",
        "is tightened otherwise than on the sheet",
        on(f"{KEY}/sheet", _other_tightening),
    ),
    Fault(
        "a least change that does not help",
        "least changes",
        "in no bill all the same",
        on("/v1/explain", _useless_change),
    ),
    Fault(
        "a bridge that is dearer than its parts", "bridges", "but its parts come to", on("/v1/joints", _dearer_bridge)
    ),
    Fault(
        "a bridge of other parts",
        "bridges",
        "has other parts than its chain",
        on("/v1/joints", lambda x: x["bridge"] and x["bridge"]["items"].append("another")),
    ),
    Fault(
        "a layout that is left out",
        "every layout",
        "the layouts of the car lack",
        on("/v1/chassis/[^/]+/layouts", lambda x: x["layouts"].pop()),
    ),
    Fault("an order that is not heard", "come in their order", "the order", misheard=unheard("order_by")),
    Fault("a limit that is not heard", "come in their order", "with the limit 1", misheard=unheard("limit", value=2)),
    Fault(
        "variants that are not heard",
        "come in their order",
        "group_variants is ignored",
        misheard=unheard("group_variants"),
    ),
    Fault("a finish that is not heard", "finishes count", "the wish finish is ignored", misheard=unheard("finish")),
    Fault(
        "a price limit that is not heard",
        "wishes count",
        "max_price is ignored in the body",
        misheard=unheard("max_price"),
    ),
    Fault("parts at hand that are not heard", "wishes count", "have is ignored in the body", misheard=unheard("have")),
    Fault("a gauge that is not heard", "wishes count", "gauge is ignored in the body", misheard=unheard("gauge")),
    Fault(
        "keys of two bills changed over",
        "recalled",
        "the bill that its key recalls is another one",
        swapped(BILLS, of=_two_bills, names=("key",)),
    ),
    Fault(
        "CSV with prices of yesterday",
        "CSV says",
        "are not those of the JSON",
        as_csv("/v1/items", lambda text: text.replace("9.00,", "8.00,")),
    ),
    Fault("CSV of a bill without a line", "CSV says", "has other parts than the JSON", as_csv(KEY, _without_line)),
    Fault(
        "CSV of a bill at other prices",
        "CSV says",
        "asks another price for",
        as_csv(KEY, lambda text: re.sub(r"bought,(\d)", r"bought,7\1", text)),
    ),
    Fault(
        "JSON to who accepts CSV alone",
        "CSV says",
        "does not come as CSV",
        header("content-type", "application/json", "/v1/items"),
    ),
    Fault("a list as CSV that there is not", "forms are", "gives 200, not 406", no_csv),
    Fault(
        "JSON that calls itself HTML",
        "forms are",
        "does not say that it is JSON",
        header("content-type", "text/html", "/v1/layouts"),
    ),
    Fault("pages without an end to their length", "pages have", "ignores the limit", misheard=_long_pages),
    Fault(
        "a Link that leads elsewhere",
        "pages have",
        "leads on to another page in Link",
        header("link", '</v1/items>; rel="next"', "/v1/items"),
    ),
    Fault("tags that go by the path alone", "go by the question", "has the same ETag for two questions", _tag_by_path),
    Fault("HEAD with another tag", "HEAD", "has another etag than GET", _other_tag_by_head),
    Fault("gzip that is cut short", "compressed", "gzip", _cut_short),
    Fault("names in another encoding", "parts are as", "by another name than the item", on(_ITEM, _misdecoded)),
    Fault(
        "request ids that are lost",
        "ids come back",
        "does not give the caller's request id back",
        header("x-request-id", "another"),
    ),
    Fault(
        "a Location that leads elsewhere",
        "ids come back",
        "Location does not lead",
        header("location", "/v1/order-checks/other", "/v1/order-checks"),
    ),
    Fault("changes that are not told", "changes lead", "is not told as of revision", on("/v1/changes", _fewer_changes)),
    Fault("changes since ever", "changes lead", "there are said to be changes", on("/v1/changes", _all_changes)),
    Fault(
        "health of another revision",
        "changes lead",
        "health tells another revision",
        on("/v1/health", lambda x: x.update(revision=1)),
    ),
    Fault(
        "a drawing of another revision",
        "revision and",
        "a drawing is of another revision",
        on(f"{KEY}/drawing", lambda x: x.update(revision=1)),
    ),
    Fault(
        "an order check of another revision",
        "revision and",
        "an order check is of another revision",
        on("/v1/order-checks", lambda x: x.update(revision=1)),
    ),
    Fault(
        "standing cases of another revision",
        "revision and",
        "the list of standing cases is of another",
        on("/v1/contract/cases", lambda x: x.update(revision=1)),
    ),
    Fault("a part found by no name", "filters", "the filter q is ignored", misheard=without_wish("q")),
    Fault("a status that is not heard", "filters", "the filter status is ignored", misheard=without_wish("status")),
    Fault("a SKU that is not heard", "filters", "the filter sku is ignored", misheard=without_wish("sku")),
    Fault("sold and not sold alike", "filters", "the filter sold is ignored", misheard=without_wish("sold")),
)
