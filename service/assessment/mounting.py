"""How a rail stands on its manifold: screws, the stack with the injectors in it, heat through the spacers."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import NamedTuple

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.engine_side import Injectors, Manifold
from service.domain.hardware import RailSeats, Screw, Spacer
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.engineering import (
    Length,
    Room,
    Stack,
    clamp,
    conductance_w_k,
    pressure_force_n,
    ring_area_mm2,
    room,
)
from service.engineering.screws import DIAMETERS_IN_ALUMINIUM
from service.engineering.stack import REFERENCE_C
from service.rules import mounting

LEAST_CLAMP_RATIO = 2.0
"""How often the least clamp must hold what fuel pressure lifts: common practice."""


class _Mounted(NamedTuple):
    """What holds a rail, as far as the catalog tells: the screw with how many there are, and the spacer."""

    screw: Item | None
    screws: int
    spacer: Item | None


def mounting_checks(rail: Item, request: Request, revision: Revision) -> Iterator[Check]:
    """The checks of a rail on the car; nothing where the catalog does not tell what they need."""
    seats, manifold = rail.seats, request.chassis.manifold
    if seats is None or manifold is None:
        return
    mounted = _mounted(rail, request, revision)
    spacer = mounted.spacer.spacer if mounted.spacer else None
    if mounted.screw is not None and mounted.screw.screw is not None:
        yield _screw(mounted.screw, mounted.screw.screw, mounted.screws, seats, spacer, manifold, request, revision)
    injectors = request.chassis.injectors
    if injectors is not None:
        skus = (rail.sku, mounted.spacer.sku) if mounted.spacer else (rail.sku,)
        yield _stack(skus, seats, spacer, injectors, manifold, request, revision)
    if spacer is not None:
        yield from _heat(mounted, spacer, seats, manifold, request, revision)


def _mounted(rail: Item, request: Request, revision: Revision) -> _Mounted:
    fillings = mounting.fill(request.chassis, request.addons, rail)
    parts = [(revision.items[filling.sku], filling.qty) for filling in fillings]
    screw, screws = next(((item, qty) for item, qty in parts if item.screw), (None, 0))
    spacer = next((item for item, _ in parts if item.spacer), None)
    return _Mounted(screw, screws, spacer)


def _screw(
    item: Item,
    screw: Screw,
    count: int,
    seats: RailSeats,
    spacer: Spacer | None,
    manifold: Manifold,
    request: Request,
    revision: Revision,
) -> Check:
    chassis, limit = request.chassis, revision.policies.max_proof_part
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
    lifting = pressure_force_n(injectors.bore_mm, request.pressure_kpa, chassis.cylinders) if injectors else None
    holds = does.least_n * count / lifting if lifting else None
    within = [reaches_mm <= within_mm, does.engaged_diameters >= DIAMETERS_IN_ALUMINIUM]
    if limit is not None:
        within.append(does.proof_part <= limit)
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


def _stack(
    skus: tuple[str, ...],
    seats: RailSeats,
    spacer: Spacer | None,
    injectors: Injectors,
    manifold: Manifold,
    request: Request,
    revision: Revision,
) -> Check:
    raised_mm = sum(addon.raises_seat_mm for addon in request.addons)

    def length(mm: float, tol_mm: float, material: str) -> Length:
        return Length(mm, tol_mm, revision.materials[material].expansion_1_k or 0.0)

    def stack(height: Length) -> Stack:
        return Stack(
            spacer=height,
            roof=length(seats.roof_mm, seats.roof_tol_mm, seats.material),
            seat=length(manifold.seat_mm + raised_mm, manifold.seat_tol_mm, manifold.material),
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
    return Check("stack", judged(all(within)), facts, skus=skus)


def _room_told(celsius: float, found: Room) -> dict[str, object]:
    return {
        "celsius": celsius,
        "play_mm": asdict(found.play),
        "upper_ring_mm": asdict(found.upper),
        "lower_ring_mm": asdict(found.lower),
    }


def _heat(
    mounted: _Mounted, spacer: Spacer, seats: RailSeats, manifold: Manifold, request: Request, revision: Revision
) -> Iterator[Check]:
    """Heat up one spacer and its screw, against as much of the rail's bare metal around the same screw."""
    insulates = revision.materials[spacer.material].conductivity_w_m_k
    metal = revision.materials[seats.material].conductivity_w_m_k
    screw = mounted.screw.screw if mounted.screw else None
    steel = revision.materials[screw.material].conductivity_w_m_k if screw else None
    if insulates is None or metal is None or screw is None or steel is None or mounted.spacer is None:
        return
    area = ring_area_mm2(spacer.outside_mm, spacer.inside_mm)
    through_screw = conductance_w_k(ring_area_mm2(screw.thread.diameter_mm, 0.0), spacer.height_mm, steel)
    with_spacer = conductance_w_k(area, spacer.height_mm, insulates) + through_screw
    with_metal = conductance_w_k(area, spacer.height_mm, metal) + through_screw
    fuel_c = REFERENCE_C if request.chassis.tank is None else request.chassis.tank.fuel_c
    facts = {
        "spacer": mounted.spacer.name,
        "hot_c": manifold.hot_c,
        "fuel_c": fuel_c,
        "spacer_w": with_spacer * max(0.0, manifold.hot_c - fuel_c),
        "metal_w": with_metal * max(0.0, manifold.hot_c - fuel_c),
        "times_less": with_metal / with_spacer,
    }
    yield Check("heat", "ok", facts, skus=(mounted.spacer.sku,))
