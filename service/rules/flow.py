"""`flow`: each path's drop and peak velocity are within policy at the path's flow."""

from collections.abc import Container, Iterable, Mapping

from service.domain import units
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.flows import PathFlow
from service.domain.margins import Margin
from service.domain.tongue import numbered, places, plural, said, word
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


def unrated_facts(paths: Iterable[PathFlow], beside: Container[str] = ()) -> list[Facts]:
    """What of paths has no flow data: paths of one duty that lack the same once, with their spots. `beside`: SKUs that
    no fuel runs through, such as plugs of side ports."""
    spots: dict[tuple[str, tuple[str, ...], bool], list[tuple[str, ...]]] = {}
    for path in paths:
        unrated = tuple(sku for sku in path.unrated if sku not in beside)
        if unrated or path.hose_rated is False:
            spots.setdefault((path.duty, unrated, path.hose_rated is False), []).append(path.spots)
    return [
        {"duty": duty, "unrated": list(unrated), "hose_unrated": hose}
        | ({"spots": [spot for one in at for spot in one]} if len(at) > 1 else {})
        for (duty, unrated, hose), at in spots.items()
    ]


def _reason(facts: Facts) -> str:
    if "unrated" in facts:
        hose = [word("the hose behind the hookup")] if facts["hose_unrated"] else []
        what, duty = ", ".join([*facts["unrated"], *hose]), word(facts["duty"])
        if "spots" not in facts:
            return said(
                "No flow is rated for {what}: the {duty} path loses more than is shown.",
                what=what,
                duty=duty,
            )
        *others, last = places(facts["spots"])
        return said(
            "No flow is rated for {what}: the {duty} paths at {spots} lose more than is shown.",
            what=what,
            duty=duty,
            spots=f"{', '.join(others)} {word('and')} {last}",
        )
    return said(
        "At {flow} the {duty} path loses {drop} of at most {limit}; it moves at up to {peak}.",
        flow=units.flow(facts["flow_l_h"]),
        duty=word(facts["duty"]),
        drop=units.pressure(facts["drop_kpa"]),
        limit=units.pressure(facts["limit_kpa"]),
        peak=units.velocity(facts["peak_m_s"]),
    )


def _rejection(facts: Facts) -> str:
    flow, duty = units.flow(facts["flow_l_h"]), word(facts["duty"])
    if facts["drop_kpa"] > facts["limit_kpa"]:
        return said(
            "At {flow} the {duty} path would lose {drop}, over the limit of {limit}.",
            flow=flow,
            duty=duty,
            drop=units.pressure(facts["drop_kpa"]),
            limit=units.pressure(facts["limit_kpa"]),
        )
    return said(
        "At {flow} the {duty} path would see the fuel move at {peak}, over the limit of {limit}.",
        flow=flow,
        duty=duty,
        peak=units.velocity(facts["peak_m_s"]),
        limit=units.velocity(facts["limit_m_s"]),
    )


def left(facts: Facts) -> Left | None:
    """What is left of the drop; None where no flow is rated."""
    return Left(round(facts["limit_kpa"] - facts["drop_kpa"], 3), "kPa") if "limit_kpa" in facts else None


def _limit(margin: Margin, duties: Mapping[str, str], _part: str) -> str:
    one, many = _DROP if margin.what == "drop" else _SPEED
    at = f" {word('and')} ".join(places(margin.spots))
    return numbered(len(margin.spots), one, many, duty=word(duties[margin.spots[0]]), spots=at)


_DROP = plural(
    "drop allowed for the {duty} path at the {spots} spot", "drop allowed for the {duty} path at the {spots} spots"
)
_SPEED = plural(
    "speed allowed for the fuel on the {duty} path at the {spots} spot",
    "speed allowed for the fuel on the {duty} path at the {spots} spots",
)


RULE = Rule(
    "flow",
    _reason,
    _rejection,
    left=left,
    short=lambda facts: float(facts["drop_kpa"] - facts["limit_kpa"]),
    missing=always("None lets enough fuel through."),
    limit=_limit,
)
