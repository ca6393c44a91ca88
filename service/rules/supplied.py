"""`supplied`: a closed spot uses the plug that comes with its rail, unless that plug breaks a rule at the spot."""

from service.domain.findings import Facts
from service.rules.rule import Rule, always


def facts(plug: str, spot: str) -> Facts:
    return {"plug": plug, "spot": spot}


def box_facts(owner: str, qty: int) -> Facts:
    return {"owner": owner, "qty": qty}


def spare_facts(plug: str, spot: str, duty: str) -> Facts:
    return {"spare": plug, "spot": spot, "duty": duty}


def _reason(facts: Facts) -> str:
    if "owner" in facts:
        return f"Comes in the box with {facts['owner']}."
    if "spare" in facts:
        return (
            f"{facts['spare']}, which comes for the {facts['spot']} spot, is left over: that spot is a {facts['duty']}."
        )
    return f"Comes with the rail for the {facts['spot']} spot."


def _rejection(facts: Facts) -> str:
    return f"The rail comes with its own plug for the {facts['spot']} spot: {facts['plug']}."


RULE = Rule(
    "supplied",
    _reason,
    _rejection,
    missing=always("The plug that comes with the rail takes its place."),
    is_preference=True,
)
