"""What is found, in three details: `brief` names prices and parts, `reasons` says why, `full` has every figure.

The bills of one answer are much alike, so that each thing is said once. In `brief` the lines stand in a list of their
own, and a bill names them by their places in it. Otherwise the first bill is whole, and in later ones a reason, an
extra, a caution or a check that an earlier bill has is named by its `id` in `repeats`.
"""

from typing import Annotated, Literal, NotRequired, TypeAlias

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import (
    BillMargin,
    Extra,
    Facts,
    LineHead,
    More,
    OperatingPoint,
    Path,
    Repair,
    RuledOut,
    Sizing,
    Source,
    Stocked,
    Story,
)
from service.documents.money import InMoney
from service.domain.assessment import Verdict
from service.domain.power import LimitKind, PowerVerdict
from service.domain.vehicles import Duty

_IN_FULL = "with `detail` full"


class SaidReason(TypedDict):
    """A rule and what it found, in words. `id` is its own within the answer."""

    id: int
    rule: str
    text: str
    facts: Annotated[NotRequired[Facts], Field(description=_IN_FULL)]


class SaidCheck(TypedDict):
    """One thing that engineering looked at. `id` is its own within the answer."""

    id: int
    check: str
    verdict: Annotated[Verdict, Field(description="not-judged: a figure is missing, or the maker has set no limit")]
    text: str
    skus: list[str]
    spots: list[str]
    facts: Facts
    source: Annotated[str, Field(description="the standard or handbook that the figures rest on, or common practice")]


class SoundCheck(TypedDict):
    """A check that came out well, in a line. `id` is its own within the answer."""

    id: int
    check: str
    text: str


class FoundLimit(TypedDict):
    """One thing that stops a set-up, as the power that it feeds until then."""

    what: LimitKind
    kw: float
    text: str
    facts: Annotated[NotRequired[Facts], Field(description=_IN_FULL)]
    source: Annotated[NotRequired[str], Field(description=f"{_IN_FULL}: the handbook that the figures rest on")]


class PowerHead(TypedDict):
    """How much power a set-up feeds, and what stops it there."""

    carries_kw: Annotated[float | None, Field(description="the least of the limits that are told; null: none is")]
    verdict: Annotated[
        PowerVerdict,
        Field(description="over: more is asked than it carries; tight: it carries that, but not the reserve on top"),
    ]
    limited_by: LimitKind | None
    not_told: Annotated[list[LimitKind], Field(description="the limits that no fact tells")]


class FoundPower(PowerHead):
    """How much power a set-up feeds, what stops it there, and whether that is enough."""

    asked_kw: Annotated[float, Field(description="the request's power, else the stock power")]
    assumed: Annotated[bool, Field(description="whether the stock power was taken")]
    limits: Annotated[list[FoundLimit], Field(description="the limits that are told")]
    reserve: Annotated[float, Field(description="the part of the power asked that should be left on top")]
    follows: Annotated[
        Literal["manifold", "atmosphere", "not told"], Field(description="what the regulator holds its pressure over")
    ]
    text: str


class BriefPart(TypedDict):
    """A part that stands in lines."""

    name: str
    price: Annotated[int, Field(description="of one, minor units; of a part bought elsewhere an estimate")]


class BriefLine(TypedDict):
    """One line of a bill."""

    sku: Annotated[str, Field(description="its part, one of the answer's `parts`")]
    qty: int
    source: Source
    price: Annotated[int, Field(description="of the whole line, minor units; 0 unless bought from us")]
    spots: list[str]


class BriefBill(TypedDict):
    """A complete bill of material in short."""

    key: str
    price: Annotated[int, Field(description="integer minor units; parts bought elsewhere are not in it")]
    pieces: int
    lead_days: int
    power: PowerHead
    lines: Annotated[list[int], Field(description="the places of its lines in the answer's `lines`, from 0")]
    cautions: Annotated[int, Field(description="how many cautions it has: read them before it is built")]


class SaidExtra(Extra):
    """What the joints need besides. `id` is its own within the answer."""

    id: int


class FoundLine(LineHead, Stocked):
    """One line of a bill and why it is there; with `detail` full the stock beside what it buys."""

    reasons: list[SaidReason]
    repeats: Annotated[list[int], Field(description="the ids of its reasons that an earlier bill has")]


class FoundFlow(TypedDict):
    demand_l_h: float
    paths: list[Path]
    operating_point: Annotated[
        NotRequired[OperatingPoint | None], Field(description=f"{_IN_FULL}; null where no pump curve is told")
    ]


class FoundBill(TypedDict):
    """A complete bill of material, one of an answer."""

    key: str
    power: Annotated[FoundPower, Field(description="what this set-up carries")]
    price: Annotated[int, Field(description="integer minor units; parts bought elsewhere are not in it")]
    pieces: int
    lead_days: int
    duties: dict[str, Duty]
    lines: list[FoundLine]
    chains: dict[str, list[str]]
    flow: FoundFlow
    extras: list[SaidExtra]
    cautions: list[SaidReason]
    repeats: Annotated[
        list[int], Field(description="the ids of its extras, cautions and checks that an earlier bill has")
    ]
    margin: Annotated[NotRequired[BillMargin], Field(description=_IN_FULL)]
    sizing: Annotated[NotRequired[Sizing], Field(description=_IN_FULL)]
    checks: Annotated[NotRequired[list[SaidCheck]], Field(description=_IN_FULL)]
    sound: Annotated[
        NotRequired[list[SoundCheck]], Field(description="with `detail` reasons: the checks that came out well")
    ]


class _FoundAlternative(TypedDict):
    """One change of the request after which there is a bill, or one that carries the power; all else stays."""

    change: Annotated[dict[str, str], Field(description="gauge to another place, or layout to another one")]
    total_valid: Annotated[int, Field(description="valid bills (with group_variants: groups) after the change")]
    price: Annotated[int, Field(description="of the first bill that counts, minor units")]
    text: str


class BriefAlternative(_FoundAlternative):
    power: Annotated[PowerHead, Field(description="of that bill")]


class FoundAlternative(_FoundAlternative):
    power: Annotated[FoundPower, Field(description="of that bill")]


class Found(InMoney):
    """What an answer of any detail has."""

    revision: int
    total_valid: Annotated[
        int, Field(description="how many valid bills (with group_variants: groups) there are, exactly")
    ]
    conflicts: Annotated[
        list[list[str]],
        Field(description="without a valid bill: every minimal set of wishes that has none, at most 20"),
    ]
    repairs: Annotated[list[Repair], Field(description="every minimal set of wishes to change, at most 20")]
    more: More


class BriefAnswer(Found):
    """The answer to a request in short."""

    detail: Literal["brief"]
    parts: Annotated[dict[str, BriefPart], Field(description="the parts of all lines, by SKU")]
    lines: Annotated[list[BriefLine], Field(description="the lines of all bills, each once")]
    bills: list[BriefBill]
    alternatives: list[BriefAlternative]


class FoundAnswer(Found):
    """The answer to a request."""

    detail: Literal["reasons", "full"]
    bills: list[FoundBill]
    ruled_out: list[RuledOut]
    stories: Annotated[list[Story], Field(description="what led to each conflict, in their order")]
    alternatives: Annotated[
        list[FoundAlternative],
        Field(description="without a bill, or where the best is over: other gauge places, other layouts, at most 20"),
    ]
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system")]


AnswerInDetail: TypeAlias = Annotated[BriefAnswer | FoundAnswer, Field(discriminator="detail")]
