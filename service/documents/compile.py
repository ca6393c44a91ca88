"""Compile a catalog document into a revision: domain values, found by key."""

from collections import Counter, defaultdict
from collections.abc import Collection

from service.documents import catalog as doc
from service.documents.catalog_joints import Joint as JointDocument
from service.documents.compile_engineering import alike, chassis_regulator, injectors, policies, pump, screw, thread
from service.documents.fields import Clearance as ClearanceDocument
from service.domain.engine_side import Manifold, Regulates, Tank
from service.domain.hardware import Gland, PipeTaper, RailSeats, Ring, Spacer
from service.domain.parts import Item, Opening, Port, RailShape, Supplied
from service.domain.revision import Fuel, Joint, MakeUp, Material, Revision, Standard
from service.domain.vehicles import Addon, Chassis, Clearance, DutyEntry, Hookup, Layout, Mounting, Reach
from service.hydraulics.passage import Fluid, Passage

_MM = 1e-3
_MPA_S = 1e-3


def compile_revision(catalog: doc.Catalog, number: int) -> Revision:
    """Give the compiled revision of a catalog that has passed its checks."""
    items = {item.sku: _item(item) for item in catalog.items}
    joints = {joint.id: _joint(joint) for joint in catalog.joints}
    return Revision(
        number=number,
        currency=catalog.maker.currency,
        items=items,
        standards={x.id: _standard(x, joints) for x in catalog.port_standards},
        fuels={fuel.id: _fuel(fuel) for fuel in catalog.fuels},
        materials={x.id: _material(x) for x in catalog.materials},
        chassis={chassis.id: _chassis(chassis) for chassis in catalog.chassis},
        addons={addon.id: _addon(addon) for addon in catalog.addons},
        layouts={layout.id: _layout(layout) for layout in catalog.layouts},
        policies=policies(catalog.policies),
        mating=_mating(items),
        shapes=_shapes(items),
        offers=frozenset(
            (item.family, item.finish) for item in items.values() if item.active and item.family and item.finish
        ),
        lower_skus=_lower_skus(items),
    )


def _lower_skus(items: Collection[str]) -> dict[str, str]:
    """Each SKU by its lower case, but for those that differ in case alone."""
    counts = Counter(map(str.lower, items))
    return {sku.lower(): sku for sku in items if counts[sku.lower()] == 1}


def _joint(joint: JointDocument) -> Joint:
    make_up = MakeUp(**joint.model_dump(exclude={"id", "consumables", "spare_seal", "cautions", "source"}))
    return Joint(
        id=joint.id,
        make_up=make_up,
        consumables=tuple(joint.consumables or ()),
        spare_seals=tuple(joint.spare_seal or ()),
        cautions=tuple(joint.cautions),
        source=joint.source,
    )


def _standard(standard: doc.PortStandard, joints: dict[str, Joint]) -> Standard:
    return Standard(
        id=standard.id,
        name=standard.name,
        family=standard.family,
        size=standard.size,
        seal=standard.seal,
        joint=joints[standard.joint],
        thread=None if standard.thread is None else thread(standard.thread),
        gland=alike(Gland, standard.gland),
        taper=alike(PipeTaper, standard.taper),
    )


def _material(material: doc.Material) -> Material:
    return Material(**material.model_dump(exclude={"source", "aliases"}))


def _passage(flow: doc.Flow | None) -> Passage | None:
    if flow is None:
        return None
    return Passage(flow.bore_mm * _MM, flow.length_mm * _MM, flow.loss_k, flow.roughness_mm * _MM)


def _item(item: doc.Item) -> Item:
    return Item(
        sku=item.sku,
        name=item.name,
        kind=item.kind,
        family=item.family,
        finish=item.finish,
        sold=item.sold,
        active=item.status == "active",
        superseded_by=item.superseded_by,
        price=item.price,
        stock=item.stock,
        lead_days=item.lead_days,
        ports=tuple(Port(port.id, Opening(port.standard, port.end), port.spot) for port in item.ports),
        wetted=tuple(item.wetted),
        max_kpa=item.max_kpa,
        standout_mm=item.standout_mm or 0.0,
        across_mm=item.across_mm,
        passage=_passage(item.flow),
        patterns=frozenset(item.patterns or ()),
        supplied=tuple(Supplied(x.sku, x.qty, x.spot, x.role) for x in item.supplied or ()),
        ring=alike(Ring, item.ring),
        screw=screw(item.screw),
        spacer=alike(Spacer, item.spacer),
        seats=alike(RailSeats, item.seats),
        injectors_mm=tuple(item.injector_positions_mm or ()),
        spots_mm={str(place): mm for place, mm in (item.spot_positions_mm or {}).items()},
        hex_mm=item.hex_mm,
        drive=item.drive,
        regulates=alike(Regulates, item.regulates),
    )


def _fuel(fuel: doc.Fuel) -> Fuel:
    fluid = Fluid(fuel.density_kg_m3, fuel.viscosity_mpa_s * _MPA_S)
    vapour = tuple((point.c, point.kpa_abs) for point in fuel.vapour or ())
    bsfc = fuel.bsfc_g_kwh
    cautions = tuple(fuel.cautions or ())
    return Fuel(fuel.id, fuel.name, fluid, bsfc.na, bsfc.boosted, fuel.heat_capacity_j_kg_k, vapour, cautions)


def _clearances(clearances: list[ClearanceDocument]) -> tuple[Clearance, ...]:
    return tuple(Clearance(x.spot, x.axial_mm, x.across_mm) for x in clearances)


def _chassis(chassis: doc.Chassis) -> Chassis:
    return Chassis(
        id=chassis.id,
        name=chassis.name,
        banks=chassis.banks,
        pattern=chassis.pattern,
        base_kpa=chassis.base_kpa,
        stock_kw=chassis.stock_kw,
        cylinders=chassis.cylinders,
        hookups={hookup.id: _hookup(hookup) for hookup in chassis.hookups},
        clearances=_clearances(chassis.clearances),
        mounting=tuple(Mounting(x.role, x.sku, x.qty, bool(x.optional)) for x in chassis.mounting),
        pump=pump(chassis),
        injectors=injectors(chassis.injectors),
        regulator=chassis_regulator(chassis.regulator),
        manifold=alike(Manifold, chassis.manifold),
        tank=alike(Tank, chassis.tank),
    )


def _hookup(hookup: doc.Hookup) -> Hookup:
    reaches = None
    if hookup.spots is not None:
        reaches = {spot: Reach(window.min_mm, window.max_mm) for spot, window in hookup.spots.items()}
    return Hookup(hookup.id, Opening(hookup.standard, hookup.end), _passage(hookup.flow), reaches)


def _addon(addon: doc.Addon) -> Addon:
    return Addon(
        id=addon.id,
        name=addon.name,
        chassis=frozenset(addon.chassis),
        boost_kpa=addon.boost_kpa,
        clearances=_clearances(addon.clearances),
        mounting=tuple(Mounting(x.role, x.sku, x.qty) for x in addon.mounting),
        raises_seat_mm=addon.raises_seat_mm or 0.0,
    )


def _layout(layout: doc.Layout) -> Layout:
    placements = tuple(
        {spot: _duty_entry(entry) for spot, entry in placement.items()} for placement in layout.placements
    )
    return Layout(layout.id, layout.name, layout.summary, layout.banks, placements)


def _duty_entry(entry: doc.DutyEntry) -> DutyEntry:
    hookup = entry.hookup
    own_hose = None
    if hookup is not None and hookup.kind == "own-hose" and hookup.standard is not None and hookup.end is not None:
        own_hose = Hookup(hookup.kind, Opening(hookup.standard, hookup.end), _passage(hookup.flow))
    return DutyEntry(entry.duty, hookup.kind if hookup else None, own_hose, entry.to_spot, tuple(entry.via or ()))


def _mating(items: dict[str, Item]) -> dict[Opening, tuple[tuple[Item, Port], ...]]:
    """Index every port of every item but rails by the opening that it meets; of twin ports one is enough.

    Sorted by SKU, so that answers do not depend on the order of the catalog.
    """
    mating: defaultdict[Opening, list[tuple[Item, Port]]] = defaultdict(list)
    for _, item in sorted(items.items()):
        if item.kind != "rail":
            for opening, port in {port.opening: port for port in reversed(item.ports)}.items():
                mating[opening.mate].append((item, port))
    return {opening: tuple(entries) for opening, entries in mating.items()}


def _shapes(items: dict[str, Item]) -> dict[str, tuple[RailShape, ...]]:
    """Gather the rails of each pattern, sorted by SKU, by what a chain could notice of them."""
    alike: defaultdict[str, defaultdict[tuple[object, ...], list[Item]]] = defaultdict(lambda: defaultdict(list))
    for rail in (item for _, item in sorted(items.items()) if item.kind == "rail"):
        spots = frozenset((port.spot, port.opening) for port in rail.ports)
        plugs = frozenset((x.spot, x.sku) for x in rail.supplied if x.spot and items[x.sku].kind == "plug")
        for pattern in rail.patterns:
            alike[pattern][spots, plugs, rail.passage].append(rail)
    return {
        pattern: tuple(_shape(tuple(rails), items) for rails in by_shape.values())
        for pattern, by_shape in alike.items()
    }


def _shape(rails: tuple[Item, ...], items: dict[str, Item]) -> RailShape:
    first = rails[0]
    plugs: defaultdict[str, list[Item]] = defaultdict(list)
    for supplied in first.supplied:
        plug = items[supplied.sku]
        if supplied.spot and plug.kind == "plug" and plug not in plugs[supplied.spot]:
            plugs[supplied.spot].append(plug)
    return RailShape(
        spots={port.spot: port.opening for port in first.ports if port.spot},
        plugs={spot: tuple(found) for spot, found in plugs.items()},
        passage=first.passage,
        rails=rails,
    )
