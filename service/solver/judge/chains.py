"""Every chain that the ports allow from an opening outwards, before any wish is asked.

Only structure counts here (`mates`, `closed`, `simple`, `via`), so that the chains of an opening serve all requests.
Parts of one kind that lead from one opening to another are alike here: the routes are walked over such bunches of
parts, and the chains of a route are one part from each of its bunches. So how many there are is known before any is
made, and a catalog of parts that resemble one another has no more routes than a small one.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import prod
from typing import NamedTuple

from service.domain.chains import Link, Run
from service.domain.lazy import lazy, memo
from service.domain.parts import Opening, Port
from service.domain.revision import Revision
from service.domain.vehicles import Duty
from service.domain.work import TooCostlyError
from service.hydraulics import Passage, merged
from service.rules import closed, mates, simple, via
from service.solver.judge.chain_rows import ChainRows, Hop, rows_of

MEMO_SIZE = 4096
MOST_CHAINS = 200_000
"""Of one spec. A chain takes some tens of bytes; what is kept of it for requests, some hundred."""


class ChainSpec(NamedTuple):
    """What a chain is to do: start at an opening, with a duty, end on a target (None: in itself), through `via`."""

    opening: Opening
    duty: Duty
    target: Opening | None
    via: tuple[str, ...]


class Stem(NamedTuple):
    """A part with the plugs that would close each port that it is to have closed; `place`: that of its first hop."""

    place: int
    link: Link
    closing: tuple[tuple[Link, ...], ...]

    def hops(self) -> Iterator[Hop]:
        """One for each way to close its ports, the plugs of each sorted by SKU."""
        for place, plugs in enumerate(product(*self.closing), self.place):
            yield Hop(place, (self.link, *(plugs if len(plugs) < 2 else sorted(plugs, key=_sku))))


@dataclass(frozen=True, eq=False)
class Bunch:
    """The parts of one kind that meet one opening and leave the same one open (None: they end the chain)."""

    kind: str
    onward: Opening | None
    stems: tuple[Stem, ...]

    @lazy
    def hops(self) -> tuple[Hop, ...]:
        """Each list of SKUs once."""
        first: dict[tuple[str, ...], Hop] = {}
        for stem in self.stems:
            for hop in stem.hops():
                first.setdefault(tuple([link.item.sku for link in hop.links]), hop)
        return tuple(first.values())


Route = tuple[Bunch, ...]


class ChainFinder:
    """Finds the chains of a revision, those of each spec once."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._max_chain = revision.policies.max_chain
        self.steps = lru_cache(MEMO_SIZE)(self._steps_to_target)
        self.chains = memo(MEMO_SIZE, self._find)
        self._bunches = lru_cache(MEMO_SIZE)(self._bunches_at)
        self.side_plugs = lru_cache(MEMO_SIZE)(self._side_plugs_at)
        self._runs: dict[tuple[tuple[Passage, ...], tuple[str, ...]], Run] = {}

    def _find(self, spec: ChainSpec) -> ChainRows:
        """All chains of a spec, each list of SKUs once, in the order of a walk that takes parts as they stand.

        Raises TooCostlyError where there are more than MOST_CHAINS.
        """
        routes = list(self.routes(spec))
        if sum(prod(len(bunch.hops) for bunch in route) for route in routes) > MOST_CHAINS:
            raise TooCostlyError(MOST_CHAINS, "chains")
        return rows_of([[bunch.hops for bunch in route] for route in routes], self._run)

    def heads(self, spec: ChainSpec, *, heed_via: bool = True) -> set[str]:
        """The SKUs that meet the opening and begin a chain of the spec."""
        firsts = {route[0] for route in self.routes(spec, heed_via=heed_via) if route}
        return {stem.link.item.sku for bunch in firsts for stem in bunch.stems}

    def routes(self, spec: ChainSpec, *, heed_via: bool = True) -> Iterator[Route]:
        """Walk all routes of a spec with at most `max_chain` parts, side plugs not counted."""
        walk = _Walk(self, spec, self._max_chain, self.steps(spec.duty, spec.target), heed_via)
        return walk.extend((), spec.opening, frozenset((spec.opening,)), ())

    def bunches(self, duty: Duty, opening: Opening) -> Sequence[Bunch]:
        """What may stand next at an opening of a chain with this duty."""
        return self._bunches(duty, opening)

    def _bunches_at(self, duty: Duty, opening: Opening) -> tuple[Bunch, ...]:
        closer = closed.CLOSERS.get(duty)
        found: dict[tuple[str, Opening | None], list[Stem]] = {}
        place = 0
        for item, entry in self._revision.mating.get(opening, ()):
            onwards: list[Port | None] = [None] if item.kind == closer else []
            if item.kind in closed.CARRIERS[duty]:
                onwards += _one_of_each_opening(port for port in item.ports if port is not entry)
            for leaves in onwards:
                closing = tuple([self.side_plugs(x.opening) for x in item.ports if x is not entry and x is not leaves])
                ways = prod(map(len, closing))
                if ways:
                    onward = None if leaves is None else leaves.opening
                    found.setdefault((item.kind, onward), []).append(Stem(place, Link(item, opening), closing))
                    place += ways
        return tuple([Bunch(kind, onward, tuple(stems)) for (kind, onward), stems in found.items()])

    def _side_plugs_at(self, opening: Opening) -> tuple[Link, ...]:
        """The plugs that close a side port and leave none open themselves."""
        entries = self._revision.mating.get(opening, ())
        plugs = [item for item, _ in entries if item.kind == "plug" and len(item.ports) == 1]
        return tuple([Link(plug, opening, side=True) for plug in plugs])

    def _run(self, links: tuple[Link, ...]) -> Run:
        """The run of these links, the same one for all that are alike to the fuel."""
        passages = merged([link.item.passage for link in links if link.item.passage is not None])
        unrated = tuple(dict.fromkeys([link.item.sku for link in links if link.item.passage is None]))
        return self._runs.setdefault((passages, unrated), Run(passages, unrated))

    def _steps_to_target(self, duty: str, target: Opening | None) -> dict[Opening, int]:
        """The least number of items from each opening on which a chain of this duty can still end well."""
        index = self._revision.index
        steps = {target.mate: 0} if target is not None else dict.fromkeys(index.met_by.get(closed.CLOSERS[duty], ()), 1)
        front = deque(steps)
        while front:
            reached = front.popleft()
            for kind in closed.CARRIERS[duty]:
                for source in index.led_from.get((kind, reached), ()):
                    if source not in steps:
                        steps[source] = steps[reached] + 1
                        front.append(source)
        return steps


@dataclass(frozen=True, slots=True)
class _Walk:
    """One depth-first walk along the openings."""

    finder: ChainFinder
    spec: ChainSpec
    max_chain: int
    steps: dict[Opening, int]
    heed_via: bool

    def extend(
        self, route: Route, opening: Opening, seen: frozenset[Opening], kinds: tuple[str, ...]
    ) -> Iterator[Route]:
        """Yield what is complete here, then what goes on from here; `kinds` are those of the parts so far."""
        spec = self.spec
        if spec.target is not None and mates.meets(opening, spec.target) and self._complete(kinds):
            yield route
        if len(kinds) + max(1, self.steps.get(opening, self.max_chain)) > self.max_chain:
            return
        for bunch in self.finder.bunches(spec.duty, opening):
            onward = bunch.onward
            if onward is None:
                yield (*route, bunch)
            elif self._may_add(kinds, bunch, seen):
                yield from self.extend((*route, bunch), onward, seen | {onward}, (*kinds, bunch.kind))

    def _complete(self, kinds: tuple[str, ...]) -> bool:
        if self.spec.duty in closed.ONE_LINE_DUTIES and kinds.count("line") != 1:
            return False
        return not self.heed_via or via.has_each_once(kinds, self.spec.via)

    def _may_add(self, kinds: tuple[str, ...], bunch: Bunch, seen: frozenset[Opening]) -> bool:
        kind, onward = bunch.kind, bunch.onward
        if onward is None or not simple.may_leave(onward, seen, kind, self.spec.via):
            return False
        if len(kinds) + 1 + self.steps.get(onward, self.max_chain + 1) > self.max_chain:
            return False
        if self.heed_via and ((kind in self.spec.via and kind in kinds) or not via.may_stand((kind,), self.spec.via)):
            return False
        return not (kind == "line" and self.spec.duty in closed.ONE_LINE_DUTIES and "line" in kinds)


def _one_of_each_opening(ports: Iterable[Port]) -> Iterable[Port]:
    first: dict[Opening, Port] = {}
    for port in ports:
        first.setdefault(port.opening, port)
    return first.values()


def _sku(link: Link) -> str:
    return link.item.sku
