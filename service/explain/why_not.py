"""Words why a request has no bill: each conflict with what led to it, and each repair as a thing to do."""

from collections.abc import Mapping, Sequence
from typing import Any

from service.documents import answer as doc
from service.domain.findings import Finding
from service.domain.money import priced
from service.domain.parts import OWN_RAIL
from service.domain.request import Request
from service.domain.revision import Fuel, Revision
from service.domain.tongue import named, numbered, place, said, sentence
from service.domain.why_not import DeadEnd, Repair, Stopped, Story, WhyNot
from service.domain.wishes import Wishes
from service.explain.phrases import capital, listed
from service.explain.reasons import broken
from service.explain.wishes import WishWords
from service.rules import pattern, wish

_DEAD = {
    "closed": sentence("Nothing that may be used here closes the {spot} spot."),
    "gauge": sentence("Nothing that may be used here carries a gauge at the {spot} spot."),
    "feed": sentence("Nothing that may be used here brings the fuel to the {spot} spot."),
    "return": sentence("Nothing that may be used here takes the fuel back from the {spot} spot."),
    "link": sentence("Nothing that may be used here links the {spot} spot to the other bank."),
}


class WhyNotWords:
    """Words the advice on one request."""

    def __init__(self, request: Request, revision: Revision) -> None:
        self._request = request
        self._revision = revision
        self._wishes = Wishes(request, revision)
        self._words = WishWords(request, revision)

    def stories(self, why_not: WhyNot) -> list[doc.Story]:
        """One story a conflict, in their order."""
        return [self._story(story) for story in why_not.stories]

    def repairs(self, why_not: WhyNot) -> list[doc.Repair]:
        return [self._repair(repair) for repair in why_not.repairs]

    def _story(self, story: Story) -> doc.Story:
        causes = [self._dead_end(dead_end) for dead_end in story.dead_ends]
        sentences = [self._opening(story.wishes)]
        for cause in causes:
            sentences += [cause["text"], *(stopped["text"] for stopped in cause["causes"])]
        return {
            "wishes": list(story.wishes),
            "text": " ".join(dict.fromkeys(sentence for sentence in sentences if sentence)),
            "causes": causes,
        }

    def _opening(self, names: Sequence[str]) -> str:
        car, layout = named(self._request.chassis.name), named(self._request.layout.name)
        if not names:
            return said(
                "{layout} has no complete set of parts on {car}, whatever else is asked for.", layout=layout, car=car
            )
        asked = self._words.all_asked({name: self._wishes.values[name] for name in names})
        return said(
            "{asked}, {layout} has no complete set of parts on {car}.", asked=capital(asked), layout=layout, car=car
        )

    def _dead_end(self, dead_end: DeadEnd) -> doc.Cause:
        text = self._of_whole_bill(dead_end)
        if dead_end.spot is not None:
            text = said(_DEAD[dead_end.duty or "closed"], spot=place(dead_end.spot))
        causes = [self._stopped(stopped) for stopped in dead_end.stopped]
        return {"spot": dead_end.spot, "duty": dead_end.duty, "text": text, "causes": causes}

    def _of_whole_bill(self, dead_end: DeadEnd) -> str:
        if any(self._is_of_rail(stopped) for stopped in dead_end.stopped):
            return said("No rail will do.")
        return said("Each spot can be served by itself, but not all of them together.")

    def _is_of_rail(self, stopped: Stopped) -> bool:
        if stopped.finding.rule == pattern.RULE.id or stopped.sku == OWN_RAIL:
            return True
        return bool(stopped.sku) and self._revision.items[stopped.sku].kind == "rail"

    def _stopped(self, stopped: Stopped) -> doc.StoppedPart:
        told = broken(stopped.finding)
        return {
            "sku": stopped.sku or None,
            "rule": told["rule"],
            "text": self._sentence(stopped, told["text"]),
            "facts": told["facts"],
            "others": stopped.others,
        }

    def _sentence(self, stopped: Stopped, text: str) -> str:
        over_whole_bill = self._over_whole_bill(stopped.finding)
        if over_whole_bill is not None:
            return over_whole_bill
        part = f"{named(self._revision.name_of(stopped.sku))}: {text}" if stopped.sku else text
        if not stopped.others:
            return part
        more = numbered(
            stopped.others,
            "One other part is stopped for the same reason.",
            "{count} other parts are stopped for the same reason.",
            count=stopped.others,
        )
        return f"{part} {more}"

    def _over_whole_bill(self, finding: Finding) -> str | None:
        facts = finding.facts
        if finding.rule == wish.RULE.id and facts["wish"] == "max_price":
            lowest, most = (priced(facts[name], self._revision.currency) for name in ("lowest_price", "max_price"))
            return said(
                "The cheapest set costs at least {lowest}; at most {most} was asked for.", lowest=lowest, most=most
            )
        return None

    def _repair(self, repair: Repair) -> doc.Repair:
        things = [self._to_do(name, value) for name, value in repair.change.items()]
        text = numbered(
            repair.total_valid,
            "{things}: that gives one valid bill.",
            "{things}: that gives {count} valid bills.",
            things=capital(listed(things)),
            count=repair.total_valid,
        )
        return {"change": _plain(repair.change), "text": text, "total_valid": repair.total_valid}

    def _to_do(self, name: str, value: Any) -> str:
        given = self._wishes.values[name]
        if isinstance(value, (int, float)) and not isinstance(value, bool) and value != self._wishes.default(name):
            return self._words.changed(name, given, value)
        return self._words.without(name)


def _plain(change: Mapping[str, Any]) -> dict[str, Any]:
    """The change as a request would say it."""
    return {name: value.id if isinstance(value, Fuel) else value for name, value in change.items()}
