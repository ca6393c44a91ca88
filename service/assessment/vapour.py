"""Checks that the fuel stays liquid: at the pump's inlet, and in the rail after a hot stop."""

from collections.abc import Iterator

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.revision import Fuel, Policies
from service.domain.vehicles import Chassis
from service.engineering import VapourCurve, inlet_margin_kpa, soak_margin_kpa


def vapour_checks(chassis: Chassis, fuel: Fuel, policies: Policies) -> Iterator[Check]:
    """Pressure over vapour pressure at both places; nothing where the car's tank or the fuel's vapour is not told."""
    tank = chassis.tank
    if tank is None or not fuel.vapour:
        return
    curve = VapourCurve(fuel.vapour)
    density = fuel.fluid.density_kg_m3
    least = policies.vapour_margin_kpa
    margins = {
        "vapour-inlet": (tank.fuel_c, inlet_margin_kpa(curve, tank.fuel_c, tank.lift_m, tank.inlet_loss_kpa, density)),
        "vapour-soak": (tank.soak_c, soak_margin_kpa(curve, tank.soak_c, tank.rest_kpa)),
    }
    for check, (celsius, margin) in margins.items():
        facts = {
            "fuel": fuel.name,
            "fuel_c": celsius,
            "vapour_kpa_abs": curve.kpa_abs(celsius),
            "margin_kpa": margin,
            "least_margin_kpa": least,
        }
        yield Check(check, judged(None if least is None else margin >= least), facts)
