"""What the page of an order asks: its wishes as the question's form has them, the verdict once all is settled."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from service.documents.faults import faults_of
from service.documents.order import LONGEST_KEY, MAX_LINES, OrderRequest
from service.documents.order_answer import OrderResult
from service.domain.vehicles import Chassis
from service.explain.safety import SAFETY
from service.usecases.check_order import check_order
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition
from service.usecases.order_draft import Draft
from service.usecases.recall_bill import Recalled
from service.web.counter.order_key import FIELD, bill_held, key_in
from service.web.counter.question_form import query_fields
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.ask import form_of
from service.web.pages.cars import car_meant
from service.web.pages.faults import told as told_of
from service.web.pages.order_answer import (
    built,
    changes_of,
    corrected,
    general_reasons,
    ships_told,
    ties_of,
    total_of,
    verdict_of,
)
from service.web.pages.order_rows import rows_on
from service.web.pages.pictures import Pictures
from service.web.queries import read_query
from service.web.question_query import QuestionQuery

_LONGEST_FIELD = 1_000
_MOST_DIGITS = 10
_OF_ORDERS = ("sets", FIELD)
_NOT_WISHES = {"layout", "limit", "group_variants", "order_by", "revision", "alternatives"}
_KNOWN = frozenset(QuestionQuery.model_fields) - {"revision", "limit", "group_variants", "order_by"} | set(_OF_ORDERS)


def asked_fields(given: Iterable[tuple[str, str]], edition: Edition) -> dict[str, str]:
    """What a form or an address asks with an order, by the names of a question's query.

    Buttons come before what they change: `meant` tells the layout, `nearest` that no key counts.
    """
    pairs = list(given)
    pressed = dict(pairs)
    fields = query_fields(pairs, edition.revision.currency)
    if pressed.get("meant"):
        fields["layout"] = pressed["meant"]
    if pressed.get("nearest"):
        fields.pop(FIELD, None)
    key = key_in(fields.get(FIELD, ""))[:LONGEST_KEY]
    asked = {name: value[:_LONGEST_FIELD] for name, value in fields.items() if name in _KNOWN and name != FIELD}
    if not key:
        return asked
    return {FIELD: key} | {name: asked[name] for name in _OF_ORDERS if name in asked}


@dataclass(frozen=True)
class Judged:
    """What is known of an order: `cars` that may be meant and the one that is, the bill that it is held against, the
    verdict once all is settled, and what is wrong."""

    cars: Sequence[Chassis]
    chassis: Chassis | None
    held: Recalled | None
    result: OrderResult | None
    faults: Sequence[ParameterFault]


def judged(edition: Edition, draft: Draft) -> Judged:
    """The verdict, once a car or a bill is known and every line is settled; else what is wrong, if anything is."""
    held, faults = bill_held(edition, draft.fields)
    cars, chassis = car_meant(edition, draft.fields.get("chassis", ""))
    if held is not None:
        cars, chassis = [held.request.chassis], held.request.chassis
    ordered = draft.ordered()
    if len(ordered) > MAX_LINES:
        faults.append(ParameterFault("lines", f"{len(ordered)} lines", f"at most {MAX_LINES} different parts"))
    if faults or chassis is None or not ordered or draft.open_lines:
        return Judged(cars, chassis, held, None, faults)
    try:
        result = check_order(edition, _request(edition, draft, chassis, ordered))
        return Judged(cars, chassis, held, result, [])
    except ValidationError as error:
        faults = [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected) for x in faults_of(error)]
    except RequestFaultsError as error:
        faults = [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected, x.nearest) for x in error.faults]
    except InvalidQueryError as error:
        faults = list(error.faults)
    return Judged(cars, chassis, held, None, faults)


def _request(edition: Edition, draft: Draft, chassis: Chassis, ordered: list[dict[str, object]]) -> OrderRequest:
    """The order as the API takes it. Raises ValidationError, InvalidQueryError."""
    fields = {name: value for name, value in draft.fields.items() if name not in _OF_ORDERS}
    key, sets = draft.fields.get(FIELD), draft.fields.get("sets", "")
    counted: dict[str, Any] = {}
    if sets:
        counted["sets"] = int(sets) if sets.isdecimal() and len(sets) < _MOST_DIGITS else sets
    if key is not None:
        return OrderRequest.model_validate(counted | {FIELD: key, "lines": ordered})
    some_layout = next(iter(edition.revision.layouts), "none")
    question = read_query(QuestionQuery, list(({"layout": some_layout} | fields | {"chassis": chassis.id}).items()))
    wishes = question.question().model_dump(exclude_unset=True, exclude=_NOT_WISHES)
    more: dict[str, Any] = {name: fields[name] for name in ("layout",) if name in fields}
    return OrderRequest.model_validate(wishes | counted | more | {"lines": ordered})


def order_values(edition: Edition, draft: Draft, units: str, page: int) -> dict[str, Any]:
    """What the page of an order shows; `page`: which of its rows, from 1."""
    told, revision, pictures = judged(edition, draft), edition.revision, Pictures(edition)
    chassis = told.chassis
    layouts = [(x.id, x.name) for x in revision.layouts.values() if chassis is None or x.banks == chassis.banks]
    is_asked = chassis is not None and told.held is None
    fields = dict(draft.fields) | ({} if chassis is None else {"chassis": chassis.id})
    return {
        "fields": draft.fields,
        "cars": told.cars,
        "chassis": chassis,
        "held": told.held,
        "form": form_of(fields, chassis, revision, units) if chassis is not None and is_asked else None,
        "layouts": layouts,
        "shown": rows_on(draft.lines, edition.items, page),
        "open_count": len(draft.open_lines),
        "faults": told.faults,
        "currency": revision.currency,
        "layout_names": {x.id: x.name for x in revision.layouts.values()},
        "safety": SAFETY,
        "told": told_of(told.faults),
        "pictures": pictures,
        "result": told.result,
        "best": None,
        "ties": [],
    } | ({} if told.result is None else _answer(edition, draft, told.result, pictures))


def _answer(edition: Edition, draft: Draft, result: OrderResult, pictures: Pictures) -> dict[str, Any]:
    """What the page shows of a verdict."""
    bill = result["bill"]
    return {
        "corrected": corrected(edition, result),
        "total": total_of(edition, result),
        "verdict": verdict_of(edition, result),
        "changes": changes_of(result),
        "general": general_reasons(result),
        "ships": ships_told(result),
        "ties": [] if {"layout", FIELD} & draft.fields.keys() else ties_of(edition, result),
        "best": None if bill is None else built(edition, bill, pictures),
    }
