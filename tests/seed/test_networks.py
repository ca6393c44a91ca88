"""Drop, operating point, margin and largest power of every layout, against a network solved by SciPy's root finder."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.domain.engine_side import Pump
from service.engineering import PumpCurve
from tests.seed.conftest import SEED_FOLDER, Ask
from tests.seed.slow_network import SlowNetwork

CURVE = ((0.0, 260.0), (200.0, 235.0), (400.0, 200.0), (600.0, 155.0), (900.0, 45.0))
PUMP = Pump(PumpCurve(CURVE))
LAYOUTS = [layout["id"] for layout in json.loads(Path(SEED_FOLDER / "layouts.json").read_text())]
FUELS = ("petrol", "e85")


def _bills(catalog: Catalog, ask: Ask, layout: str, fuel: str) -> list[tuple[SlowNetwork, dict[str, Any]]]:
    """The best bill of the layout on every chassis that it can be had for."""
    plain = catalog.model_dump(mode="json", exclude_none=True)
    found = []
    for chassis in plain["chassis"]:
        answer = ask(chassis["id"], layout, fuel=fuel, own_pump=PUMP, limit=1)
        request = {"chassis": chassis["id"], "layout": layout, "fuel": fuel}
        found += [(SlowNetwork(plain, request, dict(bill)), dict(bill)) for bill in answer["bills"]]
    return found


@pytest.mark.published
@pytest.mark.parametrize("fuel", FUELS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_bill_agrees_with_a_network_solved_by_scipy(seed: Catalog, ask: Ask, layout: str, fuel: str) -> None:
    """Source: `scipy.optimize.root` and `brentq` over the plain catalog document; 1 %."""
    found = _bills(seed, ask, layout, fuel)
    if fuel == "petrol":
        assert found, "no chassis has a bill of this layout"
    for network, bill in found:
        base, burnt = network.chassis["base_kpa"], bill["flow"]["demand_l_h"]
        point = bill["flow"]["operating_point"]
        kpa, moved = network.settled(CURVE, base, burnt)
        assert burnt == pytest.approx(network.demand_l_h(network.chassis["stock_kw"]), rel=0.01)
        assert (point["kpa"], point["flow_l_h"]) == pytest.approx((kpa, moved), rel=0.01)
        assert point["drop_kpa"] == pytest.approx(kpa - base, rel=0.01, abs=1e-9)
        assert point["left_over_l_h"] == pytest.approx(moved - burnt, rel=0.01)
        assert point["runs_out_l_h"] == pytest.approx(network.runs_out_l_h(CURVE, base), rel=0.01)


@pytest.mark.published
@pytest.mark.parametrize("fuel", FUELS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_size_and_margin_agree_with_scipy(seed: Catalog, ask: Ask, layout: str, fuel: str) -> None:
    """Source: `scipy.optimize.brentq` over the plain catalog document, with the car's own pump; 1 %."""
    plain = seed.model_dump(mode="json", exclude_none=True)
    for chassis in plain["chassis"]:
        for bill in ask(chassis["id"], layout, fuel=fuel, limit=2)["bills"]:
            network = SlowNetwork(plain, {"chassis": chassis["id"], "layout": layout, "fuel": fuel}, dict(bill))
            assert bill["sizing"]["largest_power_kw"] == pytest.approx(network.largest_power_kw(), rel=0.01)
            worst = min(1 - path["drop_kpa"] / path["limit_kpa"] for path in bill["flow"]["paths"])
            assert bill["margin"]["drop_percent"] == pytest.approx(worst * 100, abs=0.01)
            drops = sorted(network.path_drops(chassis["stock_kw"]))
            assert sorted(path["drop_kpa"] for path in bill["flow"]["paths"]) == pytest.approx(drops, rel=0.01)
