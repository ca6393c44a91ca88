"""`supplied`: a closed spot uses the plug that comes with its rail, unless that plug breaks a rule at the spot."""

from service.domain.findings import Facts
from service.domain.tongue import named, place, said, word
from service.rules.rule import Rule, always


def facts(plug: str, spot: str) -> Facts:
    return {"plug": plug, "spot": spot}


def box_facts(owner: str, qty: int) -> Facts:
    return {"owner": owner, "qty": qty}


def spare_facts(plug: str, spot: str, duty: str) -> Facts:
    return {"spare": plug, "spot": spot, "duty": duty}


def _reason(facts: Facts) -> str:
    if "owner" in facts:
        return said("Comes in the box with {owner}.", owner=named(facts["owner"]))
    spot = place(facts["spot"])
    if "spare" in facts:
        return said(
            "{plug}, which comes for the {spot} spot, is left over: that spot is a {duty}.",
            plug=named(facts["spare"]),
            spot=spot,
            duty=word(facts["duty"]),
        )
    return said("Comes with the rail for the {spot} spot.", spot=spot)


def _rejection(facts: Facts) -> str:
    return said(
        "The rail comes with its own plug for the {spot} spot: {plug}.", spot=place(facts["spot"]), plug=facts["plug"]
    )


RULE = Rule(
    "supplied",
    _reason,
    _rejection,
    missing=always("The plug that comes with the rail takes its place."),
    is_preference=True,
)
