"""The catalog looked through: items by kind, by what they meet and fit; the layouts of a car with what they cost."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.domain.work import Meter, metered
from service.usecases.browse import ItemFilter, chassis_layouts, find, find_chassis, find_item, list_items
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.library import Edition
from tests.support.catalogs import GONE, changed, small_catalog
from tests.support.engine import answer_from
from tests.support.engineering_data import told_catalog

ALL = [item["sku"] for item in small_catalog()["items"]]
FITTINGS = ["ADAPT-B8-F6", "SPIGOT-B8-Q"]

FILTERS: dict[str, tuple[dict[str, Any], list[str]]] = {
    "none": ({}, ALL),
    "kind": ({"kind": "fitting"}, FITTINGS),
    "kind that no item has": ({"kind": "bracket"}, []),
    "meets a female boss": ({"mates": ("boss-8", "female")}, ["PLUG-B8", *FITTINGS]),
    "meets a male boss": ({"mates": ("boss-8", "male")}, ["RAIL-S"]),
    "meets a male flare": ({"mates": ("flare-6", "male")}, ["LINE-F6", "REG-F6"]),
    "meets a female taper": ({"mates": ("taper-1/8", "female")}, ["PLUG-T", "GAUGE-T"]),
    "meets a male taper": ({"mates": ("taper-1/8", "male")}, ["RAIL-S", "REG-F6"]),
    "meets a male quick connector": ({"mates": ("quick-3/8", "male")}, []),
    "an end that there is not": ({"mates": ("boss-8", "sideways")}, []),
    "fits the hatchback": (
        {"fits": "brook"},
        [x for x in ALL if x not in ("LINE-F6", "SEAL-B8", "SEALANT", "SCREW-6-LONG")],
    ),
    "fits the coupe": (
        {"fits": "heron"},
        ["RAIL-S", "PLUG-B8", "PLUG-T", *FITTINGS, "GAUGE-T", "LINE-F6", "SCREW-6"],
    ),
    "kind and fits": ({"kind": "line", "fits": "brook"}, []),
    "kind and meets": ({"kind": "gauge", "mates": ("taper-1/8", "female")}, ["GAUGE-T"]),
    "all three": ({"kind": "fitting", "mates": ("boss-8", "female"), "fits": "heron"}, FITTINGS),
}


@pytest.mark.parametrize(("filters", "skus"), FILTERS.values(), ids=FILTERS.keys())
def test_items(edition: Edition, filters: dict[str, Any], skus: list[str]) -> None:
    """What passes every filter, in catalog order."""
    assert [item.sku for item in list_items(edition, ItemFilter(**filters))] == skus


@pytest.mark.parametrize("chassis", ["brook", "heron"])
def test_what_fits_stands_in_a_bill(edition: Edition, chassis: str) -> None:
    """The items that fit a car are those in the lines of all bills of all its layouts, with a gauge and without."""
    standing: set[str] = set()
    for layout in edition.revision.layouts:
        for gauge in ("none", "any"):
            asked = {"chassis": chassis, "layout": layout, "gauge": gauge, "limit": 100, "group_variants": False}
            found = answer_from(edition, asked)
            assert found["total_valid"] == len(found["bills"])
            standing |= {line["sku"] for bill in found["bills"] for line in bill["lines"]}
    assert {item.sku for item in list_items(edition, ItemFilter(fits=chassis))} == standing


UNKNOWN: dict[str, tuple[dict[str, Any], str, str, tuple[str, ...]]] = {
    "port standard": ({"mates": ("boss-6", "male")}, "port standard", "boss-6", ("boss-8",)),
    "chassis": ({"fits": "brok"}, "chassis", "brok", ("brook",)),
}


@pytest.mark.parametrize(("filters", "kind", "value", "near"), UNKNOWN.values(), ids=UNKNOWN.keys())
def test_unknown_filter(
    edition: Edition, filters: dict[str, Any], kind: str, value: str, near: tuple[str, ...]
) -> None:
    """A standard or chassis that is not there is an error that names the nearest."""
    with pytest.raises(NotFoundError) as refused:
        list_items(edition, ItemFilter(**filters))
    assert (refused.value.kind, refused.value.value) == (kind, value)
    assert refused.value.nearest[: len(near)] == near


def test_find(edition: Edition) -> None:
    """A document is found by its id, whatever its section."""
    assert find_item(edition, "PLUG-T").name == "Plug for a 1/8 taper thread"
    assert find(edition.catalog.fuels, "fuel", "e85").name == "E85"
    assert find(edition.catalog.port_standards, "port standard", "taper-1/8").size == "1/8"
    assert find_chassis(edition, "heron").banks == 2


def test_find_tells_the_nearest(edition: Edition) -> None:
    """An id that is not there is an error that names what was looked for and the nearest ids."""
    with pytest.raises(NotFoundError) as item:
        find_item(edition, "plug-t9")
    assert (item.value.kind, item.value.value, item.value.nearest[0]) == ("item", "plug-t9", "PLUG-T")
    with pytest.raises(NotFoundError, match="no fuel 'petrl'") as fuel:
        find(edition.catalog.fuels, "fuel", "petrl")
    assert fuel.value.nearest == ("petrol",)
    with pytest.raises(NotFoundError) as chassis:
        find_chassis(edition, "zzz")
    assert (chassis.value.kind, chassis.value.nearest) == ("chassis", ())


def edition_of(changes: dict[str, Any]) -> Edition:
    return Edition(1, Catalog.model_validate(changed(small_catalog(), changes)))


PLUG_VARIANT = small_catalog()["items"][1] | {"sku": "PLUG-B8-M", "family": "plug", "price": 850}
CATALOGS: dict[str, dict[str, Any]] = {
    "as it is": {},
    "with variants": {"/items/1/family": "plug", "/items/-": PLUG_VARIANT},
    "without a plug": {"/items/1/status": "retired"},
    "with little room": {"/chassis/0/clearances/0/axial_mm": 20},
}


@pytest.mark.parametrize("changes", CATALOGS.values(), ids=CATALOGS.keys())
@pytest.mark.parametrize("chassis", ["brook", "heron"])
def test_layouts_say_what_their_bills_say(chassis: str, changes: dict[str, Any]) -> None:
    """Count and lowest price are those of a request without wishes; without a bill a rule says why."""
    edition = edition_of(changes)
    choices = chassis_layouts(edition, chassis)
    assert [choice["layout"] for choice in choices] == [layout.id for layout in edition.catalog.layouts]
    for choice in choices:
        found = answer_from(edition, {"chassis": chassis, "layout": choice["layout"]})
        prices = [bill["price"] for bill in found["bills"]]
        assert choice["total_valid"] == found["total_valid"]
        assert choice["lowest_price"] == min(prices, default=None)
        assert (choice["ruled_out_by"] is None) == bool(prices)


def test_a_layout_that_takes_too_much_work_says_so_alone() -> None:
    """The others are told as ever; so it is again, though much is kept by then."""
    edition = edition_of({})
    told = chassis_layouts(edition, "brook")
    with metered(Meter()) as meter:
        chassis_layouts(edition, "brook")
    for limit in (meter.spent // 2, meter.spent // 3):
        for ready in (edition_of({}), edition, edition):
            with metered(Meter(limit)):
                found = chassis_layouts(ready, "brook")
            costly = [one["layout"] for one in found if one["too_costly"]]
            assert 0 < len(costly) < len(found)
            for one, other in zip(found, told, strict=True):
                if one["too_costly"]:
                    assert one["total_valid"] is one["lowest_price"] is one["ruled_out_by"] is one["power"] is None
                    assert one["too_costly"].startswith("Not worked out among all layouts: so many parts ")
                else:
                    assert one == other


@pytest.mark.parametrize("fuel", ["petrol", "e85"])
def test_the_largest_power_of_a_layout_is_that_of_its_best_bill(edition: Edition, fuel: str) -> None:
    """The figure of the plumbing is that of the bill whose plumbing is enough for most, whatever power is asked for."""
    for choice in chassis_layouts(edition, "brook", {"fuel": fuel}):
        asked = {"chassis": "brook", "layout": choice["layout"], "fuel": fuel, "power_kw": 0.1}
        bills = answer_from(edition, asked | {"limit": 100, "group_variants": False})["bills"]
        powers = [bill["sizing"]["largest_power_kw"] for bill in bills]
        assert choice["largest_power_kw"] == pytest.approx(max(powers, default=None))


def test_layouts_on_an_unknown_fuel(edition: Edition) -> None:
    """An unknown fuel is an error that names the nearest."""
    with pytest.raises(RequestFaultsError) as refused:
        chassis_layouts(edition, "brook", {"fuel": "petral"})
    [fault] = refused.value.faults
    assert (fault.pointer, fault.nearest) == ("/fuel", ("petrol",))


WISHED: dict[str, dict[str, Any]] = {
    "none": {},
    "power and boost": {"power_kw": 120, "boost_kpa": 50, "fuel": "e85"},
    "an add-on and a gauge": {"addons": ["blower"], "gauge": "any"},
    "facts": {"injectors": {"static_l_h": 9, "rated_kpa": 300}, "regulator": {"set_kpa": 400}, "order_by": "power"},
    "in stock, of some finish": {"in_stock_only": True, "finish": "slate", "group_variants": False},
}


@pytest.mark.parametrize("wishes", WISHED.values(), ids=WISHED.keys())
def test_layouts_take_every_wish(wishes: dict[str, Any]) -> None:
    """Each layout says what a request for bills with the same wishes and facts says."""
    edition = Edition(1, Catalog.model_validate(told_catalog()))
    for choice in chassis_layouts(edition, "brook", wishes):
        found = answer_from(edition, {"chassis": "brook", "layout": choice["layout"], "limit": 100} | wishes)
        assert choice["total_valid"] == found["total_valid"]
        assert choice["power"] == (found["bills"][0]["power"] if found["bills"] else None)
        assert choice["lowest_price"] == min([bill["price"] for bill in found["bills"]], default=None)


OBSTACLES: dict[str, tuple[dict[str, Any], str, str, str, str]] = {
    "banks": ({}, "brook", "linked-banks", "layout", "is for engines with two banks; this one has one"),
    "banks the other way": ({}, "heron", "factory", "layout", "is for engines with one bank; this one has two"),
    "hookup": ({"/chassis/0/hookups/0": GONE}, "brook", "factory", "layout", "which this car does not offer"),
    "pattern": ({"/chassis/0/pattern": "lone-three"}, "brook", "factory", "pattern", "No rail in the catalog is made"),
    "clearance": (
        {"/chassis/0/clearances/0/axial_mm": 20},
        *("brook", "hose-centre", "clearance", "only 20 mm (0.79 in) is free"),
    ),
    "reach": (
        {"/chassis/0/hookups/0/spots/left/max_mm": 25},
        *("brook", "factory", "reach", "reached only at 20 mm (0.79 in) to 25 mm (0.98 in)"),
    ),
    "retired": ({"/items/1/status": "retired"}, "brook", "factory", "supply", "No longer made"),
    "pressure": ({"/items/0/max_kpa": 200}, "brook", "factory", "pressure", "Stands only 200 kPa (29 psi)"),
    "fuel": ({"/materials/0/ratings/petrol": "D"}, "brook", "factory", "fuel", "does not stand Petrol (rated D)"),
    "flow": ({"/policies/max_velocity_m_s": 0.2}, "brook", "hose-centre", "flow", "over the limit of 0.2 m/s"),
}


@pytest.mark.parametrize(("changes", "chassis", "layout", "rule", "words"), OBSTACLES.values(), ids=OBSTACLES.keys())
def test_what_rules_a_layout_out(changes: dict[str, Any], chassis: str, layout: str, rule: str, words: str) -> None:
    """One thing in the way: the layout says its rule, in words."""
    (choice,) = [x for x in chassis_layouts(edition_of(changes), chassis) if x["layout"] == layout]
    assert (choice["total_valid"], choice["lowest_price"]) == (0, None)
    told = choice["ruled_out_by"]
    assert told is not None
    assert told["rule"] == rule
    assert words in told["text"]


def test_layouts_of_an_unknown_chassis(edition: Edition) -> None:
    """An unknown chassis is an error that names the nearest."""
    with pytest.raises(NotFoundError) as refused:
        chassis_layouts(edition, "herron")
    assert refused.value.nearest == ("heron",)
