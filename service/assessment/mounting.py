"""Checks of a rail on its manifold: screws, the stack with the injectors in it, heat through the spacers."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import NamedTuple

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.engine_side import Injectors, Manifold
from service.domain.hardware import RailSeats, Screw, Spacer
from service.domain.parts import Item
from service.domain.revision import Revision
from service.domain.vehicles import Addon, Chassis
from service.engineering import Length, Room, Stack, clamp, conductance_w_k, pressure_force_n, ring_area_mm2, room
from service.engineering.screws import DIAMETERS_IN_ALUMINIUM, REUSED_PART_OF_PROOF
from service.engineering.stack import REFERENCE_C
from service.rules import mounting

LEAST_CLAMP_RATIO = 2.0
"""The least ratio of clamp force to the lift of fuel pressure [-]. Source: common practice."""


class _Mounted(NamedTuple):
    """A rail on its manifold with what holds it, as far as the catalog tells."""

    rail: Item
    seats: RailSeats
    chassis: Chassis
    manifold: Manifold
    screw: Item | None
    screws: int
    spacer: Item | None
    raised_mm: float
    pressure_kpa: float
    revision: Revision

    @property
    def skus(self) -> tuple[str, ...]:
        return (self.rail.sku, self.spacer.sku) if self.spacer else (self.rail.sku,)


def mounting_checks(
    rail: Item, chassis: Chassis, addons: tuple[Addon, ...], pressure_kpa: float, revision: Revision
) -> Iterator[Check]:
    """The checks of a rail on the car; nothing where the catalog does not tell what they need."""
    if rail.seats is None or chassis.manifold is None:
        return
    parts = [(revision.items[x.sku], x.qty) for x in mounting.fill(chassis, addons, rail)]
    screw, screws = next(((item, qty) for item, qty in parts if item.screw), (None, 0))
    spacer = next((item for item, _ in parts if item.spacer), None)
    raised_mm = sum(addon.raises_seat_mm for addon in addons)
    mounted = _Mounted(
        *(rail, rail.seats, chassis, chassis.manifold, screw, screws, spacer, raised_mm, pressure_kpa, revision)
    )
    told = spacer.spacer if spacer else None
    if screw is not None and screw.screw is not None:
        yield _screw(mounted, screw, screw.screw, told)
    if chassis.injectors is not None:
        yield _stack(mounted, told, chassis.injectors)
    if spacer is not None and told is not None and screw is not None and screw.screw is not None:
        yield from _heat(mounted, spacer, told, screw.screw)


def _screw(mounted: _Mounted, item: Item, screw: Screw, spacer: Spacer | None) -> Check:
    _, seats, chassis, manifold, _, count, _, _, pressure_kpa, revision = mounted
    told = revision.policies.max_proof_part
    limit = REUSED_PART_OF_PROOF if told is None else told
    within_mm = manifold.thread_mm
    reaches_mm = screw.length_mm - seats.foot_mm - (spacer.height_mm if spacer else 0.0)
    does = clamp(
        screw.thread,
        screw.strength_class,
        (screw.torque_nm.min, screw.torque_nm.max),
        (screw.nut_factor.min, screw.nut_factor.max),
        max(0.0, min(reaches_mm, within_mm)),
        revision.materials[manifold.material].shear_mpa,
    )
    injectors = chassis.injectors
    lifting = pressure_force_n(injectors.bore_mm, pressure_kpa, chassis.cylinders) if injectors else None
    holds = does.least_n * count / lifting if lifting else None
    within = [reaches_mm <= within_mm, does.engaged_diameters >= DIAMETERS_IN_ALUMINIUM, does.proof_part <= limit]
    if holds is not None:
        within.append(holds >= LEAST_CLAMP_RATIO)
    if does.stripping_n is not None:
        within.append(does.stripping_n >= does.most_n)
    facts = {
        "screw": item.name,
        "count": count,
        "min_nm": screw.torque_nm.min,
        "max_nm": screw.torque_nm.max,
        "preload_least_n": does.least_n,
        "preload_most_n": does.most_n,
        "proof_part": does.proof_part,
        "most_proof_part": limit,
        "reaches_mm": reaches_mm,
        "thread_mm": within_mm,
        "engaged_mm": does.engaged_mm,
        "engaged_diameters": does.engaged_diameters,
        "least_diameters": DIAMETERS_IN_ALUMINIUM,
        "stripping_n": does.stripping_n,
        "pressure_force_n": lifting,
        "clamp_ratio": holds,
        "least_clamp_ratio": LEAST_CLAMP_RATIO,
    }
    return Check("screws", judged(all(within)), facts, skus=(item.sku,))


def _stack(mounted: _Mounted, spacer: Spacer | None, injectors: Injectors) -> Check:
    seats, manifold, revision = mounted.seats, mounted.manifold, mounted.revision

    def length(mm: float, tol_mm: float, material: str) -> Length:
        return Length(mm, tol_mm, revision.materials[material].expansion_1_k or 0.0)

    def stack(height: Length) -> Stack:
        return Stack(
            spacer=height,
            roof=length(seats.roof_mm, seats.roof_tol_mm, seats.material),
            seat=length(manifold.seat_mm + mounted.raised_mm, manifold.seat_tol_mm, manifold.material),
            injector=length(injectors.length_mm, injectors.length_tol_mm, injectors.material),
            cup_depth_mm=seats.cup_depth_mm,
            upper_ring_mm=injectors.upper_ring_mm,
            lower_ring_mm=injectors.lower_ring_mm,
        )

    bare = Length(0.0)
    height = length(spacer.height_mm, spacer.height_tol_mm, spacer.material) if spacer else bare
    rooms = {celsius: room(stack(height), celsius) for celsius in (manifold.cold_c, REFERENCE_C, manifold.hot_c)}
    least = revision.policies.seal_insertion_mm
    within = [found.play.least >= 0 for found in rooms.values()]
    if least is not None:
        within += [min(found.upper.least, found.lower.least) >= least for found in rooms.values()]
    facts = {
        "spacer_mm": spacer.height_mm if spacer else 0.0,
        "rooms": [_room_told(celsius, found) for celsius, found in rooms.items()],
        "least_insertion_mm": least,
        "play_without_spacer_mm": room(stack(bare), REFERENCE_C).play.nominal if spacer else None,
    }
    return Check("stack", judged(all(within)), facts, skus=mounted.skus)


def _room_told(celsius: float, found: Room) -> dict[str, object]:
    return {
        "celsius": celsius,
        "play_mm": asdict(found.play),
        "upper_ring_mm": asdict(found.upper),
        "lower_ring_mm": asdict(found.lower),
    }


def _heat(mounted: _Mounted, item: Item, spacer: Spacer, screw: Screw) -> Iterator[Check]:
    """Heat up one spacer and its screw, against as much of the rail's bare metal around the same screw."""
    conductivity = [
        mounted.revision.materials[material].conductivity_w_m_k
        for material in (spacer.material, mounted.seats.material, screw.material)
    ]
    insulates, metal, steel = conductivity
    if insulates is None or metal is None or steel is None:
        return
    area = ring_area_mm2(spacer.outside_mm, spacer.inside_mm)
    through_screw = conductance_w_k(ring_area_mm2(screw.thread.diameter_mm, 0.0), spacer.height_mm, steel)
    with_spacer = conductance_w_k(area, spacer.height_mm, insulates) + through_screw
    with_metal = conductance_w_k(area, spacer.height_mm, metal) + through_screw
    tank, hot_c = mounted.chassis.tank, mounted.manifold.hot_c
    fuel_c = REFERENCE_C if tank is None else tank.fuel_c
    facts = {
        "spacer": item.name,
        "hot_c": hot_c,
        "fuel_c": fuel_c,
        "spacer_w": with_spacer * max(0.0, hot_c - fuel_c),
        "metal_w": with_metal * max(0.0, hot_c - fuel_c),
        "times_less": with_metal / with_spacer,
    }
    yield Check("heat", "ok", facts, skus=(item.sku,))
