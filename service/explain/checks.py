"""Each check of a bill in words: what was looked at, what was found, and the source that it rests on."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from service.documents import answer as doc
from service.domain.assessment import Check
from service.explain import mounting_checks, seal_checks, supply_checks
from service.explain.figures import figures

Facts = Mapping[str, Any]


class Words(NamedTuple):
    """How a check is told, and where its figures come from."""

    text: Callable[[Facts], str]
    source: str


WORDS: dict[str, Words] = {
    "pump": Words(supply_checks.pump, "pump against system curve, e.g. White, Fluid Mechanics, section 11.6"),
    "injectors": Words(
        supply_checks.injectors,
        "square-root law: Bernoulli's equation for an orifice, e.g. White, Fluid Mechanics, section 3.5",
    ),
    "vapour-inlet": Words(
        supply_checks.vapour_inlet, "net positive suction head, e.g. White, Fluid Mechanics, section 11.4; ISO 2533"
    ),
    "vapour-soak": Words(
        supply_checks.vapour_soak, "vapour pressure after Clausius-Clapeyron; ISO 2533; hot soak, common practice"
    ),
    "spread": Words(supply_checks.spread, "Darcy-Weisbach between the injectors, square-root law of the orifice"),
    "gauge-scale": Words(supply_checks.gauge_scale, "EN 837-2: steady pressure within three quarters of the scale"),
    "ring-fit": Words(
        seal_checks.ring_fit, "squeeze as of MIL-G-5514, paragraph 3.6.2; limits of the catalog, common practice"
    ),
    "ring-material": Words(seal_checks.ring_material, "the sources of the material in the catalog"),
    "taper-engagement": Words(seal_checks.taper_engagement, "ASME B1.20.1; the range of threads is the catalog's"),
    "screws": Words(
        mounting_checks.screws,
        "Shigley, Mechanical Engineering Design, chapter 8; ISO 898-1; FED-STD-H28/2B (from memory); "
        "TM 5-3895-360-13, appendix G; clamp ratio, common practice",
    ),
    "stack": Words(mounting_checks.stack, "chain of lengths with linear expansion from 20 °C (ISO 1)"),
    "heat": Words(
        mounting_checks.heat, "Fourier's law, e.g. Incropera, Fundamentals of Heat and Mass Transfer, section 3.1"
    ),
}
"""The words of each check by its id."""


def check_told(check: Check) -> doc.Check:
    """A check as it stands in an answer."""
    words = WORDS[check.check]
    return {
        "check": check.check,
        "verdict": check.verdict,
        "text": words.text(check.facts),
        "skus": list(check.skus),
        "spots": list(check.spots),
        "facts": figures(check.facts),
        "source": words.source,
    }
