"""What the API promises of bills, whatever the catalog: one currency and revision, reasons, wishes, parts, details."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.client import ClientError, NotFoundError
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.questions import alike, bills_of, bought, drawing, first_bill, full, newest, wishes_of
from service.contract.site import NotTriedError, Site
from service.documents.found import FoundAnswer, FoundBill


def _answers(site: Site) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """One answer of each kind that tells a revision."""
    question, bill = site.question(), first_bill(site)
    bought_here = next((line["sku"] for line in bill["lines"] if line["source"] == "buy"), None)
    if bought_here is None:
        raise NotTriedError("the first bill buys nothing")
    side, revision = {"sku": bought_here}, question.get("revision")
    yield "POST /v1/bills", full(site)
    brief = site.ask(operations.find_bills_in_brief(question))
    yield "POST /v1/bills in brief", brief
    by_query = site.ask(operations.find_bills_by_query(question)).content
    if by_query is not None:
        yield "GET /v1/bills", by_query
    explained = site.ask(operations.explain({"request": question, **side}))
    yield "POST /v1/explain", explained
    layouts = site.ask(operations.chassis_layouts(question["chassis"], revision=revision))
    yield "the layouts of a car", layouts
    joint = site.ask(operations.join({"one": side, "other": side, "revision": revision}))
    yield "POST /v1/joints", joint
    recalled = site.ask(operations.recall_bill(bill["key"]))
    yield "a recalled bill", recalled
    sheet = site.ask(operations.sheet(bill["key"]))
    yield "a sheet", sheet
    drawn = site.ask(drawing(bill["key"]))
    yield "a drawing", drawn
    checked = site.ask(operations.check_order({"key": bill["key"], "lines": bought(bill)}))
    yield "an order check", checked
    cases = site.ask(operations.contract_cases(revision)).content
    if cases is not None:
        yield "the list of standing cases", cases.model_dump()
    yield "the list of items", site.ask(operations.page(sections.ITEMS, limit=1, revision=revision)).model_dump()


def answers_agree(site: Site) -> Iterator[Broken]:
    """Every answer is of the same revision, which its header tells too, and in the same currency."""
    revision = site.question().get("revision") or newest(site)["number"]
    currency: str | None = None
    for what, answer in _answers(site):
        told, header = answer["revision"], site.header("x-catalog-revision")
        if told != revision:
            yield Broken(f"{what} is of another revision than the newest", "#/revision", str(revision), str(told))
        if header != str(told):
            yield Broken(f"{what} has another revision in its header", "X-Catalog-Revision", str(told), str(header))
        if "currency" not in answer:
            continue
        currency = currency or answer["currency"]
        if answer["currency"] != currency:
            yield Broken(f"{what} is in another currency", "#/currency", currency, answer["currency"])
    refused = full(site, max_price=0)
    for ruled in refused["ruled_out"]:
        found = str(ruled["facts"].get("currency", currency))
        if found != currency:
            yield Broken(
                "a price in the facts is in another currency", "#/ruled_out/facts/currency", str(currency), found
            )
            return


def reasons_are_told(site: Site) -> Iterator[Broken]:
    """With every figure each reason has its facts, what is repeated was said, and no reason is left out."""
    said: set[int] = set()
    for place, bill in enumerate(bills_of(site), 1):
        named = [(line["sku"], line["reasons"], line["repeats"]) for line in bill["lines"]]
        for sku, reasons, repeats in (*named, ("its cautions", bill["cautions"], [])):
            for reason in reasons:
                said.add(reason["id"])
                if not reason.get("facts"):
                    what = f"bill {place} gives no facts for the rule {reason['rule']} of {sku}"
                    yield Broken(what, f"#/bills/{place - 1}/lines", f"facts of {reason['rule']}", "none")
            for id_ in set(repeats) - said:
                yield Broken(f"bill {place} repeats a reason that was never said", f"#/bills/{place - 1}", str(id_))
        for limit in bill["power"]["limits"]:
            if not limit.get("facts"):
                what = f"bill {place} gives no facts for what limits its power: {limit['what']}"
                yield Broken(what, f"#/bills/{place - 1}/power/limits", "facts", "none")
    yield from _rules_that_explain(site)


def _rules_that_explain(site: Site) -> Iterator[Broken]:
    bill = first_bill(site)
    for line in bill["lines"]:
        shared = any(line["sku"] in chain and len(chain) > 1 for chain in bill["chains"].values())
        if line["source"] != "buy" or line["repeats"] or shared:  # a chain's reasons are told of one of its parts
            continue
        told = site.ask(operations.explain({"request": site.question(), "sku": line["sku"]}))
        spots: set[str | None] = {*line["spots"]} or {None}
        rules = {
            rule["rule"] for one in told["verdicts"] if one["stands"] and one["spot"] in spots for rule in one["rules"]
        }
        missing = rules - {reason["rule"] for reason in line["reasons"]}
        if missing:
            what = f"the line of {line['sku']} does not give the reasons that its explanation gives"
            yield Broken(what, "#/bills/0/lines", ", ".join(sorted(rules)), "without " + ", ".join(sorted(missing)))


@dataclass(frozen=True)
class _Wish:
    """A wish that must be seen in the answer: its fields, and whether a bill goes by it."""

    name: str
    fields: dict[str, Any]
    holds: Callable[[FoundBill], bool]


def _wishes(site: Site) -> Iterator[_Wish]:
    first = first_bill(site)
    price, sold = first["price"], [(line["sku"], line["qty"]) for line in first["lines"] if line["source"] == "buy"]
    yield _Wish("max_price", {"max_price": price - 1}, lambda bill: bill["price"] < price)
    power = round(first["power"]["asked_kw"] / 2, 1)
    yield _Wish("power_kw", {"power_kw": power}, lambda bill: alike(bill["power"]["asked_kw"], power))
    yield _Wish("in_stock_only", {"in_stock_only": True}, lambda bill: not any(x.get("short") for x in bill["lines"]))
    yield _Wish("gauge", {"gauge": "any"}, lambda bill: "gauge" in bill["duties"].values())
    if sold:
        sku, units = sold[0]
        yield _Wish("exclude", {"exclude": [sku]}, lambda bill: all(line["sku"] != sku for line in bill["lines"]))
        have = {"have": [{"sku": sku, "qty": units}]}
        yield _Wish("have", have, lambda bill: all(x["source"] == "have" for x in bill["lines"] if x["sku"] == sku))


def wishes_count(site: Site) -> Iterator[Broken]:
    """A wish counts, by body and by query alike: no bill is shown that goes against it."""
    for wish in _wishes(site):
        asked = {name: value for name, value in (site.question() | wish.fields).items() if value is not None}
        by_body = site.ask(operations.find_bills(asked, "full"))
        yield from _ignored(by_body, wish, "body")
        by_query = site.ask(operations.find_bills_by_query(asked, detail="full")).content
        if by_query is None:
            continue
        yield from _ignored(by_query, wish, "query")
        if by_query != by_body:
            yield Broken(
                f"the question with {wish.name} by query has another answer than by body", "", "the same answer"
            )
    one = site.ask(operations.find_bills_by_query(site.question() | {"limit": 1})).content
    if one is not None and len(one["bills"]) > 1:
        yield Broken("the wish limit is ignored in the query", "#/bills", "1 bill", f"{len(one['bills'])} bills")


def _ignored(answer: FoundAnswer, wish: _Wish, by: str) -> Iterator[Broken]:
    for place, bill in enumerate(answer["bills"], 1):
        if not wish.holds(bill):
            told = f"the wish {wish.name} is ignored in the {by}: bill {place} goes against it"
            yield Broken(told, f"#/bills/{place - 1}", f"{wish.name} {wish.fields[wish.name]}", "a bill against it")
            return


def details_agree(site: Site) -> Iterator[Broken]:
    """In brief, with reasons and in full the same bills are told."""
    question, whole = site.question(), full(site)
    brief = site.ask(operations.find_bills_in_brief(question))
    reasons = site.ask(operations.find_bills(question))
    if not len(brief["bills"]) == len(whole["bills"]) == len(reasons["bills"]):
        yield Broken("in brief there are other bills than in full", "#/bills", str(len(whole["bills"])))
        return
    for place, (short, said, bill) in enumerate(zip(brief["bills"], reasons["bills"], whole["bills"], strict=True)):
        figures: list[tuple[str, Any, Any]] = [
            (name, dict(bill)[name], dict(short)[name]) for name in ("key", "price", "pieces", "lead_days")
        ]
        figures += [(f"power/{name}", dict(bill["power"])[name], dict(short["power"])[name]) for name in short["power"]]
        lines = [brief["lines"][at] for at in short["lines"] if at < len(brief["lines"])]
        heads = [tuple(dict(line)[name] for name in ("sku", "qty", "source", "price")) for line in bill["lines"]]
        figures.append(
            ("lines", heads, [tuple(dict(line)[name] for name in ("sku", "qty", "source", "price")) for line in lines])
        )
        figures.append(("cautions", len(bill["cautions"]) if place == 0 else short["cautions"], short["cautions"]))
        for name, expected, got in figures:
            if expected != got:
                yield Broken(
                    f"bill {place + 1} in brief says what the full one does not: {name}",
                    f"#/bills/{place}/{name}",
                    str(expected),
                    str(got),
                )
        if said["flow"]["paths"] != bill["flow"]["paths"] or said["price"] != bill["price"]:
            yield Broken(f"bill {place + 1} with reasons says what the full one does not", f"#/bills/{place}/flow")


def parts_are_as_the_items_say(site: Site) -> Iterator[Broken]:
    """What a bill buys is an item that is not retired, at its price, by its name, and with its stock."""
    revision = full(site)["revision"]
    for sku, line in {line["sku"]: line for bill in bills_of(site) for line in bill["lines"]}.items():
        if line["source"] != "buy":
            continue
        try:
            item = site.ask(operations.detail(sections.ITEMS, sku, revision=revision)).result
        except NotFoundError:
            yield Broken(f"a bill buys {sku}, which is no item of the catalog", "", sku, "404")
            continue
        if item.status != "active":
            yield Broken(f"a bill buys {sku}, which is {item.status}", "#/result/status", "active", item.status)
        if not item.sold:
            yield Broken(f"a bill buys {sku}, which is not sold", "#/result/sold", "true", "false")
        if item.price * line["qty"] != line["price"]:
            what = f"a bill asks {line['price']} for {line['qty']} of {sku}, which is not the price of the item"
            yield Broken(what, "#/result/price", str(item.price * line["qty"]), str(line["price"]))
        if item.name != line["name"]:
            yield Broken(f"a bill calls {sku} by another name than the item", "#/result/name", item.name, line["name"])
        if line.get("in_stock", item.stock) != item.stock:
            told = str(line.get("in_stock"))
            yield Broken(f"a bill tells another stock of {sku} than the item", "#/result/stock", str(item.stock), told)


_MOST_CHANGED = 4


def changes_help(site: Site) -> Iterator[Broken]:
    """A repair or an alternative that is told is true: with it there are as many bills as it says, from its price."""
    tried = 0
    for question, answer in _refused(site):
        for repair in answer["repairs"][:_MOST_CHANGED]:
            tried += 1
            yield from _held(site, question, repair["change"], repair["total_valid"], None, "repair")
        for other in answer["alternatives"][:_MOST_CHANGED]:
            tried += 1
            yield from _held(site, question, other["change"], other["total_valid"], other["price"], "alternative")
    if not tried:
        raise NotTriedError("no question that was asked has a repair or an alternative")


def _refused(site: Site) -> Iterator[tuple[dict[str, Any], FoundAnswer]]:
    dear = site.question() | {"max_price": 0}
    yield dear, site.ask(operations.find_bills(dear, "full"))
    without = site.bill_cases(has_bill=False)[:2]
    for case in without:
        question = case.request.model_dump(exclude_unset=True)
        try:
            yield question, site.ask(operations.find_bills(question, "full"))
        except ClientError:  # the case itself tells it
            continue


def _held(
    site: Site, question: dict[str, Any], change: dict[str, Any], total: int, price: int | None, what: str
) -> Iterator[Broken]:
    asked = {name: value for name, value in (question | change).items() if value is not None}
    answer = site.ask(operations.find_bills(asked))
    if answer["total_valid"] != total:
        told = f"the {what} {change} is said to give {total} bills, but there are {answer['total_valid']} with it"
        yield Broken(told, "#/total_valid", str(total), str(answer["total_valid"]))
    elif price is not None and answer["bills"] and all(bill["price"] != price for bill in answer["bills"]):
        told = f"the {what} {change} is said to cost {price}, but no bill with it does"
        yield Broken(told, "#/bills/0/price", str(price), str(answer["bills"][0]["price"]))


def layouts_agree(site: Site) -> Iterator[Broken]:
    """The layouts of a car tell of each what its bills do: how many, from what price, with what power."""
    question = site.question()
    told = site.ask(
        operations.chassis_layouts(question["chassis"], wishes_of(question), revision=question.get("revision"))
    )
    if told["chassis"] != question["chassis"]:
        yield Broken("the layouts are those of another car", "#/chassis", question["chassis"], told["chassis"])
    mine = next((one for one in told["layouts"] if one["layout"] == question["layout"]), None)
    if mine is None:
        yield Broken(
            f"the layouts of the car lack {question['layout']}, which has bills", "#/layouts", question["layout"]
        )
        return
    none = [one for one in told["layouts"] if one["total_valid"] == 0 and one.get("too_costly") is None][:1]
    for one in (mine, *none):
        answer = site.ask(operations.find_bills(question | {"layout": one["layout"]}))
        if answer["total_valid"] != one["total_valid"]:
            what = f"{one['layout']} is told to have {one['total_valid']} bills, but has {answer['total_valid']}"
            yield Broken(what, "#/total_valid", str(one["total_valid"]), str(answer["total_valid"]))
        elif answer["bills"] and answer["bills"][0]["price"] != one["lowest_price"]:
            what = f"{one['layout']} is told to begin at {one['lowest_price']}, but its first bill costs another price"
            yield Broken(what, "#/bills/0/price", str(one["lowest_price"]), str(answer["bills"][0]["price"]))
