"""How joints are made up, as the catalog tells it: one shape a method."""

from typing import Annotated, Literal

from pydantic import Field

from service.documents.fields import AngleDeg, Document, Id, Text, TorqueNm


class _Joint(Document):
    id: Id
    consumables: list[Id] | None = None
    spare_seal: Id | None = None
    cautions: list[Text]
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
