"""Each outcome with an edit that makes it, what is said of it, and which edits did it."""

from typing import Any

import pytest

from service.documents.contract import FilePromises
from service.documents.request import BillRequest
from service.impact.changes import Change
from service.impact.questions import Kept, Standing
from service.impact.reckoning import Impact, Judged, needs_accept
from service.impact.words import Words
from service.usecases.impact import body_of, impact_of, impact_told
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.builders import GONE, HOSE, catalog, part, twin
from tests.support.engine import answer_from, edition

Json = dict[str, Any]
CHEAPER = twin("ADAPT-B8-F6", "ADAPT-NEW", price=1)
CASE = {"id": "hose", "says": "A hose.", "request": HOSE, "promises": {"has_bill": True}}


def reckoned(before: Json, after: Json, kept: Kept = Kept()) -> tuple[Impact, Edition, Edition]:  # noqa: B008
    old, new = edition(before), Edition(2, edition(after).catalog)
    return impact_of(old, new, kept), old, new


def of_hose(impact: Impact, origin: str = "grid") -> Judged:
    """What became of the question for the customer's own hose."""
    return next(
        one
        for one in impact.judged
        if (one.question.origin, one.question.request.layout, one.question.request.chassis)
        == (origin, HOSE["layout"], HOSE["chassis"])
    )


def case(**promises: Any) -> Json:
    return {"contract_cases": [CASE | {"promises": {"has_bill": True} | promises}]}


PLUG_RETIRED = {"items/PLUG-B8/status": "retired"}
TABLE: dict[str, tuple[Json, Json, str, str, set[str], str]] = {
    "broken, as a part is another": (
        case(contains=["ADAPT-B8-F6"]),
        {"items/-": CHEAPER},
        "case",
        "broken",
        {"ADAPT-NEW"},
        "a promise is broken (that the first bill has Adapter, size-8 boss to size-6 flare); the best bill takes Part",
    ),
    "broken, as the bill is another": (
        case(keyed=True),
        {"items/-": CHEAPER},
        "case",
        "broken",
        {"ADAPT-NEW"},
        "a promise is broken (that the first bill stays the same)",
    ),
    "broken, as no bill is left": (
        case(),
        PLUG_RETIRED,
        "case",
        "broken",
        {"PLUG-B8"},
        "a promise is broken (that there is a bill); no bill is left.",
    ),
    "a promise that was broken before is not broken again": (
        case(contains=["GAUGE-T"]),
        {"items/PLUG-B8/price": 1234},
        "case",
        "price",
        set(),
        "the same bill costs",
    ),
    "lost": ({}, PLUG_RETIRED, "grid", "lost", {"PLUG-B8"}, "no bill is left; there was one for OVC "),
    "gained": (PLUG_RETIRED, {}, "grid", "gained", {"PLUG-B8"}, "there is a bill now, for OVC "),
    "other best": ({}, {"items/-": CHEAPER}, "grid", "other best", set(), "the best bill takes Part ADAPT-NEW instead"),
    "price": ({}, {"items/PLUG-B8/price": 1}, "grid", "price", set(), "cheaper."),
    "power": ({}, {"items/ADAPT-B8-F6/flow/bore_mm": 3.0}, "grid", "power", set(), "before, it carried"),
    "count": ({}, {"items/-": twin("ADAPT-B8-F6", "ADAPT-DEAR", price=99_000)}, "grid", "count", set(), "valid bills"),
    "new": ({"layouts/hose-centre": GONE}, {}, "grid", "new", set(), "a new question."),
    "gone": ({}, {"layouts/hose-centre": GONE}, "grid", "gone", set(), "not asked any more, though it had a bill."),
    "a case that is taken out": (case(), {"contract_cases": GONE}, "case", "gone", set(), "though it had a bill"),
}


@pytest.mark.parametrize(("first", "change", "origin", "outcome", "because", "text"), TABLE.values(), ids=list(TABLE))
def test_each_outcome(first: Json, change: Json, origin: str, outcome: str, because: set[str], text: str) -> None:
    """An edit undoes what the earlier catalog differs in, but for its cases."""
    before = catalog(first)
    after = catalog({name: value for name, value in first.items() if name == "contract_cases"}, change)
    impact, old, new = reckoned(before, after)
    found = of_hose(impact, origin)
    assert found.outcome == outcome
    assert {one.id for one in found.because} == because
    told = Words(old.catalog, new.catalog).of(found)
    assert told.startswith("case hose, Brook " if origin == "case" else "Brook ")
    assert text in told


def test_where_two_edits_would_each_do_it_neither_is_named() -> None:
    change = {"items/PLUG-B8/status": "retired", "items/ADAPT-B8-F6/status": "retired"}
    impact, *_ = reckoned(catalog(), catalog(change))
    assert of_hose(impact).outcome == "lost"
    assert of_hose(impact).because == ()


def test_undoing_an_edit_undoes_what_hangs_on_it() -> None:
    """A new connection, the adapter that now has it and the hose that asks for it go together; the price does not."""
    before = catalog()
    standard = next(x for x in before["port_standards"] if x["id"] == "flare-6")
    hookup = "layouts/hose-centre/placements/0/centre/hookup/standard"
    after = catalog(
        {
            "port_standards/-": standard | {"id": "flare-9"},
            "items/-": part("ADAPT-9", "fitting", ("boss-8", "male"), ("flare-9", "male"), status="retired"),
            hookup: "flare-9",
            "items/GAUGE-T/price": 1,
        }
    )
    impact, *_ = reckoned(before, after)
    found = of_hose(impact)
    assert found.outcome == "lost"
    assert {(one.kind, one.id) for one in found.because} == {("port_standard", "flare-9"), ("layout", "hose-centre")}


def test_the_order_of_fuels_is_one_change() -> None:
    first = catalog()
    second = catalog({"fuels": first["fuels"][::-1]})
    impact, *_ = reckoned(first, second)
    assert impact.changes == (Change("fuel_order", "fuels", "changed"),)


def test_partners_and_askers_are_heard() -> None:
    """Their questions are asked of both; a car that goes breaks a partner's promise, and is gone for who asked."""
    ready = edition(catalog())
    request = BillRequest.model_validate(HOSE)
    bill = ready.engine.answer(resolve_request(request, ready.revision)).bills[0]
    key = answer_from(ready, HOSE)["bills"][0]["key"]
    promised = FilePromises(has_bill=True, key=key)
    partner = Standing("partner", request, promised, "best", "shop", body_of(bill))
    asked = Standing("asked", request, times=7)
    kept = Kept([partner], [asked])
    dearer, old, new = reckoned(catalog(), catalog({"items/PLUG-B8/price": 1}), kept)
    assert [of_hose(dearer, x).outcome for x in ("partner", "asked")] == ["price", "price"]
    other, *_ = reckoned(catalog(), catalog({"items/-": CHEAPER}), kept)
    assert [of_hose(other, x).outcome for x in ("partner", "asked")] == ["broken", "other best"]
    told = impact_told(dearer, old, new)["questions"]
    assert [(x.get("account"), x.get("id")) for x in told if x["origin"] == "partner"] == [("shop", "best")]
    gone, *_ = reckoned(catalog(), catalog({"layouts/hose-centre": GONE}), kept)
    assert [of_hose(gone, x).outcome for x in ("partner", "asked")] == ["broken", "gone"]
    assert all(needs_accept(of_hose(gone, x)) for x in ("partner", "asked"))


def test_the_same_catalog_changes_nothing() -> None:
    impact, *_ = reckoned(catalog(), catalog())
    assert (impact.changes, impact.judged, list(impact.counts), impact.needs_accept) == ((), (), ["same"], False)


def test_a_partner_s_case_is_named_with_its_account() -> None:
    promises = FilePromises(has_bill=True, contains=["ADAPT-B8-F6"])
    kept = Kept(partners=[Standing("partner", BillRequest.model_validate(HOSE), promises, "front-page", "shop-7")])
    impact, old, new = reckoned(catalog(), catalog({"items/-": CHEAPER}), kept)
    [told] = [one for one in impact_told(impact, old, new)["questions"] if one["origin"] == "partner"]
    assert (told["outcome"], told["account"], told["id"]) == ("broken", "shop-7", "front-page")
    assert told["text"].startswith("case front-page of shop-7, ")
    assert [change["id"] for change in told["because"]] == ["ADAPT-NEW"]
