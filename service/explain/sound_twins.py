"""Parts with a better seal for about the same money: said beside the line of a part that the fuel wears."""

from service.domain.findings import Finding
from service.domain.money import priced
from service.domain.parts import Item
from service.domain.revision import Revision
from service.domain.tongue import speaking
from service.rules import fuel

ABOUT_THE_SAME = 1.25
"""So many times the price of a part its twin costs at most. Source: common practice; a leak costs more."""
_WEAK, _SOUND = "B", "A"


def sound_twin(item: Item, fuel_id: str, revision: Revision) -> Finding | None:
    """What is told of an item rated B for a fuel that has a twin rated A at about its price; None: nothing.

    A twin has the same ports, stands no prouder and no wider, and bears the same pressure.
    """
    worst = fuel.worst(item, fuel_id, revision)
    if worst is None or worst[0] != _WEAK:
        return None
    twin = _twin(item, fuel_id, revision)
    if twin is None:
        return None
    facts = {
        "material": revision.materials[worst[1]].name,
        "fuel": revision.fuels[fuel_id].name,
        "rating": _WEAK,
        "instead": twin.sku,
        "name": twin.name,
        "more": _in_english(max(0, twin.price - item.price), revision.currency),
    }
    return Finding(fuel.RULE.id, facts)


def _in_english(amount: int, currency: str) -> str:
    """An amount as facts have it: they are the same in all languages."""
    with speaking(None):
        return priced(amount, currency)


def _twins(_: Revision) -> dict[tuple[str, str], Item | None]:
    """The twins by SKU and fuel, as far as they were looked for."""
    return {}


def _twin(item: Item, fuel_id: str, revision: Revision) -> Item | None:
    """The cheapest twin, of equal ones the first by SKU; kept for as long as its revision is."""
    known = revision.once(_twins)
    if (item.sku, fuel_id) not in known:
        known[item.sku, fuel_id] = _found_twin(item, fuel_id, revision)
    return known[item.sku, fuel_id]


def _found_twin(item: Item, fuel_id: str, revision: Revision) -> Item | None:
    ports = sorted(port.opening for port in item.ports)
    alike = revision.mating.get(ports[0].mate, ()) if ports else ()
    twins = [
        other
        for other, _ in alike
        if other.kind == item.kind
        and other.sold
        and other.active
        and other.price <= ABOUT_THE_SAME * item.price
        and sorted(port.opening for port in other.ports) == ports
        and _stands_in(other, item)
        and (fuel.worst(other, fuel_id, revision) or ("", ""))[0] == _SOUND
    ]
    return min(twins, key=lambda twin: (twin.price, twin.sku), default=None)


def _stands_in(other: Item, item: Item) -> bool:
    """Whether it goes on as many engines, takes no more room and bears as much."""
    fits = not other.patterns or (bool(item.patterns) and other.patterns >= item.patterns)
    wide = other.across_mm or 0.0
    bears = other.max_kpa is None or (item.max_kpa is not None and other.max_kpa >= item.max_kpa)
    return fits and other.standout_mm <= item.standout_mm and wide <= (item.across_mm or 0.0) and bears
