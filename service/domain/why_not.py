"""Why a request has no bill, as facts: which wishes conflict, what led to the dead end, and which changes help."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from service.domain.findings import Finding
from service.domain.lazy import lazy
from service.domain.vehicles import Duty

Names = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stopped:
    """A part that comes nearest, what stops it, and how many others are stopped by the same rule."""

    sku: str
    finding: Finding
    others: int


@dataclass(frozen=True, slots=True)
class DeadEnd:
    """A spot that nothing serves with its duty (None: no rail, or the bill as a whole), and what stops its parts."""

    spot: str | None
    duty: Duty | None
    stopped: tuple[Stopped, ...]


@dataclass(frozen=True, eq=False)
class Story:
    """A conflict, and what it comes to in the setup that comes nearest."""

    wishes: Names
    find_dead_ends: Callable[[], tuple[DeadEnd, ...]]

    @lazy
    def dead_ends(self) -> tuple[DeadEnd, ...]:
        """The dead ends; none where chassis and layout do not go together at all."""
        return self.find_dead_ends()


@dataclass(frozen=True, slots=True)
class Repair:
    """New values of wishes (None: dropped to no value) with which there are so many bills or groups."""

    change: Mapping[str, Any]
    total_valid: int


@dataclass(frozen=True, slots=True)
class WhyNot:
    """Minimal conflicts with their stories, and minimal repairs, in the order of telling."""

    stories: tuple[Story, ...]
    repairs: tuple[Repair, ...]
    more_conflicts: bool
    more_repairs: bool


NOTHING = WhyNot((), (), more_conflicts=False, more_repairs=False)
