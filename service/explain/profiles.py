"""Words the drawings: profiles and curves into their documents."""

from collections.abc import Iterable

from service.documents import drawing as doc
from service.domain import units
from service.domain.answer import Bill
from service.domain.assessment import Assessment
from service.domain.profiles import CurveEnds, DropPoint, PathProfile, Profiles, Station
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import RailPlan
from service.explain.figures import written
from service.explain.phrases import capital
from service.explain.power import power_told
from service.explain.sheet_rails import rail_told
from service.explain.sheet_words import hookup, spots_words

_OF_HOOKUP = {"feed": "Hose or line from", "return": "Hose or line to"}

_HANGS = " What the regulator follows is not told: the pressures hold as if it followed the manifold."


def report_drawing(
    profiles: Profiles, rails: Iterable[RailPlan], key: str, request: Request, revision: Revision
) -> doc.BillDrawing:
    """The document of a bill's drawing."""
    told: doc.BillDrawing = {
        "revision": revision.number,
        "key": key,
        "title": f"{request.chassis.name}: {request.layout.name}",
        "text": f"{request.layout.summary} Fuel: {request.fuel.name}. Power: {units.power(request.power_kw)}."
        f"{_HANGS if profiles.hangs else ''}",
        "rails": [rail_told(rail) for rail in rails],
        "held_kpa": profiles.held_kpa,
        "rail_kpa": profiles.rail_kpa,
        "paths": [_path(profile) for profile in profiles.paths],
    }
    return written(told)


def _path(profile: PathProfile) -> doc.PathProfile:
    path = profile.path
    return {
        "duty": path.duty,
        "spots": list(path.spots),
        "flow_l_h": path.flow_l_h,
        "drop_kpa": path.drop_kpa,
        "limit_kpa": path.limit_kpa,
        "left_kpa": path.limit_kpa - path.drop_kpa,
        "start_kpa": profile.start_kpa,
        "stations": [_station(station, profile) for station in profile.stations],
        "text": _path_text(profile),
    }


def _station(station: Station, profile: PathProfile) -> doc.PathStation:
    item = station.item
    behind = f"{_OF_HOOKUP.get(profile.path.duty, 'Line to')} {hookup(profile.hookup_kind)}"
    if profile.hookup_kind == "own-hose":
        behind = capital(hookup(profile.hookup_kind))
    return {
        "kind": station.kind,
        "sku": None if item is None else item.sku,
        "name": behind if item is None else item.name,
        "regulates": station.regulates,
        "drop_kpa": station.drop_kpa,
        "lost_kpa": station.lost_kpa,
        "kpa": station.kpa,
    }


def _path_text(profile: PathProfile) -> str:
    path = profile.path
    told = [
        (
            f"{capital(path.duty)} at the {spots_words(path.spots)}, {units.flow(path.flow_l_h)}: loses "
            f"{units.pressure(path.drop_kpa)} of at most {units.pressure(path.limit_kpa)}."
        )
    ]
    end = profile.stations[-1].kpa if profile.stations else profile.start_kpa
    if profile.start_kpa is not None and end is not None:
        told.append(f"The pressure goes from {units.pressure(profile.start_kpa)} to {units.pressure(end)}.")
    unrated = any(station.drop_kpa is None and station.kind != "side-plug" for station in profile.stations)
    if unrated:
        told.append("Not all of it is rated: it loses more than is shown.")
    return " ".join(told)


def report_curve(
    bill: Bill, key: str, assessed: Assessment, points: Iterable[DropPoint], ends: CurveEnds, request: Request
) -> doc.DropCurve:
    """The document of a layout's curve."""
    limiting, last = assessed.sizing.limiting, ends.of_plumbing
    power, supply = power_told(assessed.power), assessed.supply
    hoses = [path.hose_rated for path in bill.paths if path.hose_rated is not None]
    told: doc.DropCurve = {
        "layout": request.layout.id,
        "name": request.layout.name,
        "key": key,
        "price": bill.price,
        "power": power,
        "carried": None if ends.carried is None else _point(ends.carried),
        "largest_power_kw": assessed.sizing.power_kw,
        "runs_out": None
        if limiting is None or last is None
        else {
            "limit": limiting.bound,
            "limiting_duty": limiting.duty,
            "limiting_spots": list(limiting.spots),
            "at": _point(last),
        },
        "pump_runs_out_kw": None if supply is None else supply.most_kw,
        "unrated": list(
            dict.fromkeys(sku for path in bill.paths for sku in path.unrated if sku not in bill.side_plugs)
        ),
        "hose_rated": all(hoses) if hoses else None,
        "points": [_point(point) for point in points],
        "text": f"{request.layout.name}: {power['text']}",
    }
    return written(told)


def _point(point: DropPoint) -> doc.CurvePoint:
    return {
        "power_kw": point.power_kw,
        "demand_l_h": point.demand_l_h,
        "duty": point.duty,
        "spots": list(point.spots),
        "flow_l_h": point.flow_l_h,
        "drop_kpa": point.drop_kpa,
        "limit_kpa": point.limit_kpa,
        "used_percent": point.part * 100,
        "within": point.within,
    }
