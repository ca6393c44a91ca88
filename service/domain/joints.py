"""Two sides and whether they meet: the joints between them, what stands between them, and the parts that bridge it."""

from dataclasses import dataclass
from typing import Literal

from service.domain.parts import Item, Opening, Port

Difference = Literal["standard", "family", "size", "seal", "end"]


@dataclass(frozen=True, slots=True)
class JointEnd:
    """One end of a joint, made or wished for: an opening with the part and port that have it; a bare port has none."""

    opening: Opening
    item: Item | None = None
    port: Port | None = None


@dataclass(frozen=True, slots=True)
class Gap:
    """Two ends that do not mate, and in what: `end` where both have the same one."""

    one: JointEnd
    other: JointEnd
    differs: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """A part of a bridge: the port that meets what is before it, and the port that carries on."""

    item: Item
    enters: Port
    leaves: Port

    @property
    def open_ports(self) -> tuple[Port, ...]:
        """The ports that the bridge leaves open."""
        return tuple(port for port in self.item.ports if port is not self.enters and port is not self.leaves)


@dataclass(frozen=True, slots=True)
class Bridge:
    """Parts that join two ends, in order from `one` to `other`."""

    one: JointEnd
    steps: tuple[Step, ...]
    other: JointEnd

    @property
    def joints(self) -> tuple[tuple[JointEnd, JointEnd], ...]:
        """The joints that it makes, each as the end before and the end behind."""
        before = [self.one, *(JointEnd(step.leaves.opening, step.item, step.leaves) for step in self.steps)]
        behind = [*(JointEnd(step.enters.opening, step.item, step.enters) for step in self.steps), self.other]
        return tuple(zip(before, behind, strict=True))


@dataclass(frozen=True, slots=True)
class Join:
    """Whether two sides meet: by `joints`, or else the gaps between them, nearest first, and a bridge if any."""

    joints: tuple[tuple[JointEnd, JointEnd], ...]
    gaps: tuple[Gap, ...]
    bridge: Bridge | None
