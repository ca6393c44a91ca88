"""What holds the pressure where fuel returns: a regulator of the bill, or one that has to be fitted beyond it."""

from collections.abc import Iterator

from service.domain.answer import Bill
from service.domain.parts import Item
from service.domain.sheet import Step, Used


def regulation(bill: Bill) -> Iterator[Step]:
    """The hose from which each regulator takes its reference; a regulator elsewhere where a return has none."""
    found = _regulators(bill)
    for spot, regulator in found:
        yield Step("lines", "reference-hose", (spot,), (Used(regulator, 1),))
    returns = _unregulated(bill)
    if returns:
        yield Step("lines", "regulate-elsewhere", returns)


def setting(bill: Bill) -> Iterator[Step]:
    """Setting the pressure at each regulator of the bill, or at the one that is fitted beyond it."""
    for spot, regulator in _regulators(bill):
        yield Step("leak-check", "set-pressure", (spot,), (Used(regulator, 1),))
    returns = _unregulated(bill)
    if returns:
        yield Step("leak-check", "set-elsewhere", returns)


def _unregulated(bill: Bill) -> tuple[str, ...]:
    """The spots that fuel returns from where the bill has no regulator."""
    returns = tuple(spot for spot, duty in bill.duties.items() if duty == "return")
    return () if _regulators(bill) else returns


def _regulators(bill: Bill) -> list[tuple[str, Item]]:
    """Each regulator with the spot that its chain begins at."""
    return [
        (placed.spot, link.item)
        for placed in bill.chains
        for link in placed.chain.links
        if link.item.kind == "regulator"
    ]
