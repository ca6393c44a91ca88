"""A car that is not in the catalog: what somebody knows of it, and what can be said of it now."""

from typing import Annotated, Literal, Required

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.fields import TEXT_PATTERN, Document, Text
from service.documents.inquiry import Contact, Inquiry

Known = Literal["engine", "cylinders", "banks", "power_kw", "pressure_kpa", "fuel", "ends", "room", "rail", "pattern"]
_Fact = Annotated[Text, Field(max_length=200)]


class UnknownCar(Document):
    """What somebody knows of a car; all but what it is called may be missing."""

    car: Annotated[
        str,
        Field(
            min_length=1, max_length=200, pattern=TEXT_PATTERN, description="make, model and year, as people call it"
        ),
    ]
    engine: Annotated[_Fact, Field(description="its name, size or shape")] = ""
    cylinders: Annotated[int, Field(ge=1, le=48)] | None = None
    banks: Annotated[int, Field(ge=1, le=2, description="of cylinders: 2 for a V engine or a flat one")] | None = None
    power_kw: Annotated[float, Field(ge=0.1, le=10_000)] | None = None
    pressure_kpa: Annotated[float, Field(ge=1, le=100_000, description="of the fuel, gauge")] | None = None
    fuel: _Fact = ""
    ends: Annotated[_Fact, Field(description="the ends of its fuel lines: what they are, and where")] = ""
    room: Annotated[_Fact, Field(description="around the rail, measured from its ports")] = ""
    rail: Annotated[_Fact, Field(description="the rail that is there: its ports and threads")] = ""


class SentUnknownCar(Document):
    """A car that is not in the catalog, with how to reach who asks."""

    car: UnknownCar
    contact: Contact
    note: Annotated[Text, Field(max_length=1_000, description="what else the workshop should know")] = ""


class UnknownCarFacts(TypedDict, total=False):
    """What is known of the car, as it is sent; what is not known is left out."""

    car: Required[str]
    engine: str
    cylinders: int
    banks: int
    power_kw: float
    pressure_kpa: float
    fuel: str
    ends: str
    room: str
    rail: str


class LikeCar(TypedDict):
    id: str
    name: str
    engine: str
    cylinders: int
    banks: int


class LikeRail(TypedDict):
    sku: str
    name: str


class LikePattern(TypedDict):
    """A rail pattern of engines with as many cylinders and banks, with the cars that have it and its rails."""

    pattern: str
    cars: list[LikeCar]
    rails: list[LikeRail]


class ToMeasure(TypedDict):
    """What has to be measured or told before anything is bought."""

    what: Annotated[Known, Field(description="the field of the car that it settles; pattern: none, it is measured")]
    text: str


class UnknownCarSaid(TypedDict):
    """What can be said now of a car that is not in the catalog; nothing of it is known to fit."""

    car: Annotated[UnknownCarFacts, Field(description="as POST /v1/inquiries/cars takes it")]
    by_pattern: Annotated[str, Field(description="what the patterns below are worth, in a sentence")]
    patterns: Annotated[
        list[LikePattern], Field(description="empty where no rail is for so many cylinders in so many banks")
    ]
    by_own_rail: Annotated[str, Field(description="what it takes to keep the rail that is there, in a sentence")]
    measure: list[ToMeasure]
    caution: str


class UnknownCarAnswer(TypedDict):
    """The inquiry as it is kept, and what can be said now."""

    inquiry: Inquiry
    said: UnknownCarSaid
