"""`elsewhere`: a part that has to be bought elsewhere is used only where no sold or supplied chain serves the spot."""

from service.domain.findings import Facts
from service.rules.rule import Rule, always


def facts(spot: str | None, instead: str | None = None) -> Facts:
    return {"spot": spot, "instead": instead}


def _reason(facts: Facts) -> str:
    estimate = "Buy a part of this specification elsewhere; its price is an estimate and not in the total."
    return f"Nothing that we sell serves the {facts['spot']} spot here. {estimate}" if facts["spot"] else estimate


def _rejection(facts: Facts) -> str:
    return f"Would have to be bought elsewhere, while {facts['instead']} serves the {facts['spot']} spot."


RULE = Rule(
    "elsewhere",
    _reason,
    _rejection,
    missing=always("What would do is not sold here, and something that is sold takes its place."),
    is_preference=True,
)
