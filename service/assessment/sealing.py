"""How the joints of a bill seal: rings in their glands, what they are made of, taper threads."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from functools import lru_cache

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.hardware import Gland, Ring
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Fuel, Policies, Revision, Standard
from service.domain.vehicles import Chassis
from service.engineering import GlandSizes, RingFit, RingSizes, Size, effective_length_mm, engaged_threads, ring_fit
from service.engineering.tapers import GAUGING_TURNS
from service.rules.fuel import WITH_CAUTION, worst


class Sealing:
    """Checks of port standards; sizes are looked at once a standard, materials once a fuel and car."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._sized = {standard.id: tuple(_sizes(standard, revision)) for standard in revision.standards.values()}
        self._made_of = lru_cache(1024)(self._material)

    def checks(self, standards: Iterable[str], request: Request) -> Iterator[Check]:
        """The checks of each port standard that joints are made of; nothing where the catalog tells no sizes."""
        for name in standards:
            yield from self._sized[name]
            yield from self._made_of(name, request.fuel, request.chassis)

    def _material(self, name: str, fuel: Fuel, chassis: Chassis) -> tuple[Check, ...]:
        standard = self._revision.standards[name]
        seal = self._revision.items.get(standard.joint.spare_seal or "")
        if seal is None or not seal.wetted:
            return ()
        return (_material(standard, seal, fuel, chassis, self._revision),)


def _sizes(standard: Standard, revision: Revision) -> Iterator[Check]:
    seal = revision.items.get(standard.joint.spare_seal or "")
    if standard.gland is not None and seal is not None and seal.ring is not None:
        yield _fit(standard, standard.gland, seal, seal.ring, revision.policies)
    yield from _taper(standard)


def _fit(standard: Standard, gland: Gland, seal: Item, ring: Ring, policies: Policies) -> Check:
    fit = _ring_fit(gland, ring)
    squeeze, most_fill = policies.squeeze, policies.max_gland_fill
    within = []
    if squeeze is not None:
        within += [squeeze.min <= fit.squeeze.least, fit.squeeze.most <= squeeze.max]
    if most_fill is not None:
        within.append(fit.fill.most <= most_fill)
    facts = {
        "standard": standard.name,
        "seal": seal.name,
        "squeeze": asdict(fit.squeeze),
        "least_squeeze": squeeze and squeeze.min,
        "most_squeeze": squeeze and squeeze.max,
        "fill": asdict(fit.fill),
        "most_fill": most_fill,
        "stretch": asdict(fit.stretch),
        "over_thread": _over_thread(standard, ring),
    }
    return Check("ring-fit", judged(all(within) if within else None), facts, skus=(seal.sku,))


def _ring_fit(gland: Gland, ring: Ring) -> RingFit:
    return ring_fit(
        RingSizes(Size(ring.inside_mm, ring.inside_tol_mm), Size(ring.section_mm, ring.section_tol_mm)),
        GlandSizes(
            Size(gland.inside_mm, gland.diameter_tol_mm),
            Size(gland.outside_mm, gland.diameter_tol_mm),
            Size(gland.depth_mm, gland.depth_tol_mm),
        ),
    )


def _over_thread(standard: Standard, ring: Ring) -> float | None:
    """How far the ring has to stretch to pass over the thread of its fitting, as a part of 1."""
    return None if standard.thread is None else max(0.0, standard.thread.diameter_mm / ring.inside_mm - 1)


def _material(standard: Standard, seal: Item, fuel: Fuel, chassis: Chassis, revision: Revision) -> Check:
    """What the ring is made of, against the fuel and the temperatures of manifold and hot rail."""
    materials = [revision.materials[name] for name in seal.wetted]
    found = worst(seal, fuel.id, revision)
    manifold, tank = chassis.manifold, chassis.tank
    coldest = None if manifold is None else manifold.cold_c
    hottest = None if tank is None else tank.soak_c
    least_c, most_c = max(x.min_c for x in materials), min(x.max_c for x in materials)
    holds = (
        (found is None or found[0] < WITH_CAUTION)
        and (coldest is None or least_c <= coldest)
        and (hottest is None or hottest <= most_c)
    )
    facts = {
        "standard": standard.name,
        "seal": seal.name,
        "material": revision.materials[found[1]].name if found else materials[0].name,
        "fuel": fuel.name,
        "rating": found and found[0],
        "coldest_c": coldest,
        "hottest_c": hottest,
        "material_min_c": least_c,
        "material_max_c": most_c,
    }
    return Check("ring-material", judged(holds), facts, skus=(seal.sku,))


def _taper(standard: Standard) -> Iterator[Check]:
    taper, make_up = standard.taper, standard.joint.make_up
    if taper is None or make_up.turns_past_hand is None:
        return
    threads = engaged_threads(taper.hand_tight_mm, taper.pitch_mm, make_up.turns_past_hand)
    fewest, greatest = max(0.0, threads - GAUGING_TURNS), threads + GAUGING_TURNS
    least, most = make_up.min_threads, make_up.max_threads
    facts = {
        "standard": standard.name,
        "hand_tight_mm": taper.hand_tight_mm,
        "turns_past_hand": make_up.turns_past_hand,
        "threads": threads,
        "fewest_threads": fewest,
        "most_threads": greatest,
        "engaged_mm": threads * taper.pitch_mm,
        "effective_mm": effective_length_mm(taper.outside_mm, taper.pitch_mm),
        "asked_least": least,
        "asked_most": most,
    }
    meets = None if least is None or most is None else fewest <= most and greatest >= least
    yield Check("taper-engagement", judged(meets), facts)
