"""The steps that a chain may take: from one opening to the next by parts that keep the rules for parts."""

from collections import deque
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from service.domain.lazy import lazy
from service.domain.parts import Item, Opening, Port
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.rules import PART_RULES, closed
from service.rules.rule import Got

_CARRIERS = frozenset[str]().union(*closed.CARRIERS.values())
_CLOSERS = frozenset(closed.CLOSERS.values())


class Step(NamedTuple):
    """Parts of one kind that lead from an opening on (None: they end the chain), with one of their standouts [mm] and
    the least across [mm] that goes with it. `plugged`: a side port that a new plug closes; None: those there are do."""

    kind: str
    onward: Opening | None
    plugged: Opening | None
    standout_mm: float
    across_mm: float


class Steps:
    """The steps that the catalog's parts allow in one situation of parts."""

    def __init__(self, revision: Revision, parts: PartSituation) -> None:
        self._revision = revision
        self._parts = parts
        self._have = dict(parts.have)
        self._fits: dict[str, bool] = {}
        self._from: dict[Opening, tuple[Step, ...]] = {}

    def at(self, opening: Opening) -> tuple[Step, ...]:
        """Return the steps from an opening."""
        if opening not in self._from:
            self._from[opening] = tuple(self._bunched(self._steps(opening)))
        return self._from[opening]

    def plugs(self, opening: Opening, supplied: Iterable[Item]) -> Iterator[Step]:
        """Yield the plugs that may close a spot; those that come with its rail as well, by their own rules."""
        own = {item.sku for item in supplied}
        for item, entry in self._revision.mating.get(opening, ()):
            if item.kind == "plug" and (self.fits(item) or item.sku in own):
                yield from self._closing(item, entry)

    def fits(self, item: Item) -> bool:
        """Return whether a part keeps the rules for parts, however it is come by."""
        known = self._fits.get(item.sku)
        if known is None:
            ways: tuple[Got, ...] = ("bought", "had") if item.sku in self._have else ("bought",)
            parts, revision = self._parts, self._revision
            known = any(all(rule.holds(item, rule.reads(parts), revision, got) for rule in PART_RULES) for got in ways)
            self._fits[item.sku] = known
        return known

    @lazy
    def openings(self) -> list[Opening]:
        """All openings that a part leads from or to."""
        found = set(self._revision.mating)
        return sorted(
            found | {step.onward for opening in found for step in self.at(opening) if step.onward is not None}
        )

    def steps_to(self, ends: Iterable[Opening]) -> dict[Opening, int]:
        """Return how many parts at least lead from each opening to one of these."""
        sources: dict[Opening, set[Opening]] = {}
        for opening in self.openings:
            for step in self.at(opening):
                if step.onward is not None:
                    sources.setdefault(step.onward, set()).add(opening)
        counts = dict.fromkeys(ends, 0)
        front = deque(counts)
        while front:
            reached = front.popleft()
            for source in sources.get(reached, ()):
                if source not in counts:
                    counts[source] = counts[reached] + 1
                    front.append(source)
        return counts

    def _steps(self, opening: Opening) -> Iterator[Step]:
        for item, entry in self._revision.mating.get(opening, ()):
            if item.kind in _CLOSERS and item.kind != "plug" and self.fits(item):
                yield from self._closing(item, entry)
            if item.kind in _CARRIERS and self.fits(item):
                for leaves in item.ports:
                    if leaves is not entry:
                        yield from self._step(item, (entry, leaves), leaves.opening)

    def _closing(self, item: Item, entry: Port) -> Iterator[Step]:
        yield from self._step(item, (entry,), None)

    def _step(self, item: Item, used: tuple[Port, ...], onward: Opening | None) -> Iterator[Step]:
        """Yield the step by an item with its side ports closed: by plugs there are, and one of them by a new one, which
        may be narrower or cost less."""
        left = {port.opening for port in item.ports if not any(port is taken for taken in used)}
        open_ = {opening for opening in left if not self._is_closed(opening)}
        plain = Step(item.kind, onward, None, item.standout_mm, item.across_mm or 0.0)
        if not open_:
            yield plain
        yield from (plain._replace(plugged=opening) for opening in left if open_ <= {opening})

    def _is_closed(self, opening: Opening) -> bool:
        entries = self._revision.mating.get(opening, ())
        return any(item.kind == "plug" and len(item.ports) == 1 and self.fits(item) for item, _ in entries)

    def _bunched(self, steps: Iterable[Step]) -> Iterator[Step]:
        """Of steps that are alike but for their across only the narrowest matters."""
        least: dict[Step, float] = {}
        for step in steps:
            alike = step._replace(across_mm=0.0)
            least[alike] = min(step.across_mm, least.get(alike, step.across_mm))
        yield from (alike._replace(across_mm=across) for alike, across in least.items())
