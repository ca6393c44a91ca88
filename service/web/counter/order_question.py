"""What the page of an order asks: its wishes as the question's form has them, the verdict once all is settled."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from service.documents.faults import faults_of
from service.documents.order import MAX_LINES, OrderRequest
from service.documents.order_answer import OrderResult
from service.domain.money import priced
from service.domain.vehicles import Chassis
from service.explain.phrases import listed
from service.explain.safety import SAFETY
from service.usecases.check_order import check_order
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition
from service.usecases.order_draft import Draft
from service.web.counter.question_form import query_fields
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.ask import form_of
from service.web.pages.cars import car_meant
from service.web.pages.faults import told
from service.web.pages.order_rows import rows_on
from service.web.pages.pictures import Pictures
from service.web.queries import read_query
from service.web.question_query import QuestionQuery

_LONGEST_FIELD = 1_000
_OF_ORDERS = ("sets",)
_NOT_WISHES = {"layout", "limit", "group_variants", "order_by", "revision", "alternatives"}
_KNOWN = frozenset(QuestionQuery.model_fields) - {"revision", "limit", "group_variants", "order_by"} | set(_OF_ORDERS)
_VERDICTS = {
    "complete": "Complete: nothing to change.",
    "short": "Short: something is missing.",
    "surplus": "Surplus: something is too much.",
    "wrong": "Wrong: something is missing and something does not belong.",
    "impossible": "Impossible: no valid bill.",
}


@dataclass(frozen=True)
class CorrectedLine:
    """A line of the order as it should be; `price` of all its pieces, minor units."""

    qty: int
    sku: str
    name: str
    price: int


def asked_fields(given: Iterable[tuple[str, str]], edition: Edition) -> dict[str, str]:
    """What a form or an address asks with an order, by the names of a question's query."""
    fields = query_fields(given, edition.revision.currency)
    return {name: value[:_LONGEST_FIELD] for name, value in fields.items() if name in _KNOWN}


def car_of(edition: Edition, draft: Draft) -> tuple[list[Chassis], Chassis | None]:
    """The cars that may be meant, and the one that is, by its id, name or alias."""
    return car_meant(edition, draft.fields.get("chassis", ""))


def judged(edition: Edition, draft: Draft) -> tuple[OrderResult | None, list[ParameterFault]]:
    """The verdict, once a car is known and every line is settled; else what is wrong, if anything is."""
    _, chassis = car_of(edition, draft)
    ordered = draft.ordered()
    if chassis is None or not ordered or draft.open_lines:
        return None, []
    if len(ordered) > MAX_LINES:
        return None, [ParameterFault("lines", f"{len(ordered)} lines", f"at most {MAX_LINES} different parts")]
    try:
        return check_order(edition, _request(edition, draft, chassis, ordered)), []
    except ValidationError as error:
        return None, [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected) for x in faults_of(error)]
    except RequestFaultsError as error:
        return None, [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected, x.nearest) for x in error.faults]
    except InvalidQueryError as error:
        return None, list(error.faults)


def _request(edition: Edition, draft: Draft, chassis: Chassis, ordered: list[dict[str, object]]) -> OrderRequest:
    """The order as the API takes it. Raises ValidationError, InvalidQueryError."""
    fields = {name: value for name, value in draft.fields.items() if name not in _OF_ORDERS}
    some_layout = next(iter(edition.revision.layouts), "none")
    question = read_query(QuestionQuery, list(({"layout": some_layout} | fields | {"chassis": chassis.id}).items()))
    wishes = question.question().model_dump(exclude_unset=True, exclude=_NOT_WISHES)
    more: dict[str, Any] = {name: fields[name] for name in ("layout",) if name in fields}
    sets = draft.fields.get("sets", "")
    if sets:
        more["sets"] = int(sets) if sets.isdecimal() and len(sets) < 10 else sets
    return OrderRequest.model_validate(wishes | more | {"lines": ordered})


def corrected(edition: Edition, result: OrderResult) -> list[CorrectedLine]:
    """The order as it should be: how many of what, for all sets; what is bought from the maker alone."""
    bill = result["bill"]
    if bill is None:
        return []
    wanted: Counter[str] = Counter()
    for line in bill["lines"]:
        if line["source"] == "buy":
            wanted[line["sku"]] += line["qty"] * result["sets"]
    items = edition.items
    return [CorrectedLine(qty, sku, items[sku].name, qty * items[sku].price) for sku, qty in wanted.items()]


def total_of(edition: Edition, result: OrderResult) -> int:
    """What the order as it should be costs, minor units."""
    return sum(line.price for line in corrected(edition, result))


def order_values(edition: Edition, draft: Draft, units: str, page: int) -> dict[str, Any]:
    """What the page of an order shows; `page`: which of its rows, from 1."""
    cars, chassis = car_of(edition, draft)
    result, faults = judged(edition, draft)
    revision = edition.revision
    fields = dict(draft.fields) | ({} if chassis is None else {"chassis": chassis.id})
    return {
        "fields": draft.fields,
        "cars": cars,
        "chassis": chassis,
        "form": None if chassis is None else form_of(fields, chassis, revision, units),
        "layouts": [(x.id, x.name) for x in revision.layouts.values() if chassis is None or x.banks == chassis.banks],
        "shown": rows_on(draft.lines, edition.items, page),
        "open_count": len(draft.open_lines),
        "result": result,
        "faults": faults,
        "currency": revision.currency,
        "corrected": [] if result is None else corrected(edition, result),
        "verdict": "" if result is None else _verdict(edition, result),
        "ships": "" if result is None else _ships(result),
        "ties": [] if result is None or "layout" in draft.fields else _ties(edition, result),
        "layout_names": {x.id: x.name for x in revision.layouts.values()},
        "safety": SAFETY,
        "told": told(faults),
        "pictures": Pictures(edition),
    }


def _verdict(edition: Edition, result: OrderResult) -> str:
    """The verdict in one line, with what the right order costs and how much that differs."""
    currency = edition.revision.currency
    told = [_VERDICTS[result["verdict"]]]
    edits = result.get("edits")
    if edits:
        told.append("1 change." if edits == 1 else f"{edits} changes.")
    change = result["price_change"]
    if result["bill"] is not None:
        told.append(f"The right order is {priced(total_of(edition, result), currency)}")
        difference = (
            f", {priced(abs(change), currency)} {'more' if change > 0 else 'less'} than this one" if change else ""
        )
        told[-1] += f"{difference}."
    return " ".join(told)


def _ties(edition: Edition, result: OrderResult) -> list[tuple[str, str]]:
    """The ids and names of the layouts that the order could be meant for as well as for the one shown."""
    layouts = edition.revision.layouts
    return [(one["layout"], layouts[one["layout"]].name) for one in result["also_possible"] if one.get("tie")]


def _ships(result: OrderResult) -> str:
    """When the right order ships, in one sentence."""
    ships = result.get("ships")
    if ships is None:
        return ""
    short = [f"{one['short']} x {one['sku']}" for one in result.get("stock", []) if one["short"]]
    if not short:
        return "All of it is in stock."
    days = "1 day" if ships["rest_days"] == 1 else f"{ships['rest_days']} days"
    now = f"{ships['now']} of {result['sets']} sets ship now" if result["sets"] > 1 else "Not all of it is in stock"
    return f"{now}, the rest in {days}: short of {listed(short)}."
