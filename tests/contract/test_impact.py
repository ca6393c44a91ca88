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
