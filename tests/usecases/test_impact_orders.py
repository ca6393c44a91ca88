"""Kept order checks that a catalog judges otherwise: counted and listed, and judged again only where that is due."""

from random import Random

from service.documents.order import OrderRequest
from service.domain.work import Meter
from service.storage.order_checks import OrderCheckStore
from service.usecases.impact_orders import OrderSide, is_otherwise, orders_told
from service.usecases.keep_order_check import OrderChecks
from service.usecases.library import Edition, Library
from tests.support.catalogs import changed, small_catalog
from tests.support.engine import edition
from tests.support.keeping import kept_check
from tests.support.orders import ORDER
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited
from tests.support.random_orders import random_order, with_history
from tests.usecases.counting_store import CountingStore


def compare(seed: int) -> list[bool]:
    """Whether each of some random orders is judged otherwise after random edits: as judging it twice says."""
    rng = Random(seed)
    before = with_history(rng, random_catalog(rng))
    after = edited(rng, before, most=2)
    old, new = (OrderSide(edition(one), Meter) for one in (before, after))
    found = []
    for _ in range(6):
        asked = OrderRequest.model_validate(random_order(rng, before))
        found.append(is_otherwise(asked, old, new))
        assert found[-1] == (old.judgement(asked) != new.judgement(asked)), asked
    return found


def test_an_order_is_judged_again_where_that_may_be_otherwise() -> None:
    assert {one for seed in range(12) for one in compare(seed)} == {True, False}


def test_what_is_judged_otherwise_is_listed(library: Library, store: CountingStore) -> None:
    """By a catalog in which a part of the order is retired; not by a dearer one."""
    checks = OrderCheckStore(store._database)
    made = kept_check(OrderChecks(library, checks), OrderRequest.model_validate(ORDER))
    before = library.edition()
    sku = ORDER["lines"][0]["sku"]
    place = next(n for n, item in enumerate(small_catalog()["items"]) if item["sku"] == sku)
    for change, ids in (("price", []), ("status", [made.id])):
        value = "retired" if change == "status" else 7
        after = Edition(9, edition(changed(small_catalog(), {f"/items/{place}/{change}": value})).catalog)
        assert orders_told(before, after, checks) == {"looked_at": 1, "otherwise": len(ids), "ids": ids}
    assert orders_told(before, before, None) == {"looked_at": 0, "otherwise": 0, "ids": []}
