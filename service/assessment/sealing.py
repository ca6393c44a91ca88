"""Checks of the joints of a bill: rings in their glands, the materials of rings, taper threads."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from functools import lru_cache

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.hardware import Gland, Ring
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Fuel, Policies, Revision, Standard
from service.domain.sources import can_be_looked_up
from service.domain.vehicles import Chassis
from service.engineering import GlandSizes, RingFit, RingSizes, Size, effective_length_mm, engaged_threads, ring_fit
from service.engineering.tapers import GAUGING_TURNS, within_threads
from service.rules.fuel import spare_seal, worst

SOUND = "A"
"""The rating of a ring that needs no caution."""


class Sealing:
    """Checks port standards; each check is worked out once for a fuel and a car."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._sized = lru_cache(1024)(self._sizes)
        self._made_of = lru_cache(1024)(self._material)

    def checks(self, standards: Iterable[str], request: Request) -> Iterator[Check]:
        """The checks of each port standard that joints are made of."""
        for name in standards:
            yield from self._sized(name, request.fuel)
            yield from self._made_of(name, request.fuel, request.chassis)

    def _material(self, name: str, fuel: Fuel, chassis: Chassis) -> tuple[Check, ...]:
        standard = self._revision.standards[name]
        if not standard.joint.spare_seals:
            return ()
        spare = spare_seal(standard.joint, fuel.id, self._revision)
        if spare is None:
            return (_no_ring(standard, fuel),)
        seal, rating = spare
        return () if rating is None else (_material(standard, seal, fuel, chassis, self._revision),)

    def _sizes(self, name: str, fuel: Fuel) -> tuple[Check, ...]:
        standard, revision = self._revision.standards[name], self._revision
        return (*_ring_checks(standard, spare_seal(standard.joint, fuel.id, revision), revision), *_taper(standard))


def _ring_checks(standard: Standard, spare: tuple[Item, str | None] | None, revision: Revision) -> Iterator[Check]:
    """The check of a boss's ring in its gland; a gland whose figures have no source is reported as not judged."""
    gland, seal = standard.gland, spare[0] if spare else None
    is_told = gland is not None and can_be_looked_up(gland.source)
    if gland is not None and is_told and seal is not None and seal.ring is not None:
        yield _fit(standard, gland, seal, seal.ring, revision.policies)
    elif _is_boss(standard) and not is_told:
        yield Check("ring-fit", "not-judged", {"standard": standard.name, "seal": seal and seal.name})


def _is_boss(standard: Standard) -> bool:
    """Whether screwing the part in squeezes the ring; the rings of a connector are its maker's affair."""
    return standard.seal == "o-ring" and standard.joint.make_up.method != "push-to-click"


def _no_ring(standard: Standard, fuel: Fuel) -> Check:
    facts = {"standard": standard.name, "fuel": fuel.name, "seals": list(standard.joint.spare_seals)}
    return Check("ring-material", "caution", facts, skus=standard.joint.spare_seals)


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
    """The stretch of a ring as it passes over the thread of its fitting, as a part of 1; None: no thread is known."""
    return None if standard.thread is None else max(0.0, standard.thread.diameter_mm / ring.inside_mm - 1)


def _material(standard: Standard, seal: Item, fuel: Fuel, chassis: Chassis, revision: Revision) -> Check:
    """The check of a ring's materials against the fuel and the temperatures of manifold and hot rail."""
    materials = [revision.materials[name] for name in seal.wetted]
    found = worst(seal, fuel.id, revision)
    manifold, tank = chassis.manifold, chassis.tank
    coldest = None if manifold is None else manifold.cold_c
    hottest = None if tank is None else tank.soak_c
    least_c, most_c = max(x.min_c for x in materials), min(x.max_c for x in materials)
    holds = (
        (found is None or found[0] == SOUND)
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
    by_hand = engaged_threads(taper.hand_tight_mm, taper.pitch_mm, 0.0)
    threads = by_hand + make_up.turns_past_hand
    least, most = make_up.min_threads, make_up.max_threads
    facts = {
        "standard": standard.name,
        "hand_tight_mm": taper.hand_tight_mm,
        "hand_tight_threads": by_hand,
        "gauging_turns": GAUGING_TURNS,
        "turns_past_hand": make_up.turns_past_hand,
        "most_turns": None if most is None else most - by_hand,
        "threads": threads,
        "engaged_mm": threads * taper.pitch_mm,
        "effective_mm": effective_length_mm(taper.outside_mm, taper.pitch_mm),
        "asked_least": least,
        "asked_most": most,
    }
    meets = None if least is None or most is None else within_threads(threads, least, most)
    yield Check("taper-engagement", judged(meets), facts)
