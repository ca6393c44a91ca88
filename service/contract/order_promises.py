"""What the API promises of orders and of what a part is used for, whatever the catalog; as in `promises`."""

import json
from collections.abc import Iterator
from typing import Any

import httpx

from service.client import sections
from service.contract.problems import faults_of_problem
from service.contract.site import Site
from service.documents.found import FoundBill
from service.documents.order_answer import OrderCheck
from service.documents.uses import Use

NO_QUESTION = "no case is promised a bill, so that this could not be tried"
_SETS = 7
_MOST_USES = 2


def orders_are_read(site: Site) -> Iterator[str]:
    """A part that is written by its SKU with a plain quantity is sure; one that is misspelt is asked back."""
    item = next(iter(site.client.each(sections.ITEMS, limit=1)))
    misspelt = f"{item.sku}zzq"
    read = site.client.read_order({"text": f"2 x {item.sku}\n{misspelt}"})
    lines = read["lines"]
    first = lines[0] if lines else None
    if first is None or (first["sure"], first["sku"], first["qty"]) != (True, item.sku, 2):
        yield f"of “2 x {item.sku}” the first line is {first}, not two of it for sure"
    if any(line["sure"] and line["row"] > 1 for line in lines):
        yield f"“{misspelt}” is read for sure, though no part is called so"


def _bill(site: Site) -> FoundBill | None:
    question = site.question()
    return None if question is None else next(iter(site.client.find_bills(question)["bills"]), None)


def _bought(bill: FoundBill, sets: int = 1) -> list[dict[str, Any]]:
    return [{"sku": line["sku"], "qty": line["qty"] * sets} for line in bill["lines"] if line["source"] == "buy"]


def orders_are_held_against_a_key(site: Site) -> Iterator[str]:
    """An order of what a bill buys is that very bill, one with a unit more is not; an unknown key is not found."""
    bill = _bill(site)
    if bill is None or not _bought(bill):
        yield NO_QUESTION
        return
    lines = _bought(bill)
    same = site.client.check_order({"key": bill["key"], "lines": lines})
    if same["verdict"] != "complete" or same["bill"] is None or same["bill"]["key"] != bill["key"]:
        yield f"an order of what a bill buys is {same['verdict']} by the key of that bill, not complete"
    more = [lines[0] | {"qty": lines[0]["qty"] + 1}, *lines[1:]]
    other = site.client.check_order({"key": bill["key"], "lines": more})
    if other["verdict"] != "surplus":
        yield f"an order of one unit more than a bill buys is {other['verdict']} by the key of that bill, not surplus"
    unknown = _sent(site, {"key": "1no-such-key", "lines": lines})
    yield from faults_of_problem("an order with an unknown key", unknown, httpx.codes.NOT_FOUND, has_place=True)
    both = _sent(site, {"key": bill["key"], "gauge": "none", "lines": lines})
    what = "an order with a key and a wish"
    yield from faults_of_problem(what, both, httpx.codes.UNPROCESSABLE_ENTITY, has_place=True)


def _sent(site: Site, order: dict[str, Any]) -> httpx.Response:
    return site.post("/v1/order-checks", json.dumps(order).encode())


def stock_is_told_by_sets(site: Site) -> Iterator[str]:
    """Of several sets each part is told against stock, and how many sets ship at once."""
    bill = _bill(site)
    if bill is None or not _bought(bill):
        yield NO_QUESTION
        return
    check = site.client.check_order({"key": bill["key"], "sets": _SETS, "lines": _bought(bill, _SETS)})
    stock, ships = check.get("stock", []), check.get("ships")
    if ships is None or not stock:
        yield "an order check does not say what is in stock of the bill, or when it ships"
        return
    for one in stock:
        if one["short"] != max(0, one["need"] - one["in_stock"]):
            yield f"{one['short']} of {one['sku']} are said to be short: {one['need']} needed, {one['in_stock']} there"
    short = [one for one in stock if one["short"]]
    if (ships["now"] == _SETS) != (not short):
        yield f"{ships['now']} of {_SETS} sets ship now, but {len(short)} parts are short"
    if ships["rest_days"] != max((one["rest_days"] for one in short), default=0):
        yield f"the rest ships in {ships['rest_days']} days, which is not when the last part comes"


def ties_are_asked_back(site: Site) -> Iterator[str]:
    """Of an order without a layout those others tie that take as few changes as the one shown, and none takes fewer."""
    question, bill = site.question(), _bill(site)
    if question is None or bill is None or not _bought(bill):
        yield NO_QUESTION
        return
    check = site.client.check_order({"chassis": question["chassis"], "lines": _bought(bill)})
    shown = _changes(check)
    for other in check["also_possible"]:
        if other["changes"] < shown:
            yield f"{other['layout']} takes {other['changes']} changes, fewer than the {shown} of the one shown"
        if other.get("tie") is not (other["changes"] == shown):
            yield f"{other['layout']} is marked {other.get('tie')} as a tie: {other['changes']} changes, shown {shown}"


def _changes(check: OrderCheck) -> int:
    """The changes of the bill that is shown; a swap is an add and a remove."""
    changed = sum(change["qty"] for change in (*check["add"], *check["remove"]))
    return changed + 2 * sum(swap["qty"] for swap in check["swap"])


def uses_are_bills(site: Site) -> Iterator[str]:
    """Where a part could be used there is a bill that has it, at the spots that are told."""
    bill = _bill(site)
    if bill is None:
        yield NO_QUESTION
        return
    sku = next((chain[0] for chain in bill["chains"].values() if chain), bill["lines"][0]["sku"])
    for place, use in enumerate(site.client.each(sections.uses_of(sku), limit=_MOST_USES)):
        if place == _MOST_USES:
            return
        if "too_costly" not in use:
            yield from _faults_of_use(site, sku, use)


def _faults_of_use(site: Site, sku: str, use: Use) -> Iterator[str]:
    standing: set[str] = set()
    for gauge in ("any",) if use["needs_gauge"] else ("none", "any"):
        request = {"chassis": use["chassis"], "layout": use["layout"], "gauge": gauge}
        standing |= set(site.client.explain({"request": request, "sku": sku})["where"])
    told = {*use["spots"], *use["roles"]}
    if not told or not told <= standing:
        where = ", ".join(sorted(told)) or "nowhere"
        yield f"{sku} is said to be used in {use['chassis']} with {use['layout']} at {where}, but is in no such bill"
