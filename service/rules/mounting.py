"""`mounting`: each role is filled once: by an add-on, else by what the rail supplies, else by what is on the car."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.tongue import named, said, sentence
from service.domain.vehicles import Addon, Chassis
from service.rules.rule import Rule, always

Giver = Literal["add-on", "supplied", "on-car"]


@dataclass(frozen=True, slots=True)
class Filling:
    """What fills a mounting role, and where it comes from: add-on, supplied or on-car."""

    role: str
    sku: str
    qty: int
    source: Giver
    giver: str
    optional: bool = False


def fill(chassis: Chassis, addons: Iterable[Addon], rail: Item) -> list[Filling]:
    """Give what fills each role of chassis, add-ons and rail, once; of two givers of a kind the first."""
    filled: dict[str, list[Filling]] = {}
    for addon in addons:
        given = [Filling(x.role, x.sku, x.qty, "add-on", addon.name) for x in addon.mounting]
        _claim(filled, given)
    boxed = [
        Filling(x.role, x.sku, x.qty * chassis.banks, "supplied", rail.name)
        for x in rail.supplied
        if x.role is not None
    ]
    _claim(filled, boxed)
    _claim(filled, [Filling(x.role, x.sku, x.qty, "on-car", chassis.name, x.optional) for x in chassis.mounting])
    return [filling for fillings in filled.values() for filling in fillings]


def _claim(filled: dict[str, list[Filling]], given: list[Filling]) -> None:
    free = [filling for filling in given if filling.role not in filled]
    for filling in free:
        filled.setdefault(filling.role, []).append(filling)


def facts(filling: Filling) -> Facts:
    return {"role": filling.role, "giver": filling.giver, "source": filling.source, "optional": filling.optional}


_GIVEN = {
    "add-on": sentence("It comes with {giver} and takes the place of other parts for this role."),
    "supplied": sentence("It comes with {giver}."),
    "on-car": sentence("It is on the car already: use it again after checking it."),
}
_OPTIONAL = {
    **_GIVEN,
    "on-car": sentence("It is on the car already, where the car has one: use it again after checking it."),
}


def _reason(facts: Facts) -> str:
    given = said((_OPTIONAL if facts["optional"] else _GIVEN)[str(facts["source"])], giver=named(facts["giver"]))
    fills = said("Fills the mounting role {role}.", role=facts["role"])
    return f"{fills} {given}"


def _rejection(facts: Facts) -> str:
    return said("Mounting role {role} is filled by {giver}.", role=facts["role"], giver=named(facts["giver"]))


RULE = Rule(
    "mounting",
    _reason,
    _rejection,
    missing=always("The mounting parts do not go together."),
    not_judged=always(
        "How your own rail is mounted was not judged, and no mounting parts are listed: see to it that it is "
        "held so that nothing strains or rubs."
    ),
)
