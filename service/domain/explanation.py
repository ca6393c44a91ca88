"""Why one part is, or is not, in the bills of a request, as facts: where it stands, and what stops it elsewhere."""

from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from service.domain.answer import Bill
from service.domain.chains import Chain
from service.domain.findings import Finding
from service.domain.parts import Item
from service.domain.request import Request

Role = Literal["feed", "return", "link", "gauge", "closed", "rail", "mounting", "box", "extra"]
"""What a part is there for: the duty of its spot, the rail itself, a mounting role; or it comes in the box of another
part, or with the joints that are made."""


class Left(NamedTuple):
    """What is left of what a rule allows, in its unit; less than nothing where it is broken."""

    amount: float
    unit: str


@dataclass(frozen=True, slots=True)
class Stop:
    """A rule that stops a part. `about`: the part that breaks it, where it is another one; `spot`: the spot that
    nothing serves, where that is what leaves no bill."""

    finding: Finding
    left: Left | None = None
    about: Item | None = None
    spot: str | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """One wish at another value (None: dropped to no value), and how many bills or groups there are with it."""

    wish: str
    value: Any
    total_valid: int


@dataclass(frozen=True, slots=True, eq=False)
class Verdict:
    """A part at one place. Where it stands: the cheapest bill with it there and what its path could carry besides, or
    what speaks for it in another role. Where not: every rule that stops the chain of it that comes furthest, and the
    smallest change that lets it in."""

    spot: str | None
    role: Role | None
    stands: bool
    chain: Chain | None = None
    bill: Bill | None = None
    stops: tuple[Stop, ...] = ()
    finding: Finding | None = None
    flow_left: Left | None = None
    change: Change | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Explanation:
    """Why an item is or is not in the bills. `where`: the spots at which it stands, sorted, then its other roles;
    `most_units`: no bill needs more of it."""

    request: Request
    item: Item
    where: tuple[str, ...]
    most_units: int
    verdicts: tuple[Verdict, ...]
