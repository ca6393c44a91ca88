"""`wish`: what the request asks beyond chassis and layout: gauge, finish, exclude, allow_unsold, max_price."""

from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.rules.rule import PartRule


def broken(item: Item, situation: PartSituation, revision: Revision, supplied: bool) -> str | None:
    """The name of the wish that the item breaks, None where it breaks none."""
    if item.sku in situation.exclude:
        return f"exclude/{item.sku}"
    if supplied:
        return None
    if not (item.sold or situation.allow_unsold):
        return "allow_unsold"
    if situation.finish is not None and not _finish_fits(item, situation.finish, revision):
        return "finish"
    return None


def _finish_fits(item: Item, finish: str, revision: Revision) -> bool:
    if item.finish == finish:
        return True
    return item.kind != "rail" and (item.family or "", finish) not in revision.offers


def holds(item: Item, situation: PartSituation, revision: Revision, supplied: bool) -> bool:
    return broken(item, situation, revision, supplied) is None


def facts(item: Item, situation: PartSituation, revision: Revision) -> Facts | None:
    wish = broken(item, situation, revision, supplied=False)
    if wish is None and (situation.finish is None or item.finish != situation.finish):
        return None
    return {"wish": wish or "finish", "wanted": situation.finish, "finish": item.finish}


def gauge_facts(gauge: str, spot: str | None = None, duty: str | None = None) -> Facts:
    return {"wish": "gauge", "gauge": gauge, "spot": spot, "duty": duty}


def price_facts(max_price: int, lowest_price: int) -> Facts:
    return {"wish": "max_price", "max_price": max_price, "lowest_price": lowest_price}


def _reason(facts: Facts) -> str:
    if facts["wish"] == "gauge":
        return f"A gauge was asked for ({facts['gauge']})."
    return f"Has the finish asked for: {facts['wanted']}."


def _rejection(facts: Facts) -> str:
    wish = str(facts["wish"])
    if wish == "finish":
        return f"Finish {facts['wanted']} was asked for; this one has {facts['finish'] or 'no finish'}."
    if wish == "allow_unsold":
        return "Would have to be bought elsewhere, and the request allows no such part."
    if wish == "gauge":
        if facts["duty"]:
            return f"A gauge was asked for at the {facts['spot']} spot, which is the {facts['duty']} here."
        return f"A gauge was asked for at the {facts['spot']} spot, which this rail does not have."
    if wish == "max_price":
        lowest, most = facts["lowest_price"], facts["max_price"]
        return f"Bills with it cost at least {lowest} minor units; at most {most} was asked for."
    return "The request excludes it."


RULE = PartRule("wish", _reason, _rejection, holds, facts)
