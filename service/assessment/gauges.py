"""The check of a gauge against steady pressure, which stays within three quarters of its scale."""

from collections.abc import Iterator

from service.assessment.verdicts import judged
from service.domain.answer import Bill
from service.domain.assessment import Check
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision

STEADY_PART = 0.75
"""The most that steady pressure takes of a gauge's scale [-]. Source: EN 837-2."""


def gauge_checks(bill: Bill, request: Request, revision: Revision) -> Iterator[Check]:
    """Yield a check for each gauge of a bill whose end of scale, `max_kpa`, is known.

    A gauge that is strained has beside it one that is not and costs no more, where there is one.
    """
    for placed in bill.chains:
        for link in placed.chain.links:
            scale_kpa = link.item.max_kpa
            if link.item.kind == "gauge" and scale_kpa:
                holds = _stands(scale_kpa, request)
                instead = None if holds else _instead(link.item, request, revision)
                facts = {
                    "gauge": link.item.name,
                    "kpa": request.pressure_kpa,
                    "scale_kpa": scale_kpa,
                    "part": request.pressure_kpa / scale_kpa,
                    "most_part": STEADY_PART,
                    "instead": None if instead is None else instead.sku,
                    "instead_name": None if instead is None else instead.name,
                }
                yield Check("gauge-scale", judged(holds), facts, (link.item.sku,), (placed.spot,))


def _stands(scale_kpa: float, request: Request) -> bool:
    return request.pressure_kpa <= round(STEADY_PART * scale_kpa, 6)


def _instead(strained: Item, request: Request, revision: Revision) -> Item | None:
    """The cheapest gauge that goes in the place of another, stands the pressure and costs no more."""
    ports = sorted(port.opening for port in strained.ports)
    fits = [
        gauge
        for gauge, _ in revision.mating.get(ports[0].mate, ())
        if gauge.kind == "gauge"
        and gauge.max_kpa
        and _stands(gauge.max_kpa, request)
        and gauge.price <= strained.price
        and sorted(port.opening for port in gauge.ports) == ports
        and _is_offered(gauge, strained, request)
        and _goes_there(gauge, strained, request, revision)
    ]
    return min(fits, key=lambda gauge: (gauge.price, gauge.sku), default=None)


def _is_offered(gauge: Item, strained: Item, request: Request) -> bool:
    """Whether a request accepts a gauge as it accepts the other."""
    in_stock = not request.in_stock_only or gauge.stock > 0
    finished = request.finish is None or gauge.finish in (request.finish, strained.finish)
    return gauge.sold and gauge.active and in_stock and finished and gauge.sku not in request.exclude


def _goes_there(gauge: Item, strained: Item, request: Request, revision: Revision) -> bool:
    """Whether a gauge takes no more room than the other, stands the fuel and goes on the car's rails."""
    room = gauge.standout_mm <= strained.standout_mm and (gauge.across_mm or 0.0) <= (strained.across_mm or 0.0)
    rated = all(revision.materials[material].ratings[request.fuel.id] in ("A", "B") for material in gauge.wetted)
    return room and rated and (not gauge.patterns or request.chassis.pattern in gauge.patterns)
