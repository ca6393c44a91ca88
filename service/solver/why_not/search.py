"""Every minimal set of wishes that conflict, and every minimal set to drop; exact where few enough wishes matter."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import islice

from service.domain.why_not import Names
from service.domain.wishes import Wishes
from service.solver.judge.judges import Judges
from service.solver.why_not.relevance import relevant
from service.solver.why_not.truth import Truth, Universe
from service.solver.why_not.validity import Validity, is_valid

MOST_LISTED = 20
MOST_TOGETHER = 16
"""So many wishes are looked at in all their subsets; of more, only as many as one conflict or repair is made of."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Minimal conflicts and minimal sets to drop, each list in the order of telling; `more`: there may be others."""

    conflicts: tuple[Names, ...]
    drops: tuple[Names, ...]
    more_conflicts: bool
    more_drops: bool


def clash(judges: Judges, wishes: Wishes) -> Clash:
    """What conflicts in a request without a bill, and what to drop."""
    names = relevant(judges, wishes)
    if len(names) <= MOST_TOGETHER:
        universe = Universe(names)
        valid = Validity(judges, wishes, universe).truth()
        return _clash(_conflicts(universe, valid), _drops(universe, valid), more=False)
    return _clash(_some_conflicts(judges, wishes, names), _some_drops(judges, wishes, names), more=True)


def _conflicts(universe: Universe, valid: Truth) -> list[Names]:
    return list(islice(universe.minimal(universe.none_of(valid)), MOST_LISTED + 1))


def _drops(universe: Universe, valid: Truth) -> list[Names]:
    return list(islice(universe.minimal(universe.dropped(valid)), MOST_LISTED + 1))


def _some_conflicts(judges: Judges, wishes: Wishes, names: Sequence[str]) -> list[Names]:
    """Those among as many wishes as one conflict is made of, and others up to the limit."""
    core = _shrunk(names, lambda kept: not is_valid(judges, wishes.request_with(kept)))
    universe = Universe(_filled(core, names))
    return _conflicts(universe, Validity(judges, wishes, universe).truth())


def _some_drops(judges: Judges, wishes: Wishes, names: Sequence[str]) -> list[Names]:
    """Those among as many wishes as one repair drops, and others up to the limit; all further ones are kept."""
    every = set(names)
    core = _shrunk(names, lambda gone: is_valid(judges, wishes.request_with(sorted(every - set(gone)))))
    universe = Universe(_filled(core, names))
    fixed = tuple(sorted(every - set(universe.names)))
    return _drops(universe, Validity(judges, wishes, universe, fixed).truth())


def _clash(conflicts: list[Names], drops: list[Names], *, more: bool) -> Clash:
    return Clash(
        tuple(conflicts[:MOST_LISTED]),
        tuple(drops[:MOST_LISTED]),
        more or len(conflicts) > MOST_LISTED,
        more or len(drops) > MOST_LISTED,
    )


def _shrunk(names: Iterable[str], holds: Callable[[Names], bool]) -> Names:
    """What is left of the names once each is taken out in turn while it still holds without it."""
    left = tuple(names)
    for name in left:
        without = tuple(other for other in left if other != name)
        if holds(without):
            left = without
    return left


def _filled(core: Names, names: Sequence[str]) -> list[str]:
    """The core with others up to the limit, sorted; a core beyond the limit is cut."""
    others = [name for name in names if name not in core]
    return sorted((*core, *others)[:MOST_TOGETHER])
