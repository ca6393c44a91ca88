"""`closed`: what a chain is made of by its duty, and no port left open."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import (
    BOSS,
    FACTORY,
    HOSE,
    LINKED,
    RETURN,
    TAPER,
    Json,
    catalog,
    change,
    fitting,
    layout,
    own_hose,
    part,
    twin,
)
from tests.support.reading import ask, chains_at, line_of, ruled_out, said

BOSS_IN = ("boss-8", "female")
FLARE = ("flare-6", "male")
QUICK = ("quick-3/8", "male")
QUICK_IN = ("quick-3/8", "female")
TAPER_IN = ("taper-1/8", "female")


def with_items(*items: Json) -> Json:
    """The small catalog with more items."""
    document = catalog()
    document["items"] += items
    return document


@pytest.mark.parametrize(
    "ports",
    [
        pytest.param((BOSS, TAPER_IN, FLARE), id="side port first"),
        pytest.param(
            (BOSS, FLARE, TAPER_IN),
            id="side port last",
        ),
    ],
)
def test_unclosable_side_port(ports: tuple[tuple[str, str], ...]) -> None:
    """A part whose side port nothing closes is ruled out."""
    case = Case(
        HOSE,
        "FIT-S",
        "centre",
        "Nothing in the catalog closes its side port (quick-3/8).",
        given={"items/-": fitting("FIT-S", *ports)},
        changes={f"items/FIT-S/ports/{ports.index(TAPER_IN)}/standard": "quick-3/8"},
    )
    assert_ruled_out("closed", case)


@pytest.mark.parametrize(
    ("kind", "asked", "spot", "chains"),
    [
        pytest.param("fitting", HOSE | {"gauge": "left"}, "left", {"FIT-T,GAUGE-T"}, id="fitting before a gauge"),
        pytest.param("line", HOSE | {"gauge": "left"}, "left", set(), id="line before a gauge"),
        pytest.param("regulator", HOSE | {"gauge": "left"}, "left", set(), id="regulator before a gauge"),
        pytest.param("fitting", FACTORY, "centre", {"PLUG-B8"}, id="fitting at a closed spot"),
    ],
)
def test_kinds_at_rest(kind: str, asked: Json, spot: str, chains: set[str]) -> None:
    """A gauge stands on fittings only, and a closed spot takes nothing but a plug."""
    found = ask(with_items(part("FIT-T", kind, BOSS, TAPER_IN)), asked)
    assert chains_at(found, spot) == chains


@pytest.mark.parametrize(
    ("asked", "sku", "text"),
    [
        pytest.param(
            HOSE,
            "GAUGE-T",
            "No spot of this setup takes a gauge: none was asked for, or none is free.",
            id="gauge unasked",
        ),
        pytest.param(
            HOSE | {"gauge": "top"},
            "PLUG-T",
            "No spot of this setup takes a plug of this connection.",
            id="plug left over",
        ),
    ],
)
def test_no_spot_takes_it(asked: Json, sku: str, text: str) -> None:
    """A part that meets the rail, at no spot whose duty takes its kind, is ruled out as a whole."""
    assert ruled_out(ask(catalog(), asked), sku, None) == [("closed", text)]
    other = HOSE | {"gauge": "none" if "gauge" in asked else "top"}
    assert ruled_out(ask(catalog(), other), sku, None) == []


@pytest.mark.parametrize(
    ("kind", "stands"),
    [("fitting", True), ("line", True), ("plug", False), ("gauge", False), ("regulator", False)],
)
def test_kinds_with_fuel(kind: str, stands: bool) -> None:
    """A feed runs through fittings and lines (regulators: rule via), never through a plug or gauge."""
    found = ask(with_items(part("PART-N", kind, BOSS, FLARE)), HOSE)
    assert chains_at(found, "centre") == {"ADAPT-B8-F6"} | ({"PART-N"} if stands else set())


def test_empty_chain() -> None:
    """A hose that mates with the spot itself needs no part."""
    feed = layout({"centre": {"duty": "feed", "hookup": own_hose(*BOSS)}})
    found = ask(catalog({"layouts/-": feed}), HOSE | {"layout": "own"})
    assert [bill["chains"]["centre"] for bill in found["bills"]] == [[]]
    assert found["bills"][0]["pieces"] == 3


@pytest.mark.parametrize(
    ("kind", "chain", "stands"),
    [
        pytest.param("fitting", "ADAPT-B8-F6,LINE-F6,UNION,PART-Q", True, id="one line"),
        pytest.param("line", "ADAPT-B8-F6,LINE-F6,UNION,PART-Q", False, id="two lines"),
        pytest.param("line", "SPIGOT-B8-Q,PART-Q", True, id="the other line alone"),
        pytest.param("fitting", "SPIGOT-B8-Q,PART-Q", False, id="no line"),
    ],
)
def test_one_line_in_a_link(kind: str, chain: str, stands: bool) -> None:
    """A link has fittings and exactly one line."""
    found = ask(with_items(fitting("UNION", FLARE, QUICK), part("PART-Q", kind, QUICK_IN, BOSS)), LINKED)
    assert (chain in chains_at(found, "1.right")) is stands


def test_no_regulator_in_a_link() -> None:
    """A link does not run through a regulator, even where its path names one."""
    document = with_items(part("REG-Q", "regulator", FLARE, BOSS))
    change(document, "layouts/linked-banks/placements/0/1.right/via", ["regulator"])
    assert ask(document, LINKED)["total_valid"] == 0


@pytest.mark.parametrize(
    ("ports", "chain"),
    [
        pytest.param([BOSS, FLARE, TAPER_IN], "FIT-S,PLUG-T", id="one side port"),
        pytest.param([BOSS, FLARE, TAPER_IN, BOSS_IN], "FIT-S,PLUG-B8,PLUG-T", id="two, taper first"),
        pytest.param([BOSS, FLARE, BOSS_IN, TAPER_IN], "FIT-S,PLUG-B8,PLUG-T", id="two, boss first"),
        pytest.param([BOSS, BOSS_IN, BOSS_IN, FLARE], "FIT-S,PLUG-B8,PLUG-B8", id="two alike"),
    ],
)
def test_side_plugs(ports: list[tuple[str, str]], chain: str) -> None:
    """Each side port is closed by one plug, listed right after its part, sorted by SKU."""
    found = ask(with_items(fitting("FIT-S", *ports)), HOSE)
    assert chains_at(found, "centre") == {"ADAPT-B8-F6", chain}


def test_side_plugs_stand_right_after_their_part() -> None:
    """A side plug comes before the part that carries the chain on."""
    document = with_items(fitting("FIT-S", BOSS, QUICK, TAPER_IN), fitting("FIT-Q", QUICK_IN, FLARE, TAPER_IN))
    assert "FIT-S,PLUG-T,FIT-Q,PLUG-T" in chains_at(ask(document, HOSE), "centre")


def test_every_way_to_close_a_side_port() -> None:
    """Each plug that fits a side port makes a chain of its own; of two alike ports each pair counts once."""
    document = with_items(fitting("FIT-S", BOSS, FLARE, TAPER_IN, TAPER_IN), twin("PLUG-T", "PLUG-U"))
    assert chains_at(ask(document, HOSE), "centre") == {
        "ADAPT-B8-F6",
        "FIT-S,PLUG-T,PLUG-T",
        "FIT-S,PLUG-T,PLUG-U",
        "FIT-S,PLUG-U,PLUG-U",
    }


def test_plugs_and_gauges_with_side_ports() -> None:
    """The plug of a closed spot and a gauge may have side ports, which are closed as any; a side plug has one port."""
    document = with_items(part("PLUG-2", "plug", BOSS, TAPER_IN), part("GAUGE-2", "gauge", TAPER, TAPER_IN))
    found = ask(document, HOSE | {"gauge": "top"})
    assert chains_at(found, "left") == {"PLUG-B8", "PLUG-2,PLUG-T"}
    assert chains_at(found, "top") == {"GAUGE-T", "GAUGE-2,PLUG-T"}
    document["items"].append(fitting("FIT-S", BOSS, FLARE, BOSS_IN))
    assert chains_at(ask(document, HOSE), "centre") == {"ADAPT-B8-F6", "FIT-S,PLUG-B8"}


def test_side_plug_is_bought() -> None:
    """A side plug is bought like any part, though one like it comes with the rail for a spot."""
    (bill,) = ask(catalog(), RETURN | {"gauge": "top"})["bills"]
    line = line_of(bill, "PLUG-T")
    assert (line["source"], line["qty"], line["price"], line["spots"]) == ("buy", 1, 400, ["right"])


def test_kept() -> None:
    """Each part tells what it is there for."""
    items = with_items(fitting("FIT-T", BOSS, TAPER_IN))
    gauge = ask(items, RETURN | {"gauge": "centre"})
    assert said(gauge, "FIT-T", "closed") == {"Carries the gauge at the centre spot."}
    assert said(gauge, "GAUGE-T", "closed") == {"Shows the pressure at the centre spot."}
    assert said(gauge, "PLUG-T", "closed") == {
        "Closes the side port of Pressure regulator with a gauge port: no port is left open.",
        "Closes the top spot: no port is left open.",
    }
    assert said(gauge, "REG-F6", "closed") == {"Carries the return between the right spot and your own hose."}
    assert said(ask(items, FACTORY), "SPIGOT-B8-Q", "closed") == {
        "Carries the feed between the left spot and the factory line."
    }
    assert said(ask(items, LINKED), "LINE-F6", "closed") == {"Links the 1.right spot with the 2.right spot."}
