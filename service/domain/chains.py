"""A chain: the parts screwed one into the next from a spot outwards, with the sums that the rules ask about."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from service.domain.parts import Item, Opening
from service.hydraulics.passage import Passage


@dataclass(frozen=True, slots=True)
class Link:
    """An item of a chain in its place: the opening that it meets, and whether it only closes a side port."""

    item: Item
    meets: Opening
    side: bool = False


def summed_mm(lengths: Sequence[float]) -> float:
    """The sum of lengths as it is compared: to 0.001 mm."""
    return round(sum(lengths), 3)


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """What a chain is to the fuel: its passages, and the SKUs without flow data, each once."""

    passages: tuple[Passage, ...]
    unrated: tuple[str, ...]


class Chain:
    """Items as they are listed: outwards, each one's side plugs right after it.

    `run_of` makes the run of links, equal runs being one and the same.
    """

    def __init__(self, links: tuple[Link, ...], run_of: Callable[[tuple[Link, ...]], Run]) -> None:
        self.links = links
        self._run_of = run_of

    @cached_property
    def run(self) -> Run:
        return self._run_of(self.links)

    @cached_property
    def items(self) -> tuple[Item, ...]:
        return tuple([link.item for link in self.links])

    @cached_property
    def skus(self) -> tuple[str, ...]:
        return tuple([item.sku for item in self.items])

    @cached_property
    def text(self) -> str:
        return ",".join(self.skus)

    @cached_property
    def group(self) -> str:
        return ",".join([item.group for item in self.items])

    @cached_property
    def near(self) -> tuple[Link, ...]:
        """The links up to and without the first line, with their side plugs."""
        return tuple(self.links[: self._lines[0]] if self._lines else self.links)

    @cached_property
    def far(self) -> tuple[Link, ...]:
        """The links behind the last line and its side plugs: what stands at the far spot of a link."""
        if not self._lines:
            return self.links
        beyond = self.links[self._lines[-1] + 1 :]
        plugs = next((count for count, link in enumerate(beyond) if not link.side), len(beyond))
        return beyond[plugs:]

    @cached_property
    def _lines(self) -> tuple[int, ...]:
        return tuple(index for index, link in enumerate(self.links) if link.item.kind == "line")

    @cached_property
    def axial_mm(self) -> float:
        return _standout_mm(self.near)

    @cached_property
    def far_axial_mm(self) -> float:
        return _standout_mm(self.far)

    @cached_property
    def across_mm(self) -> float:
        return _across_mm(self.near)

    @cached_property
    def far_across_mm(self) -> float:
        return _across_mm(self.far)

    @cached_property
    def reach_mm(self) -> float:
        """The standout of the whole chain, lines left out."""
        return summed_mm([x.item.standout_mm for x in self.links if not x.side and x.item.kind != "line"])


def _standout_mm(links: tuple[Link, ...]) -> float:
    return summed_mm([link.item.standout_mm for link in links if not link.side])


def _across_mm(links: tuple[Link, ...]) -> float:
    return round(max((link.item.across_mm or 0.0 for link in links), default=0.0), 3)
