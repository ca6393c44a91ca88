"""Field types shared by all documents: ids, text, bounded numbers with units, and the strict base model."""

from functools import partial
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9._/-]*$"
TEXT_PATTERN = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]*$"

ALIAS_PATTERN = r"[^\W_]"
"""An alias has a letter or a digit at least."""

GTIN_PATTERN = r"^([0-9]{8}|[0-9]{12,14})$"
URL_PATTERN = r"^https?://[!-~]+$"
COUNTRY_PATTERN = r"^[A-Z]{2}$"

Place = Literal["left", "centre", "right", "top"]
End = Literal["male", "female"]
PLACES: tuple[Place, ...] = ("left", "centre", "right", "top")
SPOT_PATTERN = r"^([12]\.)?(left|centre|right|top)$"


class Document(BaseModel):
    """A strict document: unknown fields are errors, nothing is coerced, values do not change."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)


def whole(value: object) -> object:
    """Take 836.0 as the integer 836, as JSON Schema does, and no boolean; leave the rest to strict validation."""
    if isinstance(value, bool):
        raise PydanticCustomError("int_type", "Input should be a valid integer")
    return int(value) if isinstance(value, float) and value.is_integer() else value


def none_if_empty(value: object) -> object:
    """Take a list without anything in it as if it were not there."""
    return None if value == [] else value


Id = Annotated[str, Field(min_length=1, max_length=120, pattern=ID_PATTERN)]
Name = Annotated[str, Field(min_length=1, max_length=200, pattern=TEXT_PATTERN)]
Text = Annotated[str, Field(max_length=2000, pattern=TEXT_PATTERN)]
Label = Annotated[str, Field(min_length=1, max_length=120, pattern=TEXT_PATTERN)]
Aliases = Annotated[
    list[Annotated[Label, Field(pattern=ALIAS_PATTERN)]] | None,
    Field(
        max_length=50, description="what else people call it; case, dashes, spaces, accents and the plural do not count"
    ),
    BeforeValidator(none_if_empty),
]
Spot = Annotated[
    str, Field(pattern=SPOT_PATTERN, description="left, centre, right or top; 1.left ... 2.top on two banks")
]
Money = Annotated[
    int, Field(ge=0, le=10**12, description="integer minor units of the currency"), BeforeValidator(whole)
]
Gtin = Annotated[
    str, Field(pattern=GTIN_PATTERN, description="8, 12, 13 or 14 digits, the last of them the check digit of GS1")
]
Url = Annotated[str, Field(max_length=2_000, pattern=URL_PATTERN)]
Country = Annotated[str, Field(pattern=COUNTRY_PATTERN)]
"""By ISO 3166-1 alpha-2; its form alone is looked at."""
Quantity = Annotated[int, Field(ge=1, le=1000), BeforeValidator(whole)]
Stock = Annotated[int, Field(ge=0, le=10**9), BeforeValidator(whole)]
Days = Annotated[int, Field(ge=0, le=3650), BeforeValidator(whole)]
Banks = Annotated[Literal[1, 2], BeforeValidator(whole)]

TurnDeg = Annotated[float, Field(ge=0, le=180)]
SizeMm = Annotated[float, Field(gt=0, le=10_000)]
OffsetMm = Annotated[float, Field(ge=-10_000, le=10_000)]
ToleranceMm = Annotated[float, Field(ge=0, le=100, description="plus or minus")]
Part0To1 = Annotated[float, Field(ge=0, le=1)]
LengthMm = Annotated[float, Field(ge=0, le=10_000)]
PressureKpa = Annotated[float, Field(ge=0, le=100_000)]
ToldPressureKpa = Annotated[PressureKpa, AfterValidator(partial(round, ndigits=6))]
ToldFlowLh = Annotated[float, Field(ge=0, le=20_000), AfterValidator(partial(round, ndigits=6))]
"""Figures that others are divided by: no gauge tells more of them, and less than that would be no number any more."""
PowerKw = Annotated[float, Field(gt=0, le=5_000)]
FlowLh = Annotated[float, Field(gt=0, le=20_000)]
Volts = Annotated[float, Field(ge=1, le=100)]
TorqueNm = Annotated[float, Field(ge=0, le=2_000)]
AngleDeg = Annotated[float, Field(ge=0, le=3_600)]
TemperatureC = Annotated[float, Field(ge=-273.15, le=1_500)]


class Clearance(Document):
    """The room at a spot: along its axis and across it. Missing: not limited."""

    spot: Spot
    axial_mm: LengthMm | None = None
    across_mm: LengthMm | None = None
