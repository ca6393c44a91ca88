"""What a rule is: an id, a check, the facts that it goes by, and its words for kept and for broken."""

from collections.abc import Callable
from dataclasses import dataclass

from service.domain.chains import Chain
from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision

Words = Callable[[Facts], str]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule with its words: `reason` where it is kept, `rejection` where it is broken."""

    id: str
    reason: Words
    rejection: Words


@dataclass(frozen=True, slots=True)
class PartRule(Rule):
    """A rule that looks at one part, wherever it sits.

    `holds(item, situation, revision, supplied)` decides; `facts` tells by what, None where there is nothing to say.
    """

    holds: Callable[[Item, PartSituation, Revision, bool], bool]
    facts: Callable[[Item, PartSituation, Revision], Facts | None]


@dataclass(frozen=True, slots=True)
class ChainRule(Rule):
    """A rule that looks at a chain at its spot."""

    holds: Callable[[Chain, SpotSituation], bool]
    facts: Callable[[Chain, SpotSituation], Facts | None]
