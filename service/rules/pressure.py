"""`pressure`: every part stands base pressure and boost."""

from collections.abc import Iterator, Mapping

from service.domain import units
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.margins import Margin
from service.domain.parts import Item
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.domain.tongue import named, said
from service.rules.rule import Got, PartRule, always


def reads(situation: PartSituation) -> float:
    return situation.pressure_kpa


def holds(item: Item, pressure_kpa: float, _revision: Revision, _got: Got) -> bool:
    return item.max_kpa is None or item.max_kpa >= pressure_kpa


def facts(item: Item, situation: PartSituation, _revision: Revision) -> Facts | None:
    if item.max_kpa is None:
        return None
    left_kpa = _left_kpa(item.max_kpa, situation.pressure_kpa)
    return {"max_kpa": item.max_kpa, "needed_kpa": situation.pressure_kpa, "left_kpa": left_kpa}


def margin(item: Item, pressure_kpa: float) -> Margin | None:
    """What is left of what the part stands; None where it is not limited."""
    if item.max_kpa is None:
        return None
    left_kpa = _left_kpa(item.max_kpa, pressure_kpa)
    return Margin("pressure", "pressure", "kPa", left_kpa, item.max_kpa, (), item.sku)


def break_points(item: Item, request: Request, _wish: str) -> Iterator[float]:
    """The boost of the request's own at which the part is at its limit."""
    if item.max_kpa is not None:
        yield round(item.max_kpa - request.pressure_kpa + request.own_boost_kpa, 6)


def _left_kpa(max_kpa: float, pressure_kpa: float) -> float:
    return round(max_kpa - pressure_kpa, 3)


def _reason(facts: Facts) -> str:
    return said("Stands {most}; base and boost come to {needed}.", **_worded(facts))


def _rejection(facts: Facts) -> str:
    return said("Stands only {most}; base and boost come to {needed}.", **_worded(facts))


def _worded(facts: Facts) -> dict[str, str]:
    return {"most": units.pressure(facts["max_kpa"]), "needed": units.pressure(facts["needed_kpa"])}


def _limit(_margin: Margin, _duties: Mapping[str, str], part: str) -> str:
    return said("pressure allowed for {part}", part=named(part))


RULE = PartRule(
    "pressure",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    ("boost_kpa", "addons"),
    together=True,
    margin=margin,
    break_points=break_points,
    left=lambda facts: Left(facts["left_kpa"], "kPa"),
    missing=always("None stands the pressure."),
    limit=_limit,
    not_judged=lambda request: said(
        "Whether your own rail stands {pressure} was not judged: ask its maker.",
        pressure=units.pressure(request.pressure_kpa),
    ),
)
