"""The pages of the drawings: each drawing beside a table that says the same."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from service.documents.drawing import BillDrawing, CurvePoint, DropCurve, DropCurves, PathProfile
from service.domain import units
from service.drawing import draw_bars, draw_pressure, draw_rails
from service.drawing.bars import carries
from service.drawing.pressure import lost
from service.drawing.shapes import PartShape
from service.web.pages.plan import plan_of
from service.web.pages.rendering import DRAWING_STYLES_PATH

BILL_TEMPLATE = "bill_drawing.html"
CURVES_TEMPLATE = "drop_curves.html"


def drawing_values(drawing: BillDrawing, shapes: Mapping[str, PartShape], *, inch: bool = False) -> dict[str, Any]:
    """What the page of a bill's drawing is filled with."""
    return {
        "drawing": drawing,
        "styles": DRAWING_STYLES_PATH,
        "rails": draw_rails(drawing["rails"], f"Plan of the rail: {drawing['title']}", shapes=shapes),
        "plan": plan_of(drawing["rails"]),
        "held": units.pressure(drawing["held_kpa"]),
        "in_rail": "not known" if drawing["rail_kpa"] is None else units.pressure(drawing["rail_kpa"]),
        "paths": [_path(path, number, inch=inch) for number, path in enumerate(drawing["paths"], 1)],
    }


def _path(path: PathProfile, number: int, *, inch: bool) -> dict[str, Any]:
    return {
        "title": f"{path['duty'].capitalize()}: {', '.join(path['spots'])}",
        "text": path["text"],
        "svg": draw_pressure(path, f"path-{number}", inch=inch),
        "flow": units.flow(path["flow_l_h"]),
        "start": _kpa(path["start_kpa"]),
        "drop": units.pressure(path["drop_kpa"]),
        "limit": units.pressure(path["limit_kpa"]),
        "left": units.pressure(path["left_kpa"]),
        "stations": [
            {
                "number": at,
                "name": station["name"],
                "sku": station["sku"],
                "loses": lost(station),
                "so_far": units.pressure(station["lost_kpa"]),
                "behind": _kpa(station["kpa"]),
            }
            for at, station in enumerate(path["stations"], 1)
        ],
    }


def _kpa(kpa: float | None) -> str:
    return "not known" if kpa is None else units.pressure(kpa)


def curves_values(
    curves: DropCurves, fuels: dict[str, str], power_kw: float | None, *, inch: bool = False
) -> dict[str, Any]:
    """What the page of the curves is filled with; `fuels`: the names of all by their ids."""
    asked: dict[str, Any] = {"chassis": curves["chassis"], "revision": curves["revision"]}
    if power_kw is not None:
        asked["power_kw"] = f"{power_kw:g}"
    return {
        "curves": curves,
        "styles": DRAWING_STYLES_PATH,
        "svg": draw_bars(curves, "bars", inch=inch),
        "fuels": [(name, f"/drop-curves?{urlencode(asked | {'fuel': fuel})}", fuel) for fuel, name in fuels.items()],
        "rows": [_curve(curve, number) for number, curve in enumerate(curves["curves"], 1)],
    }


def _curve(curve: DropCurve, number: int) -> dict[str, Any]:
    end = curve["carried"]
    return {
        "number": number,
        "name": curve["name"],
        "layout": curve["layout"],
        "link": f"/bills/{curve['key']}/drawing",
        "carries": carries(curve),
        "at": None if end is None else _point(end),
        "unrated": [*curve["unrated"], *(["the hose"] if curve["hose_rated"] is False else [])],
        "points": [_point(point) for point in curve["points"]],
    }


def _point(point: CurvePoint) -> dict[str, Any]:
    return {
        "power": units.power(point["power_kw"]),
        "path": f"{point['duty']} {', '.join(point['spots'])}",
        "flow": units.flow(point["flow_l_h"]),
        "drop": units.pressure(point["drop_kpa"]),
        "used": units.percent(point["used_percent"] / 100),
        "limit": units.pressure(point["limit_kpa"]),
        "within": "within" if point["within"] else "over a limit",
    }
