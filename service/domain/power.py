"""How much power a set-up feeds, what stops it there, and whether that is enough for what is asked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from service.domain import units
from service.domain.engine_side import Follows
from service.domain.lazy import lazy
from service.domain.tongue import said, sentence

LimitKind = Literal["plumbing", "pump", "injectors"]
LIMIT_KINDS: tuple[LimitKind, ...] = ("plumbing", "pump", "injectors")
"""What may stop a set-up, in the order of telling: of equal limits the first stops it."""

STOPS: dict[LimitKind, str] = {
    "plumbing": sentence("the plumbing is at its limit"),
    "pump": sentence("the pump runs out"),
    "injectors": sentence("the injectors run out"),
}
"""What stops a set-up, as a clause."""

PowerVerdict = Literal["ok", "tight", "over"]
USUAL_RESERVE = 0.2
"""The part of the power asked that should be left on top, where a catalog sets none: common practice, 10 to 30 %."""


def in_short(carries_kw: float | None, limited_by: LimitKind | None, not_told: Sequence[LimitKind]) -> str:
    """What a set-up carries [kW] and what stops it there, as a table has room for it."""
    if carries_kw is None or limited_by is None:
        return said("carries a power that is not known")
    power, stops = units.power(carries_kw), said(STOPS[limited_by])
    if not_told:
        return said("carries {power}, as far as is told: there {stops}", power=power, stops=stops)
    return said("carries {power}: there {stops}", power=power, stops=stops)


@dataclass(frozen=True, slots=True, eq=False)
class PowerLimit:
    """One limit as a power [kW], with the facts that it comes from."""

    what: LimitKind
    kw: float
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Power:
    """The power answer of a set-up.

    `assumed`: the stock power was taken; `limits`: those that are told; `follows`: what the regulator follows, None:
    not told; `as_follows`: under which the limits hold; `hangs`: whether they hang on it; `unset`: each
    regulator of the bill that is not made for the set pressure, with its range; `apart`: what each regulator follows
    where that differs and boost makes it matter.
    """

    asked_kw: float
    assumed: bool
    limits: tuple[PowerLimit, ...]
    reserve: float
    boost_kpa: float
    set_kpa: float
    follows: Follows | None
    as_follows: Follows
    hangs: bool
    unset: tuple[Mapping[str, Any], ...] = ()
    apart: Mapping[str, Any] | None = None

    @lazy
    def least(self) -> PowerLimit | None:
        """The limit that stops the set-up; None where none is told."""
        return min(self.limits, key=lambda limit: limit.kw, default=None)

    @property
    def carries_kw(self) -> float | None:
        return None if self.least is None else self.least.kw

    @property
    def not_told(self) -> tuple[LimitKind, ...]:
        told = {limit.what for limit in self.limits}
        return tuple(kind for kind in LIMIT_KINDS if kind not in told)

    @property
    def verdict(self) -> PowerVerdict:
        carries = self.carries_kw
        if carries is None:
            return "ok"
        if self.asked_kw > carries:
            return "over"
        return "tight" if self.asked_kw * (1 + self.reserve) > carries else "ok"

    def limit(self, what: LimitKind) -> PowerLimit | None:
        """The limit of that kind; None where it is not told."""
        return next((limit for limit in self.limits if limit.what == what), None)
