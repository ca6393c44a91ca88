"""What the API promises of several questions beside one another: order, limit, finish, layouts, least changes."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

from service.contract import operations, sections
from service.contract.answers import RANKS, ROUNDINGS
from service.contract.outcomes import Broken
from service.contract.questions import bills_of, bought, first_bill, full, wishes_of
from service.contract.site import NotTriedError, Site
from service.documents.explain import ChangeTold

_ROUNDING = 1e-6
_ALL = 50


def orders_count(site: Site) -> Iterator[Broken]:
    """Bills come in the order that is asked for; whatever the order and the limit there are as many."""
    total = full(site)["total_valid"]
    for order_by, rank in RANKS.items():
        answer = full(site, order_by=order_by, limit=_ALL)
        if answer["total_valid"] != total:
            what = f"by {order_by} there are {answer['total_valid']} bills, not {total}"
            yield Broken(what, "#/total_valid", str(total), str(answer["total_valid"]))
        for place, (before, after) in enumerate(pairwise(answer["bills"]), 1):
            if rank(before) > rank(after) + ROUNDINGS.get(order_by, _ROUNDING):
                what = f"the order {order_by} is ignored: bill {place + 1} stands behind a worse one"
                yield Broken(what, f"#/bills/{place}", f"{order_by} not below {rank(before)}", str(rank(after)))
                break
    one, some = full(site, limit=1), bills_of(site)
    if [bill["key"] for bill in one["bills"]] != [some[0]["key"]] or one["total_valid"] != total:
        yield Broken("with the limit 1 another bill is the first, or there are others", "#/bills/0/key", some[0]["key"])
    apart = full(site, group_variants=False)
    if apart["total_valid"] < total:
        what = f"there are fewer bills with each variant by itself: {apart['total_valid']}, not at least {total}"
        yield Broken(what, "#/total_valid", f"at least {total}", str(apart["total_valid"]))
    choices = any(line["choices"] for bill in some for line in bill["lines"])
    if choices and apart["total_valid"] == total:
        yield Broken(
            "group_variants is ignored: variants are told, but none by itself", "#/total_valid", f"over {total}"
        )


def finishes_count(site: Site) -> Iterator[Broken]:
    """Of a finish that is asked for a rail comes in that finish, and there are no bills where no rail does."""
    revision, bill = full(site)["revision"], first_bill(site)
    items = operations.page(sections.ITEMS, limit=200, revision=revision)
    rails = site.ask(replace(items, params={**items.params, "kind": "rail"})).results
    mine = next((rail for rail in rails if rail.sku in {line["sku"] for line in bill["lines"]}), None)
    family = [] if mine is None or mine.family is None else [rail for rail in rails if rail.family == mine.family]
    others = sorted({rail.finish for rail in family if rail.finish and mine and rail.finish != mine.finish})
    if not others:
        raise NotTriedError("the rail of the first bill comes in one finish only")
    finishes = {rail.sku: rail.finish for rail in family}
    for place, one in enumerate(full(site, finish=others[0])["bills"]):
        for line in one["lines"]:
            if finishes.get(line["sku"], others[0]) != others[0]:
                what = f"the wish finish is ignored: bill {place + 1} has {line['sku']} where {others[0]} is asked for"
                yield Broken(what, f"#/bills/{place}/lines", others[0], str(finishes[line["sku"]]))


def all_layouts_are_told(site: Site) -> Iterator[Broken]:
    """The layouts of a car are all that the catalog has."""
    question = site.question()
    revision = question.get("revision")
    told = site.ask(operations.chassis_layouts(question["chassis"], wishes_of(question), revision=revision))
    got = {one["layout"] for one in told["layouts"]}
    listed = {one.id for one in site.ask(operations.page(sections.LAYOUTS, limit=200, revision=revision)).results}
    if not listed <= got:
        missing = ", ".join(sorted(listed - got)[:5])
        yield Broken(f"the layouts of the car lack {missing}", "#/layouts", f"{len(listed)} layouts", f"{len(got)}")


def least_changes_work(site: Site) -> Iterator[Broken]:
    """What an explanation tells to be the least change has the part in the bills, and as many as it says."""
    question, tried = site.question(), 0
    for line in bought(first_bill(site))[:2]:
        asked = question | {"exclude": [line["sku"]]}
        told = site.ask(operations.explain({"request": asked, "sku": line["sku"]}))
        if not told["in_bills"] and all(one["change"] is None for one in told["verdicts"]):
            what = f"{line['sku']} is left out by one wish alone, but no change is told with which it is there"
            yield Broken(what, "#/verdicts/change", f"exclude/{line['sku']}", "none")
        for change in [one["change"] for one in told["verdicts"] if one["change"] is not None][:1]:
            without = f"exclude/{line['sku']}"
            plain = {name: value for name, value in change["change"].items() if name != without}
            if any("/" in name for name in plain):
                continue
            tried += 1
            left: dict[str, Any] = {"exclude": []} if without in change["change"] else {}
            yield from _held(site, asked | left | plain, line["sku"], change)
    if not tried:
        raise NotTriedError("a part that is left out is told no change with which it is there")


def _held(site: Site, question: dict[str, Any], sku: str, told: ChangeTold) -> Iterator[Broken]:
    asked = {name: value for name, value in question.items() if value is not None}
    again = site.ask(operations.explain({"request": asked, "sku": sku}))
    if not again["in_bills"]:
        yield Broken(f"with the least change {told['change']} {sku} is in no bill all the same", "#/in_bills", "true")
    found = site.ask(operations.find_bills(asked))
    if found["total_valid"] != told["total_valid"]:
        what = f"the least change {told['change']} is said to give {told['total_valid']} bills with {sku}"
        yield Broken(what, "#/total_valid", str(told["total_valid"]), str(found["total_valid"]))


def bridges_join(site: Site) -> Iterator[Broken]:
    """Two ends that a part of the catalog has the fellows of are joined by a chain of parts, each meeting the next."""
    revision = full(site)["revision"]
    for one, other in _bridged(site, revision):
        told = site.ask(operations.join({"one": one, "other": other, "revision": revision}))
        bridge = told["bridge"]
        if told["meets"]:
            continue
        if bridge is None:
            what = f"nothing is told to join {one['standard']} with {other['standard']}, though a part has both ends"
            yield Broken(what, "#/bridge", "a bridge", "none")
            return
        price = sum(link["price"] for link in bridge["chain"] if link["sold"])
        if bridge["price"] != price:
            what = f"the bridge costs {bridge['price']}, but its parts come to {price}"
            yield Broken(what, "#/bridge/price", str(price), str(bridge["price"]))
        if [link["sku"] for link in bridge["chain"]] != bridge["items"]:
            yield Broken("the bridge has other parts than its chain", "#/bridge/chain", ", ".join(bridge["items"]))
        sides = [one, *({"sku": sku} for sku in bridge["items"]), other]
        for a, b in pairwise(sides):
            meets = site.ask(operations.join({"one": a, "other": b, "revision": revision}))["meets"]
            if not meets:
                yield Broken("two that stand beside one another in a bridge are said not to meet", "#/meets", "true")
        return
    raise NotTriedError("no part of the catalog has two ends that could be bridged")


def _bridged(site: Site, revision: int) -> Iterator[tuple[dict[str, str], dict[str, str]]]:
    """Two ends that an item which is sold would go between: the fellows of its own."""
    fellow = {"male": "female", "female": "male"}
    for item in site.ask(operations.page(sections.ITEMS, limit=200, revision=revision)).results:
        ports = {(port.standard, fellow[port.end]) for port in item.ports or ()}
        if item.kind == "fitting" and item.sold and item.status == "active" and len(item.ports) == len(ports) == 2:
            one, other = sorted(ports)
            yield ({"standard": one[0], "end": one[1]}, {"standard": other[0], "end": other[1]})
