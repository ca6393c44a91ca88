"""What is remembered of one question serves that question alone, as long as all that it hangs on is the same."""

import json
from typing import Any

import pytest

from service.documents.contract import CatalogPromises
from service.documents.contract_kinds import case_of
from service.documents.request import BillRequest
from service.impact.questions import Question, Standing, StandingCase
from service.usecases import impact
from service.usecases.impact import EditionSide, Remembered
from tests.support.builders import HOSE, catalog
from tests.support.engine import edition

Json = dict[str, Any]
SIDES = {"one": {"sku": "RAIL-S"}, "other": {"sku": "PLUG-B8"}}
SAID = "Plug for a size-8 boss"


def bills(**promises: Any) -> Question:
    return Standing("asked", BillRequest.model_validate(HOSE), CatalogPromises(has_bill=True, **promises))


def other(kind: str, request: Json, promises: Json) -> Question:
    told = {"id": "own", "says": "Ours.", "kind": kind, "request": request, "promises": promises}
    return StandingCase("partner", case_of(json.dumps(told)), "shop-7")  # type: ignore[arg-type]


def unkept(question: Question, told: Json, remembered: Remembered) -> list[str]:
    return [name for name, _ in EditionSide(edition(told), remembered).seen(question).unkept]


def test_no_question_is_answered_by_what_another_one_promises() -> None:
    known, told = Remembered(), catalog()
    assert unkept(bills(), told, known) == []
    assert unkept(bills(currency="SEK"), told, known) == ["currency"]
    assert unkept(bills(currency="OVC"), told, known) == []
    assert unkept(bills(must_say=["no such words"]), told, known) == ["must_say"]
    assert unkept(other("joint", SIDES, {"meets": True}), told, known) == []
    assert unkept(other("joint", SIDES, {"meets": False}), told, known) == ["meets"]


@pytest.mark.parametrize(
    ("question", "change", "broken"),
    [
        (bills(currency="OVC"), {"maker/currency": "SEK"}, "currency"),
        (bills(must_say=[SAID]), {"items/PLUG-B8/name": "Stopper"}, "must_say"),
        (other("item", {"sku": "PLUG-B8"}, {"must_say": [SAID]}), {"items/PLUG-B8/name": "Stopper"}, "must_say"),
        (other("joint", SIDES, {"meets": True}), {"items/PLUG-B8/ports/0/end": "female"}, "meets"),
        (other("layouts", {"chassis": "brook"}, {"currency": "OVC"}), {"maker/currency": "SEK"}, "currency"),
    ],
)
def test_another_catalog_is_asked_anew(question: Question, change: Json, broken: str) -> None:
    known = Remembered()
    assert unkept(question, catalog(), known) == []
    assert unkept(question, catalog(change), known) == [broken]
    assert unkept(question, catalog(), known) == []


def test_a_case_is_asked_once_of_what_it_hangs_on(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    ask = impact.seen_of
    monkeypatch.setattr(impact, "seen_of", lambda case, of: (asked.append(case.kind), ask(case, of))[1])
    known, question = Remembered(), other("layouts", {"chassis": "brook"}, {"with_bills": ["hose-centre"]})
    for told in (catalog(), catalog(), catalog({"items/PLUG-B8/name": "Stopper"}), catalog({"items/PLUG-B8/price": 1})):
        assert unkept(question, told, known) == []
    assert asked == ["layouts", "layouts"]
