"""A partner's case that a draft would break: named in the draft's impact with the partner's account, over HTTP."""

from pathlib import Path
from typing import Any

from service.storage.partner_cases import PartnerCaseStore
from service.usecases.standing import KeptQuestions
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.web.calls import caller
from tests.web.conftest import QUESTION, cases_of, drafts_of, library_in
from tests.web.test_drafts import begun, patched, when_there

CASE: dict[str, Any] = {
    "account": "shop-7",
    "id": "front-page",
    "says": "What the front page sells.",
    "request": QUESTION,
    "promises": {"has_bill": True, "price": {"at_least": 1, "at_most": 90_000}},
}


ALL = QUESTION | {"limit": 1}
OTHERS: tuple[tuple[str, dict[str, Any], dict[str, Any]], ...] = (
    ("bills", ALL, {"has_bill": True, "must_say": ["RAIL-S"], "currency": "OVC", "max_ms": 9_000}),
    ("order_check", QUESTION | {"lines": [{"sku": "RAIL-S", "qty": 1}]}, {"verdict": "short"}),
    ("explain", {"request": QUESTION, "sku": "RAIL-S"}, {"in_bills": True, "where": ["rail"]}),
    ("layouts", {"chassis": QUESTION["chassis"]}, {"with_bills": [QUESTION["layout"]]}),
    ("item", {"sku": "RAIL-S"}, {"status": "active"}),
    ("joint", {"one": {"sku": "RAIL-S"}, "other": {"sku": "PLUG-B8"}}, {"meets": True}),
)


def test_a_draft_that_breaks_a_case_of_any_kind_is_told_whose(tmp_path: Path) -> None:
    """Each kind is kept, named in the impact with its account and its kind, and in the refusal to publish."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        standing = KeptQuestions(partners=PartnerCaseStore(library._store._database))
        app = create_app(library, kept_drafts=drafts_of(library), partner_cases=cases_of(library), standing=standing)
        with caller(app) as client:
            for kind, request, promises in OTHERS:
                own = {"account": "shop-7", "id": kind, "says": "s", "kind": kind, "request": request}
                kept = client.post("/v1/contract/cases", json=own | {"promises": promises})
                assert (kept.status_code, kept.json()["not_kept"]) == (201, []), kept.text
                again = client.get(kept.headers["location"]).json()
                assert (again.get("kind", "bills"), again["promises"]) == (kind, promises)
            path = begun(client)
            assert patched(client, f"{path}/items/RAIL-S", {"status": "retired"}).status_code == 200
            turned = [{"id": "p0", "standard": "boss-8", "end": "female"}]
            assert patched(client, f"{path}/items/PLUG-B8", {"ports": turned}).status_code == 200
            impact = when_there(client, f"{path}/impact").json()
            told = [one for one in impact["questions"] if one["origin"] == "partner"]
            assert {one.get("kind", one["id"]) for one in told} == {kind for kind, *_ in OTHERS}
            assert {(one["account"], one["outcome"]) for one in told} == {("shop-7", "broken")}
            edits = {one.get("kind", "bills"): {change["id"] for change in one["because"]} for one in told}
            assert (edits["joint"], edits["item"]) == ({"PLUG-B8"}, {"RAIL-S"})
            refused = client.post(f"{path}/publish", json={"author": "a", "reason": "b"})
            assert refused.status_code == 409
            named = refused.json()["errors"]
            assert {kind for kind, *_ in OTHERS} == {
                kind for kind, *_ in OTHERS for error in named if f"case {kind} of shop-7" in error["found"]
            }


def test_a_draft_that_breaks_a_partner_s_case_is_told_whose(tmp_path: Path) -> None:
    """And is published only with a reason."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        standing = KeptQuestions(partners=PartnerCaseStore(library._store._database))
        app = create_app(library, kept_drafts=drafts_of(library), partner_cases=cases_of(library), standing=standing)
        with caller(app) as client:
            assert client.post("/v1/contract/cases", json=CASE).json()["not_kept"] == []
            path = begun(client)
            assert patched(client, f"{path}/items/RAIL-S", {"price": 900_000}).status_code == 200
            impact = when_there(client, f"{path}/impact").json()
            assert impact["needs_accept"]
            told = [one for one in impact["questions"] if one["origin"] == "partner"]
            assert [(one["account"], one["id"], one["outcome"]) for one in told] == [("shop-7", "front-page", "broken")]
            assert "shop-7" in told[0]["text"]
            assert [(change["kind"], change["id"]) for change in told[0]["because"]] == [("item", "RAIL-S")]
