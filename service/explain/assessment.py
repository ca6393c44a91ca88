"""Words for an assessment: operating point, sizing, and each check with its source."""

from functools import partial

from service.documents import answer as doc
from service.domain import units
from service.domain.assessment import Assessment, Check, Sizing, Supply
from service.domain.request import Request
from service.domain.tongue import named, said, sentence
from service.explain.checks import WORDS, check_told
from service.explain.figures import figure, figure_of
from service.explain.power import limit_clause
from service.explain.telling import Telling, Told


def operating_point(supply: Supply | None) -> doc.OperatingPoint | None:
    """The operating point of the pump; None where no pump is known."""
    if supply is None:
        return None
    return {
        "pump": "request" if supply.own else "chassis",
        "kpa": figure(supply.kpa),
        "drop_kpa": figure(supply.drop_kpa),
        "flow_l_h": figure(supply.pump_l_h),
        "left_over_l_h": figure(supply.left_l_h),
        "returned_l_h": figure_of(supply.returned_l_h),
        "carried_back_w": figure(supply.heat_w),
        "warming_k": figure_of(supply.warming_k),
        "runs_out_l_h": figure(supply.most_l_h),
        "runs_out_kw": figure(supply.most_kw),
        "text": _supply_text(supply),
    }


def sizing(sizing: Sizing, request: Request) -> doc.Sizing:
    """The largest power that the plumbing carries with this fuel, and what stops it there."""
    limiting = sizing.limiting
    return {
        "largest_power_kw": figure_of(sizing.power_kw),
        "largest_demand_l_h": figure_of(sizing.demand_l_h),
        "limited_by": None
        if limiting is None
        else {"duty": limiting.duty, "spots": list(limiting.spots), "limit": limiting.bound},
        "text": _sizing_text(sizing, request),
    }


def checks(assessment: Assessment, telling: Telling) -> list[doc.Check]:
    """Every check, in words."""
    return [told_check(check, telling) for check in assessment.checks]


def check_cautions(assessment: Assessment, telling: Telling) -> list[Told]:
    """The checks that caution, as the cautions of a bill stand."""
    return [check_line(check, telling) for check in assessment.checks if check.verdict == "caution"]


def check_line(check: Check, telling: Telling) -> Told:
    """A check in a line, as a reason stands."""
    return telling.words.in_passing(("line", check), partial(_line, check))


class CheckLines(dict[Check, Told]):
    """The checks of the bills of one answer, each in a line; it has to be quick, as the bills share most of theirs."""

    def __init__(self, telling: Telling) -> None:
        self._telling = telling

    def __missing__(self, check: Check) -> Told:
        return self.setdefault(check, check_line(check, self._telling))


def told_check(check: Check, telling: Telling) -> doc.Check:
    """A check in words; the bills of a revision share most of theirs."""
    return telling.words.in_passing(check, partial(check_told, check))


def check_with_key(check: Check, telling: Telling) -> tuple[doc.Check, str]:
    """A check in words, and what tells it from others; the same text may stand for facts that differ in a digit."""

    def make() -> tuple[doc.Check, str]:
        told = told_check(check, telling)
        return told, str(told)

    return telling.words.in_passing(("whole", check), make)


def _line(check: Check) -> Told:
    return Told(check.check, WORDS[check.check].text(check.facts), check.facts)


def _supply_text(supply: Supply) -> str:
    moves = said(
        _MOVES_WITH_LOSS if supply.drop_kpa else _MOVES,
        flow=units.flow(supply.pump_l_h),
        pressure=units.pressure(supply.kpa),
        drop=units.pressure(supply.drop_kpa),
    )
    if supply.left_l_h < 0:
        left = said("{flow} are short.", flow=units.flow(-supply.left_l_h))
    elif supply.returned_l_h is None:
        left = said("{flow} are left over.", flow=units.flow(supply.left_l_h))
    else:
        left = said(
            "{flow} go back to the tank and carry {heat} of the pump's work as heat.",
            flow=units.flow(supply.returned_l_h),
            heat=_watts(supply.heat_w),
        )
    return f"{moves} {left}"


_MOVES = sentence("The pump moves {flow} against {pressure}.")
_MOVES_WITH_LOSS = sentence("The pump moves {flow} against {pressure}, of which the lines take {drop}.")


def _watts(watts: float) -> str:
    return f"{watts:.0f} W"


def _sizing_text(sizing: Sizing, request: Request) -> str:
    limiting = sizing.limiting
    if sizing.power_kw is None or limiting is None:
        return said("How much power the plumbing is enough for cannot be told: none of its parts has flow data.")
    return said(
        "With {fuel} the plumbing is enough up to {power}: then {then}.",
        fuel=named(request.fuel.name),
        power=units.power(sizing.power_kw),
        then=limit_clause(limiting.duty, list(limiting.spots), limiting.bound),
    )
