"""The plan of a rail: each spot with what goes in, and the room that is left, in figures and words."""

from service.documents.sheet import SheetRail, SheetSpot
from service.domain import units
from service.domain.sheet import RailPlan, SpotPlan
from service.explain.sheet_words import hookup, spot_words

_DOES = {
    "feed": "Fuel comes in",
    "return": "Fuel goes back",
    "link": "Links the banks",
    "gauge": "Shows the pressure",
    "closed": "Closed",
}


def rail_told(rail: RailPlan) -> SheetRail:
    """A rail as it stands on the sheet."""
    return {
        "bank": rail.bank,
        "sku": rail.rail.sku,
        "name": rail.rail.name,
        "length_mm": rail.length_mm,
        "at_mm": rail.at_mm,
        "spots": [_spot(plan) for plan in rail.spots],
    }


def _spot(plan: SpotPlan) -> SheetSpot:
    return {
        "spot": plan.spot,
        "duty": plan.duty,
        "flows": plan.flows,
        "flow_l_h": plan.flow_l_h,
        "standing": [
            {
                "sku": part.item.sku,
                "name": part.item.name,
                "kind": part.item.kind,
                "standout_mm": part.item.standout_mm,
                "across_mm": part.item.across_mm,
                "side": part.side,
            }
            for part in plan.standing
        ],
        "beyond": [{"sku": item.sku, "name": item.name, "qty": 1} for item in plan.beyond],
        "leads_to": _leads_to(plan),
        "standout_mm": plan.standout_mm,
        "width_mm": plan.width_mm,
        "axial_mm": plan.axial_mm,
        "axial_left_mm": plan.axial_left_mm,
        "across_mm": plan.across_mm,
        "across_left_mm": plan.across_left_mm,
        "text": _text(plan),
    }


def _leads_to(plan: SpotPlan) -> str | None:
    if plan.far_spot is not None:
        return f"the {spot_words(plan.far_spot)}"
    return None if plan.hookup_kind is None else hookup(plan.hookup_kind)


def _text(plan: SpotPlan) -> str:
    flow = "" if plan.flow_l_h is None else f", {units.flow(plan.flow_l_h)}"
    room = [f"Stands {units.length(plan.standout_mm)} proud"]
    if plan.axial_left_mm is not None:
        room.append(f"{_left(plan.axial_left_mm)} is left along the axis")
    if plan.across_left_mm is not None:
        room.append(f"{_left(plan.across_left_mm)} across")
    if len(room) == 1:
        room.append("the room is not limited here")
    return f"{_DOES[plan.duty]}{flow}. {', '.join(room)}."


def _left(mm: float) -> str:
    return units.length(mm) if mm else "nothing"
