"""What is answered: bills, their lines and reasons, and what was ruled out.

Plain typed dictionaries: they cost nothing to build and say their JSON Schema to the API all the same.
"""

from typing import Annotated, Any, Literal

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.money import InMoney
from service.domain.assessment import Verdict
from service.domain.power import LimitKind, PowerVerdict
from service.domain.vehicles import Duty

Source = Literal["buy", "elsewhere", "supplied", "have", "on-car", "add-on"]
Facts = Annotated[dict[str, Any], Field(description="the measured values behind the text, units in the names")]


class Reason(TypedDict):
    """A rule, what it found in words, and the facts that it found."""

    rule: str
    text: str
    facts: Facts


class LineHead(TypedDict):
    """How many of what, where from, where each goes, and what else would do."""

    sku: str
    name: str
    qty: int
    source: Source
    unit_price: Annotated[int, Field(description="of one, minor units; 0 unless bought from us")]
    price: Annotated[int, Field(description="of the whole line, minor units; 0 unless bought from us")]
    spots: list[str]
    choices: list[str]


class Stocked(TypedDict, total=False):
    """Stock beside need; for what is bought from us alone."""

    need: Annotated[int, Field(description="units to be got from us: for one set, in an order check for all sets")]
    in_stock: int
    short: Annotated[int, Field(description="units that are needed beyond the stock")]
    rest_days: Annotated[int, Field(description="days until the short ones come; 0 where none is short")]


class Line(LineHead, Stocked):
    """One line of a bill: how many of what, where from, where each goes, what else would do, and why."""

    reasons: list[Reason]


class Path(TypedDict):
    """One path that fuel takes, held to its limits."""

    duty: Duty
    spots: list[str]
    flow_l_h: float
    drop_kpa: float
    peak_m_s: float
    limit_kpa: float
    limit_m_s: float
    unrated: list[str]
    hose_rated: Annotated[bool | None, Field(description="null where no hose or line of the car is on the path")]


class OperatingPoint(TypedDict):
    """Where the pump settles: what it moves against base pressure, boost and the drop of the lines."""

    pump: Annotated[Literal["request", "chassis"], Field(description="whose curve: the request's, else the car's")]
    kpa: Annotated[float, Field(description="gauge, at the pump's outlet")]
    drop_kpa: Annotated[float, Field(description="what the lines take beyond what the regulator holds")]
    flow_l_h: Annotated[float, Field(description="what the pump moves at that pressure")]
    left_over_l_h: Annotated[float, Field(description="beyond what the engine burns; below 0: short of it")]
    returned_l_h: Annotated[float | None, Field(description="null where the layout has no return")]
    carried_back_w: Annotated[float, Field(description="of the pump's work, what goes back to the tank as heat")]
    warming_k: Annotated[float | None, Field(description="null where the fuel's heat capacity is not told")]
    runs_out_l_h: Annotated[float, Field(description="where the engine would burn all that the pump moves")]
    runs_out_kw: float
    text: str


class FlowReport(TypedDict):
    demand_l_h: float
    paths: list[Path]
    operating_point: Annotated[OperatingPoint | None, Field(description="null where no pump curve is told")]


class LimitingPath(TypedDict):
    """The paths that come to a limit first."""

    duty: Duty
    spots: list[str]
    limit: Literal["drop", "velocity"]


class Sizing(TypedDict):
    """The largest power that the plumbing carries within policy; null where none of it is rated."""

    largest_power_kw: float | None
    largest_demand_l_h: float | None
    limited_by: LimitingPath | None
    text: str


class Check(TypedDict):
    """One thing that engineering looked at beside the rules; a caution never makes a bill invalid."""

    check: str
    verdict: Annotated[Verdict, Field(description="not-judged: a figure is missing, or the maker has set no limit")]
    text: str
    skus: list[str]
    spots: list[str]
    facts: Facts
    source: Annotated[str, Field(description="the standard or handbook that the figures rest on, or common practice")]


class Extra(TypedDict):
    """What the joints need besides: sealant, spare seals. Never in the price."""

    sku: str
    qty: int
    text: str


class PowerLimit(TypedDict):
    """One thing that stops a set-up, as the power that it feeds until then."""

    what: LimitKind
    kw: float
    text: str
    facts: Facts
    source: Annotated[str, Field(description="the handbook that the figures rest on")]


class Power(TypedDict):
    """How much power a set-up feeds, what stops it there, and whether that is enough."""

    asked_kw: Annotated[float, Field(description="the request's power, else the stock power")]
    assumed: Annotated[bool, Field(description="whether the stock power was taken")]
    carries_kw: Annotated[float | None, Field(description="the least of the limits that are told; null: none is")]
    verdict: Annotated[
        PowerVerdict,
        Field(description="over: more is asked than it carries; tight: it carries that, but not the reserve on top"),
    ]
    limited_by: LimitKind | None
    not_told: Annotated[list[LimitKind], Field(description="the limits that no fact tells")]
    limits: Annotated[list[PowerLimit], Field(description="the limits that are told")]
    reserve: Annotated[float, Field(description="the part of the power asked that should be left on top")]
    follows: Annotated[
        Literal["manifold", "atmosphere", "not told"], Field(description="what the regulator holds its pressure over")
    ]
    text: str


class MarginLeft(TypedDict):
    """What is left of one limit."""

    what: Annotated[str, Field(description="clearance, across, pressure, drop, velocity")]
    spot: Annotated[str | None, Field(description="where; null for a rail, of a link the spot that sorts first")]
    part: Annotated[str | None, Field(description="the SKU whose limit it is; null where it is a spot's or a path's")]
    left: float
    unit: Annotated[str, Field(description="mm, kPa, % (of the limit, for a drop) or m/s")]
    relative: Annotated[float, Field(description="left over limit: 1 where nothing is used, 0 where nothing is left")]
    text: str


class BillMargin(TypedDict):
    """How far a bill is from its limits; null where nothing is limited."""

    tightest: Annotated[MarginLeft | None, Field(description="the limit of which relatively least is left")]
    clearance_mm: Annotated[float | None, Field(description="the least room left, along or across, at a limited spot")]
    pressure_kpa: Annotated[float | None, Field(description="the least pressure left among parts that have a limit")]
    drop_percent: Annotated[float | None, Field(description="the least that the drop of a path leaves of its limit")]


class Bill(TypedDict):
    """A complete bill of material."""

    key: str
    power: Annotated[Power, Field(description="what this set-up carries")]
    price: Annotated[int, Field(description="integer minor units; parts bought elsewhere are not in it")]
    pieces: int
    lead_days: int
    duties: dict[str, Duty]
    lines: list[Line]
    chains: dict[str, list[str]]
    flow: FlowReport
    margin: BillMargin
    sizing: Sizing
    checks: list[Check]
    extras: list[Extra]
    cautions: list[Reason]


class RuledOut(TypedDict):
    """A part that a person would ask about, and the first rule that stops it."""

    sku: str
    spot: str | None
    rule: str
    text: str
    facts: Facts


class StoppedPart(TypedDict):
    """The part that comes nearest, what stops it, and how many others are stopped by the same rule."""

    sku: Annotated[str | None, Field(description="null where it is no single part")]
    rule: str
    text: str
    facts: Facts
    others: int


class Cause(TypedDict):
    """A spot that nothing serves with its duty, and what stops its parts; both null: the rail, or the whole bill."""

    spot: str | None
    duty: Duty | None
    text: str
    causes: list[StoppedPart]


class Story(TypedDict):
    """What a conflict comes to: the chain of causes, and the same in plain sentences."""

    wishes: list[str]
    text: str
    causes: list[Cause]


class Repair(TypedDict):
    """The least that has to change, and what it gives."""

    change: Annotated[dict[str, Any], Field(description="wish to new value; null: dropped to no value")]
    text: str
    total_valid: Annotated[int, Field(description="valid bills (with group_variants: groups) after the change")]


class Alternative(TypedDict):
    """One change of the request after which there is a bill, or one that carries the power; all else stays."""

    change: Annotated[dict[str, str], Field(description="gauge to another place, or layout to another one")]
    total_valid: Annotated[int, Field(description="valid bills (with group_variants: groups) after the change")]
    price: Annotated[int, Field(description="of the first bill that counts, minor units")]
    power: Annotated[Power, Field(description="of that bill")]
    text: str


class More(TypedDict):
    """Whether there are more than are listed."""

    conflicts: bool
    repairs: bool
    alternatives: bool


class Answer(InMoney):
    """The answer to a request."""

    revision: int
    total_valid: Annotated[
        int, Field(description="how many valid bills (with group_variants: groups) there are, exactly")
    ]
    bills: list[Bill]
    ruled_out: list[RuledOut]
    conflicts: Annotated[
        list[list[str]],
        Field(description="without a valid bill: every minimal set of wishes that has none, at most 20"),
    ]
    stories: Annotated[list[Story], Field(description="what led to each conflict, in their order")]
    repairs: Annotated[list[Repair], Field(description="every minimal set of wishes to change, at most 20")]
    alternatives: Annotated[
        list[Alternative],
        Field(description="without a bill, or where the best is over: other gauge places, other layouts, at most 20"),
    ]
    more: More
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system")]


class ChangedPart(TypedDict):
    """What became of a part of a bill since."""

    sku: str
    what: Annotated[
        Literal["gone", "retired", "replaced", "price", "changed"],
        Field(description="replaced: its successor takes its place; changed: figures that the rules go by"),
    ]
    text: str


class CurrentBill(InMoney):
    """Whether the same rail, duties and chains are a valid bill of the newest revision; a retired part by its
    successor."""

    revision: int
    valid: bool
    price: Annotated[int | None, Field(description="what it costs now, minor units; null where it is not valid")]
    changed: list[ChangedPart]
    key: Annotated[str | None, Field(description="of the bill in that revision; null where it is not valid")]
    text: str


class RecalledBill(InMoney):
    """A bill given again by its key, in its own revision, and what the newest one makes of it."""

    revision: int
    bill: Bill
    safety: list[str]
    current: CurrentBill


class LayoutChoice(TypedDict):
    """A layout for a chassis: what it carries, how many bills it has and from what price, or what rules it out; or why
    that takes too much work to find out."""

    layout: str
    name: str
    summary: str
    total_valid: Annotated[int | None, Field(description="null where it takes too much work to find out")]
    power: Annotated[Power | None, Field(description="what its best bill carries; null where it has none")]
    duties: Annotated[
        dict[str, Duty] | None, Field(description="what each spot does in its best bill; null where it has none")
    ]
    largest_power_kw: Annotated[
        float | None,
        Field(
            description="a figure of the plumbing alone, whatever pump and injectors do: where the best of its bills"
            " is at a limit; null where it has none or nothing of it is rated"
        ),
    ]
    lowest_price: int | None
    ruled_out_by: Annotated[Reason | None, Field(description="what stops the part that came furthest")]
    too_costly: Annotated[
        str | None, Field(description="why it takes too much work among all layouts; it may be asked for alone")
    ]


class ChassisLayouts(InMoney):
    """Every layout of the catalog for one chassis, each asked for with the same wishes and facts."""

    revision: int
    chassis: str
    layouts: list[LayoutChoice]
