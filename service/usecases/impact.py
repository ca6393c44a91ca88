"""Work out the impact of one catalog against another: every standing question is asked of both."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import replace

from service.documents import impact as doc
from service.documents.catalog import Catalog
from service.documents.money import InMoney, money_of
from service.domain.answer import Bill
from service.domain.request import Request
from service.domain.work import Meter, metered
from service.explain.figures import figure_of
from service.explain.lines import told_lines
from service.explain.telling import Telling
from service.impact.changes import Change
from service.impact.footprint import Footprints, Texts
from service.impact.promised import unkept_of_every_kind
from service.impact.questions import Kept, Question, Standing, StandingCase, told_request
from service.impact.reckoning import Impact, Judged, reckon
from service.impact.seen import NOTHING, Body, Seen, SeenBill
from service.impact.words import Words
from service.settings import WORK_LIMIT
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import found_in, key_maker
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request, with_skus
from service.usecases.standing_cases import footprint_of, seen_of

NewMeter = Callable[[], Meter]
"""Makes the meter of one question."""


def usual_meter() -> Meter:
    """Return a meter that ends a question where the service would."""
    return Meter(WORK_LIMIT)


class EditionSide:
    """An edition that standing questions are asked of. What its catalog does not understand has no bill there."""

    def __init__(self, edition: Edition, texts: Texts, new_meter: NewMeter) -> None:
        self._edition = edition
        self._new_meter = new_meter
        self._footprints = Footprints(edition.document, edition.revision, texts)

    @property
    def catalog(self) -> Catalog:
        return self._edition.document

    def footprint(self, question: Question) -> Hashable:
        """Return all that the answer to a question hangs on; None where it is not understood."""
        if isinstance(question, StandingCase):
            return footprint_of(question.case, self._edition, self._footprints)
        request = self._resolved(question)
        if request is None:
            return None
        promises, footprint = question.promises, self._footprints.of(request)
        if promises is None or (promises.must_say is None and promises.currency is None):
            return footprint
        return footprint, self._edition.catalog.maker.currency, object() if promises.must_say else None

    def seen(self, question: Question) -> Seen:
        """Ask a question. Raises TooCostlyError."""
        if isinstance(question, StandingCase):
            with metered(self._new_meter()):
                return seen_of(question.case, self._edition)
        request = self._resolved(question)
        if request is None:
            return NOTHING
        if question.promises is None:
            request = replace(request, limit=1)
        with metered(self._new_meter()):
            answer = self._edition.engine.answer(request)
            bills = tuple(self._seen(bill, request, question) for bill in answer.bills)
            return Seen(answer.total_valid, bills, self._unkept(question))

    def _unkept(self, question: Standing) -> tuple[tuple[str, str], ...]:
        """What is promised of the answer beside its bills and is not kept."""
        promises = question.promises
        if promises is None:
            return ()
        told: Mapping[str, object] = {"currency": self._edition.catalog.maker.currency}
        if promises.must_say is not None:
            told = found_in(self._edition, question.request, "reasons")
        return tuple((one.promise, one.what) for one in unkept_of_every_kind(promises, told))

    def _resolved(self, question: Standing) -> Request | None:
        try:
            return resolve_request(question.request, self._edition.revision)
        except RequestFaultsError:
            return None

    def _seen(self, bill: Bill, request: Request, question: Standing) -> SeenBill:
        power = self._edition.assessor.power(bill, request)
        least = power.least
        asked = with_skus(question.request, self._edition.revision)
        return SeenBill(
            body=body_of(bill),
            price=bill.price,
            key=key_maker(self._edition.number, asked)(bill),
            carries_kw=figure_of(power.carries_kw),
            limited_by=None if least is None else least.what,
            skus=self._skus(bill, request) if question.promises else frozenset(),
        )

    def _skus(self, bill: Bill, request: Request) -> frozenset[str]:
        telling = Telling(request, self._edition.revision, is_silent=True)
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
) -> Impact:
    """Return the impact of one edition against another.

    `kept`: the standing questions that the service keeps beside its catalogs. `explained`: whether it is worked out
    which changes did it.
    """
    texts = Texts()

    def side(edition: Edition) -> EditionSide:
        return EditionSide(edition, texts, new_meter)

    def reopened(catalog: Catalog) -> EditionSide:
        return side(Edition(after.number, catalog))

    return reckon(side(before), side(after), reopened, kept, explained=explained)


def impact_told(
    impact: Impact, before: Edition, after: Edition, names: tuple[int | str, int | str] | None = None
) -> doc.ImpactAnswer:
    """Return the document of an impact, whole; `names`: what the two are called, else their numbers. Of what is no
    revision no keys are told."""
    words = Words(before.document, after.document)
    from_, to = names or (before.number, after.number)
    has_keys = isinstance(from_, int), isinstance(to, int)
    money = money_of(before.revision), money_of(after.revision)
    return {
        "from": from_,
        "to": to,
        "counts": {str(outcome): count for outcome, count in impact.counts.items()},
        "needs_accept": impact.needs_accept,
        "changes": [change_told(change) for change in impact.changes],
        "questions": [_question(judged, words, money, has_keys) for judged in impact.judged],
        "not_asked": [_asked(question) for question in impact.not_asked],
        "next": None,
    }


def _asked(question: Question) -> dict[str, object]:
    return told_request(question.request) if isinstance(question, Standing) else question.request


def change_told(change: Change) -> doc.CatalogChange:
    """Return the document of a change."""
    return {"kind": change.kind, "id": change.id, "what": change.what, "fields": list(change.fields)}


def _question(
    judged: Judged, words: Words, money: tuple[InMoney, InMoney], has_keys: tuple[bool, bool]
) -> doc.ImpactQuestion:
    question = judged.question
    told: doc.ImpactQuestion = {
        "origin": question.origin,
        "request": _asked(question),
        "outcome": judged.outcome,
        "before": _answer(judged.before, money[0], has_key=has_keys[0]) if isinstance(question, Standing) else None,
        "after": _answer(judged.after, money[1], has_key=has_keys[1]) if isinstance(question, Standing) else None,
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


def _answer(seen: Seen | None, money: InMoney, *, has_key: bool) -> doc.SeenAnswer | None:
    if seen is None:
        return None
    best = seen.best
    return {
        **money,
        "total_valid": seen.total_valid,
        "price": None if best is None else best.price,
        "key": best.key if best is not None and has_key else None,
        "carries_kw": None if best is None else best.carries_kw,
    }
