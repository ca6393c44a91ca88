"""One sentence for each outcome, in the words of the trade."""

from collections import Counter
from collections.abc import Callable, Iterator

from service.documents.contract import Promises
from service.documents.contract_kinds import PROMISES
from service.documents.packed import PackedCatalog
from service.domain import units
from service.domain.money import priced
from service.domain.power import STOPS
from service.impact.outcomes import Outcome
from service.impact.questions import Question, Standing, StandingCase
from service.impact.reckoning import Judged
from service.impact.seen import NOTHING, SeenBill
from service.impact.wishes import asked_told, names_in

_PROMISES = {
    "keyed": "that the first bill stays the same",
    "currency": "the currency of the answer",
    "must_say": "words that the answer says",
}
"""How promises are told that have nothing to be named."""


KINDS = {
    "order_check": "an order check",
    "explain": "why a part is there or not",
    "layouts": "the layouts of a car",
    "item": "an item",
    "joint": "a joint",
}
"""What cases of other kinds than bills are about."""


class Words:
    """Words the outcomes between two catalogs: names are those of the later one, else of the earlier."""

    def __init__(self, before: PackedCatalog, after: PackedCatalog) -> None:
        self._names = names_in(after, before)

    def of(self, judged: Judged) -> str:
        """Return the sentence for a question with its outcome."""
        question = judged.question
        if not isinstance(question, Standing):
            return self._of_case(question, judged)
        told: dict[Outcome, Callable[[Judged], str]] = {
            "broken": self._broken,
            "lost": self._lost,
            "gained": self._gained,
            "new": lambda _: "a new question.",
            "gone": self._gone,
            "other best": self._other_best,
            "price": self._price,
            "power": self._power,
            "count": self._count,
            "same": lambda _: "the same answer.",
        }
        words = f"{asked_told(question.request, self._names)}: {told[judged.outcome](judged)}"
        return words if question.id is None else f"{_case(question)}, {words}"

    def _of_case(self, question: StandingCase, judged: Judged) -> str:
        """The sentence for a case of another kind than bills."""
        about = f"{_case(question)}, {KINDS[question.case.kind]}"
        match judged.outcome:
            case "broken":
                unkept = dict((judged.after or NOTHING).unkept)
                gone = "what it asks of is not there any more"
                told = [unkept.get(name, gone) for name in PROMISES if name in judged.broken]
                return f"{about}: a promise is broken: {'; '.join(dict.fromkeys(told))}."
            case "new":
                return f"{about}: a new question."
            case "gone":
                return f"{about}: not asked any more."
        return f"{about}: the same answer."

    def _broken(self, judged: Judged) -> str:
        return f"a promise is broken ({'; '.join(self._promised(judged))}); {self._beside(judged)}"

    def _promised(self, judged: Judged) -> Iterator[str]:
        """What was promised and is not so any more; of no bill nothing else is told."""
        promises, after = judged.question.promises, judged.after or NOTHING
        if not isinstance(promises, Promises):
            return
        if "has_bill" in judged.broken:
            yield "that there is a bill" if promises.has_bill else "that there is none"
            return
        first = after.best.skus if after.best else frozenset()
        listed = {sku for bill in after.bills for sku in bill.skus}
        if "contains" in judged.broken:
            yield f"that the first bill has {self._listed(Counter(set(promises.contains or ()) - first))}"
        if "never_contains" in judged.broken:
            yield f"that no bill has {self._listed(Counter(listed.intersection(promises.never_contains or ())))}"
        if "price" in judged.broken and promises.price is not None:
            yield f"that it costs {self._money(promises.price.at_least)} to {self._money(promises.price.at_most)}"
        yield from (words for name, words in _PROMISES.items() if name in judged.broken)

    def _beside(self, judged: Judged) -> str:
        """What became of the best bill, whatever was promised."""
        old, new = (judged.before or NOTHING).best, (judged.after or NOTHING).best
        if old is None or new is None:
            return "no bill is left." if old else "there is a bill now." if new else "there is no bill."
        if old.body != new.body:
            return self._other_best(judged)
        return self._price(judged) if old.price != new.price else "the best bill is the same."

    def _lost(self, judged: Judged) -> str:
        best = (judged.before or NOTHING).best
        return f"no bill is left; there was one for {self._money(best.price) if best else 'nothing'}."

    def _gained(self, judged: Judged) -> str:
        best = (judged.after or NOTHING).best
        return f"there is a bill now, for {self._money(best.price) if best else 'nothing'}."

    def _gone(self, judged: Judged) -> str:
        had = (judged.before or NOTHING).best
        return "not asked any more, though it had a bill." if had else "not asked any more."

    def _other_best(self, judged: Judged) -> str:
        old, new = _both(judged)
        added, dropped = _parts(new) - _parts(old), _parts(old) - _parts(new)
        dearer = self._dearer(old, new)
        if added and dropped:
            return f"the best bill takes {self._listed(added)} instead of {self._listed(dropped)}, {dearer}."
        if added or dropped:
            return f"the best bill {'takes' if added else 'does without'} {self._listed(added or dropped)}, {dearer}."
        return f"the best bill has the same parts in other places, {dearer}."

    def _price(self, judged: Judged) -> str:
        old, new = _both(judged)
        return f"the same bill costs {self._money(new.price)}, {self._dearer(old, new)}."

    def _power(self, judged: Judged) -> str:
        old, new = _both(judged)
        return f"the best bill carries {_power_of(new)}; before, it carried {_power_of(old)}."

    def _count(self, judged: Judged) -> str:
        before, after = judged.before or NOTHING, judged.after or NOTHING
        return f"{after.total_valid} valid bills instead of {before.total_valid}; the best is the same."

    def _dearer(self, old: SeenBill, new: SeenBill) -> str:
        more = new.price - old.price
        if more == 0:
            return "at the same price"
        return f"{self._money(abs(more))} {'dearer' if more > 0 else 'cheaper'}"

    def _money(self, minor_units: int) -> str:
        return priced(minor_units, self._names.currency)

    def _listed(self, skus: Counter[str]) -> str:
        counted = sorted(skus.items())
        return " and ".join(
            self._names.name(sku) if count == 1 else f"{count} x {self._names.name(sku)}" for sku, count in counted
        )


def _both(judged: Judged) -> tuple[SeenBill, SeenBill]:
    old, new = (judged.before or NOTHING).best, (judged.after or NOTHING).best
    if old is None or new is None:
        raise ValueError(f"{judged.outcome} is told of two bills")
    return old, new


def _parts(bill: SeenBill) -> Counter[str]:
    """The parts of a bill, each as often as it stands in a chain; the rail once."""
    return Counter([bill.body.rail, *(sku for _, chain in bill.body.chains for sku in chain)])


def _power_of(bill: SeenBill) -> str:
    if bill.carries_kw is None or bill.limited_by not in STOPS:
        return "a power that is not known"
    return f"{units.power(bill.carries_kw)} ({bill.limited_by})"


def _case(question: Question) -> str:
    """How a case is called, by whose it is."""
    return f"case {question.id}" if question.account is None else f"case {question.id} of {question.account}"
