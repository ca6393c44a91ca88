"""What the API promises of orders, whatever the catalog."""

import json
from collections.abc import Iterator
from typing import Any

import httpx

from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.questions import bought, first_bill
from service.contract.site import NotTriedError, Site, given
from service.documents.found import FoundBill
from service.documents.order_answer import OrderCheck

_SETS = 7
_NO_WORD = "xyzzyq"
_NO_PART = "xyzzyq blorf"
_HAD = "the customer has parts of the first bill, so that several sets are not its lines times the sets"


def orders_are_read(site: Site) -> Iterator[Broken]:
    """A part that is written by its SKU with a plain quantity is sure; one that is misspelt is asked back."""
    items = site.ask(operations.page(sections.ITEMS, limit=200)).results
    item = next((one for one in items if one.sold and one.status == "active"), None)
    if item is None:
        raise NotTriedError("the catalog has no items that are sold")
    misspelt = f"{item.sku}zzq"
    lines = site.ask(operations.read_order({"text": f"2 x {item.sku}\n{misspelt}"}))["lines"]
    first = lines[0] if lines else None
    if first is None or (first["sure"], first["sku"], first["qty"]) != (True, item.sku, 2):
        what = f"of “2 x {item.sku}” the first line is {first}, not two of it for sure"
        yield Broken(what, "#/lines/0", f"2 of {item.sku}, sure", str(first))
    if any(line["sure"] and line["row"] > 1 for line in lines):
        yield Broken(f"“{misspelt}” is read for sure, though no part is called so", "#/lines/1/sure", "false", "true")
    sure = site.ask(operations.read_order({"text": f"3 x {item.sku}\n{_NO_PART}"}))
    if sure["total"] is None or sure["total"]["price"] != 3 * item.price:
        what = f"three of {item.sku} at {item.price} come to another total"
        yield Broken(what, "#/total/price", str(3 * item.price), str(sure["total"]))
    if {one["row"] for one in (*sure["lines"], *sure["unread"])} != {1, 2}:
        yield Broken(f"the row “{_NO_PART}” is neither read nor told as unread", "#/unread", _NO_PART, "nothing of it")


def questions_are_read(site: Site) -> Iterator[Broken]:
    """A car and a fuel that are named are understood or asked back, each word is accounted for, and what is missing is
    asked."""
    car = next(iter(site.ask(operations.page(sections.CHASSIS, limit=1)).results), None)
    fuel = next(iter(site.ask(operations.page(sections.FUELS, limit=1)).results), None)
    if car is None or fuel is None:
        raise NotTriedError("the catalog has no car or no fuel")
    text = f"{car.name}, {fuel.name}, {_NO_WORD}"
    told = site.ask(operations.read_question({"text": text}))
    asked_back = {one["field"] for one in told["open"]}
    for name, expected in (("chassis", car.id), ("fuel", fuel.id)):
        if told["request"].get(name) != expected and name not in asked_back:
            got = str(told["request"].get(name, "nothing"))
            yield Broken(
                f"of “{text}” the {name} is neither understood nor asked back", f"#/request/{name}", expected, got
            )
    if "layout" not in asked_back | told["request"].keys():
        yield Broken(f"of “{text}” the layout is missing, but is not asked for", "#/open", "layout", str(asked_back))
    if not any(_NO_WORD in word for word in told["unread"]):
        yield Broken(
            f"“{_NO_WORD}” is not told as unread", "#/unread", _NO_WORD, ", ".join(told["unread"]) or "nothing"
        )


def batches_are_answered_line_by_line(site: Site) -> Iterator[Broken]:
    """Each order of a batch has its line, in order; one that is refused has its problem and spoils no other."""
    bill, lines = _ordered(site)
    orders: list[dict[str, Any]] = [{"key": bill["key"], "lines": lines}, {"key": bill["key"], "lines": []}]
    sent = "".join(f"{json.dumps(one)}\n" for one in (*orders, orders[0])).encode()
    response = given(site.send("POST", "/v1/order-checks/batch", content=sent, Content_Type="application/x-ndjson"))
    told = [(one.get("line"), one.get("status")) for one in map(json.loads, response.text.splitlines())]
    if told != [(1, 201), (2, 422), (3, 201)]:
        expected = "line 1 with 201, 2 with 422, 3 with 201"
        yield Broken("the lines of a batch are not answered each, in their order", "", expected, str(told))


def _ordered(site: Site) -> tuple[FoundBill, list[dict[str, Any]]]:
    bill = first_bill(site)
    lines = bought(bill)
    if not lines:
        raise NotTriedError("the first bill buys nothing")
    return bill, lines


def _ordered_anew(site: Site) -> tuple[FoundBill, list[dict[str, Any]]]:
    bill, lines = _ordered(site)
    if site.question().get("have"):
        raise NotTriedError(_HAD)
    return bill, lines


def orders_are_held_against_a_key(site: Site) -> Iterator[Broken]:
    """An order of what a bill buys is that very bill, one with a unit more is not; an unknown key is not found."""
    bill, lines = _ordered(site)
    same = site.ask(operations.check_order({"key": bill["key"], "lines": lines}))
    if same["verdict"] != "complete" or same["bill"] is None or same["bill"]["key"] != bill["key"]:
        what = f"an order of what a bill buys is {same['verdict']} by the key of that bill, not complete"
        yield Broken(what, "#/verdict", "complete, with that bill", same["verdict"])
    elif same["bill"]["price"] != bill["price"]:
        yield Broken(
            "an order check tells another price of its bill",
            "#/bill/price",
            str(bill["price"]),
            str(same["bill"]["price"]),
        )
    more = [lines[0] | {"qty": lines[0]["qty"] + 1}, *lines[1:]]
    other = site.ask(operations.check_order({"key": bill["key"], "lines": more}))
    if other["verdict"] != "surplus":
        what = f"an order of one unit more than a bill buys is {other['verdict']} by the key of that bill, not surplus"
        yield Broken(what, "#/verdict", "surplus", other["verdict"])
    if len(lines) > 1:
        less = site.ask(operations.check_order({"key": bill["key"], "lines": lines[1:]}))
        if less["verdict"] != "short":
            what = f"an order without {lines[0]['sku']} is {less['verdict']} by the key of its bill, not short"
            yield Broken(what, "#/verdict", "short", less["verdict"])
    for what, order, status, code in (
        ("an order with an unknown key", {"key": "1no-such-key", "lines": lines}, 404, "unknown-id"),
        (
            "an order with a key and a wish",
            {"key": bill["key"], "gauge": "none", "lines": lines},
            422,
            "invalid-request",
        ),
    ):
        at = "key" if status == httpx.codes.NOT_FOUND else "gauge"
        yield from faults_of_problem(what, site.http.post("/v1/order-checks", json=order), status, code=code, at=at)


def changes_lead_to_the_bill(site: Site) -> Iterator[Broken]:
    """What was ordered with its changes is what the bill buys for all sets; the price changes as the parts do."""
    bill, lines = _ordered_anew(site)
    ordered = [line | {"qty": line["qty"] * _SETS + place} for place, line in enumerate(lines[:-1])]
    if not ordered:
        raise NotTriedError("the first bill buys one part only")
    check = site.ask(operations.check_order({"key": bill["key"], "sets": _SETS, "lines": ordered}))
    wanted = {line["sku"]: line["qty"] for line in bought(bill, _SETS)}
    got = {line["sku"]: line["qty"] for line in ordered}
    moves = [(one["sku"], one["qty"]) for one in check["add"]] + [(one["sku"], -one["qty"]) for one in check["remove"]]
    for swap in check["swap"]:
        moves += [(swap["out"], -swap["qty"]), (swap["in"], swap["qty"])]
    for sku, units in moves:
        got[sku] = got.get(sku, 0) + units
    got = {sku: units for sku, units in got.items() if units}
    if got != wanted:
        odd = next(sku for sku in {**got, **wanted} if got.get(sku) != wanted.get(sku))
        what = (
            f"an order with its changes is not what the bill buys: {got.get(odd, 0)} of {odd}, not {wanted.get(odd, 0)}"
        )
        yield Broken(what, "#/add", str(wanted.get(odd, 0)), str(got.get(odd, 0)))
    prices = {line["sku"]: line["price"] // line["qty"] for line in bill["lines"] if line["source"] == "buy"}
    owed = bill["price"] * _SETS - sum(prices[line["sku"]] * line["qty"] for line in ordered)
    if check["price_change"] != owed:
        what = "the change of price is not that of the parts"
        yield Broken(what, "#/price_change", str(owed), str(check["price_change"]))
    edits = sum(one["qty"] for one in (*check["add"], *check["remove"], *check["swap"]))
    if check.get("edits", edits) != edits:
        yield Broken("the changes are counted wrongly", "#/edits", str(edits), str(check.get("edits")))
    yield from _recalled(site, check)


def _recalled(site: Site, check: OrderCheck) -> Iterator[Broken]:
    recalled = site.ask(operations.recall_order_check(check["id"]))
    again = {name: value for name, value in recalled.items() if name != "current"}
    if again != check:
        odd = [name for name, value in check.items() if value != again.get(name)]
        yield Broken(
            "an order check that is recalled is another one", f"#/{odd[0] if odd else ''}", "word for word the same"
        )


def stock_is_told_by_sets(site: Site) -> Iterator[Broken]:
    """Of several sets each part is told against stock, and how many sets ship at once."""
    bill, _ = _ordered_anew(site)
    check = site.ask(operations.check_order({"key": bill["key"], "sets": _SETS, "lines": bought(bill, _SETS)}))
    stock, ships = check.get("stock", []), check.get("ships")
    if ships is None or not stock:
        yield Broken("an order check does not say what is in stock of the bill, or when it ships", "#/stock", "both")
        return
    needs = {line["sku"]: line["qty"] for line in bought(bill, _SETS)}
    for one in stock:
        if one["short"] != max(0, one["need"] - one["in_stock"]):
            what = f"{one['short']} of {one['sku']} are said to be short: {one['need']} needed, {one['in_stock']} there"
            yield Broken(what, "#/stock", str(max(0, one["need"] - one["in_stock"])), str(one["short"]))
        if one["need"] != needs.get(one["sku"]):
            what = f"{_SETS} sets are said to need {one['need']} of {one['sku']}"
            yield Broken(what, "#/stock", str(needs.get(one["sku"])), str(one["need"]))
    short = [one for one in stock if one["short"]]
    if (ships["now"] == _SETS) != (not short):
        what = f"{ships['now']} of {_SETS} sets ship now, but {len(short)} parts are short"
        yield Broken(what, "#/ships/now", str(_SETS) if not short else f"less than {_SETS}", str(ships["now"]))
    rest = max((one["rest_days"] for one in short), default=0)
    if ships["rest_days"] != rest:
        what = f"the rest ships in {ships['rest_days']} days, which is not when the last part comes"
        yield Broken(what, "#/ships/rest_days", str(rest), str(ships["rest_days"]))


def ties_are_asked_back(site: Site) -> Iterator[Broken]:
    """Of an order without a layout those others tie that take as few changes as the one shown, and none takes fewer."""
    _, lines = _ordered(site)
    check = site.ask(operations.check_order({"chassis": site.question()["chassis"], "lines": lines}))
    shown = _changes(check)
    for place, other in enumerate(check["also_possible"]):
        if other["changes"] < shown:
            what = f"{other['layout']} takes {other['changes']} changes, fewer than the {shown} of the one shown"
            yield Broken(what, f"#/also_possible/{place}/changes", f"at least {shown}", str(other["changes"]))
        if other.get("tie") is not (other["changes"] == shown):
            what = f"{other['layout']} is marked {other.get('tie')} as a tie: {other['changes']} changes, shown {shown}"
            yield Broken(what, f"#/also_possible/{place}/tie", str(other["changes"] == shown), str(other.get("tie")))


def _changes(check: OrderCheck) -> int:
    """The changes of the bill that is shown; a swap is an add and a remove."""
    changed = sum(change["qty"] for change in (*check["add"], *check["remove"]))
    return changed + 2 * sum(swap["qty"] for swap in check["swap"])
