"""`elsewhere`: a part that has to be bought elsewhere is used only where no sold or supplied chain serves the spot."""

from service.domain.findings import Facts
from service.domain.tongue import named, place, said
from service.rules.rule import Rule, always


def facts(spot: str | None, instead: str | None = None) -> Facts:
    return {"spot": spot, "instead": instead}


def _reason(facts: Facts) -> str:
    estimate = said("Buy a part of this specification elsewhere; its price is an estimate and not in the total.")
    if not facts["spot"]:
        return estimate
    nothing = said("Nothing that we sell serves the {spot} spot here.", spot=place(facts["spot"]))
    return f"{nothing} {estimate}"


def _rejection(facts: Facts) -> str:
    return said(
        "Would have to be bought elsewhere, while {instead} serves the {spot} spot.",
        instead=named(facts["instead"]),
        spot=place(facts["spot"]),
    )


RULE = Rule(
    "elsewhere",
    _reason,
    _rejection,
    missing=always("What would do is not sold here, and something that is sold takes its place."),
    is_preference=True,
)
