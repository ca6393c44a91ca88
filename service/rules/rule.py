"""What a rule is: an id, a check, the facts that it goes by, its words, and whatever else is known of it alone.

Nothing outside its own module knows a rule by its id. Each optional part has a default that is right of a rule that
measures nothing; who leaves a part out loses a figure or a better sentence, never a right answer.
"""

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import KW_ONLY, dataclass
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from service.domain.chains import Chain, Lengths, Measured
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.margins import Limit, Margin
from service.domain.parts import Item
from service.domain.request import PartSituation, Request, SpotSituation
from service.domain.revision import Revision
from service.domain.tongue import named, numbered, places, said, word

Holds = bool | npt.NDArray[np.bool_]
"""Whether a rule is kept: by one chain, or by each of many."""

Words = Callable[[Facts], str]
Got = Literal["bought", "had", "supplied"]
"""How a part is come by: it has to be got, lies on the bench already, or comes with the rail."""
GOT: tuple[Got, ...] = ("bought", "had", "supplied")

LimitWords = Callable[[Margin, Mapping[str, str], str], str]
"""A limit as it stands in a sentence: of a margin, the duties of spots, and the name of the part that it is of."""


def nothing_left(_facts: Facts) -> Left | None:
    """The measure of a rule that measures nothing."""
    return None


def _missing(_facts: Facts) -> str:
    return said("None is as this car and this layout ask for it.")


def always(text: str) -> Callable[[Any], str]:
    """Words that are the same for all facts."""
    return lambda _: said(text)


def _a_wish_could_help(_facts: Facts) -> bool:
    return True


def no_wish_helps(_facts: Facts) -> bool:
    """Of a rule that the catalog alone decides."""
    return False


def judges_no_rail(_request: Request) -> None:
    """Of a rule that does not look at rails, or that a rail by somebody else cannot break."""


def _limit(margin: Margin, _duties: Mapping[str, str], part: str) -> str:
    what = word(margin.what)
    if part:
        return said("{what} allowed for {part}", what=what, part=named(part))
    if not margin.spots:
        return said("{what} allowed", what=what)
    at = f" {word('and')} ".join(places(margin.spots))
    return numbered(
        len(margin.spots),
        "{what} allowed at the {spots} spot",
        "{what} allowed at the {spots} spots",
        what=what,
        spots=at,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Rule:
    """A rule with its words: `reason` where it is kept, `rejection` where it is broken.

    `left`: what facts leave of the limit, less than nothing where it is broken; `short`: how far the facts of a broken
    rule are from kept, of which parts that break it the nearest is told (default: what `left` lacks); `missing`: what
    the catalog lacks, in words that are the same for like questions; `a_wish_could_help`: whether some wish sways what
    these facts tell (where none does, they are told only where there is nothing else); `is_preference`: what breaks it
    would do, but something else goes first; `limit`: a limit of its as it stands in a sentence, as in `room along the
    axis at the left spot`; `not_judged`: what to say where nobody knows whether a rail by somebody else keeps it.
    """

    id: str
    reason: Words
    rejection: Words
    _: KW_ONLY
    left: Callable[[Facts], Left | None] = nothing_left
    short: Callable[[Facts], float] | None = None
    missing: Words = _missing
    a_wish_could_help: Callable[[Facts], bool] = _a_wish_could_help
    is_preference: bool = False
    limit: LimitWords = _limit
    not_judged: Callable[[Request], str | None] = judges_no_rail

    def shortfall(self, facts: Facts) -> float:
        """How far the facts of a broken rule are from kept, whatever the unit; 0 where nothing is measured."""
        if self.short is not None:
            return self.short(facts)
        left = self.left(facts)
        return 0.0 if left is None else -left.amount


def _by_one_more_rule(_request: Request) -> str:
    return said("By one more rule for parts your own rail was not judged: ask its maker.")


@dataclass(frozen=True, slots=True, eq=False)
class PartRule(Rule):
    """A rule that looks at one part, wherever it sits.

    `reads` takes from the situation all that the rule goes by, so that what it decides can be kept for the next
    request; `holds(item, read, revision, got)` decides; `facts` tells by what, None where there is nothing to say.
    `swayed_by` names the wishes (by the first word of their names) that change what it reads; `together`: only all of
    them decide, else a part keeps the rule where it keeps it for each of these wishes alone.

    `stops`: facts of each thing that an item breaks, one by one (default: `facts`); `margin(item, read)`: what is left
    of a limit of the item, by what the rule reads; `break_points(item, request, wish)`: the values of a wish that is a
    number at which the item begins or ceases to keep the rule (default: they are searched for; so a rule that a number
    first hinders and then helps has to tell them).
    """

    reads: Callable[[PartSituation], Hashable]
    holds: Callable[[Item, Any, Revision, Got], bool]
    facts: Callable[[Item, PartSituation, Revision], Facts | None]
    swayed_by: tuple[str, ...] = ()
    together: bool = False
    _: KW_ONLY
    stops: Callable[[Item, PartSituation, Revision, Got], Iterable[Facts]] | None = None
    margin: Callable[[Item, Any], Margin | None] | None = None
    not_judged: Callable[[Request], str | None] = _by_one_more_rule
    break_points: Callable[[Item, Request, str], Iterable[float]] | None = None

    def is_swayed_by(self, wish: str) -> bool:
        return wish.partition("/")[0] in self.swayed_by


@dataclass(frozen=True, slots=True, eq=False)
class ChainRule(Rule):
    """A rule that looks at a chain at its spot; all as for a part, but `holds(chain, read)`.

    It may be asked of many chains at once: their measures are columns then, and so is what it decides.

    `limits(chain, situation)`: what it holds measures to, of one chain or of many, from which margins are told and
    which chain misses the least; `break_points(chains, situation, wish)`.
    """

    reads: Callable[[SpotSituation], Hashable]
    holds: Callable[[Measured, Any], Holds]
    facts: Callable[[Chain, SpotSituation], Facts | None]
    swayed_by: tuple[str, ...] = ()
    together: bool = False
    _: KW_ONLY
    stops: Callable[[Chain, SpotSituation], Iterable[Facts]] | None = None
    limits: Callable[[Measured, SpotSituation], Iterable[Limit]] | None = None
    break_points: Callable[[Measured, SpotSituation, str], Iterable[Lengths]] | None = None

    def is_swayed_by(self, wish: str) -> bool:
        return wish.partition("/")[0] in self.swayed_by

    def broken(self, chain: Chain, situation: SpotSituation) -> Iterable[Facts]:
        """Facts of each thing that a chain which breaks the rule breaks, one by one."""
        return (self.facts(chain, situation) or {},) if self.stops is None else self.stops(chain, situation)
