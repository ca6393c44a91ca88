"""`wish`: what the request asks beyond chassis and layout: gauge, finish, exclude, allow_unsold, max_price."""

from collections.abc import Iterator
from typing import NamedTuple

from service.domain.findings import Facts
from service.domain.money import priced
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.domain.tongue import place, said, sentence, word
from service.rules.rule import Got, PartRule


class Wanted(NamedTuple):
    """What a request asks of every part."""

    finish: str | None
    exclude: frozenset[str]
    allow_unsold: bool


def reads(situation: PartSituation) -> Wanted:
    return Wanted(situation.finish, situation.exclude, situation.allow_unsold)


def broken(item: Item, wanted: Wanted, revision: Revision, got: Got) -> str | None:
    """The name of the wish that the item breaks, None where it breaks none."""
    if item.sku in wanted.exclude:
        return f"exclude/{item.sku}"
    if got == "supplied":
        return None
    if got == "bought" and not (item.sold or wanted.allow_unsold):
        return "allow_unsold"
    if wanted.finish is not None and not _finish_fits(item, wanted.finish, revision):
        return "finish"
    return None


def _finish_fits(item: Item, finish: str, revision: Revision) -> bool:
    if item.finish == finish:
        return True
    return item.kind != "rail" and (item.family or "", finish) not in revision.index.offers


def holds(item: Item, wanted: Wanted, revision: Revision, got: Got) -> bool:
    return broken(item, wanted, revision, got) is None


def facts(item: Item, situation: PartSituation, revision: Revision) -> Facts | None:
    wanted, is_had = reads(situation), item.sku in dict(situation.have)
    wish = (broken(item, wanted, revision, "had") if is_had else None) or broken(item, wanted, revision, "bought")
    if wish is None and (situation.finish is None or item.finish != situation.finish):
        return None
    return {"wish": wish or "finish", "wanted": situation.finish, "finish": item.finish}


def stops(item: Item, situation: PartSituation, revision: Revision, got: Got) -> Iterator[Facts]:
    """Facts of each wish that the item breaks, one by one: excluded, bought elsewhere, of another finish."""
    none_excluded: frozenset[str] = frozenset()
    for alone in (
        situation._replace(finish=None, allow_unsold=True),
        situation._replace(finish=None, exclude=none_excluded),
        situation._replace(allow_unsold=True, exclude=none_excluded),
    ):
        wish = broken(item, reads(alone), revision, got)
        if wish is not None:
            yield {"wish": wish, "wanted": situation.finish, "finish": item.finish}


def gauge_facts(gauge: str, spot: str | None = None, duty: str | None = None) -> Facts:
    return {"wish": "gauge", "gauge": gauge, "spot": spot, "duty": duty}


def price_facts(max_price: int, lowest_price: int, currency: str) -> Facts:
    return {"wish": "max_price", "max_price": max_price, "lowest_price": lowest_price, "currency": currency}


def _reason(facts: Facts) -> str:
    if facts["wish"] == "gauge":
        return said("A gauge was asked for ({place}).", place=place(facts["gauge"]))
    return said("Has the finish asked for: {finish}.", finish=facts["wanted"])


def _rejection(facts: Facts) -> str:
    wish = str(facts["wish"])
    if wish == "finish":
        return said(
            "Finish {wanted} was asked for; this one has {finish}.",
            wanted=facts["wanted"],
            finish=facts["finish"] or word("no finish"),
        )
    if wish == "allow_unsold":
        return said("Would have to be bought elsewhere, and the request allows no such part.")
    if wish == "gauge":
        return _no_gauge(facts)
    if wish == "max_price":
        lowest, most = (priced(facts[name], str(facts["currency"])) for name in ("lowest_price", "max_price"))
        return said("Bills with it cost at least {lowest}; at most {most} was asked for.", lowest=lowest, most=most)
    return said("The request excludes it.")


def _no_gauge(facts: Facts) -> str:
    if facts["spot"] is None:
        return said("A gauge was asked for, and fuel runs through every spot: none is left for it.")
    spot = place(facts["spot"])
    if facts["duty"]:
        duty = word(facts["duty"])
        return said("A gauge was asked for at the {spot} spot, which is the {duty} here.", spot=spot, duty=duty)
    return said("A gauge was asked for at the {spot} spot, which this rail does not have.", spot=spot)


MISSING = {
    "gauge": sentence("None takes the gauge that is wished for."),
    "finish": sentence("None has the finish that is wished for."),
    "exclude": sentence("What would do was not to be used."),
    "allow_unsold": sentence("What would do is not sold here."),
    "max_price": sentence("They cost more than was to be spent."),
}
"""By the wish."""


RULE = PartRule(
    "wish",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    ("finish", "exclude", "allow_unsold"),
    stops=stops,
    short=lambda facts: float(facts.get("lowest_price", 0)),
    not_judged=lambda request: (
        None
        if request.finish is None
        else said("Whether your own rail has the finish {finish} was not judged.", finish=request.finish)
    ),
    missing=lambda facts: said(MISSING[str(facts["wish"]).partition("/")[0]]),
)
