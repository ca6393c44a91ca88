"""A pump as it is told: points of its curve, and the voltage that it gets."""

from typing import Annotated

from pydantic import Field

from service.documents.fields import Document, ToldFlowLh, ToldPressureKpa, Volts


class PumpPoint(Document):
    """A point of a pump's curve: what it moves against a pressure."""

    kpa: ToldPressureKpa
    l_h: ToldFlowLh


class PumpVolts(Document):
    """The voltage that the curve was measured at, and the one that the pump gets in the car."""

    rated: Volts
    fed: Volts


PumpCurve = Annotated[list[PumpPoint], Field(min_length=1, max_length=50, description="pressures rising, flows never")]
