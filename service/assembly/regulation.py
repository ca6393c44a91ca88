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
    returns = tuple(spot for spot, duty in bill.duties.items() if duty == "return")
    if returns and not found:
        yield Step("lines", "regulate-elsewhere", returns)


def setting(bill: Bill) -> Iterator[Step]:
    """Setting the pressure at each regulator of the bill."""
    for spot, regulator in _regulators(bill):
        yield Step("leak-check", "set-pressure", (spot,), (Used(regulator, 1),))


def _regulators(bill: Bill) -> list[tuple[str, Item]]:
    """Each regulator with the spot that its chain begins at."""
    return [
        (placed.spot, link.item)
        for placed in bill.chains
        for link in placed.chain.links
        if link.item.kind == "regulator"
    ]
