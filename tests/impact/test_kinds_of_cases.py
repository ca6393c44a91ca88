"""Cases of each kind beside bills, of the catalog and of a partner: each promise broken by an edit, told whose."""

import json
from typing import Any

import pytest

from service.documents.contract_kinds import PROMISES, case_of
from service.impact.questions import Kept, Question, StandingCase
from service.usecases.contract_cases import contract_cases
from service.usecases.impact import impact_of, impact_told
from service.usecases.library import Edition
from tests.support.builders import GONE, HOSE, catalog
from tests.support.engine import edition

Json = dict[str, Any]
RAIL, PLUG, ADAPTER = "RAIL-S", "PLUG-B8", "ADAPT-B8-F6"
SIDES = {"one": {"sku": RAIL}, "other": {"sku": PLUG}}
ORDER = HOSE | {"lines": [{"sku": RAIL, "qty": 1}]}
DEARER = {"items/PLUG-B8/price": 100_000}
RETIRED = {"items/PLUG-B8/status": "retired"}
SEK = {"maker/currency": "SEK"}

TABLE: dict[str, tuple[str, Json, Json, Json, str, str]] = {
    "the price of an item": (
        "item",
        {"sku": PLUG},
        {"price": {"at_least": 1, "at_most": 90_000}},
        DEARER,
        "price",
        PLUG,
    ),
    "the status of an item": ("item", {"sku": PLUG}, {"status": "active"}, RETIRED, "status", PLUG),
    "an item that is promised not to be": (
        "item",
        {"sku": "NEW-PLUG"},
        {"exists": False},
        {"items/-": "twin"},
        "exists",
        "NEW-PLUG",
    ),
    "an item that says something": (
        "item",
        {"sku": PLUG},
        {"must_say": ["for a size-8"], "max_ms": 1},
        {"items/PLUG-B8/name": "Stopper"},
        "must_say",
        PLUG,
    ),
    "a part that stood in bills": (
        "explain",
        {"request": HOSE, "sku": PLUG},
        {"in_bills": True},
        RETIRED,
        "in_bills",
        PLUG,
    ),
    "the spots of a part": (
        "explain",
        {"request": HOSE, "sku": RAIL},
        {"where": ["rail"]},
        {"items/RAIL-S/status": "retired"},
        "where",
        RAIL,
    ),
    "what stops a part": (
        "explain",
        {"request": HOSE | {"max_price": 1}, "sku": RAIL},
        {"in_bills": False, "currency": "OVC"},
        SEK,
        "currency",
        "maker",
    ),
    "layouts with bills": (
        "layouts",
        {"chassis": "brook"},
        {"with_bills": ["hose-centre"]},
        RETIRED,
        "with_bills",
        PLUG,
    ),
    "the money of layouts": ("layouts", {"chassis": "brook"}, {"currency": "OVC"}, SEK, "currency", "maker"),
    "the verdict on an order": (
        "order_check",
        ORDER,
        {"verdict": "short"},
        {"items/RAIL-S/status": "retired"},
        "verdict",
        RAIL,
    ),
    "the changes of an order": ("order_check", ORDER, {"edits": 9}, {"items/RAIL-S/status": "retired"}, "edits", RAIL),
    "two parts that meet": ("joint", SIDES, {"meets": True}, {"items/PLUG-B8/ports/0/end": "female"}, "meets", PLUG),
    "the money of a joint": ("joint", SIDES, {"currency": "OVC"}, SEK, "currency", "maker"),
}


def case(kind: str, request: Json, promises: Json) -> Json:
    return {"id": "own", "says": "Ours.", "kind": kind, "request": request, "promises": promises}


def of_catalog(kind: str, request: Json, promises: Json) -> Json:
    """The same as the catalog has it: the part in question beside the fields of its request."""
    if kind == "explain":
        request = request["request"] | {name: value for name, value in request.items() if name != "request"}
    return {"contract_cases": [case(kind, request, promises)]}


def edits(change: Json) -> Json:
    if change.get("items/-") != "twin":
        return change
    plug = next(item for item in catalog()["items"] if item["sku"] == PLUG)
    return {"items/-": plug | {"sku": "NEW-PLUG", "status": "retired"}}


def told_of(before: Json, after: Json, kept: Kept = Kept()) -> Json:  # noqa: B008
    old, new = edition(before), Edition(2, edition(after).catalog)
    return dict(impact_told(impact_of(old, new, kept), old, new))


@pytest.mark.parametrize("name", TABLE)
def test_a_promise_that_an_edit_breaks_is_told(name: str) -> None:
    """Of the catalog's case and of the partner's, the latter with its account, with the edit that did it."""
    kind, request, promises, change, broken, edited = TABLE[name]
    own = StandingCase("partner", case_of(json.dumps(case(kind, request, promises))), "shop-7")  # type: ignore[arg-type]
    base = of_catalog(kind, request, promises)
    told = told_of(catalog(base), catalog(base, edits(change)), Kept(partners=[own]))
    found = [one for one in told["questions"] if one["origin"] in ("case", "partner")]
    assert [(x["origin"], x.get("account"), x["outcome"], x["kind"]) for x in found] == [
        ("case", None, "broken", kind),
        ("partner", "shop-7", "broken", kind),
    ]
    assert "case own of shop-7, " in found[1]["text"]
    assert broken in PROMISES
    assert all(edited in [one["id"] for one in x["because"]] for x in found)
    assert told["needs_accept"]


def test_what_an_edit_leaves_is_the_same() -> None:
    """An edit of another part breaks nothing, whatever the kind; a case that comes or goes is new or gone."""
    cases = [case(kind, of["request"], of["promises"]) | {"id": name} for name, (kind, of) in _of_all().items()]
    before = catalog({"contract_cases": cases})
    told = told_of(before, before | {"items": [*before["items"][:-1], before["items"][-1] | {"mass_g": 1.5}]})
    assert told["questions"] == []
    gone = told_of(before, catalog())
    assert {(one["id"], one["outcome"]) for one in gone["questions"]} == {(name, "gone") for name in _of_all()}
    assert not gone["needs_accept"]
    assert {one["outcome"] for one in told_of(catalog(), before)["questions"]} == {"new"}


def _of_all() -> dict[str, tuple[str, Json]]:
    return {
        name.replace(" ", "-"): (kind, of_catalog(kind, request, promises)["contract_cases"][0])
        for name, (kind, request, promises, *_) in TABLE.items()
    }


def test_the_catalog_s_cases_are_served_as_a_partner_writes_them() -> None:
    """So that the contract runs them; each is a case of its kind by itself."""
    for kind, request, promises, *_ in TABLE.values():
        served = contract_cases(edition(catalog(of_catalog(kind, request, promises)))).cases
        assert [one.model_dump(mode="json", exclude_unset=True) for one in served] == [case(kind, request, promises)]


def test_a_car_that_goes_breaks_what_a_partner_counts_on() -> None:
    own: Question = StandingCase(
        "partner",
        case_of(json.dumps(case("layouts", {"chassis": "heron"}, {"with_bills": ["linked-banks"]}))),
        "shop-7",
    )  # type: ignore[arg-type]
    after = catalog({"chassis/heron": GONE})
    after["addons"] = []
    told = told_of(catalog(), after, Kept(partners=[own]))
    found = next(one for one in told["questions"] if one["origin"] == "partner")
    assert (found["outcome"], found["because"][0]["id"]) == ("broken", "heron")
    assert "not there any more" in found["text"]
