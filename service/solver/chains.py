"""Every chain that the ports allow from an opening outwards, before any wish is asked.

Only structure counts here (`mates`, `closed`, `simple`, `via`), so that the chains of an opening serve all requests.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from service.domain.chains import Chain, Link, Run
from service.domain.parts import Item, Opening, Port
from service.domain.revision import Revision
from service.domain.vehicles import Duty
from service.hydraulics import Passage, merged
from service.rules import closed, mates, simple, via

MEMO_SIZE = 4096


class Way(NamedTuple):
    """What a chain is to do: start at an opening, with a duty, end on a target (None: in itself), through `via`."""

    opening: Opening
    duty: Duty
    target: Opening | None
    via: tuple[str, ...]


class ChainFinder:
    """Finds the chains of a revision, each way once."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._max_chain = revision.policies.max_chain
        self.steps = lru_cache(MEMO_SIZE)(self._steps_to_target)
        self.chains = lru_cache(MEMO_SIZE)(self._find)
        self._runs: dict[tuple[tuple[Passage, ...], tuple[str, ...]], Run] = {}

    def _find(self, way: Way) -> tuple[Chain, ...]:
        """All chains of a way, each list of SKUs once."""
        return tuple(self.enumerate(way, self._max_chain))

    def enumerate(self, way: Way, max_chain: int, *, heed_via: bool = True) -> Iterator[Chain]:
        """Walk all chains of a way with at most `max_chain` items, side plugs not counted."""
        walk = _Walk(self._revision, way, max_chain, self.steps(way.duty, way.target), heed_via)
        seen: set[tuple[str, ...]] = set()
        for links in walk.extend((), way.opening, frozenset((way.opening,)), ()):
            chain = Chain(links, self._run(links))
            if chain.skus not in seen:
                seen.add(chain.skus)
                yield chain

    def _run(self, links: tuple[Link, ...]) -> Run:
        """The run of these links, the same one for all that are alike to the fuel."""
        passages = merged(link.item.passage for link in links if link.item.passage is not None)
        unrated = tuple(dict.fromkeys(link.item.sku for link in links if link.item.passage is None))
        return self._runs.setdefault((passages, unrated), Run(passages, unrated))

    def _steps_to_target(self, duty: str, target: Opening | None) -> dict[Opening, int]:
        """The least number of items from each opening on which a chain of this duty can still end well."""
        carriers = closed.CARRIERS[duty]
        sources: dict[Opening, set[Opening]] = {}
        for opening, entries in self._revision.mating.items():
            for item, entry in entries:
                if item.kind in carriers:
                    for leaves in item.ports:
                        if leaves is not entry:
                            sources.setdefault(leaves.opening, set()).add(opening)
        if target is not None:
            steps = {target.mate: 0}
        else:
            closer = closed.CLOSERS[duty]
            steps = {
                opening: 1
                for opening, entries in self._revision.mating.items()
                if any(item.kind == closer for item, _ in entries)
            }
        front = deque(steps)
        while front:
            reached = front.popleft()
            for source in sources.get(reached, ()):
                if source not in steps:
                    steps[source] = steps[reached] + 1
                    front.append(source)
        return steps


@dataclass(frozen=True, slots=True)
class _Walk:
    """One depth-first walk along the ports."""

    revision: Revision
    way: Way
    max_chain: int
    steps: dict[Opening, int]
    heed_via: bool

    def extend(
        self, links: tuple[Link, ...], opening: Opening, seen: frozenset[Opening], kinds: tuple[str, ...]
    ) -> Iterator[tuple[Link, ...]]:
        """Yield what is complete here, then what goes on from here; `kinds` are those of the main items so far."""
        way = self.way
        if way.target is not None and mates.meets(opening, way.target) and self._complete(kinds):
            yield links
        if len(kinds) + max(1, self.steps.get(opening, self.max_chain)) > self.max_chain:
            return
        for item, entry in self.revision.mating.get(opening, ()):
            if item.kind == closed.CLOSERS.get(way.duty):
                yield from self._closed_by(links, opening, item, entry)
            if item.kind in closed.CARRIERS[way.duty] and self._may_add(kinds, item.kind):
                yield from self._carried_on_by(links, opening, seen, kinds, item, entry)

    def _complete(self, kinds: tuple[str, ...]) -> bool:
        if self.way.duty in closed.ONE_LINE_DUTIES and kinds.count("line") != 1:
            return False
        return not self.heed_via or via.has_each_once(kinds, self.way.via)

    def _may_add(self, kinds: tuple[str, ...], kind: str) -> bool:
        if self.heed_via and ((kind in self.way.via and kind in kinds) or not via.may_stand((kind,), self.way.via)):
            return False
        return not (kind == "line" and self.way.duty in closed.ONE_LINE_DUTIES and "line" in kinds)

    def _closed_by(
        self, links: tuple[Link, ...], opening: Opening, item: Item, entry: Port
    ) -> Iterator[tuple[Link, ...]]:
        head = (*links, Link(item, opening))
        for plugs in self._side_plugs(item, (entry,)):
            yield head + plugs

    def _carried_on_by(
        self,
        links: tuple[Link, ...],
        opening: Opening,
        seen: frozenset[Opening],
        kinds: tuple[str, ...],
        item: Item,
        entry: Port,
    ) -> Iterator[tuple[Link, ...]]:
        head = (*links, Link(item, opening))
        added = (*kinds, item.kind)
        tried = set()
        for leaves in item.ports:
            onward = leaves.opening
            if leaves is entry or onward in tried or not simple.may_leave(onward, seen, item.kind, self.way.via):
                continue
            tried.add(onward)
            if len(added) + self.steps.get(onward, self.max_chain + 1) > self.max_chain:
                continue
            for plugs in self._side_plugs(item, (entry, leaves)):
                yield from self.extend(head + plugs, onward, seen | {onward}, added)

    def _side_plugs(self, item: Item, used: tuple[Port, ...]) -> Iterator[tuple[Link, ...]]:
        """Each way to close the item's other ports, sorted by SKU; one with nothing to close is empty."""
        open_ports = [port for port in item.ports if not any(port is taken for taken in used)]
        choices = [
            [Link(plug, port.opening, side=True) for plug in one_port_plugs(self.revision, port.opening)]
            for port in open_ports
        ]
        for plugs in product(*choices):
            yield tuple(sorted(plugs, key=lambda link: link.item.sku))


def one_port_plugs(revision: Revision, opening: Opening) -> Iterator[Item]:
    """The plugs that close an opening and leave none open themselves."""
    for item, _ in revision.mating.get(opening, ()):
        if item.kind == "plug" and len(item.ports) == 1:
            yield item
