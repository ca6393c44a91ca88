"""How joints are made up, as the catalog tells it: one shape a method."""

from typing import Annotated, Any, Literal

from pydantic import Field, PlainSerializer, TypeAdapter, ValidatorFunctionWrapHandler, WithJsonSchema, WrapValidator

from service.documents.fields import AngleDeg, Document, Id, Text, TorqueNm

_MOST_SEALS = 20
_ID: TypeAdapter[str] = TypeAdapter(Id)
_ID_SCHEMA = _ID.json_schema()


def _one_or_several(value: object, handler: ValidatorFunctionWrapHandler) -> Any:
    """A single id as a list of one; its fault is told of itself, not of a list that nobody wrote."""
    return [_ID.validate_python(value, strict=True)] if isinstance(value, str) else handler(value)


def _as_told(seals: list[str]) -> str | list[str]:
    """One seal as its id, as it always stood: a catalog that names one keeps its digest."""
    return seals[0] if len(seals) == 1 else seals


SpareSeals = Annotated[
    list[Id],
    Field(min_length=1, max_length=_MOST_SEALS),
    WrapValidator(_one_or_several),
    PlainSerializer(_as_told),
    WithJsonSchema(
        {
            "anyOf": [_ID_SCHEMA, {"type": "array", "items": _ID_SCHEMA, "minItems": 1, "maxItems": _MOST_SEALS}],
            "description": "one SKU, or several: the first that the fuel is best for is taken",
        }
    ),
]


class _Joint(Document):
    id: Id
    consumables: list[Id] | None = None
    spare_seal: SpareSeals | None = None
    cautions: list[Text]
    second_cautions: Annotated[list[Text], Field(min_length=1, max_length=20)] | None = None
    source: Text


class TorqueJoint(_Joint):
    method: Literal["torque"]
    min_nm: TorqueNm
    max_nm: TorqueNm


class PastHandTightJoint(_Joint):
    method: Literal["past-hand-tight"]
    min_deg: AngleDeg
    max_deg: AngleDeg


class FlangeToFaceJoint(_Joint):
    method: Literal["flange-to-face"]
    min_nm: TorqueNm | None = None
    max_nm: TorqueNm | None = None


class TurnsEngagedJoint(_Joint):
    method: Literal["turns-engaged"]
    min_threads: Annotated[float, Field(ge=0, le=100)]
    max_threads: Annotated[float, Field(ge=0, le=100)]
    turns_past_hand: Annotated[float, Field(ge=0, le=20)]


class PushToClickJoint(_Joint):
    method: Literal["push-to-click"]


Joint = Annotated[
    TorqueJoint | PastHandTightJoint | FlangeToFaceJoint | TurnsEngagedJoint | PushToClickJoint,
    Field(discriminator="method"),
]
