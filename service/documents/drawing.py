"""What the drawings show: the rails of a bill with the pressure along its paths; drop against power by layout.

Plain typed dictionaries, as the answers are. Pressures kPa gauge, drops kPa, flows L/h, powers kW.
"""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import Power
from service.documents.money import InMoney
from service.documents.sheet import SheetRail
from service.domain.profiles import StationKind
from service.domain.vehicles import Duty


class PathStation(TypedDict):
    """A thing that fuel meets on its way."""

    kind: Annotated[StationKind, Field(description="hookup: the hose or line behind it; side-plug: nothing runs there")]
    sku: Annotated[str | None, Field(description="null for a hookup")]
    name: str
    regulates: Annotated[bool, Field(description="it holds the pressure before it, whatever its own bore loses")]
    drop_kpa: Annotated[float | None, Field(description="what its bore loses; null where its flow is not rated")]
    lost_kpa: Annotated[float, Field(description="what all that is rated has lost from the start to behind this")]
    kpa: Annotated[
        float | None, Field(description="gauge, behind it; null where something not rated hides the pressure")
    ]


class PathProfile(TypedDict):
    """The pressure along one path, at the flow that it is judged at, beside its limit."""

    duty: Duty
    spots: list[str]
    flow_l_h: float
    drop_kpa: Annotated[float, Field(description="as of the path in the bill: the sum over the stations")]
    limit_kpa: float
    left_kpa: float
    start_kpa: Annotated[float | None, Field(description="gauge, before the first station; null where not known")]
    stations: Annotated[list[PathStation], Field(description="in the order in which fuel meets them")]
    text: str


class BillDrawing(TypedDict):
    """The rails of a bill and the pressure along each of its paths, in its own revision."""

    revision: int
    key: str
    title: str
    text: str
    rails: list[SheetRail]
    held_kpa: Annotated[
        float,
        Field(
            description="what the regulator holds: with the boost on top, unless it is told to follow the atmosphere"
        ),
    ]
    rail_kpa: Annotated[
        float | None,
        Field(description="gauge, in the rail: what is held, but for what lies between the rail and the regulator"),
    ]
    paths: Annotated[list[PathProfile], Field(description="the flowing paths, in the order of the bill's own")]


class CurvePoint(TypedDict):
    """At one power the path that is nearest to its limit of drop."""

    power_kw: float
    demand_l_h: Annotated[float, Field(description="what the engine burns")]
    duty: Duty
    spots: list[str]
    flow_l_h: float
    drop_kpa: float
    limit_kpa: float
    used_percent: Annotated[float, Field(description="drop over limit")]
    within: Annotated[bool, Field(description="whether every path keeps its limits of drop and of velocity")]


class RunsOut(TypedDict):
    """Where the plumbing comes to a limit."""

    limit: Annotated[str, Field(description="drop or velocity", pattern="^(drop|velocity)$")]
    limiting_duty: Duty
    limiting_spots: list[str]
    at: CurvePoint


class DropCurve(TypedDict):
    """A layout's cheapest bill over the power."""

    layout: str
    name: str
    key: Annotated[str, Field(description="of the bill that is drawn: the cheapest at the car's stock power")]
    price: Annotated[int, Field(description="integer minor units")]
    power: Annotated[Power, Field(description="what this bill carries: the curve ends there")]
    carried: Annotated[
        CurvePoint | None, Field(description="the point at what it carries; null where that is not known")
    ]
    largest_power_kw: Annotated[
        float | None,
        Field(description="a figure of the plumbing, of this bill's own sizing; null where nothing of it is rated"),
    ]
    runs_out: Annotated[RunsOut | None, Field(description="the point at that power; null where there is none")]
    pump_runs_out_kw: Annotated[float | None, Field(description="a figure of the pump; null where none is told")]
    unrated: Annotated[list[str], Field(description="SKUs whose flow is not rated: they lose more than is shown")]
    hose_rated: Annotated[bool | None, Field(description="null where no hose or line of the car is on a path")]
    points: Annotated[
        list[CurvePoint], Field(description="from no power to what it carries, or to a power before that")
    ]
    text: str


class DropCurves(InMoney):
    """Drop against power, the layouts of a car side by side."""

    revision: int
    chassis: str
    name: str
    fuel: str
    fuel_name: str
    stock_kw: float
    curves: Annotated[list[DropCurve], Field(description="the layouts that have a bill, in the catalog's order")]
    without_bill: Annotated[list[str], Field(description="the layouts that have none at the stock power")]
    text: str
