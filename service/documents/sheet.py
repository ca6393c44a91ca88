"""The assembly sheet of a bill: what to mind, what to have at hand, what to do in which order, and a plan of the rails.

Plain typed dictionaries, as the answers are. Torques N·m and lbf·ft, lengths mm, flows L/h.
"""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import Extra, Power, Reason
from service.documents.money import InMoney
from service.domain.revision import Method
from service.domain.sheet import Direction, Stage
from service.domain.vehicles import Duty


class Torque(TypedDict):
    """A range of torques in both systems; null: no limit at this end."""

    min_nm: float | None
    max_nm: float | None
    min_lbf_ft: float | None
    max_lbf_ft: float | None


class PastHandTight(TypedDict):
    """How far a nut is turned past hand-tight, in degrees and in flats of its hexagon."""

    min_deg: float | None
    max_deg: float | None
    min_flats: float | None
    max_flats: float | None


class Threads(TypedDict):
    """How many threads are engaged in the end, and how many turns past hand-tight lead there.

    `most_turns` reach the most threads; null where the catalog does not tell the thread's size.
    """

    min: float | None
    max: float | None
    turns_past_hand: float | None
    most_turns: float | None


class Tightening(TypedDict):
    """How tight; of the three the one that the method goes by, the others are null."""

    method: Annotated[Method | None, Field(description="of the joint's port standard; null for a screw")]
    torque: Torque | None
    past_hand_tight: PastHandTight | None
    threads: Threads | None
    text: str


class SheetPart(TypedDict):
    """What a step takes."""

    sku: str
    name: str
    qty: int


class SheetStep(TypedDict):
    """One thing to do: how, what to look for, how to tell that it went wrong, and what then."""

    number: int
    stage: Stage
    title: str
    spots: list[str]
    parts: list[SheetPart]
    standard: Annotated[str | None, Field(description="the port standard of the joint, or of the seals, by its id")]
    onto: Annotated[str | None, Field(description="the SKU that a joint's part goes on to; null where none is made")]
    tightening: Tightening | None
    make_up: Annotated[str | None, Field(description="how a joint is made up, as the text says; null where none is")]
    text: str
    look_for: str
    wrong: str
    then: str


class StagePart(TypedDict):
    """A stage of the work; the steps of a stage follow one another."""

    stage: Stage
    title: str


class StandingPart(TypedDict):
    """A part that stands at a spot, outwards."""

    sku: str
    name: str
    kind: str
    standout_mm: float
    across_mm: float | None
    side: Annotated[bool, Field(description="it only closes a side port of the part before it")]


class SheetSpot(TypedDict):
    """A spot with what goes in and what is left of the room; a limit is null where the room has none."""

    spot: str
    duty: Duty
    flows: Annotated[Direction, Field(description="as seen from the rail; both: a link between two banks that are fed")]
    flow_l_h: float | None
    standing: Annotated[list[StandingPart], Field(description="up to the first line: what takes up the room")]
    beyond: Annotated[list[SheetPart], Field(description="that line and what follows it")]
    leads_to: Annotated[str | None, Field(description="in words; null where it ends in itself")]
    standout_mm: float
    width_mm: float
    axial_mm: float | None
    axial_left_mm: float | None
    across_mm: float | None
    across_left_mm: float | None
    text: str


class SheetRail(TypedDict):
    """A rail with its spots; `at_mm` has where along it they are, where the catalog tells."""

    bank: Annotated[str, Field(description="1 or 2; empty on an engine of one bank")]
    sku: str
    name: str
    length_mm: Annotated[float | None, Field(description="of its bore; null where it is not told")]
    at_mm: dict[str, float]
    spots: list[SheetSpot]


class JointSource(TypedDict):
    """Where the figures of a kind of joint come from, as the catalog says."""

    standard: str
    name: str
    text: str


class Sheet(InMoney):
    """The assembly sheet of a bill, in its own revision."""

    revision: int
    key: str
    title: str
    text: str
    power: Annotated[Power, Field(description="what this set-up carries, as its bill tells it")]
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system: read them first")]
    cautions: Annotated[list[Reason], Field(description="what to mind with this bill and its joints")]
    tools: list[str]
    consumables: Annotated[list[Extra], Field(description="sealant, spare seals: never in the price")]
    rails: list[SheetRail]
    stages: Annotated[list[StagePart], Field(description="the stages that have steps, in working order")]
    steps: list[SheetStep]
    sources: Annotated[list[JointSource], Field(description="where the figures for tightening come from")]
