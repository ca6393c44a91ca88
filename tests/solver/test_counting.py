"""The count is what repeated listing shows, and bills that come about twice count once."""

from copy import deepcopy

import pytest

from service.usecases.library import Edition
from tests.solver.medium import GAUGE_SPOTS, RAILS, REQUESTS, medium_catalog, medium_request
from tests.support.builders import FACTORY, GONE, HOSE, Json, catalog, layout, own_hose, part, twin
from tests.support.engine import answer_from, edition
from tests.support.reading import ask


@pytest.fixture(scope="module")
def medium() -> Edition:
    return edition(medium_catalog())


@pytest.mark.parametrize("name", REQUESTS)
def test_count_is_what_is_listed(medium: Edition, name: str) -> None:
    """Listing the bills of each rail and each gauge spot, at most 100 at once, shows as many as are counted."""
    request = medium_request(name, limit=100, group_variants=False)
    gauges = GAUGE_SPOTS if request.get("gauge") == "any" else ("none",)
    seen: set[str] = set()
    for rail in RAILS:
        others = [other for other in RAILS if other != rail]
        for gauge in gauges:
            part = request | {"exclude": [*request.get("exclude", []), *others], "gauge": gauge}
            found = answer_from(medium, part)
            assert len(found["bills"]) == found["total_valid"] <= 100
            seen |= {f"{rail} {bill['duties']} {bill['chains']}" for bill in found["bills"]}
    total = answer_from(medium, request)["total_valid"]
    assert total == len(seen) > 10


@pytest.mark.parametrize("name", REQUESTS)
def test_groups_are_what_is_listed(medium: Edition, name: str) -> None:
    """With variants grouped, as many groups are counted as differ once families stand for SKUs."""
    families = {sku: item.family or sku for sku, item in medium.items.items()}
    request = medium_request(name, limit=100, group_variants=True)
    found = answer_from(medium, request)
    groups = {
        (
            families[bill["lines"][0]["sku"]],
            *((spot, *(families[sku] for sku in chain)) for spot, chain in bill["chains"].items()),
        )
        for bill in found["bills"]
    }
    assert len(groups) == len(found["bills"]) == found["total_valid"] > 0


@pytest.mark.parametrize(("grouped", "total"), [pytest.param(False, 2, id="bills"), pytest.param(True, 1, id="groups")])
def test_placement_twice(grouped: bool, total: int) -> None:
    """Two placements that lead to one and the same bill count it once."""
    placement = {"centre": {"duty": "feed", "hookup": own_hose()}}
    document = catalog({"layouts/-": layout(placement, deepcopy(placement))})
    document["items"][0]["family"] = "rail"
    document["items"].append(twin("RAIL-S", "RAIL-B", finish="black"))
    found = ask(document, HOSE | {"layout": "own", "group_variants": grouped})
    assert (found["total_valid"], len(found["bills"])) == (total, total)


def test_placements_that_overlap() -> None:
    """Of two placements with the same duties, a bill of both counts once, and one of either alone as well."""
    either, fitted = ({"centre": {"duty": "feed", "hookup": own_hose(), "via": via}} for via in ([], ["fitting"]))
    line = part("LINE-B", "line", ("boss-8", "male"), ("flare-6", "male"))
    found = ask(catalog({"layouts/-": layout(fitted, either), "items/-": line}), HOSE | {"layout": "own"})
    assert [bill["chains"]["centre"] for bill in found["bills"]] == [["LINE-B"], ["ADAPT-B8-F6"]]
    assert found["total_valid"] == 2


def test_placements_apart() -> None:
    """Placements with other duties count each for itself."""
    found = ask(catalog({"chassis/brook/hookups/0/spots": GONE}), FACTORY)
    assert found["total_valid"] == len(found["bills"]) == 2


@pytest.mark.parametrize("limit", [1, 3, 50])
def test_limit_does_not_count(medium: Edition, limit: int) -> None:
    """The count is of all bills, however few are listed."""
    request: Json = medium_request("gauge", group_variants=False)
    whole, short = answer_from(medium, request | {"limit": 100}), answer_from(medium, request | {"limit": limit})
    assert short["total_valid"] == whole["total_valid"]
    assert short["bills"] == whole["bills"][:limit]


@pytest.mark.parametrize("sku", ["PLUG-B8", "PLUG-O", "ADAPT-N"])
def test_price_beyond_what_is_had(medium: Edition, sku: str) -> None:
    """With one unit had, a price limit counts as many bills as cost no more, whichever spot takes the further ones."""
    request = medium_request("excluded", limit=100, group_variants=False, have=[{"sku": sku, "qty": 1}])
    prices = [bill["price"] for bill in answer_from(medium, request)["bills"]]
    counted = {price: answer_from(medium, request | {"max_price": price})["total_valid"] for price in set(prices)}
    assert counted == {price: sum(other <= price for other in prices) for price in counted}
