"""How a bill is put together, as facts: the steps in working order and what stands at each spot; words come later."""

from dataclasses import dataclass
from typing import Literal, get_args

from service.domain.hardware import Range
from service.domain.parts import Item, Opening
from service.domain.vehicles import Duty, Hookup

Stage = Literal[
    "relieve",
    "disconnect",
    "clean",
    "seals",
    "bench",
    "spacers",
    "rail",
    "screws",
    "fittings",
    "lines",
    "gauge",
    "back-on",
    "leak-check",
    "heat-check",
]
STAGES: tuple[Stage, ...] = get_args(Stage)
"""In working order."""

Task = Literal[
    "relieve",
    "battery",
    "lines-off",
    "rail-off",
    "clean",
    "ring",
    "connector",
    "injector-rings",
    "injectors",
    "spacer",
    "rail",
    "own-rail",
    "screw",
    "joint",
    "clip",
    "hold",
    "lay",
    "reference-hose",
    "regulate-elsewhere",
    "set-elsewhere",
    "addon-on",
    "reconnect",
    "prime",
    "pressurise",
    "set-pressure",
    "idle",
    "heat",
]
Direction = Literal["in", "out", "both", "none"]


@dataclass(frozen=True, slots=True)
class Used:
    """How many of an item a step takes; `optional`: where the car has it."""

    item: Item
    qty: int
    optional: bool = False


@dataclass(frozen=True, slots=True)
class MadeJoint:
    """A joint as it is made: `part` goes on to a port with this opening, on `onto`.

    `spot`: on whose chain it is, of a link the one that it is nearer to; `part` None: the hookup, of the kind named;
    `at_rail`: `onto` is the rail; `hose`: what the layout tells of one's own hose, where that is the hookup.
    """

    spot: str
    part: Item | None
    onto: Item
    opening: Opening
    at_rail: bool = False
    hookup_kind: str | None = None
    hose: Hookup | None = None


@dataclass(frozen=True, slots=True)
class LaidHose:
    """The end of a hose at a spot: `line` None: one's own.

    `min_bend_mm`: its least radius, inside its bend; `turned_deg`: how far it leaves from straight on; None: not told.
    """

    spot: str
    line: Item | None
    min_bend_mm: float | None
    turned_deg: float | None


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do. `standard`: the id of the port standard whose seals are meant; `torque_nm` None: not told.

    `left_mm`: the room that is left at its spot, where it is too little for the part to go in on the bench, or under
    an add-on; `addons`: the names of those that are meant.
    """

    stage: Stage
    task: Task
    spots: tuple[str, ...] = ()
    used: tuple[Used, ...] = ()
    joint: MadeJoint | None = None
    standard: str | None = None
    bank: str = ""
    torque_nm: Range | None = None
    left_mm: float | None = None
    addons: tuple[str, ...] = ()
    hoses: tuple[LaidHose, ...] = ()


@dataclass(frozen=True, slots=True)
class Standing:
    """A part that stands at a spot; `side`: it only closes a side port of the one before."""

    item: Item
    side: bool


@dataclass(frozen=True, slots=True)
class SpotPlan:
    """A spot with all that goes in, lengths mm, None: not limited.

    `standing`: outwards, up to the first line; `beyond`: that line and what follows; `flows`: as seen from the rail;
    `far_spot`: the other end of a link.
    """

    spot: str
    duty: Duty
    flows: Direction
    flow_l_h: float | None
    standing: tuple[Standing, ...]
    beyond: tuple[Item, ...]
    hookup_kind: str | None
    far_spot: str | None
    standout_mm: float
    width_mm: float
    axial_mm: float | None = None
    axial_left_mm: float | None = None
    across_mm: float | None = None
    across_left_mm: float | None = None


@dataclass(frozen=True, slots=True)
class RailPlan:
    """A rail with its spots. `length_mm`: of its bore; `at_mm`: where along it spots are; both only where told."""

    bank: str
    rail: Item
    length_mm: float | None
    at_mm: dict[str, float]
    spots: tuple[SpotPlan, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """All of it. `injectors`: how many the car has, 0 where that is not told."""

    steps: tuple[Step, ...]
    rails: tuple[RailPlan, ...]
    injectors: int
