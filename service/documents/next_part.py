"""Which part next: the parts that would give most questions without a bill one."""

from typing import Annotated, Any, Literal, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.fields import End
from service.documents.impact import OriginName


class PartPort(TypedDict):
    """A port of a part that is not there yet."""

    standard: str
    end: End


class StandingQuestion(TypedDict):
    """A standing question, by where it comes from."""

    origin: OriginName
    id: NotRequired[Annotated[str, Field(description="of a case")]]
    account: NotRequired[Annotated[str, Field(description="whose case it is, where it is a partner's")]]
    request: Annotated[dict[str, Any], Field(description="what has its default is left out")]


class PartNeeds(TypedDict):
    """What the part has to be, by the first bill of each question that it unlocks; null: not limited."""

    standout_mm_at_least: float | None
    standout_mm_at_most: float | None
    across_mm_at_most: float | None
    kpa_at_least: float
    fuels: list[str]
    power_kw_at_least: float
    bore_mm_at_least: Annotated[
        float | None, Field(description="at which the fuel in it is as fast as the policies allow")
    ]


class NextPart(TypedDict):
    """A part that the maker does not have, with the questions that have a bill once it is in the catalog."""

    kind: Literal["plug", "fitting"]
    ports: list[PartPort]
    unlocks: Annotated[int, Field(description="standing questions")]
    asked: Annotated[int, Field(description="times that they were asked")]
    questions: list[StandingQuestion]
    needs: PartNeeds
