"""How far a figure may be off: at the very worst, and as a rule."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product


@dataclass(frozen=True, slots=True)
class Size:
    """A size with its tolerance.

    nominal: as drawn [any unit]
    tol: plus or minus [the same unit], 0 or more

    Raises ValueError where the tolerance is not so.
    """

    nominal: float
    tol: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.nominal) and 0 <= self.tol < math.inf):
            raise ValueError(f"a size needs a number and a tolerance of 0 or more, not {self.nominal} and {self.tol}")


@dataclass(frozen=True, slots=True)
class Spread:
    """A figure that follows from sizes.

    nominal: as drawn [any unit]
    least: at the worst [the same unit]
    most: at the worst [the same unit]
    least_rss: as a rule [the same unit]
    most_rss: as a rule [the same unit]
    """

    nominal: float
    least: float
    most: float
    least_rss: float
    most_rss: float


def spread(figure: Callable[..., float], sizes: Sequence[Size]) -> Spread:
    """Give how far a figure spreads over the tolerances of the sizes that it follows from.

    figure: from the sizes, in order, to the figure [any unit]; rises or falls with each of them throughout
    sizes: what it follows from [each its own unit]

    At the worst every size is at the end of its tolerance that counts against the figure; as a rule the effects of the
    single tolerances add up as the root of their squares' sum.
    Source: common practice for tolerance chains; worst case and root sum square of independent sizes.
    """
    drawn = [size.nominal for size in sizes]
    nominal = figure(*drawn)
    corners = [figure(*corner) for corner in product(*({x.nominal - x.tol, x.nominal + x.tol} for x in sizes))]
    effects = []
    for place, size in enumerate(sizes):
        ends = [figure(*drawn[:place], size.nominal + off, *drawn[place + 1 :]) for off in (-size.tol, size.tol)]
        effects.append(max(abs(end - nominal) for end in ends))
    rule = root_sum_square(*effects)
    return Spread(nominal, min(corners), max(corners), nominal - rule, nominal + rule)


def root_sum_square(*tolerances: float) -> float:
    """Give how far a sum is off as a rule, sizes being independent: root of the squares' sum [their unit].

    tolerances: of each size [any one unit], signs do not count

    Source: common practice for independent sizes.
    """
    return math.hypot(*tolerances)
