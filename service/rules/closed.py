"""`closed`: what a chain may be made of by its duty, and that no port is left open."""

from service.domain.findings import Facts
from service.domain.tongue import called, place, said, sentence, word
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
        return said("Closes the side port of {part}: no port is left open.", part=called(facts["side_of"]))
    spot = place(facts["spot"])
    if facts["duty"] == "closed":
        return said("Closes the {spot} spot: no port is left open.", spot=spot)
    if facts["duty"] == "gauge":
        shows = facts["kind"] == "gauge"
        return said(_SHOWS if shows else _CARRIES_GAUGE, spot=spot)
    leads_to = called(str(facts["leads_to"]))
    if facts["duty"] == "link":
        return said("Links the {spot} spot with {leads_to}.", spot=spot, leads_to=leads_to)
    return said(
        "Carries the {duty} between the {spot} spot and {leads_to}.",
        duty=word(facts["duty"]),
        spot=spot,
        leads_to=leads_to,
    )


_SHOWS = sentence("Shows the pressure at the {spot} spot.")
_CARRIES_GAUGE = sentence("Carries the gauge at the {spot} spot.")


_TAKES = {
    "closed": sentence("The {spot} spot is closed here: it takes exactly one plug; this is a {kind}."),
    "gauge": sentence(
        "The {spot} spot carries the gauge here: it takes fittings that end in exactly one gauge; this is a {kind}."
    ),
    "feed": sentence(
        "The {spot} spot is a feed here: its chain takes fittings, lines and regulators; this is a {kind}."
    ),
    "return": sentence(
        "The {spot} spot is a return here: its chain takes fittings, lines and regulators; this is a {kind}."
    ),
    "link": sentence(
        "The {spot} spot is linked to the other bank here: its chain takes fittings and exactly one line; this is a "
        "{kind}."
    ),
}


def _rejection(facts: Facts) -> str:
    kind = word(str(facts.get("kind", "")))
    if "duty" in facts:
        return said(_TAKES[facts["duty"]], spot=place(facts["spot"]), kind=kind)
    if "portless" in facts:
        return said("No spot takes a {kind}, and nothing else here asks for this one.", kind=kind)
    if "side_port" in facts:
        return said("Nothing in the catalog closes its side port ({port}).", port=facts["side_port"])
    if facts["kind"] == CLOSERS["gauge"]:
        return said("No spot of this setup takes a gauge: none was asked for, or none is free.")
    return said("No spot of this setup takes a {kind} of this connection.", kind=kind)


RULE = Rule(
    "closed",
    _reason,
    _rejection,
    missing=always("None is of the kind that belongs there."),
    a_wish_could_help=no_wish_helps,
)
