"""What the API promises of bills, whatever the catalog: one currency and revision, reasons, parts, details."""

from collections.abc import Iterator, Mapping
from typing import Any

from service.client import ClientError, InvalidRequestError, NotFoundError
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.questions import (
    alike,
    bills_of,
    bought,
    drawing,
    first_bill,
    first_bills_of_cases,
    full,
    newest,
    wishes_of,
)
from service.contract.site import NotTriedError, Site
from service.documents.answer import ChassisLayouts
from service.documents.found import FoundAnswer


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
    """Every answer is of the same revision, which its header tells too, and in the same money; an older one is of its
    own."""
    revision = site.question().get("revision") or newest(site)["number"]
    money: dict[str, str] = {}
    for what, answer in _answers(site):
        told, header = answer["revision"], site.header("x-catalog-revision")
        if told != revision:
            yield Broken(f"{what} is of another revision than the newest", "#/revision", str(revision), str(told))
        if header != str(told):
            yield Broken(f"{what} has another revision in its header", "X-Catalog-Revision", str(told), str(header))
        for name in ("currency", "tax"):
            found = answer.get(name)
            if found is not None and money.setdefault(name, found) != found:
                yield Broken(f"{what} is in another {name}", f"#/{name}", money[name], found)
    for ruled in full(site, max_price=0)["ruled_out"]:
        found = str(ruled["facts"].get("currency", money.get("currency")))
        if found != money.get("currency"):
            what = "a price in the facts is in another currency"
            yield Broken(what, "#/ruled_out/facts/currency", str(money.get("currency")), found)
            return
    yield from _faults_of_the_first(site)


def _faults_of_the_first(site: Site) -> Iterator[Broken]:
    """What is asked of the first revision is told of it, where it knows the car and the layout."""
    try:
        told = full(site, revision=1)["revision"]
    except (InvalidRequestError, NotFoundError):
        return
    if told != 1:
        yield Broken(
            "the wish revision is ignored: bills of the first are of another one", "#/revision", "1", str(told)
        )


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
        for name in ("checks", "sizing", "margin"):
            if name not in bill:
                yield Broken(f"bill {place + 1} in full has no {name}", f"#/bills/{place}/{name}", name, "none")
        if said["flow"]["paths"] != bill["flow"]["paths"] or said["price"] != bill["price"]:
            yield Broken(f"bill {place + 1} with reasons says what the full one does not", f"#/bills/{place}/flow")


def parts_are_as_the_items_say(site: Site) -> Iterator[Broken]:
    """What a bill buys is an item that is not retired, at its price, by its name, and with its stock."""
    revision = full(site)["revision"]
    bills = [*bills_of(site), *first_bills_of_cases(site, revision)]
    for sku, line in {line["sku"]: line for bill in bills for line in bill["lines"]}.items():
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
        for choice in line["choices"]:
            other = site.ask(operations.detail(sections.ITEMS, choice, revision=revision)).result
            if other.family != item.family or item.family is None:
                what = f"{choice} is told to be another finish of {sku}, but is of another family"
                yield Broken(what, "#/result/family", str(item.family), str(other.family))
        if line.get("in_stock", item.stock) != item.stock:
            told = str(line.get("in_stock"))
            yield Broken(f"a bill tells another stock of {sku} than the item", "#/result/stock", str(item.stock), told)


_MOST_CHANGED = 4


def changes_help(site: Site) -> Iterator[Broken]:
    """A repair or an alternative that is told is true: with it there are as many bills as it says, from its price."""
    tried = 0
    if bills_of(site) and not any("max_price" in one["change"] for one in full(site, max_price=0)["repairs"]):
        yield Broken("where the price alone is too low, no repair raises it", "#/repairs", "max_price", "none")
    for question, answer in _refused(site):
        if not answer["alternatives"] and (layout := _another_layout(site, question)):
            what = f"no alternative is told, though {layout} has bills"
            yield Broken(what, "#/alternatives", layout, "none")
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


def _another_layout(site: Site, question: dict[str, Any]) -> str | None:
    """A layout that has bills for the same car and wishes, where the one that is asked of has none."""
    wishes, revision = wishes_of(question), question.get("revision")
    told = site.ask(operations.chassis_layouts(question["chassis"], wishes, revision=revision))["layouts"]
    return next((one["layout"] for one in told if one["total_valid"] and one["layout"] != question["layout"]), None)


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
    yield from _faults_of_choices(site, told)
    for one in (mine, *none):
        answer = site.ask(operations.find_bills(question | {"layout": one["layout"]}))
        if answer["total_valid"] != one["total_valid"]:
            what = f"{one['layout']} is told to have {one['total_valid']} bills, but has {answer['total_valid']}"
            yield Broken(what, "#/total_valid", str(one["total_valid"]), str(answer["total_valid"]))
        elif answer["bills"] and answer["bills"][0]["price"] != one["lowest_price"]:
            what = f"{one['layout']} is told to begin at {one['lowest_price']}, but its first bill costs another price"
            yield Broken(what, "#/bills/0/price", str(one["lowest_price"]), str(answer["bills"][0]["price"]))


def _faults_of_choices(site: Site, told: ChassisLayouts) -> Iterator[Broken]:
    """A layout without a bill names the rule against it; another power is heard by all."""
    for place, one in enumerate(told["layouts"]):
        if one["total_valid"] == 0 and one["ruled_out_by"] is None:
            yield Broken(
                f"{one['layout']} has no bill, and no rule says why", f"#/layouts/{place}/ruled_out_by", "a rule"
            )
    question = site.question()
    power = round(first_bill(site)["power"]["asked_kw"] / 2, 1)
    wishes = wishes_of(question) | {"power_kw": power}
    again = site.ask(operations.chassis_layouts(question["chassis"], wishes, revision=question.get("revision")))
    for place, one in enumerate(again["layouts"]):
        if one["power"] is not None and not alike(one["power"]["asked_kw"], power):
            what = "the wish power_kw is ignored where layouts are told"
            yield Broken(what, f"#/layouts/{place}/power", f"{power} kW", f"{one['power']['asked_kw']} kW")
            return
