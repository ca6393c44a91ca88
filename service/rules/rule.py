"""What a rule is: an id, a check, the facts that it goes by, and its words for kept and for broken."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from service.domain.chains import Chain, Measured
from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision

Holds = bool | npt.NDArray[np.bool_]
"""Whether a rule is kept: by one chain, or by each of many."""

Words = Callable[[Facts], str]
Got = Literal["bought", "had", "supplied"]
"""How a part is come by: it has to be got, lies on the bench already, or comes with the rail."""


@dataclass(frozen=True, slots=True, eq=False)
class Rule:
    """A rule with its words: `reason` where it is kept, `rejection` where it is broken."""

    id: str
    reason: Words
    rejection: Words


@dataclass(frozen=True, slots=True, eq=False)
class PartRule(Rule):
    """A rule that looks at one part, wherever it sits.

    `reads` takes from the situation all that the rule goes by, so that what it decides can be kept for the next
    request; `holds(item, read, revision, got)` decides; `facts` tells by what, None where there is nothing to say.
    `swayed_by` names the wishes (by the first word of their names) that change what it reads; `together`: only all of
    them decide, else a part keeps the rule where it keeps it for each of these wishes alone.
    """

    reads: Callable[[PartSituation], Hashable]
    holds: Callable[[Item, Any, Revision, Got], bool]
    facts: Callable[[Item, PartSituation, Revision], Facts | None]
    swayed_by: tuple[str, ...] = ()
    together: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class ChainRule(Rule):
    """A rule that looks at a chain at its spot; all as for a part, but `holds(chain, read)`.

    It may be asked of many chains at once: their measures are columns then, and so is what it decides.
    """

    reads: Callable[[SpotSituation], Hashable]
    holds: Callable[[Measured, Any], Holds]
    facts: Callable[[Chain, SpotSituation], Facts | None]
    swayed_by: tuple[str, ...] = ()
    together: bool = False
