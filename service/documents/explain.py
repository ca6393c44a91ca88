"""Why is this part, or is it not, in the bills? The body of POST /v1/explain and what is answered."""

from typing import Annotated, Any

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import Facts
from service.documents.fields import Document, Id, Spot
from service.documents.money import InMoney
from service.documents.request import BillRequest
from service.domain.explanation import Role


class ExplainRequest(Document):
    """A request for bills, and the part that the question is about."""

    request: BillRequest
    sku: Annotated[Id, Field(description="a part of the catalog, or own-rail where the request has one")]
    spot: Annotated[Spot | None, Field(description="default: every spot that the rails offer")] = None


class MarginTold(TypedDict):
    """What is left of what a rule allows; less than nothing where it is broken."""

    left: float
    unit: Annotated[str, Field(description="mm, kPa, L/h, units or minor units (of the currency)")]
    text: str


class RuleTold(TypedDict):
    """A rule: one that stops the part, or where it stands what speaks for it."""

    rule: str
    text: str
    facts: Facts
    margin: Annotated[MarginTold | None, Field(description="null where the rule measures nothing")]


class ChangeTold(TypedDict):
    """The smallest change of a single wish with which the part is there, tried on the whole request."""

    change: Annotated[dict[str, Any], Field(description="the wish at its new value; null: dropped to no value")]
    text: str
    total_valid: Annotated[int, Field(description="how many bills (or groups, as asked) there are with it")]


class VerdictTold(TypedDict):
    """The part at one place."""

    spot: Annotated[str | None, Field(description="null for a rail and for what is at no spot")]
    duty: Annotated[
        Role | None,
        Field(description="what it is there for; null where no rail here has the spot, or nothing asks for it"),
    ]
    stands: bool
    chain: Annotated[
        list[str],
        Field(description="outwards: where it stands, in the cheapest bill with it; else the one that comes furthest"),
    ]
    text: str
    rules: Annotated[list[RuleTold], Field(description="stands false: every rule that stops it there")]
    change: Annotated[ChangeTold | None, Field(description="null where it stands, and where no single change helps")]


class Explanation(InMoney):
    """Why a part is, or is not, in the bills."""

    revision: int
    sku: str
    name: str
    in_bills: Annotated[bool, Field(description="in any valid bill, shown or not")]
    where: Annotated[
        list[str],
        Field(description="the spots at which it stands in valid bills; rail, mounting, box (of another part), extra"),
    ]
    verdicts: list[VerdictTold]
    text: str
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system")]
