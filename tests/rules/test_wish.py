"""`wish`: gauge, finish, exclude, allow_unsold, max_price."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import BOSS, FACTORY, GONE, HOSE, LINKED, RETURN, TAPER, Json, catalog, part, twin
from tests.support.reading import ask, chains_at, rails, ruled_out, said

TAPER_IN = ("taper-1/8", "female")
SECOND_PLUG = {"items/-": twin("PLUG-B8", "PLUG-N")}
SECOND_RAIL = {"items/-": twin("RAIL-S", "RAIL-N", price=20000)}
PLUGS_IN_TWO_FINISHES = {
    "items/PLUG-B8/family": "boss-plug",
    "items/PLUG-B8/finish": "slate",
    "items/-": twin("PLUG-B8", "PLUG-N", family="boss-plug", finish="black"),
}
SLATE = {"finish": "slate"}


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(HOSE, "PLUG-N", "left", "The request excludes it.", given=SECOND_PLUG, wishes={"exclude": ["PLUG-N"]}),
            id="exclude part",
        ),
        pytest.param(
            Case(HOSE, "RAIL-N", None, "The request excludes it.", given=SECOND_RAIL, wishes={"exclude": ["RAIL-N"]}),
            id="exclude rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Finish slate was asked for; this one has black.",
                given=PLUGS_IN_TWO_FINISHES,
                wishes=SLATE,
            ),
            id="finish of a part",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Finish slate was asked for; this one has no finish.",
                given={**PLUGS_IN_TWO_FINISHES, "items/PLUG-N/finish": GONE},
                wishes=SLATE,
            ),
            id="part without the finish that its family has",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Finish slate was asked for; this one has black.",
                given={**SECOND_RAIL, "items/RAIL-N/finish": "black"},
                wishes=SLATE,
            ),
            id="finish of a rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Finish slate was asked for; this one has no finish.",
                given={**SECOND_RAIL, "items/RAIL-N/finish": GONE, "items/RAIL-N/family": GONE},
                wishes=SLATE,
            ),
            id="rail without a finish",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Would have to be bought elsewhere, and the request allows no such part.",
                given={**SECOND_PLUG, "items/PLUG-N/sold": False, "items/PLUG-B8/sold": False},
                wishes={"allow_unsold": False},
            ),
            id="allow_unsold",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Would have to be bought elsewhere, and the request allows no such part.",
                given={**SECOND_RAIL, "items/RAIL-N/sold": False},
                wishes={"allow_unsold": False},
            ),
            id="allow_unsold, rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Bills with it cost at least OVC 233.00; at most OVC 232.99 was asked for.",
                given=SECOND_RAIL,
                wishes={"max_price": 23299},
            ),
            id="max_price, rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Bills with it cost at least OVC 223.00; at most OVC 222.99 was asked for.",
                given={**SECOND_PLUG, "items/PLUG-N/price": 1000},
                wishes={"max_price": 22299},
            ),
            id="max_price, part",
        ),
        pytest.param(
            Case(
                LINKED,
                "RAIL-S",
                None,
                "A gauge was asked for at the 1.left spot, which is the feed here.",
                wishes={"gauge": "1.left"},
            ),
            id="gauge at the feed",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "A gauge was asked for at the top spot, which this rail does not have.",
                given={
                    **SECOND_RAIL,
                    "items/RAIL-N/ports/t": GONE,
                    "items/RAIL-N/supplied/top": GONE,
                },
                wishes={"gauge": "top"},
            ),
            id="gauge at a spot that the rail lacks",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """What a wish rules out, in its words."""
    assert_ruled_out("wish", case)


@pytest.mark.parametrize(
    ("gauge", "spots"),
    [
        pytest.param("none", [None], id="none"),
        pytest.param("top", ["top"], id="top"),
        pytest.param("left", ["left"], id="left"),
        pytest.param("centre", [], id="spot of the feed"),
        pytest.param("any", ["top", "left", "right"], id="any"),
    ],
)
def test_gauge(gauge: str, spots: list[str | None]) -> None:
    """No spot has the duty, the one asked for alone has it, or exactly one has it, wherever it may be."""
    document = catalog({"items/-": part("FIT-T", "fitting", BOSS, TAPER_IN)})
    found = ask(document, HOSE | {"gauge": gauge})
    has = [[spot for spot, duty in bill["duties"].items() if duty == "gauge"] for bill in found["bills"]]
    assert sorted(has) == sorted([] if spot is None else [spot] for spot in spots)


@pytest.mark.parametrize(
    ("changes", "chains"),
    [
        pytest.param({}, {"PLUG-B8"}, id="family has it"),
        pytest.param({"items/PLUG-B8/status": "retired"}, {"PLUG-N"}, id="only a retired one has it"),
        pytest.param({"items/PLUG-B8/finish": "red"}, {"PLUG-B8", "PLUG-N"}, id="family has it not"),
        pytest.param({"items/PLUG-N/family": GONE}, {"PLUG-B8", "PLUG-N"}, id="no family"),
        pytest.param({"items/PLUG-N/finish": "slate"}, {"PLUG-B8", "PLUG-N"}, id="both have it"),
        pytest.param({"items/PLUG-B8/stock": 0}, {"PLUG-B8"}, id="stock does not count"),
        pytest.param({"items/PLUG-B8/max_kpa": 200.0}, set(), id="the one that has it breaks another rule"),
    ],
)
def test_finish_where_offered(changes: Json, chains: set[str]) -> None:
    """A part has the finish where an active item of its family offers it."""
    found = ask(catalog(PLUGS_IN_TWO_FINISHES, changes), HOSE | SLATE)
    assert chains_at(found, "left") == chains


@pytest.mark.parametrize(("finish", "expected"), [("slate", {"RAIL-S"}), ("black", {"RAIL-N"}), ("red", set())])
def test_finish_of_the_rail(finish: str, expected: set[str]) -> None:
    """The rail has the finish, whatever its family offers."""
    document = catalog(SECOND_RAIL, {"items/RAIL-N/finish": "black", "items/RAIL-N/family": GONE})
    assert rails(ask(document, HOSE | {"finish": finish})) == expected


def test_finish_of_a_side_plug() -> None:
    """A side plug has the finish, though the same plug supplied for a spot need not."""
    document = catalog(
        {"items/PLUG-T/family": "taper-plug", "items/PLUG-T/finish": "black"},
        {"items/-": twin("PLUG-T", "PLUG-U", family="taper-plug", finish="slate")},
    )
    found = ask(document, RETURN | SLATE)
    assert chains_at(found, "top") == {"PLUG-T"}
    assert chains_at(found, "right") == {"ADAPT-B8-F6,REG-F6,PLUG-U"}


@pytest.mark.parametrize(
    ("sku", "total"),
    [("PLUG-B8", 0), ("PLUG-T", 0), ("RAIL-S", 0), ("GAUGE-T", 1), ("SCREW-6", 1), ("SEAL-B8", 1)],
)
def test_exclude(sku: str, total: int) -> None:
    """What is excluded stands neither as rail nor in a chain; mounting parts and extras are not meant."""
    assert ask(catalog(), FACTORY | {"exclude": [sku]})["total_valid"] == total


@pytest.mark.parametrize(
    ("changes", "asked", "total"),
    [
        pytest.param({"items/PLUG-B8/sold": False}, HOSE, 0, id="part"),
        pytest.param({"items/RAIL-S/sold": False}, HOSE, 0, id="rail"),
        pytest.param({"items/PLUG-T/sold": False}, HOSE, 1, id="supplied plug"),
        pytest.param({"items/PLUG-T/sold": False}, RETURN, 0, id="side plug"),
        pytest.param({"items/SPACER-5/sold": False}, HOSE, 1, id="mounting part"),
    ],
)
def test_allow_unsold(changes: Json, asked: Json, total: int) -> None:
    """Without unsold parts, every item bought is sold."""
    document = catalog(changes)
    assert ask(document, asked | {"allow_unsold": False})["total_valid"] == total
    assert ask(document, asked)["total_valid"] == 1


@pytest.mark.parametrize(("max_price", "total"), [(22199, 0), (22200, 1), (22201, 1), (0, 0)])
def test_max_price(max_price: int, total: int) -> None:
    """A bill may cost just as much as was asked for."""
    assert ask(catalog(), HOSE | {"max_price": max_price})["total_valid"] == total


@pytest.mark.parametrize(
    ("max_price", "pairs"),
    [
        pytest.param(22200, {("PLUG-B8", "PLUG-B8")}, id="none of the dear ones"),
        pytest.param(22399, {("PLUG-B8", "PLUG-B8"), ("PLUG-B8", "PLUG-N"), ("PLUG-N", "PLUG-B8")}, id="one"),
        pytest.param(
            22400,
            {(left, right) for left in ("PLUG-B8", "PLUG-N") for right in ("PLUG-B8", "PLUG-N")},
            id="both",
        ),
    ],
)
def test_price_of_the_whole_bill(max_price: int, pairs: set[tuple[str, str]]) -> None:
    """The price of the whole bill counts, not that of each spot."""
    found = ask(catalog(SECOND_PLUG, {"items/PLUG-N/price": 1000}), HOSE | {"max_price": max_price})
    assert {(bill["chains"]["left"][0], bill["chains"]["right"][0]) for bill in found["bills"]} == pairs


def test_price_of_unsold_parts() -> None:
    """What is bought elsewhere is not in the price."""
    assert ask(catalog({"items/PLUG-B8/sold": False}), HOSE | {"max_price": 20400})["total_valid"] == 1


def test_kept() -> None:
    """A part in the finish asked for, and the gauge, say so; others say nothing of wishes."""
    document = catalog(PLUGS_IN_TWO_FINISHES, {"items/-": part("GAUGE-2", "gauge", TAPER)})
    found = ask(document, HOSE | SLATE | {"gauge": "any"})
    assert said(found, "PLUG-B8", "wish") == {"Has the finish asked for: slate."}
    assert said(found, "RAIL-S", "wish") == {"Has the finish asked for: slate."}
    assert said(found, "GAUGE-2", "wish") == {"A gauge was asked for (any)."}
    assert said(found, "ADAPT-B8-F6", "wish") == set()
    assert ruled_out(found, "PLUG-N", "left") == [("wish", "Finish slate was asked for; this one has black.")]
