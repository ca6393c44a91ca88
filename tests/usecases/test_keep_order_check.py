"""Order checks are made once, kept, and given again; a key makes sending an order twice safe."""

import json
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.storage.order_checks import OrderCheckStore, StoredOrderCheck
from service.usecases.errors import (
    IdempotencyKeyReusedError,
    NoCatalogError,
    NotFoundError,
    RequestFault,
    RequestFaultsError,
)
from service.usecases.keep_order_check import Check, OrderChecks
from service.usecases.library import Edition, Library
from tests.support.catalogs import changed, small_catalog
from tests.support.keeping import kept_check
from tests.support.orders import ORDER, WHOLE, three_plugs
from tests.usecases.counting_store import CountingStore


def asked(order: dict[str, Any] = ORDER, **more: Any) -> OrderRequest:
    return OrderRequest.model_validate(order | more)


@pytest.fixture(name="kept_checks")
def _kept_checks(store: CountingStore) -> OrderCheckStore:
    return OrderCheckStore(store._database)


@pytest.fixture(name="checks")
def _checks(library: Library, kept_checks: OrderCheckStore) -> OrderChecks:
    return OrderChecks(library, kept_checks, three_plugs)


def publish(library: Library, changes: dict[str, Any]) -> int:
    return library.publish(Catalog.model_validate(changed(small_catalog(), changes)))[0]


def test_the_result_is_kept_with_an_id(checks: OrderChecks, edition: Edition) -> None:
    """The document is the result, all of it, behind an id that nobody can guess and that is never the same."""
    first, second = kept_check(checks, asked()), kept_check(checks, asked())
    result = three_plugs(edition, asked())
    for kept in (first, second):
        assert json.loads(kept.document) == {"id": kept.id, **result}
        assert re.fullmatch(r"[0-9a-f]{32}", kept.id)
        assert (kept.revision, kept.again) == (1, False)
    assert first.id != second.id


def test_what_was_asked_is_kept(checks: OrderChecks, kept_checks: OrderCheckStore) -> None:
    """The request comes back as it was understood."""
    order = asked(fuel="e85", own_rail={"top": {"standard": "boss-8", "end": "female"}}, have=[{"sku": "A", "qty": 2}])
    stored = kept_checks.get(kept_check(checks, order).id)
    assert stored is not None
    assert OrderRequest.model_validate_json(stored.request) == order


def test_a_check_is_recalled_word_for_word(checks: OrderChecks) -> None:
    """What was answered, to the last byte, and after it how the newest revision judges the order."""
    kept = kept_check(checks, asked())
    recalled = checks.recall(kept.id)
    assert recalled.document.startswith(kept.document.removesuffix(b"}"))
    current = json.loads(recalled.document).pop("current")
    assert current == {
        "revision": 1,
        "same": True,
        "verdict": "short",
        "text": "Catalog revision 1 judges this order the same.",
    }
    assert json.loads(recalled.document) == json.loads(kept.document) | {"current": current}
    assert recalled.revision == 1


def now(checks: OrderChecks, order: dict[str, Any], library: Library, changes: dict[str, Any]) -> tuple[Any, ...]:
    """Keep an order, publish a changed catalog, and return how that judges the order."""
    kept = kept_check(checks, asked(order))
    number = publish(library, changes)
    document = checks.recall(kept.id).document
    assert document.startswith(kept.document.removesuffix(b"}"))
    current = json.loads(document)["current"]
    assert current["revision"] == number == 2
    return current["same"], current["verdict"], current["text"].removeprefix("Catalog revision 2 ")


# The second item is the first plug.
ANOTHER_PLUG_FIRST = {"/items/1/sku": "PLUG-NEW", "/items/-": small_catalog()["items"][1]}


def test_a_check_from_before_the_money_was_told_tells_it(checks: OrderChecks) -> None:
    """By its own revision, each time it is given."""
    judged = checks.judge(asked())
    assert isinstance(judged, StoredOrderCheck)
    told = json.loads(judged.result)
    older = {name: value for name, value in told.items() if name not in ("currency", "tax")}
    kept = checks.store(replace(judged, result=json.dumps(older, separators=(",", ":"))))
    assert json.loads(kept.document) == told
    recalled = json.loads(checks.recall(kept.id).document)
    assert {name: recalled[name] for name in told} == told


def test_another_price_is_the_same_judgement(checks: OrderChecks, library: Library) -> None:
    """The verdict and the changes stand, at whatever price."""
    assert now(checks, ORDER, library, {"/items/1/price": 7}) == (True, "short", "judges this order the same.")


def test_another_verdict_is_told(checks: OrderChecks, library: Library) -> None:
    """What was complete lacks something in the newest catalog."""
    found = now(checks, WHOLE, library, ANOTHER_PLUG_FIRST)
    assert found == (False, "short", "judges this order short, no longer complete.")


def test_other_changes_are_told(checks: OrderChecks, library: Library) -> None:
    """The verdict is the same, but something else is to be added."""
    found = now(checks, ORDER, library, ANOTHER_PLUG_FIRST)
    assert found == (False, "short", "judges this order short as well, but with other changes.")


def test_a_car_that_is_gone_is_told(checks: OrderChecks, library: Library) -> None:
    """What was asked names something that the newest catalog has not."""
    same, verdict, text = now(checks, ORDER, library, {"/chassis/0/id": "stream", "/addons/0/chassis": ["stream"]})
    assert (same, verdict) == (False, None)
    assert text == "cannot judge this order: brook is not the id of a chassis of this revision."


def test_a_form_that_is_not_taken_any_more_is_told(
    checks: OrderChecks, library: Library, kept_checks: OrderCheckStore
) -> None:
    """An order kept by another version of the service comes back, though nothing can be said of it now."""
    stored = kept_checks.get(kept_check(checks, asked()).id)
    assert stored is not None
    old = kept_checks.save(replace(stored, id="old", request='{"wings": 2}'))
    publish(library, {"/items/1/price": 7})
    current = json.loads(checks.recall(old.id).document)["current"]
    assert (current["same"], current["verdict"]) == (False, None)
    assert "not taken any more" in current["text"]


@pytest.mark.parametrize("id_", ["", "nobody", "\0", "\ud800", "Xq3vYb0TzLr8mWk2hNc5Ug"])
def test_what_was_not_kept_is_not_found(checks: OrderChecks, id_: str) -> None:
    """And no other id is offered."""
    kept_check(checks, asked())
    with pytest.raises(NotFoundError) as refused:
        checks.recall(id_)
    assert (refused.value.kind, refused.value.value, refused.value.nearest) == ("order check", id_, ())


def test_a_named_revision_judges(checks: OrderChecks, library: Library) -> None:
    """The order names the catalog that it was made from."""
    publish(library, ANOTHER_PLUG_FIRST)
    assert json.loads(kept_check(checks, asked(WHOLE, revision=1)).document)["verdict"] == "complete"
    assert json.loads(kept_check(checks, asked(WHOLE)).document)["verdict"] == "short"
    with pytest.raises(RequestFaultsError) as refused:
        kept_check(checks, asked(WHOLE, revision=3))
    assert refused.value.faults == (RequestFault("/revision", "3", "the number of a known revision"),)


def test_without_a_catalog_nothing_is_judged(empty_library: Library, kept_checks: OrderCheckStore) -> None:
    """Import one first."""
    with pytest.raises(NoCatalogError):
        kept_check(OrderChecks(empty_library, kept_checks, three_plugs), asked())


class Counted:
    """The plain judge, counting."""

    def __init__(self) -> None:
        self.calls = 0

    def __call__(self, edition: Edition, order: OrderRequest) -> OrderResult:
        self.calls += 1
        return three_plugs(edition, order)


def test_the_same_again_with_its_key(library: Library, kept_checks: OrderCheckStore) -> None:
    """It is not judged again, not even after a newer catalog, and said otherwise it is the same request still."""
    judge = Counted()
    checks = OrderChecks(library, kept_checks, judge)
    first = kept_check(checks, asked(), "order-7")
    publish(library, ANOTHER_PLUG_FIRST)
    for again in (asked(), asked(sets=1, have=[], fuel=None)):
        assert kept_check(checks, again, "order-7") == replace(first, again=True)
    assert judge.calls == 1
    assert not kept_check(checks, asked(), "order-8").again
    assert not kept_check(checks, asked()).again


@pytest.mark.parametrize(
    "other", [asked(WHOLE), asked(sets=2), asked(revision=1), asked(layout=None), asked(gauge="none")]
)
def test_another_request_with_a_key_is_refused(checks: OrderChecks, other: OrderRequest) -> None:
    """And what the key stands for is still there."""
    first = kept_check(checks, asked(), "order-7")
    with pytest.raises(IdempotencyKeyReusedError, match="'order-7'"):
        kept_check(checks, other, "order-7")
    assert kept_check(checks, asked(), "order-7").document == first.document


def test_a_refused_order_does_not_use_up_its_key(checks: OrderChecks) -> None:
    """The order put right comes with the same key."""
    with pytest.raises(RequestFaultsError):
        kept_check(checks, asked(chassis="brok"), "order-7")
    assert not kept_check(checks, asked(), "order-7").again


def met(together: Barrier) -> Check:
    """The plain judge that is done when as many others are."""

    def judge(edition: Edition, order: OrderRequest) -> OrderResult:
        result = three_plugs(edition, order)
        together.wait(10)
        return result

    return judge


def test_two_workers_with_one_key_answer_alike(library: Library, kept_checks: OrderCheckStore) -> None:
    """Both judge, one result is kept, both give that one."""
    checks = OrderChecks(library, kept_checks, met(Barrier(2)))
    with ThreadPoolExecutor(2) as workers:
        first, second = workers.map(lambda _: kept_check(checks, asked(), "order-7"), range(2))
    assert first.document == second.document
    assert {first.again, second.again} == {True, False}


def test_two_workers_with_one_key_and_two_orders(library: Library, kept_checks: OrderCheckStore) -> None:
    """One is kept, the other refused."""
    checks = OrderChecks(library, kept_checks, met(Barrier(2)))
    with ThreadPoolExecutor(2) as workers:
        running = [workers.submit(kept_check, checks, asked(order), "order-7") for order in (ORDER, WHOLE)]
        errors = {type(one.exception()) for one in running}
    assert errors == {IdempotencyKeyReusedError, type(None)}
