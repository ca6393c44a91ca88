"""The table that says the same as the drawing of the rails."""

from collections.abc import Sequence
from typing import Any

from service.documents.sheet import SheetRail, SheetSpot
from service.domain import units
from service.drawing.rails import numbers_of


def plan_of(rails: Sequence[SheetRail]) -> list[dict[str, Any]]:
    """The rows of the table; the numbers of parts are those of the drawing."""
    return [
        {
            "spot": spot["spot"],
            "duty": _duty(spot),
            "parts": list(zip(own, spot["standing"], strict=True)),
            "beyond": spot["beyond"],
            "leads_to": spot["leads_to"],
            "standout": units.length(spot["standout_mm"]),
            "along": _left(spot["axial_left_mm"]),
            "across": _left(spot["across_left_mm"]),
        }
        for rail, numbers in zip(rails, numbers_of(rails), strict=True)
        for spot, own in zip(rail["spots"], numbers, strict=True)
    ]


def _duty(spot: SheetSpot) -> str:
    flow = spot["flow_l_h"]
    return (
        spot["duty"]
        if flow is None
        else f"{spot['duty']}, {_WAYS[spot['flows']]} {units.flow(flow)}".replace("  ", " ")
    )


_WAYS = {"in": "in", "out": "out", "both": "both ways", "none": ""}


def _left(mm: float | None) -> str:
    return "not limited" if mm is None else units.length(mm)
