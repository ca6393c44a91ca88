"""Whether a gauge stands the pressure that it shows all day: steady pressure within three quarters of its scale."""

from collections.abc import Iterator

from service.assessment.verdicts import judged
from service.domain.answer import Bill
from service.domain.assessment import Check
from service.domain.request import Request

STEADY_PART = 0.75
"""The most that steady pressure takes of a gauge's scale [-]. Source: EN 837-2."""


def gauge_checks(bill: Bill, request: Request) -> Iterator[Check]:
    """Yield a check for each gauge of a bill whose end of scale, `max_kpa`, is known."""
    for placed in bill.chains:
        for link in placed.chain.links:
            scale_kpa = link.item.max_kpa
            if link.item.kind == "gauge" and scale_kpa:
                facts = {
                    "gauge": link.item.name,
                    "kpa": request.pressure_kpa,
                    "scale_kpa": scale_kpa,
                    "part": request.pressure_kpa / scale_kpa,
                    "most_part": STEADY_PART,
                }
                holds = request.pressure_kpa <= round(STEADY_PART * scale_kpa, 6)
                yield Check("gauge-scale", judged(holds), facts, (link.item.sku,), (placed.spot,))
