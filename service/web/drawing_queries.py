"""The queries of the drawings."""

import re
from typing import Annotated

from pydantic import BeforeValidator, Field

from service.documents.fields import ID_PATTERN
from service.web.queries import RevisionQuery

_NUMBER = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6})?")


def _number(value: object) -> object:
    return float(value) if isinstance(value, str) and _NUMBER.fullmatch(value) else value


class CurvesQuery(RevisionQuery):
    """On which fuel, and up to which power, the layouts of a car are drawn."""

    fuel: Annotated[
        str | None,
        Field(
            max_length=120,
            pattern=ID_PATTERN,
            description="the id of a fuel; default: the catalog's first",
            examples=["petrol"],
        ),
    ] = None

    power_kw: Annotated[
        Annotated[float, Field(ge=0.1, le=5_000), BeforeValidator(_number)] | None,
        Field(
            description="where the curves end, kW, a number from 0.1 to 5000; none goes past what its bill carries",
            examples=[150],
        ),
    ] = None


class CurvesPageQuery(CurvesQuery):
    """The same with the car, for the page."""

    chassis: Annotated[
        str, Field(max_length=120, pattern=ID_PATTERN, description="the id of a chassis", examples=["brook"])
    ]
