"""Can these two meet? The body of POST /v1/joints and what is answered.

A side is a part of the catalog, with one of its ports or with all of them, or a bare port by standard and end.
"""

from typing import Annotated, Any

from pydantic import Field, ValidatorFunctionWrapHandler, WrapValidator
from pydantic_core import PydanticCustomError
from typing_extensions import TypedDict

from service.documents.answer import Reason
from service.documents.fields import Document, End, Id
from service.documents.money import InMoney
from service.documents.request import AskedRevision
from service.domain.joints import Difference
from service.domain.revision import Method


class PartSide(Document):
    """A part of the catalog, by itself or as one of its ports."""

    sku: Id
    port: Annotated[Id | None, Field(description="default: whichever of its ports is best")] = None


class PortSide(Document):
    """A bare port: whatever has this standard in this end."""

    standard: Id
    end: End


def _of_its_kind(value: object, handler: ValidatorFunctionWrapHandler) -> Any:
    """Hold a side to the kind that it means, so that its faults are those of that kind alone."""
    if not isinstance(value, dict):
        return handler(value) if isinstance(value, PartSide | PortSide) else PartSide.model_validate(value)
    means_part, means_port = ("sku" in value or "port" in value), ("standard" in value or "end" in value)
    if means_part == means_port:
        what = "a part (sku, and port if one is meant) or a bare port (standard and end)"
        raise PydanticCustomError("one_kind_of_side", f"{what}{', not both' if means_part else ''}")
    return (PartSide if means_part else PortSide).model_validate(value)


Side = Annotated[PartSide | PortSide, WrapValidator(_of_its_kind)]


class JointQuestion(Document):
    """Two sides, in either order."""

    one: Side
    other: Side
    revision: AskedRevision = None


class PortTold(TypedDict):
    """A port of a part, or a bare one, which has neither sku nor port."""

    sku: str | None
    port: str | None
    standard: str
    end: Annotated[str, Field(description="male or female")]


class JointTold(TypedDict):
    """How a joint is made up."""

    id: str
    method: Method
    text: str


class Meeting(TypedDict):
    """Two ports that mate, and how their joint is made up."""

    one: PortTold
    other: PortTold
    joint: JointTold
    text: str


class GapTold(TypedDict):
    """Two ports that do not mate, and what stands between them."""

    one: PortTold
    other: PortTold
    differs: Annotated[
        list[Difference], Field(description="end: both have the same one; size is compared within a family")
    ]
    text: str


class LinkPort(TypedDict):
    """A port of a part of the bridge."""

    port: str
    standard: str
    end: Annotated[str, Field(description="male or female")]


class OpenPort(LinkPort):
    """A port that the bridge leaves open, and what closes it."""

    text: str


class BridgeLink(TypedDict):
    """A part of the bridge: the port that meets what is before it, the one that carries on, those that stay open."""

    sku: str
    name: str
    sold: Annotated[bool, Field(description="false: bought elsewhere, and its price is an estimate")]
    price: Annotated[int, Field(description="integer minor units")]
    enters: LinkPort
    leaves: LinkPort
    open_ports: list[OpenPort]


class BridgeTold(TypedDict):
    """The shortest chain of catalog parts that joins the two sides, from `one` to `other`."""

    items: list[str]
    price: Annotated[int, Field(description="integer minor units; parts bought elsewhere are not in it")]
    chain: list[BridgeLink]
    joints: Annotated[list[Meeting], Field(description="every joint that the chain makes, in order")]
    text: str


class JointAnswer(InMoney):
    """Whether the two sides meet: how, or what stands between them and what would join them."""

    revision: int
    meets: bool
    text: str
    joints: Annotated[list[Meeting], Field(description="every pair of ports that mate")]
    gap: Annotated[list[GapTold], Field(description="nearest first; empty where they meet")]
    bridge: Annotated[BridgeTold | None, Field(description="null where they meet, and where nothing joins them")]
    cautions: list[Reason]
    safety: Annotated[list[str], Field(description="cautions for anyone who works on a fuel system")]
