"""Work out the impact of one catalog against another: every standing question is asked of both."""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import replace
from threading import Lock

from service.documents import impact as doc
from service.documents.money import InMoney, money_of
from service.documents.packed import PackedCatalog
from service.domain.answer import Bill
from service.domain.request import Request
from service.domain.work import Meter, metered
from service.explain.figures import figure_of
from service.explain.lines import told_lines
from service.explain.telling import Telling
from service.impact.changes import Change
from service.impact.footprint import Footprints
from service.impact.promised import unkept_of_every_kind
from service.impact.questions import Kept, Question, Standing, StandingCase, told_request
from service.impact.reckoning import Impact, Judged, reckon
from service.impact.seen import NOTHING, Body, Seen, SeenBill
from service.impact.words import Words
from service.settings import WORK_LIMIT
from service.solver.engine import BillName
from service.usecases.bill_keys import KeyMaker
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import found_in
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request, with_skus
from service.usecases.standing_cases import footprint_of, seen_of

NewMeter = Callable[[], Meter]
"""Makes the meter of one question."""
MOST_ANSWERS = 20_000
MOST_EDITIONS = 6
MOST_ITEMS = 30_000
"""So many items at most stand in the editions that are remembered, but for the last one."""


def usual_meter() -> Meter:
    """Return a meter that ends a question where the service would."""
    return Meter(WORK_LIMIT)


class Remembered:
    """Answers to standing questions by all that they hang on, and the editions that were asked last: so what one
    impact found serves the next. Bounded; safe to share by threads."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._answers: OrderedDict[Hashable, Seen] = OrderedDict()
        self._sides: OrderedDict[str, _Ready] = OrderedDict()

    def ready(self, edition: Edition) -> "_Ready":
        """What is known of the catalog of an edition: of an equal one that was asked lately, if there was one."""
        digest = edition.catalog.digest()
        with self._lock:
            ready = self._sides.get(digest)
        made = ready or _Ready(edition)
        with self._lock:
            ready = self._sides.setdefault(digest, made)
            self._sides.move_to_end(digest)
            while len(self._sides) > 1 and self._is_too_much():
                self._sides.popitem(last=False)
        return ready

    def answer(self, named: Hashable, ask: Callable[[], Seen]) -> Seen:
        """The answer of that name, asked where it is not known. Raises as `ask` does."""
        with self._lock:
            known = self._answers.get(named)
            if known is not None:
                self._answers.move_to_end(named)
                return known
        seen = ask()
        with self._lock:
            self._answers[named] = seen
            while len(self._answers) > MOST_ANSWERS:
                self._answers.popitem(last=False)
        return seen

    def _is_too_much(self) -> bool:
        items = sum(len(ready.edition.catalog.items) for ready in self._sides.values())
        return len(self._sides) > MOST_EDITIONS or items > MOST_ITEMS


class _Ready:
    """An edition, with what its questions hang on."""

    def __init__(self, edition: Edition) -> None:
        self.edition = edition
        self.footprints = Footprints(edition.catalog, edition.revision)
        self._asked: dict[str, tuple[Request, Hashable] | None] = {}
        self._cases: dict[Hashable, Hashable] = {}

    def asked(self, question: Standing) -> tuple[Request, Hashable] | None:
        """A question as the edition understands it, and its footprint; None where it does not."""
        if question.text not in self._asked:
            try:
                request = resolve_request(question.request, self.edition.revision)
                self._asked[question.text] = request, self.footprints.of(request)
            except RequestFaultsError:
                self._asked[question.text] = None
        return self._asked[question.text]

    def hung_on(self, question: StandingCase) -> Hashable:
        """The footprint of a case of another kind; None where the edition does not understand it."""
        named = question.text, question.promises.must_say is None
        if named not in self._cases:
            self._cases[named] = footprint_of(question.case, self.edition, self.footprints)
        return self._cases[named]


class EditionSide:
    """An edition that standing questions are asked of. What its catalog does not understand has no bill there."""

    def __init__(self, edition: Edition, remembered: Remembered, new_meter: NewMeter = usual_meter) -> None:
        self._ready = remembered.ready(edition)
        self._remembered = remembered
        self._new_meter = new_meter

    @property
    def catalog(self) -> PackedCatalog:
        return self._ready.edition.catalog

    def footprint(self, question: Question) -> Hashable:
        """Return all that the answer to a question hangs on; None where it is not understood."""
        if isinstance(question, StandingCase):
            return self._ready.hung_on(question)
        asked = self._ready.asked(question)
        if asked is None:
            return None
        promises, footprint = question.promises, asked[1]
        if promises is None or (promises.must_say is None and promises.currency is None):
            return footprint
        return footprint, self.catalog.maker.currency, self.catalog.digest() if promises.must_say else None

    def seen(self, question: Question) -> Seen:
        """Ask a question, or recall what was answered where all that it hangs on was the same. Raises
        TooCostlyError."""
        footprint, promised = self.footprint(question), _promised_beside(question)
        if isinstance(question, StandingCase):
            if footprint is None:
                return self._ask_case(question)
            return self._remembered.answer((question.text, promised, footprint), lambda: self._ask_case(question))
        asked = self._ready.asked(question)
        if asked is None:
            return NOTHING
        named = question.text, promised, footprint
        return self._remembered.answer(named, lambda: self._ask(asked[0], question))

    def _ask(self, request: Request, question: Standing) -> Seen:
        if question.promises is None:
            request = replace(request, limit=1)
        edition = self._ready.edition
        with metered(self._new_meter()):
            answer = edition.engine.answer(request)
            bills = tuple(_seen(edition, bill, request, question) for bill in answer.bills)
            return Seen(answer.total_valid, bills, _unkept(edition, question))

    def _ask_case(self, question: StandingCase) -> Seen:
        with metered(self._new_meter()):
            return seen_of(question.case, self._ready.edition)


def _promised_beside(question: Question) -> Hashable:
    """What of the promises is held to the answer when it is asked, so that it is another answer with others; None
    where nothing at all is promised, and no more than the best bill is looked at."""
    if isinstance(question, StandingCase):
        return question.promises.model_dump_json(exclude_none=True)
    promises = question.promises
    return None if promises is None else (promises.currency, tuple(promises.must_say or ()))


def _unkept(edition: Edition, question: Standing) -> tuple[tuple[str, str], ...]:
    """What is promised of an answer beside its bills and is not kept."""
    promises = question.promises
    if promises is None:
        return ()
    told: Mapping[str, object] = {"currency": edition.catalog.maker.currency}
    if promises.must_say is not None:
        told = found_in(edition, question.request, "reasons")
    return tuple((one.promise, one.what) for one in unkept_of_every_kind(promises, told))


def _seen(edition: Edition, bill: Bill, request: Request, question: Standing) -> SeenBill:
    power = edition.assessor.power(bill, request)
    least = power.least
    return SeenBill(
        body=body_of(bill),
        price=bill.price,
        placement=bill.placement,
        carries_kw=figure_of(power.carries_kw),
        limited_by=None if least is None else least.what,
        skus=_skus(edition, bill, request) if question.promises else frozenset(),
    )


def _skus(edition: Edition, bill: Bill, request: Request) -> frozenset[str]:
    telling = Telling(request, edition.revision, is_silent=True)
    return frozenset(line.item.sku for line in told_lines(bill, telling))


def body_of(bill: Bill) -> Body:
    """Return what makes a bill the same in two revisions."""
    chains = sorted((placed.spot, placed.chain.skus) for placed in bill.chains)
    return Body(bill.rail.sku, tuple(sorted(bill.duties.items())), tuple(chains))


def impact_of(
    before: Edition,
    after: Edition,
    kept: Kept = Kept(),  # noqa: B008 it never changes
    *,
    explained: bool = True,
    new_meter: NewMeter = usual_meter,
    remembered: Remembered | None = None,
) -> Impact:
    """Return the impact of one edition against another.

    `kept`: the standing questions that the service keeps beside its catalogs. `explained`: whether it is worked out
    which changes did it. `remembered`: what earlier impacts found.
    """
    known = remembered or Remembered()

    def side(edition: Edition) -> EditionSide:
        return EditionSide(edition, known, new_meter)

    def reopened(catalog: PackedCatalog) -> EditionSide:
        return side(Edition(after.number, catalog))

    return reckon(side(before), side(after), reopened, kept, explained=explained)


def impact_told(
    impact: Impact, before: Edition, after: Edition, names: tuple[int | str, int | str] | None = None
) -> doc.ImpactAnswer:
    """Return the document of an impact, whole; `names`: what the two are called, else their numbers. Of what is no
    revision no keys are told."""
    words = Words(before.catalog, after.catalog)
    from_, to = names or (before.number, after.number)
    keyed = before if isinstance(from_, int) else None, after if isinstance(to, int) else None
    money = money_of(before.revision), money_of(after.revision)
    return {
        "from": from_,
        "to": to,
        "counts": {str(outcome): count for outcome, count in impact.counts.items()},
        "needs_accept": impact.needs_accept,
        "changes": [change_told(change) for change in impact.changes],
        "questions": [_question(judged, words, money, keyed) for judged in impact.judged],
        "not_asked": [_asked(question) for question in impact.not_asked],
        "next": None,
    }


def _asked(question: Question) -> dict[str, object]:
    return told_request(question.request) if isinstance(question, Standing) else question.request


def change_told(change: Change) -> doc.CatalogChange:
    """Return the document of a change."""
    return {"kind": change.kind, "id": change.id, "what": change.what, "fields": list(change.fields)}


def _question(
    judged: Judged, words: Words, money: tuple[InMoney, InMoney], keyed: tuple[Edition | None, Edition | None]
) -> doc.ImpactQuestion:
    question = judged.question
    told: doc.ImpactQuestion = {
        "origin": question.origin,
        "request": _asked(question),
        "outcome": judged.outcome,
        "before": _answer(judged.before, question, money[0], keyed[0]),
        "after": _answer(judged.after, question, money[1], keyed[1]),
        "text": words.of(judged),
        "because": [change_told(change) for change in judged.because],
    }
    if isinstance(question, StandingCase):
        told["kind"] = question.case.kind
    if question.id is not None:
        told["id"] = question.id
    if question.account is not None:
        told["account"] = question.account
    return told


def _answer(seen: Seen | None, question: Question, money: InMoney, keyed: Edition | None) -> doc.SeenAnswer | None:
    if seen is None or isinstance(question, StandingCase):
        return None
    best = seen.best
    return {
        **money,
        "total_valid": seen.total_valid,
        "price": None if best is None else best.price,
        "key": None if best is None or keyed is None else _key(best, question, keyed),
        "carries_kw": None if best is None else best.carries_kw,
    }


def _key(bill: SeenBill, question: Standing, edition: Edition) -> str:
    gauge = next((spot for spot, duty in bill.body.duties if duty == "gauge"), None)
    name = BillName(bill.body.rail, bill.placement, gauge, dict(bill.body.chains))
    return KeyMaker(edition.number, with_skus(question.request, edition.revision)).key_of(name)
