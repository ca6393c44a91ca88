"""What the API promises whatever the catalog: each promise tries it and yields every way in which it is broken."""

import json
import secrets
from collections.abc import Callable, Iterator
from typing import Any

import httpx

from service.client import sections
from service.contract.order_promises import (
    NO_QUESTION,
    orders_are_held_against_a_key,
    orders_are_read,
    stock_is_told_by_sets,
    ties_are_asked_back,
    uses_are_bills,
)
from service.contract.problems import faults_of_problem
from service.contract.site import Site
from service.documents.question_parameters import query_of

_MOST_PAGES = 400
_SMALL_PAGE = 7
_LARGE_PAGE = 200


def errors_are_problems(site: Site) -> Iterator[str]:
    """Bad input is refused with a problem document (RFC 9457) that names the field, and never with a 5xx."""
    probes = [
        ("an empty question", site.post("/v1/bills", b"{}"), 422, True),
        ("a question with a wrong type", site.post("/v1/bills", b'{"chassis":1,"layout":[]}'), 422, True),
        ("a number that JSON does not have", site.post("/v1/bills", b'{"chassis":"a","power_kw":NaN}'), 422, True),
        ("a body that is no JSON", site.post("/v1/bills", b"{"), 400, False),
        ("an unknown query parameter", site.get("/v1/items", {"no_such_name": "1"}), 422, True),
        ("an unknown path", site.get("/v1/no-such-path"), 404, False),
        ("an order to be read without its text", site.post("/v1/orders/read", b"{}"), 422, True),
        ("an order without lines", site.post("/v1/order-checks", b'{"chassis":"a","lines":[]}'), 422, True),
    ]
    for what, response, status, has_place in probes:
        yield from faults_of_problem(what, response, status, has_place=has_place)


def unknown_ids_have_suggestions(site: Site) -> Iterator[str]:
    """An id that is almost right is refused with the right one among those that are suggested."""
    listed: tuple[sections.Section[Any], ...] = (sections.ITEMS, sections.CHASSIS, sections.LAYOUTS)
    for section in listed:
        known = next(iter(site.client.each(section, limit=1)), None)
        if known is None:
            continue
        id_ = str(getattr(known, "sku", None) or getattr(known, "id", ""))
        response = site.get(f"{section.path}/{id_}zz")
        yield from faults_of_problem(f"{section.path} with an id that is almost right", response, 404)
        errors = _object(response).get("errors") or [{}]
        nearest = errors[0].get("nearest", []) if isinstance(errors[0], dict) else []
        if id_ not in nearest:
            yield f"{section.path}/{id_}zz suggests {', '.join(map(str, nearest)) or 'nothing'}, but not {id_}"


def pages_add_up(site: Site) -> Iterator[str]:
    """The pages of a list have everything once, whatever their size; a cursor that is none is refused."""
    small, large = _skus(site, _SMALL_PAGE), _skus(site, _LARGE_PAGE)
    if small is None or large is None:
        yield f"/v1/items has no last page among the first {_MOST_PAGES}"
        return
    if len(set(small)) < len(small):
        yield f"/v1/items gives something twice by pages of {_SMALL_PAGE}"
    if small != large:
        yield f"/v1/items gives {len(small)} items by pages of {_SMALL_PAGE} and {len(large)} by pages of {_LARGE_PAGE}"
    response = site.get("/v1/items", {"cursor": "no-cursor"})
    yield from faults_of_problem("/v1/items with a cursor that is none", response, 422, has_place=True)


def _skus(site: Site, limit: int) -> list[str] | None:
    skus: list[str] = []
    for count, page in enumerate(site.client.pages(sections.ITEMS, limit=limit)):
        if count == _MOST_PAGES:
            return None
        skus += [item.sku for item in page.results]
    return skus


def requests_are_conditional(site: Site) -> Iterator[str]:
    """What can be cached has a strong entity tag and says how long; who has it already is answered 304 (RFC 9110)."""
    question = site.question()
    asked: list[tuple[str, dict[str, str]]] = [("/v1/layouts", {}), ("/v1/contract/cases", {})]
    if question is not None:
        asked.append(("/v1/bills", query_of(question)))
    for path, params in asked:
        first = site.get(path, params)
        tag = first.headers.get("etag", "")
        if not (tag.startswith('"') and tag.isascii()):
            yield f"GET {path} has no strong ETag: found {tag!r}"
            continue
        if "cache-control" not in first.headers:
            yield f"GET {path} has no Cache-Control"
        again = site.get(path, params, If_None_Match=tag)
        if again.status_code != httpx.codes.NOT_MODIFIED or again.content:
            yield f"GET {path} with If-None-Match of its own ETag gives {again.status_code}, not 304 without content"
        elif again.headers.get("etag") != tag:
            yield f"GET {path} answers 304 without its ETag"
        other = site.get(path, params, If_None_Match='"another"')
        if other.status_code != httpx.codes.OK:
            yield f"GET {path} with If-None-Match of another ETag gives {other.status_code}, not 200"


def keys_are_kept(site: Site) -> Iterator[str]:
    """An order check that is sent twice with one Idempotency-Key is one check; another order with it is refused."""
    question = site.question()
    if question is None:
        yield NO_QUESTION
        return
    sku = next(iter(site.client.each(sections.ITEMS, limit=1))).sku
    key = secrets.token_hex(16)

    def sent(qty: int) -> httpx.Response:
        order = {"chassis": question["chassis"], "layout": question["layout"], "lines": [{"sku": sku, "qty": qty}]}
        return site.post("/v1/order-checks", json.dumps(order).encode(), Idempotency_Key=key)

    first, second, other = sent(1), sent(1), sent(2)
    for what, response in (("an order check", first), ("the same with the same key", second)):
        if response.status_code not in (httpx.codes.OK, httpx.codes.CREATED):
            yield f"{what} gives {response.status_code}"
            return
    if _object(first).get("id") != _object(second).get("id"):
        yield "the same order with the same Idempotency-Key was kept twice"
    elif first.content != second.content:
        yield "the same order with the same Idempotency-Key is not answered the same"
    if other.status_code not in (httpx.codes.CONFLICT, httpx.codes.UNPROCESSABLE_ENTITY):
        yield f"another order with the same Idempotency-Key gives {other.status_code}, not 409 or 422"


def questions_are_alike(site: Site) -> Iterator[str]:
    """The same question by body and by query has the same bills."""
    question = site.question()
    if question is None:
        yield NO_QUESTION
        return
    by_body = site.client.find_bills(question)
    by_query = site.client.find_bills_by_query(question).content
    if by_query is None or by_query != by_body:
        yield "the question by query has another answer than by body"


def bills_are_recalled(site: Site) -> Iterator[str]:
    """A bill is given again by its key, and has an assembly sheet with cautions and steps."""
    question = site.question()
    if question is None:
        yield NO_QUESTION
        return
    answer = site.client.find_bills(question, "full")
    if not answer["bills"]:
        yield "the question has no bill, but one is promised"
        return
    bill = answer["bills"][0]
    if site.client.recall_bill(bill["key"])["bill"] != _by_itself(bill):
        yield "the bill that its key recalls is another one"
    sheet = site.client.sheet(bill["key"])
    if not (sheet["safety"] and sheet["steps"]):
        yield "the assembly sheet has no cautions or no steps"


def _by_itself(told: Any) -> Any:
    """The first bill of an answer without the ids by which later ones name what it has."""
    if isinstance(told, list):
        return [_by_itself(one) for one in told]
    if isinstance(told, dict):
        return {name: _by_itself(one) for name, one in told.items() if name not in ("id", "repeats")}
    return told


def _object(response: httpx.Response) -> dict[str, Any]:
    try:
        data = response.json()
    except ValueError:
        return {}
    return data if isinstance(data, dict) else {}


PROMISES: dict[str, Callable[[Site], Iterator[str]]] = {
    "errors are problem documents": errors_are_problems,
    "unknown ids come with suggestions": unknown_ids_have_suggestions,
    "pages add up": pages_add_up,
    "requests are conditional": requests_are_conditional,
    "idempotency keys are kept": keys_are_kept,
    "query and body ask the same": questions_are_alike,
    "bills are recalled by their keys": bills_are_recalled,
    "orders are read, or asked back": orders_are_read,
    "orders are compared with the bill of a key": orders_are_held_against_a_key,
    "stock is told by sets": stock_is_told_by_sets,
    "layouts that tie are asked back": ties_are_asked_back,
    "parts are used where there are bills": uses_are_bills,
}
"""By name, in the order in which they are tried."""
