"""What is answered: bills, their lines and reasons, and what was ruled out.

Plain typed dictionaries: they cost nothing to build and say their JSON Schema to the API all the same.
"""

from typing import Annotated, Any, Literal

from pydantic import Field
from typing_extensions import TypedDict

from service.domain.vehicles import Duty

Source = Literal["buy", "elsewhere", "supplied", "have", "on-car", "add-on"]
Facts = Annotated[dict[str, Any], Field(description="the measured values behind the text, units in the names")]


class Reason(TypedDict):
    """A rule, what it found in words, and the facts that it found."""

    rule: str
    text: str
    facts: Facts


class Line(TypedDict):
    """One line of a bill: how many of what, where from, where each goes, what else would do, and why."""

    sku: str
    name: str
    qty: int
    source: Source
    price: Annotated[int, Field(description="of the whole line, minor units; 0 unless bought from us")]
    spots: list[str]
    choices: list[str]
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


class FlowReport(TypedDict):
    demand_l_h: float
    paths: list[Path]


class Extra(TypedDict):
    """What the joints need besides: sealant, spare seals. Never in the price."""

    sku: str
    qty: int
    text: str


class Bill(TypedDict):
    """A complete bill of material."""

    key: str
    price: Annotated[int, Field(description="integer minor units; parts bought elsewhere are not in it")]
    pieces: int
    lead_days: int
    duties: dict[str, Duty]
    lines: list[Line]
    chains: dict[str, list[str]]
    flow: FlowReport
    extras: list[Extra]
    cautions: list[Reason]


class RuledOut(TypedDict):
    """A part that a person would ask about, and the first rule that stops it."""

    sku: str
    spot: str | None
    rule: str
    text: str
    facts: Facts


class Answer(TypedDict):
    """The answer to a request."""

    revision: int
    currency: str
    total_valid: Annotated[
        int, Field(description="how many valid bills (with group_variants: groups) there are, exactly")
    ]
    bills: list[Bill]
    ruled_out: list[RuledOut]
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system")]


class RecalledBill(TypedDict):
    """A bill given again by its key, in its own revision."""

    revision: int
    currency: str
    bill: Bill
    safety: list[str]


class LayoutChoice(TypedDict):
    """A layout for a chassis: how many bills it has and from what price, or the rule that rules it out."""

    layout: str
    name: str
    summary: str
    total_valid: int
    lowest_price: int | None
    ruled_out_by: Annotated[Reason | None, Field(description="what stops the part that came furthest")]
