"""The slow solver against tiny catalogs whose answers are worked out by hand."""

from collections.abc import Callable
from math import pi
from typing import Any

import pytest

from tests.support.brute_force import OracleBill, all_bills, grouped, ordered

Json = dict[str, Any]
ASK: Json = {"chassis": "car", "layout": "hose"}
FLOW: Json = {"bore_mm": 10.0, "length_mm": 0, "loss_k": 4.0, "roughness_mm": 0.0}


def item(sku: str, kind: str, *ports: str, **more: Any) -> Json:
    """An item; ports as `boss male`, on rails as `boss female left`."""
    named = [dict(zip(("standard", "end", "spot"), port.split(), strict=False)) for port in ports]
    base = {"sku": sku, "kind": kind, "sold": True, "status": "active", "price": 10, "stock": 9, "lead_days": 1}
    return base | {"ports": named, "wetted": []} | more


def catalog(**sections: Any) -> Json:
    """A rail with a spot `left` and a spot `right`, an adapter and a plug; own hose to the left. Sections replaced."""
    base: Json = {
        "fuels": [
            {
                "id": "spirit",
                "density_kg_m3": 800.0,
                "viscosity_mpa_s": 0.5,
                "bsfc_g_kwh": {"na": 400.0, "boosted": 800.0},
            }
        ],
        "materials": [{"id": "rubber", "ratings": {"spirit": "D"}}],
        "items": [rail(), adapter(), plug()],
        "chassis": [car()],
        "addons": [],
        "layouts": [{"id": "hose", "banks": 1, "placements": [{"left": hose("feed")}]}],
        "policies": {
            "max_chain": 3,
            "flow_margin": 1.0,
            "max_feed_drop_kpa": 100,
            "max_return_drop_kpa": 100,
            "max_velocity_m_s": 100,
            "recirculation": 2.0,
        },
    }
    return base | sections


def car(**more: Any) -> Json:
    base = {"id": "car", "banks": 1, "pattern": "p", "base_kpa": 300, "stock_kw": 72}
    return base | {"hookups": [], "clearances": [], "mounting": []} | more


def rail(sku: str = "RAIL", price: int = 100, **more: Any) -> Json:
    return item(sku, "rail", "boss female left", "boss female right", price=price, patterns=["p"]) | more


def adapter(sku: str = "ADAPTER", **more: Any) -> Json:
    return item(sku, "fitting", "boss male", "flare male") | more


def plug(sku: str = "PLUG", **more: Any) -> Json:
    return item(sku, "plug", "boss male") | more


def hose(duty: str, **more: Any) -> Json:
    return {"duty": duty, "hookup": {"kind": "own-hose", "standard": "flare", "end": "female"} | more}


def chains_of(bills: list[OracleBill]) -> list[str]:
    """Each bill as its rail and its chains by spot, in order."""
    return [
        " ".join([bill.rail, *(f"{spot}:{','.join(bill.chains[spot])}" for spot in sorted(bill.chains))])
        for bill in ordered(bills, {})
    ]


def with_items(*more: Json) -> Json:
    return catalog(items=[rail(), adapter(), plug(), *more])


SETS: dict[str, tuple[Json, Json, list[str]]] = {
    "adapter and plug": (catalog(), {}, ["RAIL left:ADAPTER right:PLUG"]),
    "cheaper plug first": (
        with_items(plug("CHEAP", price=9)),
        {},
        ["RAIL left:ADAPTER right:CHEAP", "RAIL left:ADAPTER right:PLUG"],
    ),
    "tie goes by chain": (
        with_items(plug("ALPHA")),
        {},
        ["RAIL left:ADAPTER right:ALPHA", "RAIL left:ADAPTER right:PLUG"],
    ),
    "two-part chain": (
        catalog(
            items=[
                rail(),
                item("REDUCER", "fitting", "boss male", "tube male"),
                plug(),
                item("TUBE", "fitting", "tube female", "flare male"),
            ]
        ),
        {},
        ["RAIL left:REDUCER,TUBE right:PLUG"],
    ),
    "no needless part": (
        with_items(item("RISER", "fitting", "boss male", "boss female")),
        {},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "side plug after its item": (
        catalog(
            items=[
                rail(),
                item("TEE", "fitting", "tap female", "boss male", "flare male"),
                plug(),
                plug("TAP", ports=[{"standard": "tap", "end": "male"}]),
            ]
        ),
        {},
        ["RAIL left:TEE,TAP right:PLUG"],
    ),
    "supplied plug is used": (
        catalog(
            items=[
                rail(supplied=[{"sku": "BOXED", "qty": 1, "spot": "right"}]),
                adapter(),
                plug(),
                plug("BOXED", status="retired"),
            ]
        ),
        {},
        ["RAIL left:ADAPTER right:BOXED"],
    ),
    "supplied plug excluded": (
        catalog(items=[rail(supplied=[{"sku": "BOXED", "qty": 1, "spot": "right"}]), adapter(), plug(), plug("BOXED")]),
        {"exclude": ["BOXED"]},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "retired": (with_items(plug("OLD", status="retired")), {}, ["RAIL left:ADAPTER right:PLUG"]),
    "unsold only where nothing sold serves": (
        with_items(plug("GENERIC", sold=False)),
        {},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "unsold where the sold one is too long": (
        catalog(
            items=[rail(), adapter(), plug(standout_mm=9.001), plug("GENERIC", sold=False, standout_mm=9.0004)],
            chassis=[car(clearances=[{"spot": "right", "axial_mm": 9}])],
        ),
        {},
        ["RAIL left:ADAPTER right:GENERIC"],
    ),
    "unsold not allowed": (catalog(items=[rail(), adapter(), plug(sold=False)]), {"allow_unsold": False}, []),
    "out of stock does not make room for unsold": (
        catalog(items=[rail(), adapter(), plug(stock=0), plug("GENERIC", sold=False)]),
        {"in_stock_only": True},
        [],
    ),
    "too wide": (
        with_items(plug("WIDE", across_mm=30)),
        {"clearances": [{"spot": "right", "across_mm": 29.9}]},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "not for the fuel": (with_items(plug("SOFT", wetted=["rubber"])), {}, ["RAIL left:ADAPTER right:PLUG"]),
    "not for the pressure": (
        with_items(plug("WEAK", max_kpa=349)),
        {"boost_kpa": 50},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "just for the pressure": (
        catalog(items=[rail(), adapter(), plug(max_kpa=350)]),
        {"boost_kpa": 50},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "other pattern": (with_items(rail("RAIL-Q", patterns=["q"])), {}, ["RAIL left:ADAPTER right:PLUG"]),
    "finish of rail and of a family that has it": (
        catalog(
            items=[
                rail(finish="red"),
                rail("RAIL-K", finish="black"),
                adapter(finish="black"),
                plug("PLUG-K", family="plugs", finish="black"),
                plug("PLUG-R", family="plugs", finish="red"),
            ]
        ),
        {"finish": "red"},
        ["RAIL left:ADAPTER right:PLUG-R"],
    ),
    "within the budget": (with_items(plug("DEAR", price=11)), {"max_price": 120}, ["RAIL left:ADAPTER right:PLUG"]),
    "gauge anywhere": (
        catalog(
            items=[
                item(
                    "BAR", "rail", "boss female left", "boss female right", "boss female top", price=100, patterns=["p"]
                ),
                adapter(),
                plug(),
                item("DIAL", "gauge", "boss male"),
            ]
        ),
        {"gauge": "any"},
        ["BAR left:ADAPTER right:DIAL top:PLUG", "BAR left:ADAPTER right:PLUG top:DIAL"],
    ),
    "gauge on a spot with fuel": (with_items(item("DIAL", "gauge", "boss male")), {"gauge": "left"}, []),
    "same bill from two placements": (
        catalog(layouts=[{"id": "hose", "banks": 1, "placements": [{"left": hose("feed")}, {"left": hose("feed")}]}]),
        {},
        ["RAIL left:ADAPTER right:PLUG"],
    ),
    "regulator only via": (
        catalog(
            items=[rail(), adapter(), item("REG", "regulator", "flare female", "flare male", "boss female"), plug()],
            layouts=[
                {
                    "id": "hose",
                    "banks": 1,
                    "placements": [{"left": hose("feed"), "right": hose("return") | {"via": ["regulator"]}}],
                }
            ],
        ),
        {},
        ["RAIL left:ADAPTER right:ADAPTER,REG,PLUG"],
    ),
    "reach of the car's line": (
        catalog(
            items=[rail(), adapter(standout_mm=20), adapter("LONG", standout_mm=40), plug()],
            chassis=[
                car(
                    hookups=[
                        {
                            "id": "factory-line",
                            "standard": "flare",
                            "end": "female",
                            "spots": {"left": {"min_mm": 30, "max_mm": 40}},
                        }
                    ]
                )
            ],
            layouts=[
                {
                    "id": "hose",
                    "banks": 1,
                    "placements": [
                        {"left": {"duty": "feed", "hookup": {"kind": "factory-line"}}},
                        {"right": {"duty": "feed", "hookup": {"kind": "factory-line"}}},
                    ],
                }
            ],
        ),
        {},
        ["RAIL left:LONG right:PLUG"],
    ),
    "layout for two banks": (
        catalog(layouts=[{"id": "hose", "banks": 2, "placements": [{"1.left": hose("feed")}]}]),
        {},
        [],
    ),
    "car without the hookup": (
        catalog(
            layouts=[
                {"id": "hose", "banks": 1, "placements": [{"left": {"duty": "feed", "hookup": {"kind": "bulkhead"}}}]}
            ]
        ),
        {},
        [],
    ),
}


@pytest.mark.parametrize(("parts", "wishes", "expected"), SETS.values(), ids=SETS)
def test_sets(parts: Json, wishes: Json, expected: list[str]) -> None:
    """The set of bills of each tiny catalog is the one worked out by hand."""
    assert chains_of(all_bills(parts, ASK | wishes)) == expected


def twin_banks(**more: Any) -> Json:
    """Two banks: hose to 1.left, a link from 1.right to 2.right."""
    placement = {
        "1.left": hose("feed"),
        "1.right": {"duty": "link", "to_spot": "2.right"},
        "2.right": {"duty": "link", "to_spot": "1.right"},
    }
    items = [
        rail(),
        adapter(standout_mm=20),
        plug(),
        item("CROSS", "line", "flare female", "flare female", standout_mm=500),
    ]
    base = catalog(items=items, chassis=[car(banks=2)], layouts=[{"id": "hose", "banks": 2, "placements": [placement]}])
    return base | more


def test_two_banks() -> None:
    """Two rails are bought, the link is listed once, and a line's own length does not count as standout."""
    (bill,) = all_bills(twin_banks(chassis=[car(banks=2, clearances=[{"spot": "2.right", "axial_mm": 20}])]), ASK)
    assert bill.chains == {"1.left": ("ADAPTER",), "1.right": ("ADAPTER", "CROSS", "ADAPTER"), "2.left": ("PLUG",)}
    assert bill.lines == {("RAIL", 2, "buy"), ("ADAPTER", 3, "buy"), ("CROSS", 1, "buy"), ("PLUG", 1, "buy")}
    assert (bill.price, bill.pieces) == (250, 7)


def test_link_clears_at_its_far_end() -> None:
    """A link is held to the clearance of the spot where it ends as well."""
    assert not all_bills(twin_banks(chassis=[car(banks=2, clearances=[{"spot": "2.right", "axial_mm": 19}])]), ASK)


def test_stock_counts_both_rails() -> None:
    """One rail in stock is not enough for two banks."""
    scarce = [rail(stock=1), adapter(), plug(), item("CROSS", "line", "flare female", "flare female")]
    assert not all_bills(twin_banks(items=scarce), ASK | {"in_stock_only": True})


def test_groups() -> None:
    """Two plugs of one family on two closed spots: four bills, one group, shown as its cheapest bill."""
    bar = item("BAR", "rail", *(f"boss female {spot}" for spot in ("left", "right", "top")), patterns=["p"])
    parts = catalog(items=[bar, adapter(), plug("DEAR", family="plugs", price=11), plug("CHEAP", family="plugs")])
    bills = all_bills(parts, ASK)
    (group,) = grouped(bills, ASK)
    assert len(bills) == 4
    assert group.first.chains == {"left": ("ADAPTER",), "right": ("CHEAP",), "top": ("CHEAP",)}
    assert group.choices == {"BAR": set(), "ADAPTER": set(), "CHEAP": {"DEAR"}}


@pytest.mark.parametrize(
    ("order_by", "first"),
    [("price", "SLOW"), ("pieces", "SLOW"), ("lead", "WIDE"), ("drop", "WIDE")],
)
def test_order(order_by: str, first: str) -> None:
    """A cheap adapter with a narrow bore and a long lead time comes first by price alone."""
    slow = adapter("SLOW", price=5, lead_days=9, flow=FLOW | {"bore_mm": 3.0})
    wide = adapter("WIDE", price=6, flow=FLOW)
    request = ASK | {"order_by": order_by}
    bills = ordered(all_bills(catalog(items=[rail(), slow, wide, plug()]), request), request)
    assert bills[0].chains["left"] == (first,)


# 72 kW at 400 g/kWh and 800 kg/m3 burn 36 l/h = 1e-5 m3/s; through 10 mm that is 4e-1/pi m/s.
VELOCITY_M_S = 0.4 / pi
MINOR_KPA = 4.0 * 800 * VELOCITY_M_S**2 / 2 / 1000


def flowing(change: Callable[[Json], Json] = dict, **placement: Json) -> OracleBill:
    """The only bill of a catalog whose adapter has a minor loss alone."""
    parts = catalog(
        items=[rail(), adapter(flow=FLOW), plug()],
        layouts=[{"id": "hose", "banks": 1, "placements": [placement]}],
    )
    (bill,) = all_bills(change(parts), ASK)
    return bill


def test_minor_loss() -> None:
    """K rho v^2 / 2 at the engine's demand."""
    (path,) = flowing(left=hose("feed")).paths
    assert (path.flow_l_h, path.peak_m_s, path.drop_kpa) == pytest.approx((36.0, VELOCITY_M_S, MINOR_KPA))


def test_laminar_friction() -> None:
    """Below Re 2040 a smooth metre drops 128 mu L Q / (pi D^4), as Hagen and Poiseuille found."""
    hose_flow = {"bore_mm": 20.0, "length_mm": 1000.0, "loss_k": 0.0, "roughness_mm": 0.05}
    (path,) = flowing(left=hose("feed", flow=hose_flow)).paths
    poiseuille_kpa = 128 * 0.5e-3 * 1.0 * 1e-5 / (pi * 0.02**4) / 1000
    assert path.drop_kpa == pytest.approx(MINOR_KPA + poiseuille_kpa)


def test_turbulent_friction() -> None:
    """At Re 1e5 and relative roughness 0.001 the Moody chart reads f = 0.0222."""
    velocity_m_s = 1e5 * 0.5e-3 / (800 * 0.01)
    flow_l_h = velocity_m_s * pi / 4 * 0.01**2 * 3.6e6
    pipe = {"bore_mm": 10.0, "length_mm": 1000.0, "loss_k": 0.0, "roughness_mm": 0.01}
    parts = catalog(
        items=[rail(), adapter(flow=pipe), plug()],
        chassis=[car(stock_kw=flow_l_h * 800 / 400)],
        policies=catalog()["policies"] | {"max_feed_drop_kpa": 1e6},
    )
    (bill,) = all_bills(parts, ASK)
    assert bill.drop_kpa == pytest.approx(0.0222 * 100 * 800 * velocity_m_s**2 / 2 / 1000, rel=0.003)


def test_feeds_share() -> None:
    """With losses of K = 4 and K = 4 + 12 the flow splits two to one, and the drops agree."""
    narrow = FLOW | {"loss_k": 12.0}
    bill = flowing(left=hose("feed"), right=hose("feed", flow=narrow))
    flows = {path.spots[0]: path.flow_l_h for path in bill.paths}
    assert flows == pytest.approx({"left": 24.0, "right": 12.0})
    assert [path.drop_kpa for path in bill.paths] == pytest.approx([MINOR_KPA * 4 / 9] * 2)


def test_return_carries_the_recirculation() -> None:
    """With a return both paths carry twice the demand here, and the rail's own drop counts on the feed alone."""
    bill = flowing(
        lambda parts: parts | {"items": [rail(flow=FLOW), adapter(flow=FLOW), plug()]},
        left=hose("feed"),
        right=hose("return"),
    )
    drops = {path.duty: (path.flow_l_h, path.drop_kpa) for path in bill.paths}
    assert drops == {"feed": pytest.approx((72.0, MINOR_KPA * 8)), "return": pytest.approx((72.0, MINOR_KPA * 4))}


def test_hose_length_of_the_request() -> None:
    """The request's length stands for that of the hose which the layout describes."""
    smooth = {"bore_mm": 20.0, "length_mm": 7.0, "loss_k": 0.0, "roughness_mm": 0.0}
    parts = catalog(layouts=[{"id": "hose", "banks": 1, "placements": [{"left": hose("feed", flow=smooth)}]}])
    (bill,) = all_bills(parts, ASK | {"feed_hose_m": 1.0})
    assert bill.drop_kpa == pytest.approx(128 * 0.5e-3 * 1.0 * 1e-5 / (pi * 0.02**4) / 1000)


@pytest.mark.parametrize(("returns", "link_l_h"), [({}, 18.0), ({"1.left": 1}, 18.0), ({"2.left": 1}, 54.0)])
def test_link_flow(returns: dict[str, int], link_l_h: float) -> None:
    """A link carries half the demand; with the way out on the other bank, the feed's 72 l/h less half the demand."""
    placement = {
        "1.top": hose("feed"),
        "1.right": {"duty": "link", "to_spot": "2.right"},
        "2.right": {"duty": "link", "to_spot": "1.right"},
    } | {spot: hose("return") for spot in returns}
    bar = item("BAR", "rail", *(f"boss female {spot}" for spot in ("left", "right", "top")), patterns=["p"])
    parts = twin_banks(layouts=[{"id": "hose", "banks": 2, "placements": [placement]}])
    parts["items"][0] = bar
    (bill,) = all_bills(parts, ASK)
    assert [path.flow_l_h for path in bill.paths if path.duty == "link"] == pytest.approx([link_l_h])


@pytest.mark.parametrize(
    "limit", [{"max_feed_drop_kpa": MINOR_KPA * 0.999}, {"max_velocity_m_s": VELOCITY_M_S * 0.999}]
)
def test_flow_rules_out(limit: dict[str, float]) -> None:
    """A drop or a velocity just above its limit leaves no bill."""
    parts = catalog(items=[rail(), adapter(flow=FLOW), plug()])
    assert not all_bills(parts | {"policies": parts["policies"] | limit}, ASK)


def test_mounting_and_boxes() -> None:
    """The first add-on gives a role before the rail, the rail before the car; boxed things come along."""
    parts = catalog(
        items=[
            rail(supplied=[{"sku": "SCREW", "qty": 2, "role": "screws"}, {"sku": "CLIP", "qty": 1}]),
            adapter(supplied=[{"sku": "SEAL", "qty": 2}]),
            plug(),
            *(item(sku, "fastener") for sku in ("SCREW", "CLIP", "SEAL", "SPACER", "BOLT", "NUT")),
        ],
        chassis=[
            car(mounting=[{"role": "screws", "sku": "NUT", "qty": 1}, {"role": "spacers", "sku": "SPACER", "qty": 4}])
        ],
        addons=[
            {"id": name, "boost_kpa": 0, "clearances": [], "mounting": [{"role": "spacers", "sku": sku, "qty": 3}]}
            for name, sku in (("one", "BOLT"), ("two", "NUT"))
        ],
    )
    bought = {("RAIL", 1, "buy"), ("ADAPTER", 1, "buy"), ("PLUG", 1, "buy")}
    boxed = {("SCREW", 2, "supplied"), ("CLIP", 1, "supplied"), ("SEAL", 2, "supplied")}
    (bare,), (dressed,) = all_bills(parts, ASK), all_bills(parts, ASK | {"addons": ["two", "one"]})
    assert bare.lines == bought | boxed | {("SPACER", 4, "on-car")}
    assert dressed.lines == bought | boxed | {("NUT", 3, "add-on")}
