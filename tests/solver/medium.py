"""A catalog with a few hundred bills: rails and parts in families, some the dearer, some the slower, some scarce."""

from tests.support.builders import HOSE, Json, catalog, fitting, passage, twin

BOSS, TAPER_IN = ("boss-8", "male"), ("taper-1/8", "female")
RAILS = ("RAIL-S", "RAIL-B", "RAIL-W")
GAUGE_SPOTS = ("left", "right", "top")

REQUESTS: dict[str, Json] = {
    "plain": {},
    "gauge": {"gauge": "any"},
    "in stock": {"gauge": "any", "in_stock_only": True},
    "budget": {"gauge": "any", "max_price": 27_000},
    "budget and stock": {"gauge": "any", "in_stock_only": True, "max_price": 27_000},
    "finish": {"finish": "black"},
    "excluded": {"exclude": ["PLUG-N", "RAIL-S"]},
}


def medium_catalog() -> Json:
    """Rails in two shapes of one family and one of another, three plugs, three adapters, two gauges, a gauge port."""
    document = catalog(
        {
            "items/PLUG-B8/family": "boss-plug",
            "items/PLUG-B8/finish": "slate",
            "items/PLUG-B8/stock": 1,
            "items/ADAPT-B8-F6/family": "adapter",
            "items/ADAPT-B8-F6/finish": "slate",
        }
    )
    document["items"] += [
        twin("RAIL-S", "RAIL-B", finish="black", price=19_400, lead_days=2, flow=passage(14.0, 380.0, 0.5)),
        twin("RAIL-S", "RAIL-W", family="rail-wide", finish="black", price=18_900, lead_days=10, stock=1),
        twin("PLUG-B8", "PLUG-N", family="boss-plug", finish="black", price=1_000),
        twin("PLUG-B8", "PLUG-O", lead_days=14),
        twin("ADAPT-B8-F6", "ADAPT-N", family="adapter", finish="black", price=1_500, flow=passage(4.0, 40.0, 0.4)),
        twin("ADAPT-B8-F6", "ADAPT-O", price=1_700, flow=passage(6.0, 40.0, 0.4)),
        twin("GAUGE-T", "GAUGE-N", price=3_500, stock=0),
        fitting("FIT-T", BOSS, TAPER_IN, price=0),
    ]
    return document


def medium_request(name: str, **more: object) -> Json:
    return HOSE | REQUESTS[name] | more
