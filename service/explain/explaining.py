"""Why a part is, or is not, in the bills, in words that can be read aloud."""

from collections.abc import Iterable, Iterator
from typing import Any

from service.documents import explain as doc
from service.documents.money import money_of
from service.domain.answer import Bill
from service.domain.explanation import Change, Explanation, Left, Stop, Verdict
from service.domain.findings import Finding
from service.domain.money import priced
from service.domain.revision import Fuel, Revision
from service.domain.tongue import named, numbered, place, places, said, sentence, word
from service.domain.wishes import Wishes
from service.explain.figures import written
from service.explain.left import left_told, left_words, measured
from service.explain.phrases import capital, listed, quoted
from service.explain.reasons import broken, in_order, kept, of_link, of_rail
from service.explain.safety import safety
from service.explain.wishes import WishWords
from service.rules import CHAIN_RULES, RULE_BY_ID, closed, flow, wish


def report_explanation(explanation: Explanation, revision: Revision) -> doc.Explanation:
    """The answer document of an explanation."""
    words = _Words(explanation, revision)
    told: doc.Explanation = {
        "revision": revision.number,
        **money_of(revision),
        "sku": explanation.item.sku,
        "name": named(explanation.item.name),
        "in_bills": bool(explanation.where),
        "where": list(explanation.where),
        "verdicts": [words.verdict(verdict) for verdict in explanation.verdicts],
        "text": words.summary(),
        "safety": safety(),
    }
    return written(told)


_AT = {
    "closed": sentence("At the {spot} spot, which is closed,"),
    "gauge": sentence("At the {spot} spot, which carries the gauge,"),
    "feed": sentence("At the {spot} spot, which is a feed,"),
    "return": sentence("At the {spot} spot, which is a return,"),
    "link": sentence("At the {spot} spot, which is linked to the other bank,"),
}
_IN_ROLES = {
    "rail": sentence("as the rail"),
    "mounting": sentence("as a mounting part"),
    "box": sentence("in the box of another part"),
    "extra": sentence("with the joints that are made"),
}


class _Words:
    """Words one explanation."""

    def __init__(self, explanation: Explanation, revision: Revision) -> None:
        self._explanation = explanation
        self._item = explanation.item
        self._request = explanation.request
        self._revision = revision
        self._wishes = Wishes(explanation.request, revision)
        self._wish_words = WishWords(explanation.request, revision)
        self._had = dict(explanation.request.have).get(explanation.item.sku, 0)

    # --- the whole ----------------------------------------------------------------------------------------

    def summary(self) -> str:
        """Yes or no, where, and where not what it comes nearest to."""
        return " ".join(self._yes() if self._explanation.where else self._no())

    def _yes(self) -> Iterator[str]:
        where, verdicts = self._explanation.where, self._explanation.verdicts
        yield said("Yes, {part} is in valid bills: {places}.", part=self._part(), places=self._places(where))
        if self._had:
            yield self._had_text()
            most = _counted(self._explanation.most_units)
            if self._had > self._explanation.most_units:
                yield said("No bill needs more than {most}, and that is no fault.", most=most)
        prices = [verdict.bill.price for verdict in verdicts if verdict.bill is not None]
        if prices:
            price = priced(min(prices), self._revision.currency)
            yield said("The cheapest set with it costs {price}.", price=price)
        if len(verdicts) == 1 and verdicts[0].spot is not None and verdicts[0].spot not in where:
            yield self._text(verdicts[0])

    def _no(self) -> Iterator[str]:
        yield said("No, {part} is in no valid bill.", part=self._part())
        if self._had:
            yield self._had_text()
            yield said("No bill needs it here, and that is no fault.")
        yield self._text(min(self._explanation.verdicts, key=_how_near))

    def _part(self) -> str:
        return quoted(self._item.name)

    def _places(self, where: Iterable[str]) -> str:
        spots = [spot for spot in where if spot not in _IN_ROLES]
        told = [said(_IN_ROLES[role]) for role in where if role in _IN_ROLES]
        if spots:
            at = numbered(len(spots), "at the {spots} spot", "at the {spots} spots", spots=listed(places(spots)))
            told.insert(0, at)
        return listed(told)

    def _had_text(self) -> str:
        return said("You have {count} of it already.", count=_counted(self._had))

    # --- one place ----------------------------------------------------------------------------------------

    def verdict(self, verdict: Verdict) -> doc.VerdictTold:
        return {
            "spot": verdict.spot,
            "duty": verdict.role,
            "stands": verdict.stands,
            "chain": list(verdict.chain.skus) if verdict.chain is not None else [],
            "text": self._text(verdict),
            "rules": [self._kept(*one) for one in self._reasons(verdict)] or [self._stop(x) for x in verdict.stops],
            "change": None if verdict.change is None else self._change(verdict.change),
        }

    def _text(self, verdict: Verdict) -> str:
        return " ".join(self._standing(verdict) if verdict.stands else self._not_standing(verdict))

    def _standing(self, verdict: Verdict) -> Iterator[str]:
        if verdict.bill is None:
            reasons = [kept(finding)["text"] for finding in (verdict.finding,) if finding is not None]
            yield reasons[0] if reasons else said("It goes with the joints that are made, and is not in the price.")
            return
        price = priced(verdict.bill.price, self._revision.currency)
        if verdict.spot is None:
            yield said("It is the rail of valid bills. The cheapest set on it costs {price}.", price=price)
            return
        at = said(_AT[verdict.role or "closed"], spot=place(verdict.spot))
        chain = self._chain(verdict)
        yield (
            said("{at} it stands in a chain: {chain}.", at=at, chain=chain) if chain else said("{at} it stands.", at=at)
        )
        yield said("The cheapest set with it there costs {price}.", price=price)

    def _not_standing(self, verdict: Verdict) -> Iterator[str]:
        if not _takes_other_kinds(verdict):
            yield self._where_not(verdict)
        chain = self._chain(verdict)
        if chain:
            yield said("Nearest comes this chain: {chain}.", chain=chain)
        yield from dict.fromkeys(map(self._stop_text, verdict.stops))
        if verdict.change is not None:
            yield self._change(verdict.change)["text"]
        else:
            yield said("No single change of what was asked lets it in.")

    def _where_not(self, verdict: Verdict) -> str:
        if verdict.role == "rail":
            return said("It is the rail of no valid bill.")
        if verdict.spot is None:
            return said("There is no place for it.")
        if verdict.role is None:
            return said("There is no place for it at the {spot} spot.", spot=place(verdict.spot))
        at = said(_AT[verdict.role], spot=place(verdict.spot))
        if all(RULE_BY_ID[stop.finding.rule].is_preference for stop in verdict.stops):
            return said("{at} it would do, but something else goes first.", at=at)
        return said("{at} it does not stand.", at=at)

    def _stop_text(self, stop: Stop) -> str:
        """A rule that stops the part with what is missing, as one sentence."""
        text = self._stop(stop)["text"]
        if stop.left is None:
            return text
        return f"{text[:-1]}: {left_words(stop.left, self._revision.currency, enough=False)}."

    def _chain(self, verdict: Verdict) -> str:
        """The names of a chain with other parts than this one in it."""
        items = verdict.chain.items if verdict.chain is not None else ()
        return f"; {word('then')} ".join([named(item.name) for item in items]) if len(items) > 1 else ""

    # --- rules --------------------------------------------------------------------------------------------

    def _stop(self, stop: Stop) -> doc.RuleTold:
        """A rule that stops the part, with what is missing."""
        told = broken(stop.finding)
        text = self._of_price(stop.finding) or told["text"]
        if stop.about is not None and stop.about is not self._item:
            text = f"{named(stop.about.name)}: {text}"
        if stop.spot is not None:
            nothing = said("Nothing serves the {spot} spot, so that no bill is valid.", spot=place(stop.spot))
            text = f"{nothing} {text}"
        return {
            "rule": told["rule"],
            "text": text,
            "facts": told["facts"],
            "margin": self._left(stop.left, enough=False),
        }

    def _of_price(self, finding: Finding) -> str | None:
        facts = finding.facts
        if finding.rule != wish.RULE.id or facts["wish"] != "max_price":
            return None
        lowest, most = (priced(facts[name], self._revision.currency) for name in ("lowest_price", "max_price"))
        return said("The cheapest set with it costs {lowest}; at most {most} was asked for.", lowest=lowest, most=most)

    def _kept(self, finding: Finding, left: Left | None) -> doc.RuleTold:
        """What speaks for the part, with what is left."""
        told = kept(finding)
        margin = self._left(left, enough=True)
        return {"rule": told["rule"], "text": told["text"], "facts": told["facts"], "margin": margin}

    def _left(self, left: Left | None, *, enough: bool) -> doc.MarginTold | None:
        return None if left is None else left_told(left, self._revision.currency, enough=enough)

    def _reasons(self, verdict: Verdict) -> Iterator[tuple[Finding, Left | None]]:
        """What speaks for a part that stands, in the order of telling."""
        if verdict.finding is not None:
            yield verdict.finding, None
        bill = verdict.bill
        if bill is None:
            return
        found = list(self._of_rail(bill) if verdict.spot is None else self._of_link(bill, verdict))
        for finding in in_order(found):
            is_of_flow = finding.rule == flow.RULE.id and verdict.flow_left is not None
            yield finding, verdict.flow_left if is_of_flow else measured(finding)

    def _of_rail(self, bill: Bill) -> Iterator[Finding]:
        yield from of_rail(bill, self._request, self._revision, is_had=self._had >= bill.banks)

    def _of_link(self, bill: Bill, verdict: Verdict) -> Iterator[Finding]:
        """What speaks for the part where it stands, and for the chain that it is in."""
        placed = next(
            x for x in bill.chains if x.chain is verdict.chain and verdict.spot in bill.situations[x.spot].spots
        )
        items = placed.chain.items
        is_far = verdict.spot != placed.spot
        index = len(items) - 1 - items[::-1].index(self._item) if is_far else items.index(self._item)
        path = next((path for path in bill.paths if placed.spot in path.spots), None)
        had = bool(self._had)
        yield from of_link(bill, placed, index, path, self._request, self._revision, is_had=had)
        if index:
            situation = bill.situations[placed.spot]
            told = ((rule.id, rule.facts(placed.chain, situation)) for rule in CHAIN_RULES)
            yield from (Finding(rule, facts) for rule, facts in told if facts is not None)
            yield from [Finding(flow.RULE.id, flow.facts(path))] if path is not None else []

    # --- the change ---------------------------------------------------------------------------------------

    def _change(self, change: Change) -> doc.ChangeTold:
        text = numbered(
            change.total_valid,
            "{thing}: that lets it in, and gives one valid bill in all.",
            "{thing}: that lets it in, and gives {count} valid bills in all.",
            thing=capital(self._to_do(change.wish, change.value)),
            count=change.total_valid,
        )
        value = change.value.id if isinstance(change.value, Fuel) else change.value
        return {"change": {change.wish: value}, "text": text, "total_valid": change.total_valid}

    def _to_do(self, name: str, value: Any) -> str:
        if value is None or value == self._wishes.default(name):
            return self._wish_words.without(name)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return self._wish_words.changed(name, self._wishes.values[name], value)
        if isinstance(value, Fuel):
            return self._wish_words.run(value)
        return said("ask for {what}", what=self._wish_words.asked(name, value))


def _takes_other_kinds(verdict: Verdict) -> bool:
    """Whether the spot takes no part of this kind at all, which the rule's own words tell best."""
    return any(stop.finding.rule == closed.RULE.id and "duty" in stop.finding.facts for stop in verdict.stops)


def _how_near(verdict: Verdict) -> tuple[bool, bool, bool, int]:
    """The less the nearer: no change helps, no chain holds it, its kind is not taken, how many rules stop it."""
    return verdict.change is None, verdict.chain is None, _takes_other_kinds(verdict), len(verdict.stops)


def _counted(units: int) -> str:
    return word("one") if units == 1 else str(units)
