"""What the grammar of a question tells: what `it` is, what is ordered politely, what is denied, and what is asked."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.usecases.library import Edition
from tests.reading.question_catalogs import editions
from tests.reading.question_parts import addon
from tests.reading.sixth_catalog import sixth_catalog

PLACED = [
    ("Fennic 1.6 needs a gauge but there is just 28 mm at the top, so put it on the right", "right"),
    ("Fennic 1.6, a gauge please. No room at the left, it must go on the top", "top"),
    ("Fennic 1.6, a gauge wherever it fits", "any"),
    ("Fennic 1.6, don't forget the gauge on the left", "left"),
    ("Could you price a Fennic 1.6, factory line, with a gauge at the top?", "top"),
    ("Fennic 1.6, gauge on top, otherwise stock", "top"),
    ("Fennic 1.6, factory line. Gauge? Yes, on top.", "top"),
    ("I'd be glad if you could quote a Fennic 1.6 with a gauge on the right", "right"),
]
DOUBTFUL = [
    ("Fennic 1.6, a gauge. And the coil at last, put it on the left", "gauge"),
    ("Fennic 1.6, a gauge where there is more room", "gauge"),
    ("Fennic 1.6, a gauge, but nothing on the right", "gauge"),
    ("Fennic 1.6, all in satin except the gauge", "gauge"),
    ("Could you send a price with a gauge and without, Fennic 1.6?", "gauge"),
    ("Fennic 1.6, is it in the price, gauge included?", "gauge"),
    ("Fennic 1.6, factory line, could you send the graphite rail back?", "finish"),
    ("Will the factory line carry 180 kW on a Fennic 2.0?", "layout"),
    ("Fennic 1.6, own hose size 6 to the centre, into the left end", "layout"),
    ("Fennic 1.6, the factory line is broken", "layout"),
    ("Fennic 1.6, 40 mm at the left and 20 at the top maybe", "clearances"),
    ("Fennic 1.6, 150 hp would be a dream", "power_kw"),
    ("Fennic 1.6, must not be under 300 euros", "max_price"),
    ("Fennic 1.6, only what is on the shelf, except the gauge", "in_stock_only"),
    ("Fennic 1.6, the rail was made by a mate", "own_rail"),
    ("Fennic 1.6, 7 psi of boost. No, this one has no boost", "boost_kpa"),
    ("Fennic 1.6, the turbo kit for the Tor doesn't fit", "addons"),
    ("Fennic 1.6, the turbo kit for the Tor is still in its box", "addons"),
    ("Could you price this: should I have a gauge on a Fennic 1.6?", "gauge"),
]
HEARD: list[tuple[str, dict[str, Any]]] = [
    ("I have a Fennic 1.6 and want the factory line, in graphite", {"layout": "factory-line", "finish": "graphite"}),
    ("Fennic 1.6 graphite, not satin", {"finish": "graphite"}),
    ("Quillon, keep its own line", {"layout": "factory-line"}),
    ("Sedge van, 5/16 factory line", {"layout": "factory-line"}),
    ("Morrow coupe, factory line on one bank and a link across to the other", {"layout": "pair-factory-line-link"}),
    ("Pellam 3.0, 8 hose straight in the centre", {"layout": "own-hose-8-centre"}),
    ("Pellam 3.0, hose 8 at the centre", {"layout": "own-hose-8-centre"}),
    ("Fennic 1.6, return-6, regulator on the rail", {"layout": "return-6-regulator"}),
    ("Fennic 1.6, size 6 return, regulator in the engine bay", {"layout": "return-6"}),
    ("Pellam, not the sport", {"chassis": "pellam-30"}),
    ("Fennic 1.6, 300 euros and not a penny more", {"max_price": 30000}),
    ("Fennic 1.6, feed hose 2 m and return 3", {"feed_hose_m": 2.0, "return_hose_m": 3.0}),
    ("Fennic 1.6, the rail, part number rail-tor-4-satin, is here", {"have": [{"sku": "rail-tor-4-satin", "qty": 1}]}),
    (
        "Fennic 1.6, room on the left is 5 cm and 35 mm across",
        {"clearances": [{"spot": "left", "axial_mm": 50.0, "across_mm": 35.0}]},
    ),
    (
        "Fennic 1.6, 40 mm of room at the left and 35 at the top",
        {"clearances": [{"spot": "left", "axial_mm": 40.0}, {"spot": "top", "axial_mm": 35.0}]},
    ),
]
OF_OTHERS = [
    ("Fennic 1.6 towing a horse box", "power_kw"),
    ("Fennic 1.6. Tyres at 2.2 bar, no boost", "boost_kpa"),
    ("Fennic 1.6, the fuel gauge in the dash is dead", "gauge"),
    ("I have a Fennic 1.6 and want new wheels in graphite", "finish"),
    ("Fennic 1.6, a gauge-600-satin is lying on the shelf", "in_stock_only"),
]


@pytest.mark.parametrize("code", ["Q3", "R2"])
def test_a_code_that_no_car_has_names_none(code: str) -> None:
    reading = editions()["third"].question_reader.read(f"Zell {code}, works line")
    assert "chassis" not in reading.request
    assert reading.unknown is not None


@pytest.mark.parametrize(("text", "place"), PLACED)
def test_a_gauge_is_where_the_sentence_puts_it(text: str, place: str) -> None:
    assert editions()["seed"].question_reader.read(text).request["gauge"] == place


@pytest.mark.parametrize(("text", "field"), DOUBTFUL)
def test_what_may_be_otherwise_is_asked(text: str, field: str) -> None:
    reading = editions()["seed"].question_reader.read(text)
    assert field in {one.field for one in reading.open}
    assert field not in reading.request or field in ("addons", "clearances")


@pytest.mark.parametrize(("text", "told"), HEARD)
def test_what_is_plain_is_heard(text: str, told: dict[str, Any]) -> None:
    request = editions()["seed"].question_reader.read(text).request
    assert {field: request.get(field) for field in told} == told


@pytest.mark.parametrize(("text", "field"), OF_OTHERS)
def test_what_is_said_of_another_thing_opens_nothing(text: str, field: str) -> None:
    reading = editions()["seed"].question_reader.read(text)
    assert field not in {*reading.request, *(one.field for one in reading.open)}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Vantry V6 with a big hose, Dash 8 to each bank", {"chassis": "vantry-v6", "layout": "v-d8-each"}),
        ("Shoebox 1.4, Dash 6 middle entry", {"chassis": "limmer-14", "layout": "d6-mid"}),
        ("my duke on the factory pipe", {"chassis": "brannoch", "layout": "tank-line"}),
        ("big Vantry, bar fitted", {"chassis": "vantry-v8", "addons": ["mast-brace"]}),
        ("Brannoch, bar fitted, metallic finish", {"addons": ["tower-brace"], "finish": "metallic"}),
        ("Brannoch, factory pipe, metallic paint", {"layout": "tank-line", "finish": None}),
    ],
)
def test_nicknames_shared_names_and_finishes_are_the_catalogs(text: str, told: dict[str, Any]) -> None:
    request = _nicknamed().question_reader.read(text).request
    assert {field: request.get(field) for field in told} == told


def _nicknamed() -> Edition:
    """The sixth catalog with nicknames of everyday words, one of them of two add-ons, and a finish that cars have."""
    document = sixth_catalog()
    nicknames = {"limmer-14": "shoebox", "brannoch": "the duke"}
    for one in document["chassis"]:
        one["aliases"] = [*one.get("aliases", ()), *filter(None, [nicknames.get(one["id"])])]
    for one in document["addons"]:
        one["aliases"] = ["bar"] if one["id"] == "tower-brace" else []
    document["addons"].append(
        addon("mast-brace", "Brace of two banks", 0.0, "vantry-v6", "vantry-v8", aliases=("bar",))
    )
    for one in document["items"]:
        one |= {"finish": "metallic"} if one.get("finish") == "polished" else {}
    return Edition(1, Catalog.model_validate(document))
