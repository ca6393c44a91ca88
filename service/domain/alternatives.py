"""What else could be asked: single changes of a request after which there is a bill, or one that carries enough."""

from dataclasses import dataclass
from typing import Literal

from service.domain.power import Power

Changed = Literal["gauge", "layout"]
MOST_ALTERNATIVES = 20
"""So many are told at most."""


@dataclass(frozen=True, slots=True, eq=False)
class Alternative:
    """A request with another place for the gauge, or another layout: how many valid bills (or groups) it has, and the
    price and power of its first bill that counts."""

    changes: Changed
    value: str
    total_valid: int
    price: int
    power: Power


@dataclass(frozen=True, slots=True, eq=False)
class Alternatives:
    """Those that are told, and whether there are more."""

    told: tuple[Alternative, ...] = ()
    more: bool = False


NO_ALTERNATIVES = Alternatives()
