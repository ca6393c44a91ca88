"""The impact of one catalog against another, reckoned the slow way: every question is asked of both by the front door.

Catalogs are plain JSON; of the service only the answers to requests and the check of a catalog are used.
"""

import json
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from service.documents.check import CatalogFaultsError, check_catalog
from service.usecases.errors import RequestFaultsError
from tests.support.engine import answer_from, edition

Json = dict[str, Any]

LISTS = {
    "port_standards": ("port_standard", "id"),
    "joints": ("joint", "id"),
    "fuels": ("fuel", "id"),
    "materials": ("material", "id"),
    "items": ("item", "sku"),
    "chassis": ("chassis", "id"),
    "addons": ("addon", "id"),
    "layouts": ("layout", "id"),
    "contract_cases": ("contract_case", "id"),
}
TABLE = ("broken", "lost", "gained", "new", "gone", "other best", "price", "power", "count", "same")
ORIGINS = ("case", "partner", "grid", "asked")
Edit = tuple[str, str]
"""An edit by kind and id."""


@dataclass(frozen=True)
class Reckoned:
    """Outcome and edits that did it, by (origin, id, request as text)."""

    counts: dict[str, int]
    outcomes: dict[tuple[str, str, str], tuple[str, frozenset[Edit]]]


def edits_between(before: Json, after: Json) -> dict[Edit, tuple[Any, Any]]:
    """Every object that differs, with what it was and what it is (None: not there)."""
    found: dict[Edit, tuple[Any, Any]] = {}
    for name in ("maker", "policies"):
        if before[name] != after[name]:
            found[name, name] = (before[name], after[name])
    for section, (kind, id_field) in LISTS.items():
        old = {x[id_field]: x for x in before.get(section) or []}
        new = {x[id_field]: x for x in after.get(section) or []}
        for id_ in {**old, **new}:
            if old.get(id_) != new.get(id_):
                found[kind, id_] = (old.get(id_), new.get(id_))
    if _shared_fuels(before, after) != _shared_fuels(after, before):
        found["fuel_order", "fuels"] = (None, None)
    return found


def without(before: Json, after: Json, undone: set[Edit]) -> Json:
    """The later catalog with these edits undone."""
    result = dict(after)
    for name in ("maker", "policies"):
        if (name, name) in undone:
            result[name] = before[name]
    for section, (kind, id_field) in LISTS.items():
        old = {x[id_field]: x for x in before.get(section) or []}
        kept = []
        for one in after.get(section) or []:
            if (kind, one[id_field]) not in undone:
                kept.append(one)
            elif one[id_field] in old:
                kept.append(old[one[id_field]])
        ids = [x[id_field] for x in kept]
        previous: str | None = None
        for id_, one in old.items():
            if id_ not in ids and (kind, id_) in undone:
                place = ids.index(previous) + 1 if previous in ids else 0
                ids.insert(place, id_)
                kept.insert(place, one)
            previous = id_ if id_ in ids else previous
        if section != "contract_cases" or kept:
            result[section] = kept
        else:
            result.pop(section, None)
    if ("fuel_order", "fuels") in undone:
        wanted = [x["id"] for x in before["fuels"]]
        shared = sorted((x for x in result["fuels"] if x["id"] in wanted), key=lambda x: wanted.index(x["id"]))
        result["fuels"] = [shared.pop(0) if x["id"] in wanted else x for x in result["fuels"]]
    return result


def is_valid(catalog: Json) -> bool:
    try:
        check_catalog(catalog)
    except CatalogFaultsError:
        return False
    return True


def slow_impact(before: Json, after: Json) -> Reckoned:
    """Every question asked of both; for what is broken, lost or gained every edit undone by itself."""
    old, new = _Asked(before), _Asked(after)
    names = {**old.questions, **new.questions}
    outcomes = {name: _outcome(name, old, new) for name in names}
    edits = edits_between(before, after)
    told = {name for name, outcome in outcomes.items() if outcome in ("broken", "lost", "gained")}
    because: dict[tuple[str, str, str], set[Edit]] = {name: set() for name in names}
    for edit in edits if told else ():
        undone = _least_undone(before, after, edit, list(edits))
        if undone is None:
            continue
        there = _Asked(without(before, after, undone))
        for name in told:
            if _outcome(name, old, there) != outcomes[name]:
                because[name].add(edit)
    return Reckoned(
        dict(Counter(outcomes.values())),
        {name: (outcomes[name], frozenset(because[name])) for name in names if outcomes[name] != "same"},
    )


def in_order(names: Iterator[tuple[str, tuple[str, str, str]]]) -> list[tuple[str, tuple[str, str, str]]]:
    """(outcome, name) pairs in the order of telling."""
    return sorted(names, key=lambda x: (TABLE.index(x[0]), ORIGINS.index(x[1][0]), x[1][2], x[1][1]))


def _least_undone(before: Json, after: Json, edit: Edit, edits: list[Edit]) -> set[Edit] | None:
    others = [x for x in edits if x != edit]
    for more in range(len(others) + 1):
        for chosen in combinations(others, more):
            if is_valid(without(before, after, {edit, *chosen})):
                return {edit, *chosen}
    return None


class _Asked:
    """A catalog with its questions and what it answers."""

    def __init__(self, catalog: Json) -> None:
        self._edition = edition(catalog)
        self._answers: dict[str, Json] = {}
        self.questions: dict[tuple[str, str, str], tuple[Json, Json | None]] = {}
        for case in catalog.get("contract_cases") or []:
            self.questions["case", case["id"], ""] = (case["request"], case["promises"])
        for chassis in catalog["chassis"]:
            for layout in catalog["layouts"]:
                if layout["banks"] == chassis["banks"]:
                    request = {"chassis": chassis["id"], "layout": layout["id"]}
                    self.questions["grid", "", text_of(request)] = (request, None)

    def answer(self, request: Json) -> Json:
        text = text_of(request)
        if text not in self._answers:
            try:
                self._answers[text] = answer_from(self._edition, request)
            except RequestFaultsError:
                self._answers[text] = {"total_valid": 0, "bills": []}
        return self._answers[text]


def text_of(request: Json) -> str:
    return json.dumps(request, sort_keys=True, separators=(",", ":"))


def _outcome(name: tuple[str, str, str], old: _Asked, new: _Asked) -> str:
    if name not in new.questions:
        return "gone"
    if name not in old.questions:
        return "new"
    request, promises = old.questions[name]
    before, after = old.answer(request), new.answer(request)
    if promises is not None and _kept(promises, before, before) - _kept(promises, after, before):
        return "broken"
    if not before["bills"] or not after["bills"]:
        if before["bills"]:
            return "lost"
        return "gained" if after["bills"] else "same"
    was, is_ = before["bills"][0], after["bills"][0]
    if _body(was) != _body(is_):
        return "other best"
    if was["price"] != is_["price"]:
        return "price"
    if _power_differs(was["power"], is_["power"]):
        return "power"
    return "same" if before["total_valid"] == after["total_valid"] else "count"


def _power_differs(was: Json, is_: Json) -> bool:
    if was["limited_by"] != is_["limited_by"]:
        return True
    if was["carries_kw"] is None or is_["carries_kw"] is None:
        return bool(was["carries_kw"] != is_["carries_kw"])
    return bool(abs(is_["carries_kw"] - was["carries_kw"]) > 0.005 * was["carries_kw"])


def _body(bill: Json) -> Any:
    rails = sorted({line["sku"] for line in bill["lines"] if not line["spots"] and line["source"] in ("buy", "have")})
    return rails, bill["duties"], bill["chains"]


_PROMISES: dict[str, Callable[[Any, list[Json], list[Json]], bool]] = {
    "has_bill": lambda wanted, bills, _: bool(bills) is wanted,
    "contains": lambda wanted, bills, _: bool(bills) and set(wanted) <= _skus(bills[0]),
    "never_contains": lambda wanted, bills, _: not any(set(wanted) & _skus(bill) for bill in bills),
    "price": lambda wanted, bills, _: bool(bills) and wanted["at_least"] <= bills[0]["price"] <= wanted["at_most"],
    "keyed": lambda _wanted, bills, was: bool(bills) and bool(was) and _body(bills[0]) == _body(was[0]),
}


def _kept(promises: Json, answer: Json, before: Json) -> set[str]:
    return {
        name
        for name, wanted in promises.items()
        if wanted is not None
        and not (name == "keyed" and not wanted)
        and _PROMISES[name](wanted, answer["bills"], before["bills"])
    }


def _skus(bill: Json) -> set[str]:
    return {line["sku"] for line in bill["lines"]}


def _shared_fuels(catalog: Json, other: Json) -> list[str]:
    there = {x["id"] for x in other["fuels"]}
    return [x["id"] for x in catalog["fuels"] if x["id"] in there]
