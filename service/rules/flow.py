"""`flow`: each path's drop and peak velocity are within policy at the path's flow."""

from collections.abc import Container, Mapping

from service.domain import units
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.flows import PathFlow
from service.domain.margins import Margin
from service.rules.rule import Rule, always


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
        Margin("flow", "drop", "kPa", left_kpa, path.limit_kpa, path.spots),
        Margin("flow", "velocity", "m/s", left_m_s, path.limit_m_s, path.spots),
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


def left(facts: Facts) -> Left | None:
    """What is left of the drop; None where no flow is rated."""
    return Left(round(facts["limit_kpa"] - facts["drop_kpa"], 3), "kPa") if "limit_kpa" in facts else None


def _limit(margin: Margin, duties: Mapping[str, str], _part: str) -> str:
    at = f"{' and '.join(margin.spots)} spot{'s' * (len(margin.spots) > 1)}"
    what = "drop allowed for" if margin.what == "drop" else "speed allowed for the fuel on"
    return f"{what} the {duties[margin.spots[0]]} path at the {at}"


RULE = Rule(
    "flow",
    _reason,
    _rejection,
    left=left,
    short=lambda facts: float(facts["drop_kpa"] - facts["limit_kpa"]),
    missing=always("None lets enough fuel through."),
    limit=_limit,
)
