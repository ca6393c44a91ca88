"""`flow`: each path's drop and peak velocity are within policy at the path's flow."""

from collections.abc import Container

from service.domain import units
from service.domain.findings import Facts
from service.domain.flows import PathFlow
from service.domain.margins import Margin
from service.rules.rule import Rule


def within(drop_kpa: float, peak_m_s: float, limit_kpa: float, limit_m_s: float) -> bool:
    return drop_kpa <= limit_kpa and peak_m_s <= limit_m_s


def holds(path: PathFlow) -> bool:
    return within(path.drop_kpa, path.peak_m_s, path.limit_kpa, path.limit_m_s)


def facts(path: PathFlow) -> Facts:
    return {
        "duty": path.duty,
        "flow_l_h": path.flow_l_h,
        "drop_kpa": path.drop_kpa,
        "limit_kpa": path.limit_kpa,
        "peak_m_s": path.peak_m_s,
        "limit_m_s": path.limit_m_s,
    }


def margins(path: PathFlow) -> tuple[Margin, Margin]:
    """What is left of the drop, as bills are ordered to 0.001 kPa, and of the velocity."""
    left_kpa = round(path.limit_kpa - path.drop_kpa, 3)
    left_m_s = round(path.limit_m_s - path.peak_m_s, 6)
    return (
        Margin("drop", left_kpa, path.limit_kpa, path.spots),
        Margin("velocity", left_m_s, path.limit_m_s, path.spots),
    )


def unrated_facts(path: PathFlow, beside: Container[str] = ()) -> Facts:
    """What of a path has no flow data; `beside`: SKUs that no fuel runs through, such as plugs of side ports."""
    unrated = [sku for sku in path.unrated if sku not in beside]
    return {"duty": path.duty, "unrated": unrated, "hose_unrated": path.hose_rated is False}


def _reason(facts: Facts) -> str:
    if "unrated" in facts:
        what = ", ".join([*facts["unrated"], *(["the hose behind the hookup"] if facts["hose_unrated"] else [])])
        return f"No flow is rated for {what}: the {facts['duty']} path loses more than is shown."
    return (
        f"At {units.flow(facts['flow_l_h'])} the {facts['duty']} path loses {units.pressure(facts['drop_kpa'])} "
        f"of at most {units.pressure(facts['limit_kpa'])}; it moves at up to {units.velocity(facts['peak_m_s'])}."
    )


def _rejection(facts: Facts) -> str:
    path = f"At {units.flow(facts['flow_l_h'])} the {facts['duty']} path"
    if facts["drop_kpa"] > facts["limit_kpa"]:
        drop, limit = units.pressure(facts["drop_kpa"]), units.pressure(facts["limit_kpa"])
        return f"{path} would lose {drop}, over the limit of {limit}."
    peak, limit = units.velocity(facts["peak_m_s"]), units.velocity(facts["limit_m_s"])
    return f"{path} would see the fuel move at {peak}, over the limit of {limit}."


RULE = Rule("flow", _reason, _rejection)
