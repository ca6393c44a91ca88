"""A chain: the parts screwed one into the next from a spot outwards, with the sums that the rules ask about."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from service.domain.lazy import lazy
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


Runs = tuple[Run, ...]
"""The runs of chains that share a flow, or of one that has its own."""

Lengths = float | npt.NDArray[np.float64]
"""A length of one chain, or of each of many, mm."""


class Measured(Protocol):
    """What rules measure of a chain, or of many chains at once, mm."""

    @property
    def axial_mm(self) -> Lengths: ...
    @property
    def across_mm(self) -> Lengths: ...
    @property
    def far_axial_mm(self) -> Lengths: ...
    @property
    def far_across_mm(self) -> Lengths: ...
    @property
    def reach_mm(self) -> Lengths: ...
    def most(self, of: Callable[[Item], float]) -> Lengths:
        """The most that any of its items has of something, to 0.001; 0 of none."""


class Chain:
    """Items as they are listed: outwards, each one's side plugs right after it.

    `run_of` makes the run of links, equal runs being one and the same.
    """

    def __init__(self, links: tuple[Link, ...], run_of: Callable[[tuple[Link, ...]], Run]) -> None:
        self.links = links
        self._run_of = run_of

    @lazy
    def run(self) -> Run:
        return self._run_of(self.links)

    @lazy
    def items(self) -> tuple[Item, ...]:
        return tuple([link.item for link in self.links])

    @lazy
    def skus(self) -> tuple[str, ...]:
        return tuple([item.sku for item in self.items])

    @lazy
    def standards(self) -> tuple[str, ...]:
        """The port standards of the joints that its links make, from the spot outwards."""
        return tuple([link.meets.standard for link in self.links])

    @lazy
    def text(self) -> str:
        return ",".join(self.skus)

    @lazy
    def groups(self) -> tuple[str, ...]:
        """The items once variants are taken for equal."""
        return tuple([item.group for item in self.items])

    @lazy
    def near(self) -> tuple[Link, ...]:
        """The links up to and without the first line, with their side plugs."""
        return tuple(self.links[: self._lines[0]] if self._lines else self.links)

    @lazy
    def far(self) -> tuple[Link, ...]:
        """The links behind the last line and its side plugs: what stands at the far spot of a link."""
        if not self._lines:
            return self.links
        beyond = self.links[self._lines[-1] + 1 :]
        plugs = next((count for count, link in enumerate(beyond) if not link.side), len(beyond))
        return beyond[plugs:]

    @lazy
    def _lines(self) -> tuple[int, ...]:
        return tuple(index for index, link in enumerate(self.links) if link.item.kind == "line")

    @lazy
    def axial_mm(self) -> float:
        return _standout_mm(self.near)

    @lazy
    def far_axial_mm(self) -> float:
        return _standout_mm(self.far)

    @lazy
    def across_mm(self) -> float:
        return _across_mm(self.near)

    @lazy
    def far_across_mm(self) -> float:
        return _across_mm(self.far)

    def most(self, of: Callable[[Item], float]) -> float:
        return round(max(map(of, self.items), default=0.0), 3)

    @lazy
    def reach_mm(self) -> float:
        """The standout of the whole chain, lines left out."""
        return summed_mm([x.item.standout_mm for x in self.links if not x.side and x.item.kind != "line"])


def _standout_mm(links: tuple[Link, ...]) -> float:
    return summed_mm([link.item.standout_mm for link in links if not link.side])


def _across_mm(links: tuple[Link, ...]) -> float:
    return round(max((link.item.across_mm or 0.0 for link in links), default=0.0), 3)
