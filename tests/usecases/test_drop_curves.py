"""Drop against power: the cheapest bill of each layout, and where it runs out, as the bill itself tells."""

from itertools import pairwise

import pytest

from service.documents.drawing import CurvePoint, DropCurves
from service.documents.request import BillRequest
from service.usecases.browse import chassis_layouts
from service.usecases.drop_curves import drop_curves, powers_up_to
from service.usecases.errors import NotFoundError
from service.usecases.find_bills import answer_in
from tests.explain.sheets import seed
from tests.support.builders import catalog
from tests.support.drawings import CARS, FUELS
from tests.support.engine import edition
from tests.support.engineering_data import told_catalog
from tests.support.figures import SIX_DIGITS


@pytest.fixture(scope="module", params=[(car, fuel) for car in CARS for fuel in FUELS], name="curves")
def _curves(request: pytest.FixtureRequest) -> DropCurves:
    return drop_curves(seed(), *request.param)


def test_each_layout_is_there_with_its_cheapest_bill(curves: DropCurves) -> None:
    """As the list of layouts has them: those without a bill are named, the others have their lowest price."""
    layouts = {
        choice["layout"]: choice for choice in chassis_layouts(seed(), curves["chassis"], {"fuel": curves["fuel"]})
    }
    with_bill = [name for name, choice in layouts.items() if choice["total_valid"]]
    assert [curve["layout"] for curve in curves["curves"]] == with_bill
    assert sorted([*curves["without_bill"], *with_bill]) == sorted(layouts)
    for curve in curves["curves"]:
        assert curve["price"] == layouts[curve["layout"]]["lowest_price"]
        most = layouts[curve["layout"]]["largest_power_kw"]
        assert curve["largest_power_kw"] is not None
        assert most is not None
        assert curve["largest_power_kw"] <= most * (1 + 1e-9)


def _worst(curves: DropCurves, layout: str, power_kw: float) -> tuple[float, float, float] | None:
    """Drop, flow and limit of the worst path of a layout's cheapest bill, asked for at that power, where that bill is
    among the first as well."""
    asked = {"chassis": curves["chassis"], "layout": layout, "fuel": curves["fuel"], "limit": 8}
    same = next(curve for curve in curves["curves"] if curve["layout"] == layout)
    [drawn] = answer_in(seed(), BillRequest.model_validate(asked | {"limit": 1}))["bills"]
    assert drawn["key"] == same["key"]
    bills = answer_in(seed(), BillRequest.model_validate(asked | {"power_kw": power_kw, "group_variants": False}))[
        "bills"
    ]
    bill = next((one for one in bills if one["chains"] == drawn["chains"] and one["price"] == drawn["price"]), None)
    if bill is None:
        return None
    path = max(bill["flow"]["paths"], key=lambda path: path["drop_kpa"] / path["limit_kpa"])
    return path["drop_kpa"], path["flow_l_h"], path["limit_kpa"]


def test_points_are_what_a_bill_says_at_that_power(curves: DropCurves) -> None:
    """Asked for at that power, the same bill has the same drop."""
    compared = 0
    for curve in curves["curves"]:
        for point in curve["points"][2::9]:
            found = _worst(curves, curve["layout"], point["power_kw"]) if point["within"] else None
            if found is not None:
                assert (point["drop_kpa"], point["flow_l_h"], point["limit_kpa"]) == pytest.approx(
                    found, rel=SIX_DIGITS
                )
                compared += 1
    assert compared > len(curves["curves"])


def test_curves_end_at_what_is_carried(curves: DropCurves) -> None:
    """From nothing at no power in steps to the power that the bill carries, which is within limits."""
    for curve in curves["curves"]:
        points, carries = curve["points"], curve["power"]["carries_kw"]
        assert len(points) >= 12
        assert points[0]["power_kw"] == 0.0
        assert carries == points[-1]["power_kw"]
        assert curve["carried"] == points[-1]
        assert points[-1]["within"]
        for one, other in pairwise(points):
            assert one["power_kw"] < other["power_kw"]
        for point in points:
            assert point["used_percent"] == pytest.approx(100 * point["drop_kpa"] / point["limit_kpa"], rel=SIX_DIGITS)


def test_a_curve_runs_out_as_its_bill_says(curves: DropCurves) -> None:
    """The largest power, its limit and the pump's end are those of the bill of the key."""
    for curve in curves["curves"]:
        asked = {"chassis": curves["chassis"], "layout": curve["layout"], "fuel": curves["fuel"], "limit": 1}
        [bill] = answer_in(seed(), BillRequest.model_validate(asked))["bills"]
        sizing, runs_out = bill["sizing"], curve["runs_out"]
        assert curve["power"] == bill["power"]
        assert (curve["key"], curve["largest_power_kw"]) == (bill["key"], sizing["largest_power_kw"])
        assert runs_out is not None
        assert sizing["limited_by"] == {
            "duty": runs_out["limiting_duty"],
            "spots": runs_out["limiting_spots"],
            "limit": runs_out["limit"],
        }
        point: CurvePoint = runs_out["at"]
        assert point["power_kw"] == curve["largest_power_kw"]
        if runs_out["limit"] == "drop":
            assert point["used_percent"] == pytest.approx(100, rel=1e-6)
        else:
            assert point["used_percent"] <= 100
        supply = bill["flow"]["operating_point"]
        assert curve["pump_runs_out_kw"] == (None if supply is None else supply["runs_out_kw"])


@pytest.mark.parametrize("end_kw", [60.0, 333.0])
def test_the_end_may_be_told(end_kw: float) -> None:
    """Then all curves end there, but for those that carry less."""
    for curve in drop_curves(seed(), "fennic-16", "petrol", end_kw)["curves"]:
        assert curve["points"][-1]["power_kw"] == min(end_kw, curve["power"]["carries_kw"] or end_kw)


def test_a_set_up_that_carries_nothing() -> None:
    """A pump that is dry at the pressure: one point, at no power."""
    document = told_catalog()
    for chassis in document["chassis"]:
        chassis["pump"] = [{"kpa": 0.0, "l_h": 100.0}]
    for curve in drop_curves(edition(document), "brook")["curves"]:
        assert (curve["power"]["carries_kw"], curve["power"]["limited_by"]) == (0.0, "pump")
        assert [point["power_kw"] for point in curve["points"]] == [0.0]


@pytest.mark.parametrize("end_kw", [0.1, 0.11, 1, 7, 12.5, 25, 25.001, 99, 333.3, 1000, 4999, 5000])
def test_powers_are_round_and_enough(end_kw: float) -> None:
    """Never fewer than a curve needs, never more than a table holds."""
    powers = powers_up_to(end_kw)
    assert 12 <= len(powers) <= 27
    assert (powers[0], powers[-1]) == (0.0, end_kw)
    assert all(one < other for one, other in pairwise(powers))


def test_nothing_rated_runs_out_nowhere() -> None:
    """Nobody knows the largest power: null, and the words say so."""
    document = catalog()
    for item in document["items"]:
        item.pop("flow", None)
    for thing in (*document["chassis"], *document["layouts"]):
        for hookup in thing.get("hookups", []):
            hookup.pop("flow", None)
        for placement in thing.get("placements", []):
            for entry in placement.values():
                entry.get("hookup", {}).pop("flow", None)
    for curve in drop_curves(edition(document), "brook")["curves"]:
        assert (curve["largest_power_kw"], curve["runs_out"], curve["hose_rated"]) == (None, None, False)
        assert curve["unrated"]
        assert {point["drop_kpa"] for point in curve["points"]} == {0.0}
        assert (curve["power"]["carries_kw"], curve["carried"]) == (None, None)
        assert "is not known" in curve["text"]


def test_what_is_not_known_is_named() -> None:
    """With the nearest known ids."""
    with pytest.raises(NotFoundError, match="fennic-61"):
        drop_curves(seed(), "fennic-61")
    with pytest.raises(NotFoundError) as caught:
        drop_curves(seed(), "fennic-16", "petral")
    assert (caught.value.kind, caught.value.nearest[0]) == ("fuel", "petrol")
