"""`supply`: what has to be bought is active and, where asked, in stock in the quantity bought."""

from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.domain.tongue import numbered, said
from service.rules.rule import Got, PartRule, always, judges_no_rail


def reads(_situation: PartSituation) -> None:
    return None


def holds(item: Item, _read: None, _revision: Revision, got: Got) -> bool:
    return item.active or got != "bought"


def facts(item: Item, _situation: PartSituation, _revision: Revision) -> Facts | None:
    if item.active and not item.sold:
        return None
    return {
        "active": item.active,
        "superseded_by": item.superseded_by,
        "stock": item.stock,
        "lead_days": item.lead_days,
    }


def stock_facts(item: Item, needed: int) -> Facts:
    return {"active": item.active, "stock": item.stock, "needed": needed}


def had_facts(item: Item) -> Facts:
    """Facts for units that the customer has already."""
    return {"had": True, "active": item.active, "superseded_by": item.superseded_by}


def _reason(facts: Facts) -> str:
    if "had" in facts:
        is_made = facts["active"]
        return said("You have it already.") if is_made else said("You have it already; it is no longer made.")
    if facts["stock"]:
        return said("In the range, {stock} in stock.", stock=facts["stock"])
    return numbered(
        facts["lead_days"],
        "In the range, none in stock: it takes {days} day to get.",
        "In the range, none in stock: it takes {days} days to get.",
        days=facts["lead_days"],
    )


def _rejection(facts: Facts) -> str:
    if facts["active"]:
        if facts["stock"]:
            return said("Only {stock} in stock, {needed} needed.", stock=facts["stock"], needed=facts["needed"])
        return said("Out of stock, {needed} needed.", needed=facts["needed"])
    successor = facts.get("superseded_by")
    if successor:
        return said("No longer made; {successor} takes its place.", successor=successor)
    return said("No longer made.")


RULE = PartRule(
    "supply",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    missing=always("They are retired or out of stock."),
    a_wish_could_help=lambda facts: facts.get("active") is not False,
    not_judged=judges_no_rail,
)
