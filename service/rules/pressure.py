"""`pressure`: every part stands base pressure and boost."""

from service.domain import units
from service.domain.findings import Facts
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
    left_kpa = round(item.max_kpa - situation.pressure_kpa, 3)
    return {"max_kpa": item.max_kpa, "needed_kpa": situation.pressure_kpa, "left_kpa": left_kpa}


def _reason(facts: Facts) -> str:
    return f"Stands {units.pressure(facts['max_kpa'])}; base and boost come to {units.pressure(facts['needed_kpa'])}."


def _rejection(facts: Facts) -> str:
    return (
        f"Stands only {units.pressure(facts['max_kpa'])}; base and boost come to {units.pressure(facts['needed_kpa'])}."
    )


RULE = PartRule("pressure", _reason, _rejection, reads, holds, facts)
