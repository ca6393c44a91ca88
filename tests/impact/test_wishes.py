"""What standing questions wish, in few words."""

from typing import Any

import pytest

from service.documents.request import BillRequest
from service.impact.wishes import _WORDS, Names, wishes_told

_HOW_IT_IS_LISTED = {"chassis", "layout", "limit", "group_variants", "order_by", "revision"}


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        ({}, ""),
        ({"limit": 3, "order_by": "drop"}, ""),
        ({"fuel": "e85", "power_kw": 120, "gauge": "any"}, "E85!, 120 kW (161 hp), with a gauge"),
        ({"gauge": "2.top", "finish": "satin"}, "with a gauge at 2.top, in satin"),
        ({"pump_v": {"rated": 12, "fed": 13.5}, "max_price": 9}, "the pump at 13.5 V, for at most EUR 0.09"),
        ({"addons": ["brace", "blower"], "in_stock_only": True}, "beside BRACE! and BLOWER!, from stock"),
        ({"have": [{"sku": "a", "qty": 2}], "boost_kpa": 70}, "boost of 70 kPa (10.2 psi), having A!"),
        ({"exclude": ["a", "b", "c", "d", "e"]}, "without A!, B!, C! and 2 more"),
    ],
)
def test_wishes_are_told_shortly(wishes: dict[str, Any], told: str) -> None:
    request = BillRequest.model_validate({"chassis": "car", "layout": "line"} | wishes)
    assert wishes_told(request, Names(lambda id_: f"{id_.upper()}!", "EUR")) == told


def test_every_wish_has_its_words() -> None:
    """A new field of a question is told, or is none that anybody wishes."""
    assert {*BillRequest.model_fields} == {*_WORDS} | _HOW_IT_IS_LISTED
