"""SKUs in any case: what differs from one SKU of the catalog in case alone is that SKU, wherever it is asked."""

import io
import json
from typing import Any

import pytest

from service.documents.explain import ExplainRequest
from service.documents.joint import JointQuestion
from service.usecases.browse import find_item
from service.usecases.check_sheet import outcome_of
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.explain_part import explain_in
from service.usecases.join import join_in
from service.usecases.library import Edition
from service.usecases.order_sheet import read_orders
from tests.support.builders import HOSE, catalog, twin
from tests.support.engine import answer_from, edition
from tests.support.order_checks import RIGHT, checked_in, lines

Json = dict[str, Any]


def _bills(ready: Edition, sku: str) -> Any:
    return answer_from(ready, HOSE | {"exclude": [sku], "have": [{"sku": sku, "qty": 2}]})


def _order(ready: Edition, sku: str) -> Any:
    return checked_in(ready, HOSE | {"lines": [*lines(RIGHT | {"PLUG-B8": 1}), {"sku": sku, "qty": 1}]})


def _explained(ready: Edition, sku: str) -> Any:
    return explain_in(ready, ExplainRequest.model_validate({"request": HOSE, "sku": sku}))


def _joined(ready: Edition, sku: str) -> Any:
    asked = {"one": {"sku": sku}, "other": {"standard": "boss-8", "end": "female"}}
    return join_in(ready, JointQuestion.model_validate(asked))


def _outcome(ready: Edition, sku: str) -> Any:
    rows = [f"A,brook,hose-centre,{one},1,{sku}:1" for one in ("RAIL-S", "ADAPT-B8-F6", sku)]
    file = io.BytesIO("\n".join(["order,chassis,layout,sku,qty,have", *rows]).encode())
    [order] = read_orders(file)
    return outcome_of(ready, order).__dict__ | {"notes": ""}


_ASKED = {"bills": _bills, "order": _order, "explain": _explained, "joints": _joined, "file": _outcome}


@pytest.mark.parametrize("name", [*_ASKED, "item"])
def test_the_case_of_a_sku_makes_no_difference(edition: Edition, name: str) -> None:
    """The same answer, keys included, to the last letter."""
    ask = _ASKED.get(name, find_item)
    told = {written: ask(edition, written) for written in ("PLUG-B8", "plug-b8", "Plug-b8")}
    assert told["plug-b8"] == told["Plug-b8"] == told["PLUG-B8"]


def test_units_in_several_cases_add_up(edition: Edition) -> None:
    ordered = {"rail-s": 1, "ADAPT-b8-F6": 1, "PLUG-B8": 1, "plug-b8": 1}
    assert checked_in(edition, HOSE | {"lines": lines(ordered)})["verdict"] == "complete"


def test_of_skus_that_differ_in_case_alone_none_is_meant_by_another_case() -> None:
    """Each is itself as it is written; anything else is asked back with both."""
    ready = edition(catalog({"items/-": twin("PLUG-B8", "plug-b8", price=1)}))
    assert [find_item(ready, sku).price for sku in ("PLUG-B8", "plug-b8")] == [900, 1]
    with pytest.raises(NotFoundError) as refused:
        find_item(ready, "Plug-B8")
    assert {"PLUG-B8", "plug-b8"} <= set(refused.value.nearest)
    with pytest.raises(RequestFaultsError):
        answer_from(ready, HOSE | {"exclude": ["Plug-B8"]})
    assert "Plug-B8" in json.dumps(checked_in(ready, HOSE | {"lines": lines(RIGHT | {"Plug-B8": 1})})["notes"])


def test_a_letter_that_only_folds_to_one_of_a_sku_is_not_that_one() -> None:
    """The sign of the unit kelvin is no letter of an id."""
    ready = edition(catalog({"items/-": twin("PLUG-B8", "K-1")}))
    assert find_item(ready, "k-1").sku == "K-1"
    with pytest.raises(NotFoundError):
        find_item(ready, "\u212a-1")
