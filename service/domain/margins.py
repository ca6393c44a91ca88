"""What is left of a limit: of the room at a spot, of what a part stands, of what a path may lose."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from service.domain.chains import Lengths

NOTHING_USED = 1.0


@dataclass(frozen=True, slots=True)
class Margin:
    """What is left of a limit of a rule, both in its unit; less than nothing where it is broken.

    `what`: its name among the limits of bills; `spots`: where, both of a link, none of a rail; `sku`: the part whose
    limit it is, where it is one's.
    """

    rule: str
    what: str
    unit: str
    left: float
    limit: float
    spots: tuple[str, ...] = ()
    sku: str | None = None

    @property
    def relative(self) -> float:
        """What is left as part of the limit, to 0.000001; of a limit of nothing nothing is left."""
        return round(self.left / self.limit, 6) if self.limit else min(0.0, self.left)


class Limit(NamedTuple):
    """A measure of one chain, or of each of many, and the most that it may be; of the least that it may be, both are
    told as negative numbers. `what`: its name among the margins of bills, None where it is none of them."""

    what: str | None
    measure: Lengths
    most: float
    spots: tuple[str, ...] = ()
    unit: str = "mm"


def tightest(margins: Iterable[Margin]) -> Margin | None:
    """The one of which relatively least is left, of those alike the first; None where nothing is limited."""
    return min(margins, key=_relative, default=None)


def least_relative(margins: Iterable[Margin]) -> float:
    """How much is left of the tightest limit; where nothing is limited, nothing is used."""
    return min(map(_relative, margins), default=NOTHING_USED)


def least_left(margins: Iterable[Margin], *kinds: str) -> float | None:
    """The least that is left of any limit of these kinds, in its unit; None where there is none."""
    return min((margin.left for margin in margins if margin.what in kinds), default=None)


def _relative(margin: Margin) -> float:
    return margin.relative
