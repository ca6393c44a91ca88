"""`pressure`: every part stands base pressure and boost."""

from service.domain import units
from service.domain.findings import Facts
from service.domain.margins import Margin
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.rules.rule import Got, PartRule


def reads(situation: PartSituation) -> float:
    return situation.pressure_kpa


def holds(item: Item, pressure_kpa: float, _revision: Revision, _got: Got) -> bool:
    return item.max_kpa is None or item.max_kpa >= pressure_kpa


def facts(item: Item, situation: PartSituation, _revision: Revision) -> Facts | None:
    if item.max_kpa is None:
        return None
    left_kpa = _left_kpa(item.max_kpa, situation.pressure_kpa)
    return {"max_kpa": item.max_kpa, "needed_kpa": situation.pressure_kpa, "left_kpa": left_kpa}


def margin(item: Item, pressure_kpa: float, *spots: str) -> Margin | None:
    """What is left of what the part stands; None where it is not limited."""
    if item.max_kpa is None:
        return None
    return Margin("pressure", _left_kpa(item.max_kpa, pressure_kpa), item.max_kpa, spots, item.sku)


def _left_kpa(max_kpa: float, pressure_kpa: float) -> float:
    return round(max_kpa - pressure_kpa, 3)


def _reason(facts: Facts) -> str:
    return f"Stands {units.pressure(facts['max_kpa'])}; base and boost come to {units.pressure(facts['needed_kpa'])}."


def _rejection(facts: Facts) -> str:
    return (
        f"Stands only {units.pressure(facts['max_kpa'])}; base and boost come to {units.pressure(facts['needed_kpa'])}."
    )


RULE = PartRule("pressure", _reason, _rejection, reads, holds, facts, ("boost_kpa", "addons"), together=True)
