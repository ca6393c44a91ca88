"""What pump and injectors supply, against cases worked by hand: the arithmetic stands beside each figure.

All lines are one bore of 10 mm without friction, loss coefficient 2000, and the fuel weighs 800 kg/m3. At 100 L/h:
    Q = 100e-3 / 3600 = 2.77778e-5 m3/s,  A = pi/4 * 0.010^2 = 7.85398e-5 m2,  v = Q / A = 0.353678 m/s
    drop = 2000 * 800 * 0.353678^2 / 2 = 100 070 Pa = 100.070 kPa, and with the square of the flow otherwise:
    F(d) = 0.0100070 d^2  (d in L/h, kPa)
The pump moves 200 L/h against nothing and 80 L/h against 600 kPa: 200 - 0.2 p, straight between.
Four injectors of 20 L/h at 300 kPa, open 85 % of the time: 4 * 20 * 0.85 = 68 L/h at 300 kPa over them.
"""

from dataclasses import dataclass

import pytest

from service.domain.engine_side import Follows, InjectorFlow
from service.engineering import PumpCurve
from service.hydraulics import Fluid, Passage
from service.solver.supply_limits import Place, Regulation, Supplied, supply_limits
from service.solver.system import System, Ways

FUEL = Fluid(800.0, 0.5e-3)
LINE = Ways(FUEL, ((Passage(0.010, 0.0, 2000.0, 0.0),),))
HALF = Ways(FUEL, ((Passage(0.010, 0.0, 500.0, 0.0),),))
FEED = System(feeds=(LINE,), links=(), crosses=False)
TOLD = Supplied(PumpCurve(((0.0, 200.0), (600.0, 80.0))), InjectorFlow(20.0, 300.0), 4, 300.0, 0.0)


@dataclass(frozen=True)
class Case:
    """Where and over what the pressure is held, what is told, and what was worked out for pump and injectors [L/h]."""

    place: Place
    follows: Follows | None
    supplied: Supplied
    pump_l_h: float
    injectors_l_h: float
    system: System = FEED


CASES = {
    # Held at the pump: 200 - 0.2 * 300 = 140. Over the injectors 300 - F(d):
    # d = 68 sqrt(1 - 0.010007 d^2 / 300)  =>  d^2 (1 + 4624 * 0.010007 / 300) = 4624  =>  d = sqrt(4624 / 1.154241)
    "at the tank": Case("tank", "manifold", TOLD, 140.0, 63.2940),
    # Held at the rail: 200 - 0.2 (300 + 0.010007 d^2) = d  =>  0.0020014 d^2 + d - 140 = 0
    # d = (-1 + sqrt(1 + 4 * 0.0020014 * 140)) / (2 * 0.0020014) = 0.456291 / 0.0040028. Injectors: 68.
    "at the rail": Case("rail", "manifold", TOLD, 113.993, 68.0),
    # Behind the return: where all is burnt nothing runs through it: as at the rail.
    "behind the return": Case("after", "manifold", TOLD, 113.993, 68.0),
    # Boost 100, following it: held 400. 200 - 80 - 0.0020014 d^2 = d  =>  d = (-1 + sqrt(1 + 4 * 0.0020014 * 120)) /
    # 0.0040028 = (-1 + 1.400240) / 0.0040028 = 99.990. Over the injectors 400 - 100 = 300: 68.
    "boost that it follows": Case("rail", "manifold", TOLD._replace(boost_kpa=100.0), 99.990, 68.0),
    # Boost 100, held over the air: 300. Pump as without boost. Over the injectors 200: 68 sqrt(2/3) = 55.5218.
    "boost that it does not follow": Case("rail", "atmosphere", TOLD._replace(boost_kpa=100.0), 113.993, 55.5218),
    # The same at the tank: d^2 = 4624 (200 - 0.010007 d^2) / 300 => d^2 = 3082.667 / 1.154241 => d = 51.6793.
    "at the tank, boosted": Case("tank", "atmosphere", TOLD._replace(boost_kpa=100.0), 140.0, 51.6793),
    # Boost of 300 over 300: nothing stands over the injectors.
    "as much boost as pressure": Case("rail", "atmosphere", TOLD._replace(boost_kpa=300.0), 113.993, 0.0),
    # Not told: the lesser of both, by the injectors: as over the atmosphere.
    "it hangs on it": Case("rail", None, TOLD._replace(boost_kpa=100.0), 113.993, 55.5218),
    # Set to 600: held 600, the curve's last point: 80. At the rail there is a drop besides: nothing is left.
    # Over the injectors 600: 68 sqrt(2) = 96.1665.
    "at the last point of the curve": Case("rail", "manifold", TOLD._replace(set_kpa=600.0), 0.0, 96.1665),
    # Two banks, fed at one: feed F(d), link at half of what is burnt 0.010007 (d/2)^2, in all 0.01250875 d^2.
    # 0.00250175 d^2 + d - 140 = 0  =>  d = (-1 + sqrt(1 + 4 * 0.00250175 * 140)) / 0.0050035 = 0.549510 / 0.0050035
    "a link": Case("rail", "manifold", TOLD, 109.825, 68.0, System((LINE,), (LINE,), crosses=False)),
    # The return beyond the link: at q = d the link carries q - d/2 = d/2 all the same.
    "a link that the return is beyond": Case("rail", "manifold", TOLD, 109.825, 68.0, System((LINE,), (LINE,), True)),
    # Two banks fed alike: half the flow each, 0.010007 (d/2)^2 = 0.00250175 d^2, the worst of both.
    # 0.00050035 d^2 + d - 140 = 0  =>  d = (-1 + sqrt(1 + 4 * 0.00050035 * 140)) / 0.0010007 = 0.131457 / 0.0010007
    "two banks fed": Case("rail", "manifold", TOLD, 131.365, 68.0, System((LINE, HALF), (), crosses=False)),
    # Two feeds into one rail, loss 2000 and 500: the flows are as 1 to 2, the drop that of a third: F(d/3).
    # 0.2 * 0.010007 / 9 = 0.000222378
    # d = (-1 + sqrt(1 + 4 * 0.000222378 * 140)) / 0.000444756 = 0.0604394 / 0.000444756
    "two feeds": Case(
        *("rail", "manifold", TOLD, 135.893, 68.0),
        System((Ways(FUEL, (*LINE.passages, *HALF.passages)),), (), crosses=False),
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_limits_worked_by_hand(case: Case) -> None:
    """What pump and injectors supply, in L/h."""
    found = supply_limits(case.system, Regulation(case.place, case.follows), case.supplied)
    assert found.pump is not None
    assert found.injectors is not None
    assert found.pump.flow_l_h == pytest.approx(case.pump_l_h, rel=2e-5, abs=1e-4)
    assert found.injectors.flow_l_h == pytest.approx(case.injectors_l_h, rel=2e-5)


def test_what_hangs_on_the_regulator_is_shown_as_the_lesser() -> None:
    """Over the manifold where the plumbing carries less than either."""
    boosted = TOLD._replace(boost_kpa=100.0)
    lesser = supply_limits(FEED, Regulation("rail", None), boosted)
    assert (lesser.follows, lesser.hangs) == ("atmosphere", True)
    plumbing = supply_limits(FEED, Regulation("rail", None), boosted, most_l_h=50.0)
    assert (plumbing.follows, plumbing.hangs) == ("manifold", True)
    assert not supply_limits(FEED, Regulation("rail", None), TOLD).hangs


def test_what_is_not_told_limits_nothing() -> None:
    """No pump, no injectors."""
    nothing = TOLD._replace(curve=None, injectors=None)
    found = supply_limits(FEED, Regulation("tank", None), nothing)
    assert (found.pump, found.injectors, found.least_l_h) == (None, None, float("inf"))
