"""Compile a catalog document into a revision: domain values, found by key."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache, partial
from sys import intern
from typing import TypeVar

from service.documents import catalog as doc
from service.documents.catalog_joints import Joint as JointDocument
from service.documents.compile_engineering import alike, chassis_regulator, injectors, policies, pump, screw, thread
from service.documents.compile_index import index_items
from service.documents.compile_language import second_language
from service.documents.fields import Clearance as ClearanceDocument
from service.documents.packed import Objects, PackedCatalog, packed
from service.domain.engine_side import Manifold, Regulates, Tank
from service.domain.hardware import Gland, PipeTaper, RailSeats, Ring, Spacer
from service.domain.lazy import Lazily
from service.domain.parts import Item, Opening, Port, RailShape, Supplied
from service.domain.revision import Fuel, ItemIndex, Joint, MakeUp, Material, Revision, Standard
from service.domain.vehicles import Addon, Chassis, Clearance, DutyEntry, Fastener, Hookup, Layout, Mounting, Reach
from service.domain.work import give_turn
from service.hydraulics.passage import Fluid, Passage

D = TypeVar("D")
T = TypeVar("T")

_NOWHERE: Mapping[str, float] = {}
_PORTS_SHARED = 4_096
_NOT_HOW_TIGHT = {"id", "consumables", "spare_seal", "cautions", "second_cautions", "source"}
_MM = 1e-3
_MPA_S = 1e-3


def compile_revision(catalog: doc.Catalog | PackedCatalog, number: int) -> Revision:
    """Give the revision of a catalog that has passed its checks; each part of it is compiled when it is asked for."""
    told = packed(catalog)
    maker = told.maker
    index = index_items(told.items.texts)
    items = _lazily(told.items, partial(_item, port=lru_cache(_PORTS_SHARED)(_port)))
    joints = _lazily(told.joints, _joint)
    return Revision(
        number=number,
        currency=maker.currency,
        tax=maker.tax,
        items=items,
        standards=_lazily(told.port_standards, lambda standard: _standard(standard, joints)),
        fuels=_lazily(told.fuels, _fuel),
        materials=_lazily(told.materials, _material),
        chassis=_lazily(told.chassis, _chassis),
        addons=_lazily(told.addons, _addon),
        layouts=_lazily(told.layouts, _layout),
        policies=policies(told.policies),
        mating=_mating(items, index),
        shapes=Lazily(
            index.rails, lambda pattern: _shapes(map(items.__getitem__, sorted(index.rails[pattern])), items)
        ),
        index=index,
        second=second_language(told, index),
    )


def _lazily(objects: Objects[D], compiled: Callable[[D], T]) -> Lazily[str, T]:
    documents = objects.by_id

    def compile_one(wanted: str) -> T:
        give_turn()
        return compiled(documents[wanted])

    return Lazily(objects.texts, compile_one)


def _joint(joint: JointDocument) -> Joint:
    make_up = MakeUp(**joint.model_dump(exclude=_NOT_HOW_TIGHT))
    return Joint(
        id=joint.id,
        make_up=make_up,
        consumables=tuple(joint.consumables or ()),
        spare_seals=tuple(joint.spare_seal or ()),
        cautions=tuple(joint.cautions),
        source=joint.source,
    )


def _standard(standard: doc.PortStandard, joints: Mapping[str, Joint]) -> Standard:
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
    return Material(**material.model_dump(exclude={"source", "aliases", "second_name"}))


def _passage(flow: doc.Flow | None) -> Passage | None:
    if flow is None:
        return None
    return Passage(flow.bore_mm * _MM, flow.length_mm * _MM, flow.loss_k, flow.roughness_mm * _MM)


def _port(name: str, standard: str, end: str, spot: str | None) -> Port:
    return Port(name, Opening(standard, end), spot)


def _item(item: doc.Item, port: Callable[[str, str, str, str | None], Port]) -> Item:
    """`port` gives the port of these names: one for all items that have it."""
    return Item(
        sku=item.sku,
        name=item.name,
        kind=item.kind,
        family=item.family,
        finish=None if item.finish is None else intern(item.finish),
        sold=item.sold,
        active=item.status == "active",
        superseded_by=item.superseded_by,
        price=item.price,
        stock=item.stock,
        lead_days=item.lead_days,
        ports=tuple(port(x.id, x.standard, x.end, x.spot) for x in item.ports),
        wetted=tuple(map(intern, item.wetted)),
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
        spots_mm={str(x): mm for x, mm in item.spot_positions_mm.items()} if item.spot_positions_mm else _NOWHERE,
        hex_mm=item.hex_mm,
        drive=item.drive,
        outlet_deg=item.outlet_deg,
        min_bend_mm=item.min_bend_mm,
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
        fasteners=tuple(Fastener(x.sku, x.qty) for x in addon.fasteners or ()),
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
        own_hose = Hookup(
            hookup.kind,
            Opening(hookup.standard, hookup.end),
            _passage(hookup.flow),
            hex_mm=hookup.hex_mm,
            min_bend_mm=hookup.min_bend_mm,
        )
    return DutyEntry(entry.duty, hookup.kind if hookup else None, own_hose, entry.to_spot, tuple(entry.via or ()))


def _mating(items: Mapping[str, Item], index: ItemIndex) -> Lazily[Opening, tuple[tuple[Item, Port], ...]]:
    """Every port of every item but rails by the opening that it meets; of twin ports one is enough.

    Sorted by SKU, so that answers do not depend on the order of the catalog.
    """

    def met(opening: Opening) -> tuple[tuple[Item, Port], ...]:
        entry = opening.mate
        found = [items[sku] for sku in sorted(index.by_opening[entry])]
        return tuple(
            (item, next(port for port in item.ports if port.opening == entry)) for item in found if item.kind != "rail"
        )

    return Lazily(frozenset().union(*index.met_by.values()), met)


def _shapes(rails: Iterable[Item], items: Mapping[str, Item]) -> tuple[RailShape, ...]:
    """Gather the rails of a pattern, which are sorted by SKU, by what a chain could notice of them."""
    alike: defaultdict[tuple[object, ...], list[Item]] = defaultdict(list)
    for rail in rails:
        spots = frozenset((port.spot, port.opening) for port in rail.ports)
        plugs = frozenset((x.spot, x.sku) for x in rail.supplied if x.spot and items[x.sku].kind == "plug")
        alike[spots, plugs, rail.passage].append(rail)
    return tuple(_shape(tuple(found), items) for found in alike.values())


def _shape(rails: tuple[Item, ...], items: Mapping[str, Item]) -> RailShape:
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
