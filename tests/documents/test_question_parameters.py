"""A question written as a query is read as the same question."""

from typing import Any

import pytest

from service.documents.question_parameters import query_of
from service.documents.request import BillRequest
from service.web.question_query import QuestionQuery

PLAIN = {"chassis": "brook", "layout": "hose/centre"}
FULL: dict[str, Any] = PLAIN | {
    "fuel": "petrol",
    "power_kw": 90.25,
    "pump_l_h": 120,
    "pump": [{"kpa": 0, "l_h": 180.5}, {"kpa": 400, "l_h": 0.00001}],
    "pump_v": {"rated": 12, "fed": 13.5},
    "regulator": {"set_kpa": 350.5, "follows": "manifold"},
    "injectors": {"static_l_h": 30.5, "rated_kpa": 300, "max_duty": 0.9},
    "feed_hose_m": 0.00001,
    "return_hose_m": 2,
    "boost_kpa": 20.0,
    "addons": ["blower", "brace"],
    "clearances": [{"spot": "1.top", "axial_mm": 30.5}, {"spot": "left", "across_mm": 4}],
    "gauge": "1.top",
    "finish": "satin, black & blue",
    "exclude": ["A-1", "B/2"],
    "in_stock_only": True,
    "allow_unsold": False,
    "max_price": 12_345,
    "have": [{"sku": "A-1", "qty": 2}],
    "own_rail": {"left": {"standard": "boss-8", "end": "female"}},
    "limit": 3,
    "group_variants": False,
    "order_by": "lead",
    "revision": 7,
}


@pytest.mark.parametrize("question", [PLAIN, FULL])
def test_what_is_written_is_read(question: dict[str, Any]) -> None:
    """Every field of a question, as plain JSON and as the document."""
    asked = BillRequest.model_validate(question)
    for given in (question, asked):
        written = query_of(given)
        assert QuestionQuery.model_validate(written).question() == asked
        assert set(written) == set(question)


def test_every_field_is_tried() -> None:
    """A field that is added has to be written and read too."""
    assert set(FULL) == set(BillRequest.model_fields)


def test_both_rooms_of_a_spot() -> None:
    """Are two entries of the query: the smallest of each counts, as before."""
    rooms = [{"spot": "top", "axial_mm": 30.0, "across_mm": 20.0}]
    assert query_of(PLAIN | {"clearances": rooms})["clearances"] == "top:axial_mm:30,top:across_mm:20"


@pytest.mark.parametrize(
    "told",
    [
        {"regulator": {"follows": "atmosphere"}},
        {"regulator": {"set_kpa": 0.00001}},
        {"injectors": {"static_l_h": 8, "rated_kpa": 1.00001}},
    ],
)
def test_facts_told_in_part(told: dict[str, Any]) -> None:
    """What is not told of a fact stays so."""
    asked = BillRequest.model_validate(PLAIN | told)
    assert QuestionQuery.model_validate(query_of(PLAIN | told)).question() == asked
    assert QuestionQuery.model_validate(query_of(asked)).question() == asked


def test_what_is_not_told_is_not_written() -> None:
    """Null and empty lists are as good as nothing."""
    assert query_of(PLAIN | {"fuel": None, "addons": []}) == PLAIN
