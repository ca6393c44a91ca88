"""What engineering says of a bill: where the pump settles, how much the plumbing carries, what was checked."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from service.domain.power import Power
from service.domain.vehicles import Duty

Bound = Literal["drop", "velocity"]
Verdict = Literal["ok", "caution", "not-judged"]


class Limiting(NamedTuple):
    """The paths that come to a limit first, and to which."""

    duty: Duty
    spots: tuple[str, ...]
    bound: Bound


@dataclass(frozen=True, slots=True)
class Sizing:
    """The most that the plumbing of a bill carries within policy; None: nothing of it is rated.

    `demand_l_h` is what the engine may burn, `power_kw` what it makes of that.
    """

    demand_l_h: float | None
    power_kw: float | None
    limiting: Limiting | None


@dataclass(frozen=True, slots=True)
class Supply:
    """Where the pump settles: kPa gauge, L/h, W, K.

    `drop_kpa` is what the lines take beyond what the regulator holds; `left_l_h` what the pump moves beyond the demand
    (below 0: what is short); `returned_l_h` what goes back through the return, None where nothing returns; `heat_w`
    what the pump's work puts into the fuel, `warming_k` how much warmer it comes back, None where the fuel's heat
    capacity is not told; at `most_l_h` and `most_kw` the pump has nothing left.
    """

    own: bool
    kpa: float
    drop_kpa: float
    pump_l_h: float
    left_l_h: float
    returned_l_h: float | None
    heat_w: float
    warming_k: float | None
    most_l_h: float
    most_kw: float


@dataclass(frozen=True, slots=True, eq=False)
class Check:
    """One thing that was looked at: the limits that it is held to stand among its facts. Told apart by identity."""

    check: str
    verdict: Verdict
    facts: Mapping[str, Any] = field(default_factory=dict)
    skus: tuple[str, ...] = ()
    spots: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Assessment:
    """All that is told of a bill besides whether it is valid: its power first; `supply` None: no pump is told of."""

    power: Power
    supply: Supply | None
    sizing: Sizing
    checks: tuple[Check, ...]


class ShortAssessment(NamedTuple):
    """The power of a bill, and how many of its checks caution."""

    power: Power
    cautions: int
