"""The trade's usual sets come out of the catalog as common practice has them."""

from collections import Counter

import pytest

from service.documents.answer import Answer, Bill
from service.documents.catalog import Catalog, Item
from tests.seed.conftest import Ask

HORSEPOWER_KW = 0.7457


def best(answer: Answer) -> Bill:
    assert answer["bills"], answer["ruled_out"]
    return answer["bills"][0]


def parts(bill: Bill, items: dict[str, Item]) -> list[tuple[str, str]]:
    """The kinds of what a bill buys or finds elsewhere, but for the rail, with the standards they join."""
    return sorted(
        (items[line["sku"]].kind, " to ".join(port.standard for port in items[line["sku"]].ports))
        for line in bill["lines"]
        if line["source"] in ("buy", "elsewhere") and items[line["sku"]].kind != "rail"
        for _ in range(line["qty"])
    )


def sources(bill: Bill) -> dict[str, str]:
    return {line["sku"]: line["source"] for line in bill["lines"]}


def spots_with(bill: Bill, duty: str) -> list[str]:
    return [spot for spot, told in bill["duties"].items() if told == duty]


FACTORY_LINES = [
    # chassis, the spot that the line leads to, the spigot that its reach asks for
    ("fennic-16", "left", "spigot-5-16-short"),
    ("fennic-20", "left", "spigot-5-16-long"),
    ("brae-20", "right", "spigot-3-8-short"),
    ("tarn-20", "right", "spigot-5-16-long"),
    ("hollin-23", "centre", "spigot-5-16-short"),
    ("pellam-30", "left", "spigot-3-8-short"),
    ("pellam-33", "right", "spigot-3-8-long"),
]


@pytest.mark.parametrize(("chassis", "spot", "spigot"), FACTORY_LINES)
def test_factory_line(ask: Ask, items: dict[str, Item], chassis: str, spot: str, spigot: str) -> None:
    """A factory line takes one quick-connect spigot, long or short by its reach, and two plugs."""
    answer = ask(chassis, "factory-line")
    bill = best(answer)
    assert bill["chains"][spot] == [spigot]
    assert [kind for kind, _ in parts(bill, items)] == ["fitting", "plug", "plug"]
    other = spigot.replace("short", "long") if "short" in spigot else spigot.replace("long", "short")
    assert (other, "reach") in {(out["sku"], out["rule"]) for out in answer["ruled_out"]}


def test_factory_line_that_either_length_reaches(ask: Ask) -> None:
    """A wide window takes both lengths; the cheaper one comes first."""
    answer = ask("quillon-30", "factory-line", limit=100)
    fed = [bill["chains"][spots_with(bill, "feed")[0]] for bill in answer["bills"]]
    assert fed[0] == ["spigot-5-16-short"]
    assert ["spigot-5-16-long"] in fed


@pytest.mark.parametrize("fuel", ["petrol", "e85"])
@pytest.mark.parametrize("size", [6, 8])
@pytest.mark.parametrize("place", ["centre", "side"])
def test_own_hose_without_return(ask: Ask, items: dict[str, Item], size: int, place: str, fuel: str) -> None:
    """An own hose without return takes one flare adapter of its size and two plugs."""
    bill = best(ask("fennic-16", f"own-hose-{size}-{place}", fuel=fuel))
    assert parts(bill, items) == [("fitting", f"orb-8 to flare-{size}"), ("plug", "orb-8"), ("plug", "orb-8")]
    assert (spots_with(bill, "feed") == ["centre"]) is (place == "centre")


@pytest.mark.parametrize("size", [6, 8])
def test_through_flow_with_return(ask: Ask, items: dict[str, Item], size: int) -> None:
    """Through-flow with return takes two flare adapters at the ends and one plug in the centre."""
    bill = best(ask("pellam-30", f"return-{size}"))
    adapter = ("fitting", f"orb-8 to flare-{size}")
    assert parts(bill, items) == [adapter, adapter, ("plug", "orb-8")]
    assert [items[sku].kind for sku in bill["chains"]["centre"]] == ["plug"]
    assert sorted(spots_with(bill, "feed") + spots_with(bill, "return")) == ["left", "right"]


@pytest.mark.parametrize("size", [6, 8])
def test_regulator_on_the_rail(ask: Ask, items: dict[str, Item], size: int) -> None:
    """A regulator on the rail stands in the return's chain, its own gauge port closed by a taper plug."""
    bill = best(ask("pellam-30", f"return-{size}-regulator"))
    chain = [items[sku] for sku in bill["chains"][spots_with(bill, "return")[0]]]
    assert Counter(item.kind for item in chain) >= Counter(["regulator", "plug"])
    regulator = next(index for index, item in enumerate(chain) if item.kind == "regulator")
    assert [port.standard for port in chain[regulator + 1].ports] == ["taper-1-8"]
    assert chain[regulator + 1].kind == "plug"


def test_bulkhead_line(ask: Ask, items: dict[str, Item]) -> None:
    """A bulkhead line feeds the centre through one adapter and brings its bracket in the box."""
    bill = best(ask("fennic-16", "bulkhead-centre"))
    assert [items[sku].kind for sku in bill["chains"]["centre"]] == ["fitting", "line"]
    assert sources(bill)["bracket-line"] == "supplied"


def test_gauge_on_top(ask: Ask, items: dict[str, Item]) -> None:
    """Where there is room a gauge screws straight into the top spot, in place of the supplied plug."""
    bill = best(ask("fennic-16", "factory-line", gauge="any"))
    assert spots_with(bill, "gauge") == ["top"]
    assert [items[sku].kind for sku in bill["chains"]["top"]] == ["gauge"]
    assert "plug-taper-steel" not in sources(bill)


def test_gauge_on_a_free_side_spot(ask: Ask) -> None:
    """Under a strut brace the gauge moves to a side spot through the taper adapter; the top keeps its plug."""
    answer = ask("fennic-16", "factory-line", addons=["strut-brace"], gauge="any", limit=100)
    for bill in answer["bills"]:
        (spot,) = spots_with(bill, "gauge")
        assert spot in ("centre", "right")
        assert bill["chains"][spot][0] == "adapter-8-taper"
        assert bill["chains"]["top"] == ["plug-taper-steel"]
        assert sources(bill)["plug-taper-steel"] == "supplied"
    assert ask("fennic-16", "factory-line", addons=["strut-brace"], gauge="top")["total_valid"] == 0


def test_no_gauge_without_a_free_side_spot(ask: Ask) -> None:
    """Where hoses take every side spot and a brace the top, no gauge fits; with one side spot free it does."""
    wishes = {"addons": ["strut-brace"], "gauge": "any"}
    assert ask("pellam-30", "twin-feed-8-return", **wishes)["total_valid"] == 0
    assert spots_with(best(ask("pellam-30", "return-8", **wishes)), "gauge") == ["centre"]


def test_a_spot_with_a_line_takes_no_gauge(ask: Ask) -> None:
    """The gauge cannot have the only spot that the factory line reaches."""
    assert ask("fennic-16", "factory-line", gauge="left")["total_valid"] == 0
    assert ask("fennic-16", "factory-line", gauge="right")["total_valid"] > 0


BLOWERS = [
    # chassis, layout, add-on, the spot under its plate
    ("fennic-16", "factory-line", "blower-tor", "right"),
    ("brae-20", "own-hose-6-centre", "blower-tor", "right"),
    ("pellam-33", "factory-line", "blower-garth", "left"),
    ("morrow-40", "pair-own-hose-6-link", "blower-scaur", "2.right"),
    ("morrow-40", "pair-factory-line-link", "blower-scaur", "2.right"),
]


@pytest.mark.parametrize(("chassis", "layout", "blower", "spot"), BLOWERS)
def test_blower_kit(ask: Ask, seed: Catalog, chassis: str, layout: str, blower: str, spot: str) -> None:
    """A blower brings its own screws and spacers; only a low-profile plug from elsewhere fits under its plate."""
    bill = best(ask(chassis, layout, addons=[blower]))
    told = sources(bill)
    assert bill["chains"][spot] == ["plug-8-low"]
    assert told["plug-8-low"] == "elsewhere"
    kit = next(addon for addon in seed.addons if addon.id == blower)
    assert {told[mount.sku] for mount in kit.mounting} == {"add-on"}
    assert {"screw-m6-20", "screw-m6-30", "spacer-10", "spacer-14"}.isdisjoint(told)


def test_blower_over_the_factory_line_s_spot(ask: Ask) -> None:
    """Where the plate covers the one spot that the factory line reaches, the line cannot be used."""
    answer = ask("brae-20", "factory-line", addons=["blower-tor"])
    assert answer["total_valid"] == 0
    assert ("spigot-3-8-short", "right", "clearance") in {
        (out["sku"], out["spot"], out["rule"]) for out in answer["ruled_out"]
    }


def test_plain_car_needs_nothing_from_elsewhere(ask: Ask) -> None:
    """Without an add-on the rail's own screws, the car's spacers and sold plugs do."""
    bill = best(ask("fennic-16", "factory-line"))
    told = sources(bill)
    assert "elsewhere" not in told.values()
    assert (told["screw-m6-30"], told["spacer-10"]) == ("supplied", "on-car")


def test_nitrile_seal(ask: Ask) -> None:
    """The nitrile adapter is the cheapest on petrol, carries a caution on E10 and is out on E85; better is named."""
    on = {fuel: best(ask("fennic-16", "own-hose-6-centre", fuel=fuel)) for fuel in ("petrol", "e10", "e85")}
    nitrile = ["adapter-8-flare-6-nitrile"]
    assert [bill["chains"]["centre"] == nitrile for bill in on.values()] == [True, True, False]
    rated = [[x["facts"]["rating"] for x in bill["cautions"] if "rating" in x["facts"]] for bill in on.values()]
    assert rated == [[], ["C"], []]
    [line] = [line for line in on["petrol"]["lines"] if line["sku"] == nitrile[0]]
    [better] = [reason for reason in line["reasons"] if "instead" in reason["facts"]]
    assert better["facts"]["instead"] == "adapter-8-flare-6-satin"
    assert "is rated A and costs EUR 3.00 more" in better["text"]


def test_supplied_brass_plug_is_replaced_on_ethanol(ask: Ask) -> None:
    """The five-cylinder rail's brass plug serves petrol; on E85 a stainless one is bought instead."""
    petrol, e85 = (best(ask("hollin-23", "factory-line", fuel=fuel)) for fuel in ("petrol", "e85"))
    assert (petrol["chains"]["top"], sources(petrol)["plug-taper-brass"]) == (["plug-taper-brass"], "supplied")
    assert (e85["chains"]["top"], sources(e85)["plug-taper-steel"]) == (["plug-taper-steel"], "buy")


def test_high_boost_needs_the_high_range_gauge(ask: Ask) -> None:
    """Base pressure and boost beyond a gauge's range rule that gauge out."""
    plain = best(ask("pellam-33", "own-hose-8-centre", gauge="top"))
    boosted = best(ask("pellam-33", "own-hose-8-centre", gauge="top", addons=["turbo-garth"]))
    assert plain["chains"]["top"] == ["gauge-600-satin"]
    assert boosted["chains"]["top"] == ["gauge-1000-satin"]


def test_two_spot_rail(ask: Ask, items: dict[str, Item]) -> None:
    """The two-spot rail takes one fitting and one plug; no layout that needs its centre."""
    assert [kind for kind, _ in parts(best(ask("sedge-10", "factory-line")), items)] == ["fitting", "plug"]
    assert ask("sedge-10", "own-hose-6-centre")["total_valid"] == 0


@pytest.mark.parametrize("chassis", ["morrow-40", "morrow-46"])
def test_two_banks_with_a_link(ask: Ask, items: dict[str, Item], chassis: str) -> None:
    """Two banks take the same rail twice and a link of adapter, line, adapter."""
    bill = best(ask(chassis, "pair-return-8-link"))
    rail = next(line for line in bill["lines"] if items[line["sku"]].kind == "rail")
    assert rail["qty"] == 2
    link = bill["chains"][min(spots_with(bill, "link"))]
    assert [items[sku].kind for sku in link] == ["fitting", "line", "fitting"]
    fed, returned = spots_with(bill, "feed")[0], spots_with(bill, "return")[0]
    assert fed.split(".")[0] != returned.split(".")[0]


# Layout, horsepower, fuel, boost, whether the hose carries it.
HOSE_LIMITS = [
    ("own-hose-8-centre", 1000, "petrol", 0.0, True),
    ("own-hose-8-centre", 1000, "petrol", 60.0, True),
    ("own-hose-8-centre", 1400, "petrol", 0.0, False),
    ("return-8", 1000, "petrol", 0.0, True),
    ("own-hose-6-centre", 1000, "petrol", 0.0, False),
    ("own-hose-6-centre", 700, "petrol", 60.0, False),
    ("own-hose-6-centre", 500, "petrol", 60.0, True),
    ("own-hose-8-centre", 1000, "e85", 60.0, False),
    ("return-8", 900, "e85", 0.0, True),
    ("return-8", 1000, "e85", 0.0, False),
    ("large-bore-centre", 1000, "e85", 60.0, True),
    ("large-bore-return", 1000, "e85", 60.0, True),
]


@pytest.mark.parametrize(("layout", "horsepower", "fuel", "boost", "carried"), HOSE_LIMITS)
def test_what_a_hose_carries(ask: Ask, layout: str, horsepower: int, fuel: str, boost: float, carried: bool) -> None:
    """Size 8 carries about 1,000 hp on petrol, size 6 runs out well before; strong ethanol engines need size 10."""
    answer = ask("pellam-30", layout, fuel=fuel, power_kw=horsepower * HORSEPOWER_KW, own_boost_kpa=boost)
    assert (answer["total_valid"] > 0) is carried


def test_a_return_is_judged_by_the_pump_that_is_there(ask: Ask) -> None:
    """A size 8 return takes back what the car's own pump moves, whatever the engine burns; not 650 L/h."""
    assert ask("pellam-30", "return-8")["total_valid"] > 0
    assert ask("pellam-30", "return-8", pump_l_h=650.0)["total_valid"] == 0


def test_three_part_chain(ask: Ask) -> None:
    """Without the size 6 and 8 adapters and the spigots, reducers lead from size 10 down to size 6 in three parts."""
    spare = [f"adapter-8-flare-{size}-{finish}" for size in (6, 8) for finish in ("satin", "graphite")]
    spare += [f"spigot-{size}-{length}" for size in ("5-16", "3-8") for length in ("short", "long")]
    spare += ["adapter-8-flare-6-nitrile", "reducer-flare-10-6"]
    bill = best(ask("pellam-30", "own-hose-6-side", exclude=spare))
    (fed,) = spots_with(bill, "feed")
    assert bill["chains"][fed] == ["adapter-8-flare-10-satin", "reducer-flare-10-8", "reducer-flare-8-6"]


def test_stock_finish_and_order_matter(ask: Ask) -> None:
    """Wishes for stock, finish and order each change the best bill."""
    plain = best(ask("fennic-16", "own-hose-6-centre"))
    graphite = best(ask("fennic-16", "own-hose-6-centre", finish="graphite"))
    assert graphite["price"] > plain["price"]
    assert ask("fennic-16", "own-hose-6-centre", finish="graphite", in_stock_only=True)["total_valid"] == 0
    cheap, few = (best(ask("pellam-30", "return-6-regulator", order_by=by)) for by in ("price", "pieces"))
    assert few["pieces"] < cheap["pieces"]
    assert few["price"] > cheap["price"]


def test_retired_parts_are_not_offered(ask: Ask, items: dict[str, Item]) -> None:
    """A retired adapter would be cheaper, but a bill does without it."""
    answer = ask("fennic-16", "own-hose-8-centre")
    assert items["adapter-8-flare-8-first"].price < items["adapter-8-flare-8-satin"].price
    assert best(answer)["chains"]["centre"] == ["adapter-8-flare-8-satin"]
    assert ("adapter-8-flare-8-first", "supply") in {(out["sku"], out["rule"]) for out in answer["ruled_out"]}


def test_every_layout_and_every_chassis_has_a_bill(ask: Ask, seed: Catalog) -> None:
    """No layout is in vain: each has a bill on some chassis, and each chassis a bill for some layout."""
    served = {
        (chassis.id, layout.id)
        for chassis in seed.chassis
        for layout in seed.layouts
        if ask(chassis.id, layout.id, limit=1)["total_valid"]
    }
    assert {layout for _, layout in served} == {layout.id for layout in seed.layouts}
    assert {chassis for chassis, _ in served} == {chassis.id for chassis in seed.chassis}
