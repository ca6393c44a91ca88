"""The catalog covers the trade: every kind of part, layout, car and add-on that a shop is asked about."""

from collections import defaultdict
from collections.abc import Iterable
from typing import get_args

import pytest

from service.documents.catalog import Addon, Catalog, Item, Kind, Layout

SIDES = ("left", "centre", "right")
BOSS = ("orb-8", "female")
TAPER = ("taper-1-8", "female")


def of_kind(seed: Catalog, kind: str) -> list[Item]:
    return [item for item in seed.items if item.kind == kind]


def ends(item: Item) -> set[tuple[str, str]]:
    return {(port.standard, port.end) for port in item.ports}


def joining(seed: Catalog, *wanted: tuple[str, str], kind: str = "fitting") -> list[Item]:
    """Active items of a kind that have exactly these ends."""
    return [item for item in of_kind(seed, kind) if ends(item) == set(wanted) and item.status == "active"]


def rails_by_pattern(seed: Catalog) -> dict[str, list[Item]]:
    found = defaultdict(list)
    for rail in of_kind(seed, "rail"):
        for pattern in rail.patterns or []:
            found[pattern].append(rail)
    return found


def spots(rail: Item) -> dict[str | None, tuple[str, str]]:
    return {port.spot: (port.standard, port.end) for port in rail.ports}


def patterns_of(seed: Catalog, banks: int) -> set[str]:
    return {chassis.pattern for chassis in seed.chassis if chassis.banks == banks}


def test_every_kind_of_item_is_there(seed: Catalog) -> None:
    """No kind is without an item."""
    assert {item.kind for item in seed.items} == set(get_args(Kind))


def test_rails_with_four_spots(seed: Catalog) -> None:
    """At least three one-bank patterns have rails in several finishes: three size 8 bosses, a taper spot on top
    with its plug, and mounting screws in the box.
    """
    full = dict.fromkeys(SIDES, BOSS) | {"top": TAPER}
    good = []
    for pattern, rails in rails_by_pattern(seed).items():
        active = [rail for rail in rails if rail.status == "active"]
        if pattern in patterns_of(seed, banks=1) and all(spots(rail) == full for rail in rails):
            assert len({rail.finish for rail in active}) >= 2
            assert {rail.family for rail in rails} == {rails[0].family}
            good.append(pattern)
            assert all({"top"} <= {box.spot for box in rail.supplied or []} for rail in rails)
    assert len(good) >= 3


def test_every_rail_brings_its_screws(seed: Catalog, items: dict[str, Item]) -> None:
    """Mounting screws come in the box of every rail."""
    for rail in of_kind(seed, "rail"):
        assert [items[box.sku].kind for box in rail.supplied or [] if box.role] == ["fastener"]


def test_two_spot_rail(seed: Catalog) -> None:
    """One pattern, which cars have, comes with two-spot rails alone."""
    two_spot = [
        pattern
        for pattern, rails in rails_by_pattern(seed).items()
        if all(list(spots(rail).values()) == [BOSS, BOSS] for rail in rails)
    ]
    assert len(two_spot) == 1
    assert two_spot[0] in patterns_of(seed, banks=1)


def test_rails_for_two_banks(seed: Catalog) -> None:
    """The two-bank engine has a pattern of its own, with rails in several finishes."""
    (pattern,) = patterns_of(seed, banks=2)
    assert pattern not in patterns_of(seed, banks=1)
    assert len({rail.finish for rail in rails_by_pattern(seed)[pattern]}) >= 2


@pytest.mark.parametrize("quick", ["quick-5-16", "quick-3-8"])
def test_short_and_long_spigot(seed: Catalog, quick: str) -> None:
    """Each quick-connect size has a short and a long spigot for a size 8 boss."""
    spigots = joining(seed, ("orb-8", "male"), (quick, "male"))
    assert len({spigot.standout_mm for spigot in spigots}) == 2


@pytest.mark.parametrize("size", [6, 8, 10])
def test_flare_adapter(seed: Catalog, size: int) -> None:
    """Flare adapters of the size come in several finishes at several prices."""
    adapters = joining(seed, ("orb-8", "male"), (f"flare-{size}", "male"))
    assert len({adapter.price for adapter in adapters if adapter.finish}) >= 2


def test_nitrile_beside_fluorocarbon(seed: Catalog) -> None:
    """Among the size 6 adapters one has a nitrile seal, others fluorocarbon ones."""
    seals = [set(item.wetted) for item in joining(seed, ("orb-8", "male"), ("flare-6", "male"))]
    assert sum("nbr" in wetted for wetted in seals) == 1
    assert sum("fkm" in wetted for wetted in seals) >= 1


def test_gauge_adapter(seed: Catalog) -> None:
    """An adapter leads from a size 8 boss to the gauges' taper thread."""
    assert joining(seed, ("orb-8", "male"), TAPER)


def test_plugs_of_a_size_8_boss(seed: Catalog) -> None:
    """The sold hollow plug stands higher and costs less than the unsold low-profile one."""
    plugs = joining(seed, ("orb-8", "male"), kind="plug")
    sold = [plug for plug in plugs if plug.sold]
    (low,) = [plug for plug in plugs if not plug.sold]
    assert len({plug.finish for plug in sold}) >= 2
    assert all((plug.standout_mm or 0) > (low.standout_mm or 0) and plug.price < low.price for plug in sold)
    assert joining(seed, ("taper-1-8", "male"), kind="plug")


@pytest.mark.parametrize(("wide", "narrow"), [(10, 8), (8, 6)])
def test_reducers_make_three_part_chains(seed: Catalog, wide: int, narrow: int) -> None:
    """Reducers lead from size to size, so that adapter, reducer, reducer reach size 6; policy allows three."""
    assert joining(seed, (f"flare-{wide}", "female"), (f"flare-{narrow}", "male"))
    assert seed.policies.max_chain >= 3


def test_quick_connect_ends_for_own_hose(seed: Catalog) -> None:
    """Quick-connect ends are sold alone, for hoses of sizes 6 and 8."""
    found = {
        standard
        for quick in ("quick-5-16", "quick-3-8")
        for size in (6, 8)
        for item in joining(seed, (quick, "female"), (f"flare-{size}", "male"))
        for standard in (quick, f"flare-{size}")
    }
    assert found == {"quick-5-16", "quick-3-8", "flare-6", "flare-8"}


def test_gauges(seed: Catalog) -> None:
    """Liquid-filled gauges with a taper thread come in two finishes at each of two pressure ranges."""
    gauges = of_kind(seed, "gauge")
    assert len({(gauge.finish, gauge.max_kpa) for gauge in gauges}) == len(gauges) == 4
    assert len({gauge.max_kpa for gauge in gauges}) == len({gauge.finish for gauge in gauges}) == 2
    assert all(ends(gauge) == {("taper-1-8", "male")} and "liquid filled" in gauge.name for gauge in gauges)


def test_centre_feed_lines(seed: Catalog, items: dict[str, Item]) -> None:
    """Centre-feed lines lead from a bulkhead quick-connect to a size 6 flare, with a bracket in the box."""
    lines = joining(seed, ("quick-5-16", "female"), ("flare-6", "female"), kind="line")
    assert lines
    for line in lines:
        assert [items[box.sku].kind for box in line.supplied or []] == ["bracket"]


@pytest.mark.parametrize("size", [6, 8])
def test_link_lines(seed: Catalog, size: int) -> None:
    """Link lines between the banks have the same flare at both ends and fit the two-bank engine alone; hoses do not."""
    lines = joining(seed, (f"flare-{size}", "female"), kind="line")
    links = [line for line in lines if set(line.patterns or []) == patterns_of(seed, banks=2)]
    assert links
    assert all(len(line.ports) == 2 for line in lines)
    assert all(not set(line.patterns or []) & patterns_of(seed, banks=2) for line in lines if line not in links)


@pytest.mark.parametrize("size", [6, 8, 10])
def test_every_boss_has_a_plug(seed: Catalog, size: int) -> None:
    """A port that is left over can be closed, whatever its size."""
    assert joining(seed, (f"orb-{size}", "male"), kind="plug")


def test_injectors_differ_between_engines(seed: Catalog) -> None:
    """Several lengths are on the road, each with the seat that it needs."""
    shapes = {(car.injectors.length_mm, car.manifold.seat_mm) for car in seed.chassis if car.injectors and car.manifold}
    assert len({length for length, _ in shapes}) >= 3


def test_tools_have_sizes(seed: Catalog) -> None:
    """Every fitting, gauge and screw tells its wrench or key; the plug by somebody else does not, which is said."""
    told = [item for item in seed.items if item.kind in ("fitting", "gauge", "line", "fastener")]
    assert all(item.hex_mm or item.drive for item in told)
    assert [item.sku for item in of_kind(seed, "plug") if not (item.hex_mm or item.drive)] == ["plug-8-low"]


def test_regulators_have_a_gauge_port(seed: Catalog) -> None:
    """Each pressure regulator has an inlet, an outlet and a taper gauge port of its own."""
    regulators = of_kind(seed, "regulator")
    assert regulators
    assert all(len(regulator.ports) == 3 and TAPER in ends(regulator) for regulator in regulators)


@pytest.mark.parametrize(
    "words", ["O-ring AS568", "thread sealant", "lubricant", "Screw M6", "Rail spacer", "Retaining clip", "Bracket"]
)
def test_service_parts(seed: Catalog, words: str) -> None:
    """Seals, sealant, lubricant, screws, spacers, clips and brackets are sold by themselves."""
    assert any(words in item.name and item.sold for item in seed.items)


def signature(layout: Layout) -> tuple[int, frozenset[tuple[str, str, str]]]:
    """What tells layouts apart: banks, and the duties with where they lead and what they pass."""
    duties = {
        (
            entry.duty,
            (entry.hookup.standard or entry.hookup.kind) if entry.hookup else "link",
            ",".join(entry.via or []),
        )
        for placement in layout.placements
        for entry in placement.values()
    }
    return layout.banks, frozenset(duties)


def flows(*duties: str) -> frozenset[tuple[str, str, str]]:
    """Duties as `duty to where through what`."""
    told = [duty.replace(" through ", " to ").split(" to ") for duty in duties]
    return frozenset((one[0], one[1], one[2] if len(one) > 2 else "") for one in told)


LAYOUTS = {
    "factory line": (1, flows("feed to factory-line")),
    "own hose 6": (1, flows("feed to flare-6")),
    "own hose 8": (1, flows("feed to flare-8")),
    "bulkhead": (1, flows("feed to bulkhead")),
    "return 6": (1, flows("feed to flare-6", "return to flare-6")),
    "return 8": (1, flows("feed to flare-8", "return to flare-8")),
    "return 6, regulator": (1, flows("feed to flare-6", "return to flare-6 through regulator")),
    "return 8, regulator": (1, flows("feed to flare-8", "return to flare-8 through regulator")),
    "large bore": (1, flows("feed to flare-10")),
    "large bore, return": (1, flows("feed to flare-10", "return to flare-10")),
    "two banks, factory line": (2, flows("feed to factory-line", "link to link")),
    "two banks, own hose 6": (2, flows("feed to flare-6", "link to link")),
    "two banks, own hose 8": (2, flows("feed to flare-8", "link to link")),
    "two banks, return": (2, flows("feed to flare-8", "link to link", "return to flare-8")),
}


@pytest.mark.parametrize("wanted", LAYOUTS.values(), ids=LAYOUTS)
def test_layout(seed: Catalog, wanted: tuple[int, frozenset[tuple[str, str, str]]]) -> None:
    """The usual way to run fuel is among the layouts."""
    assert wanted in [signature(layout) for layout in seed.layouts]


@pytest.mark.parametrize("size", [6, 8])
def test_own_hose_to_centre_and_side(seed: Catalog, size: int) -> None:
    """Own hose leads to the centre in one layout and to either side in another."""
    places = [
        {spot for placement in layout.placements for spot in placement}
        for layout in seed.layouts
        if signature(layout) == (1, flows(f"feed to flare-{size}"))
    ]
    assert {"centre"} in places
    assert {"left", "right"} in places


def test_return_leaves_from_the_other_bank(seed: Catalog) -> None:
    """With a link between banks, fuel returns from the bank that it did not enter."""
    linked = [layout for layout in seed.layouts if layout.id == "pair-return-8-link"]
    assert linked
    for placement in linked[0].placements:
        banks = {entry.duty: spot[0] for spot, entry in placement.items() if entry.duty != "link"}
        assert {banks["feed"], banks["return"]} == {"1", "2"}


def test_factory_lines_differ(seed: Catalog) -> None:
    """At least ten chassis, whose factory lines differ in window, side, quick-connect size, power and pressure."""
    lines = {
        chassis.id: hookup for chassis in seed.chassis for hookup in chassis.hookups if hookup.id == "factory-line"
    }
    assert len(lines) == len(seed.chassis) >= 10
    assert {line.standard for line in lines.values()} == {"quick-5-16", "quick-3-8"}
    reached = [(spot.split(".")[-1], reach) for line in lines.values() for spot, reach in (line.spots or {}).items()]
    assert {spot for spot, _ in reached} == set(SIDES)
    spigots = joining(seed, ("orb-8", "male"), ("quick-5-16", "male"))
    short, long = sorted(spigot.standout_mm or 0 for spigot in spigots)
    windows = {(reach.min_mm <= short <= reach.max_mm, reach.min_mm <= long <= reach.max_mm) for _, reach in reached}
    assert windows == {(True, False), (False, True), (True, True)}
    assert len({chassis.stock_kw for chassis in seed.chassis}) >= 10
    assert len({chassis.base_kpa for chassis in seed.chassis}) >= 3


def test_parts_on_the_cars(seed: Catalog, items: dict[str, Item]) -> None:
    """Screws, spacers and retaining clips are on the cars; clearances are known at some spot of each."""
    on_cars = {items[mount.sku].kind for chassis in seed.chassis for mount in chassis.mounting}
    assert on_cars == {"fastener", "spacer", "clip"}
    assert all(chassis.clearances for chassis in seed.chassis)


def addons_with(seed: Catalog, spots: Iterable[str]) -> list[Addon]:
    return [addon for addon in seed.addons if {one.spot.split(".")[-1] for one in addon.clearances} & set(spots)]


def test_blower(seed: Catalog) -> None:
    """A blower leaves room at one side for the low-profile plug alone, brings screws and spacers, adds boost."""
    blowers = [addon for addon in addons_with(seed, SIDES) if addon.mounting]
    assert blowers
    plugs = joining(seed, ("orb-8", "male"), kind="plug")
    for blower in blowers:
        tightest = min(one.axial_mm for one in blower.clearances if one.axial_mm is not None)
        assert {plug.sold for plug in plugs if (plug.standout_mm or 0) <= tightest} == {False}
        assert {mount.role for mount in blower.mounting} == {"rail-screw", "spacer"}
        assert blower.boost_kpa > 0


def test_strut_brace(seed: Catalog) -> None:
    """A strut brace leaves room for the top spot's plug but for no gauge, on one bank and on two."""
    braces = [addon for addon in addons_with(seed, ["top"]) if not addon.boost_kpa]
    assert {chassis.banks for chassis in seed.chassis for brace in braces if chassis.id in brace.chassis} == {1, 2}
    for limit in (one.axial_mm or 0 for brace in braces for one in brace.clearances):
        assert all((gauge.standout_mm or 0) > limit for gauge in of_kind(seed, "gauge"))
        plugs = joining(seed, ("taper-1-8", "male"), kind="plug")
        assert all((plug.standout_mm or 0) <= limit for plug in plugs)


def test_turbo_kits(seed: Catalog) -> None:
    """Turbo kits add boost and change no mounting."""
    kits = [addon for addon in seed.addons if "turbo" in addon.name.lower()]
    assert kits
    assert all(kit.boost_kpa > 0 and not kit.mounting for kit in kits)


def test_fuels_and_ratings(seed: Catalog) -> None:
    """Petrol comes first, then E10, E85 and a methanol blend; each material's source is told."""
    assert [fuel.id for fuel in seed.fuels] == ["petrol", "e10", "e85", "m85"]
    assert all(
        material.source and set(material.ratings) == {"petrol", "e10", "e85", "m85"} for material in seed.materials
    )


def test_whatever_carries_fuel_has_flow_data(seed: Catalog) -> None:
    """Rails, lines, regulators and fittings that fuel runs through tell their bore, length and losses."""
    for item in seed.items:
        through = item.kind in ("rail", "line", "regulator") or (item.kind == "fitting" and TAPER not in ends(item))
        assert (item.flow is not None) is through, item.sku


def test_offers_vary(seed: Catalog) -> None:
    """Stock runs from none and one upwards, lead times and finishes' prices differ, retired parts name a successor."""
    sold = [item for item in seed.items if item.sold]
    assert {0, 1} <= {item.stock for item in sold}
    assert len({item.lead_days for item in sold}) >= 5
    retired = [item for item in seed.items if item.status == "retired"]
    assert {item.kind for item in retired} == {"rail", "fitting"}
    assert all(item.superseded_by for item in retired)
    families = defaultdict(set)
    for item in sold:
        if item.family:
            families[item.family].add(item.price)
    assert all(len(prices) >= 2 for prices in families.values())


def test_sources_name_standards_not_addresses(seed: Catalog) -> None:
    """Sources are standards, handbooks or common practice, never an address on the web."""
    sources = [found.source for found in (*seed.joints, *seed.fuels, *seed.materials)]
    assert all(source and "http" not in source and "www." not in source for source in sources)
