"""What the API promises of wishes: each counts, by body and by query, and one that cannot be is refused."""

import json
from collections.abc import Iterator
from typing import Any

from service.client import InvalidRequestError, NotFoundError
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.questions import alike, bought, first_bill, full
from service.contract.site import Site
from service.contract.wishes import faults_of_wishes
from service.documents.catalog import DutyEntry
from service.documents.found import FoundAnswer

_ALL = 50
_NONE = "no-such-thing"
_IMPOSSIBLE: dict[str, tuple[Any, str]] = {
    "addons": ([_NONE], "addons/0"),
    "clearances": ([{"spot": _NONE, "axial_mm": 1.0}], "clearances/0/spot"),
    "fuel": (_NONE, "fuel"),
    "exclude": ([_NONE], "exclude/0"),
    "have": ([{"sku": _NONE, "qty": 1}], "have/0/sku"),
    "order_by": (_NONE, "order_by"),
    "gauge": (_NONE, "gauge"),
    "own_rail": ({_NONE: {"standard": _NONE, "end": "male"}}, f"own_rail/{_NONE}"),
    "pump_l_h": (-1.0, "pump_l_h"),
    "return_hose_m": (-1.0, "return_hose_m"),
    "revision": (2147483647, "revision"),
}
"""Values that no catalog takes, and where the refusal says so: a wish that is not heard is not refused."""
_SEEN: dict[str, tuple[Any, str, str, Any]] = {
    "boost_kpa": (30.0, "injectors", "boost_kpa", 30.0),
    "injectors": ({"static_l_h": 40.0, "rated_kpa": 300.0}, "injectors", "static_l_h", 40.0),
    "regulator": ({"set_kpa": 320.0}, "injectors", "held_kpa", 320.0),
    "pump": ([{"kpa": 0.0, "l_h": 400.0}, {"kpa": 900.0, "l_h": 100.0}], "pump", "pump", "request"),
}
"""What is asked for, and the limit of the power whose fact is that."""


def _wishes(site: Site) -> Iterator[dict[str, Any]]:
    first = first_bill(site)
    yield {"max_price": first["price"] - 1}
    yield {"power_kw": round(first["power"]["asked_kw"] / 2, 1)}
    yield {"in_stock_only": True, "group_variants": False, "limit": _ALL}
    yield {"allow_unsold": False}
    yield {"gauge": "any"}
    for line in bought(first)[:1]:
        yield {"exclude": [line["sku"]]}
        yield {"have": [line]}


def wishes_count(site: Site) -> Iterator[Broken]:
    """A wish counts, by body and by query alike: no bill is shown that goes against it."""
    for wish in _wishes(site):
        asked = {name: value for name, value in (site.question() | wish).items() if value is not None}
        by_body = site.ask(operations.find_bills(asked, "full"))
        yield from faults_of_wishes(by_body, wish, "body")
        by_query = site.ask(operations.find_bills_by_query(asked, detail="full")).content
        if by_query is None:
            continue
        yield from faults_of_wishes(by_query, wish, "query")
        if by_query != by_body:
            told = f"the question with {next(iter(wish))} by query has another answer than by body"
            yield Broken(told, "", "the same answer")
    one = site.ask(operations.find_bills_by_query(site.question() | {"limit": 1})).content
    if one is not None and len(one["bills"]) > 1:
        yield Broken("the wish limit is ignored in the query", "#/bills", "1 bill", f"{len(one['bills'])} bills")
    yield from _what_is_left_out(site)


def _what_is_left_out(site: Site) -> Iterator[Broken]:
    """A part that must not stand in a bill is ruled out by that wish."""
    for line in bought(first_bill(site))[:1]:
        ruled = {(one["sku"], one["rule"]) for one in full(site, exclude=[line["sku"]])["ruled_out"]}
        if (line["sku"], "wish") not in ruled:
            yield Broken(f"{line['sku']} is excluded, but is not told to be ruled out", "#/ruled_out", line["sku"])


def impossible_wishes_are_refused(site: Site) -> Iterator[Broken]:
    """A wish for what there is not is refused by its name, so that none is passed over."""
    for name, (value, at) in _IMPOSSIBLE.items():
        response = site.post("/v1/bills", json.dumps(site.question() | {name: value}).encode())
        yield from faults_of_problem(f"an impossible {name}", response, 422, code="invalid-request", at=at)


def facts_go_by_wishes(site: Site) -> Iterator[Broken]:
    """What is told of the car's fuel system stands in the facts of what limits the power; a longer hose loses more."""
    for name, (value, what, fact, expected) in _SEEN.items():
        for place, bill in enumerate(_with(site, site.question(), name, value)["bills"]):
            for limit in bill["power"]["limits"]:
                got: Any = (limit.get("facts") or {}).get(fact, expected)
                same = alike(got, expected) if isinstance(got, float | int) else got == expected
                if limit["what"] == what and not same:
                    told = f"the wish {name} is ignored: {fact} of the {what} is {got}"
                    yield Broken(told, f"#/bills/{place}/power/limits", str(expected), str(got))
    yield from _hoses_count(site)


def _hoses_count(site: Site) -> Iterator[Broken]:
    """Where the customer's own hose feeds the rail, nine metres of it lose more than one."""
    for case in site.bill_cases(has_bill=True):
        question = case.request.model_dump(exclude_unset=True)
        try:
            layout = site.ask(operations.detail(sections.LAYOUTS, question["layout"])).result
            if not any(_is_own_feed(spot) for placed in layout.placements for spot in placed.values()):
                continue
            near, far = (_drops(_with(site, question, "feed_hose_m", metres)) for metres in (1.0, 9.0))
        except (InvalidRequestError, NotFoundError):
            continue
        if any(far[path] <= drop for path, drop in near.items() if path in far and drop):
            yield Broken("the wish feed_hose_m is ignored: nine metres lose no more than one", "#/bills/0/flow/paths")
        return


def _is_own_feed(spot: DutyEntry) -> bool:
    return spot.duty == "feed" and spot.hookup is not None and spot.hookup.kind == "own-hose"


def _with(site: Site, question: dict[str, Any], name: str, value: Any) -> FoundAnswer:
    asked = question | {name: value}
    return site.ask(operations.find_bills({wish: told for wish, told in asked.items() if told is not None}, "full"))


def _drops(answer: FoundAnswer) -> dict[tuple[str, ...], float]:
    """What each feed path of the first bill loses, kPa, where the hose before it is rated; by spots and parts."""
    for bill in answer["bills"][:1]:
        paths = [path for path in bill["flow"]["paths"] if path["duty"] == "feed" and path["hose_rated"]]
        parts = [line["sku"] for line in bill["lines"]]
        return {(*path["spots"], *parts): path["drop_kpa"] for path in paths}
    return {}
