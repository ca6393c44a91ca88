"""`closed`: what a chain may be made of by its duty, and that no port is left open."""

from service.domain.findings import Facts
from service.rules.rule import Rule, always, no_wish_helps

CARRIERS = {
    "closed": frozenset[str](),
    "gauge": frozenset({"fitting"}),
    "feed": frozenset({"fitting", "line", "regulator"}),
    "return": frozenset({"fitting", "line", "regulator"}),
    "link": frozenset({"fitting", "line"}),
}
"""Kinds that may carry a chain on, by duty."""

CLOSERS = {"closed": "plug", "gauge": "gauge"}
"""The kind that a chain ends in, by duty; other duties end on a hookup or on the far spot."""

ONE_LINE_DUTIES = frozenset({"link"})
"""Duties whose chain has exactly one line."""


def takes(duty: str, kind: str) -> bool:
    """Whether a chain with this duty may hold a part of this kind, side plugs aside."""
    return kind in CARRIERS[duty] or CLOSERS.get(duty) == kind


def facts(kind: str, duty: str, spot: str, *, side_of: str | None = None, leads_to: str | None = None) -> Facts:
    return {"kind": kind, "duty": duty, "spot": spot, "side_of": side_of, "leads_to": leads_to}


def side_port_facts(kind: str, standard: str) -> Facts:
    return {"kind": kind, "side_port": standard}


def not_taken_facts(kind: str, duty: str, spot: str) -> Facts:
    """Facts for a part of a kind that a spot with this duty does not take."""
    return {"kind": kind, "duty": duty, "spot": spot}


def portless_facts(kind: str) -> Facts:
    """Facts for a part that is not screwed into anything, and that nothing else asks for."""
    return {"kind": kind, "portless": True}


def no_spot_facts(kind: str) -> Facts:
    return {"kind": kind}


def _reason(facts: Facts) -> str:
    if facts["side_of"]:
        return f"Closes the side port of {facts['side_of']}: no port is left open."
    if facts["duty"] == "closed":
        return f"Closes the {facts['spot']} spot: no port is left open."
    if facts["duty"] == "gauge":
        does = "Shows the pressure at" if facts["kind"] == "gauge" else "Carries the gauge at"
        return f"{does} the {facts['spot']} spot."
    if facts["duty"] == "link":
        return f"Links the {facts['spot']} spot with {facts['leads_to']}."
    return f"Carries the {facts['duty']} between the {facts['spot']} spot and {facts['leads_to']}."


_DOES = {
    "closed": "The {spot} spot is closed here: it takes",
    "gauge": "The {spot} spot carries the gauge here: it takes",
    "feed": "The {spot} spot is a feed here: its chain takes",
    "return": "The {spot} spot is a return here: its chain takes",
    "link": "The {spot} spot is linked to the other bank here: its chain takes",
}
_TAKEN = {
    "closed": "exactly one plug",
    "gauge": "fittings that end in exactly one gauge",
    "feed": "fittings, lines and regulators",
    "return": "fittings, lines and regulators",
    "link": "fittings and exactly one line",
}


def _rejection(facts: Facts) -> str:
    if "duty" in facts:
        does = _DOES[facts["duty"]].format(spot=facts["spot"])
        return f"{does} {_TAKEN[facts['duty']]}; this is a {facts['kind']}."
    if "portless" in facts:
        return f"No spot takes a {facts['kind']}, and nothing else here asks for this one."
    if "side_port" in facts:
        return f"Nothing in the catalog closes its side port ({facts['side_port']})."
    if facts["kind"] == CLOSERS["gauge"]:
        return "No spot of this setup takes a gauge: none was asked for, or none is free."
    return f"No spot of this setup takes a {facts['kind']} of this connection."


RULE = Rule(
    "closed",
    _reason,
    _rejection,
    missing=always("None is of the kind that belongs there."),
    a_wish_could_help=no_wish_helps,
)
