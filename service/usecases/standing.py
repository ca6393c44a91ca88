"""Gather the standing questions that the service keeps beside its catalogs."""

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from pydantic import ValidationError

from service.documents.request import BillRequest
from service.impact.questions import Kept, Standing, canonical
from service.storage.asked_questions import AskedQuestionStore
from service.storage.engine import Database
from service.storage.inquiries import OPEN, InquiryStore
from service.storage.keeping import Keeping
from service.storage.order_checks import OrderCheckStore
from service.storage.partner_cases import PartnerCaseStore
from service.usecases.partner_cases import standing_of

MOST_ASKED = 5_000
"""So many different questions that were asked count at most, the last ones; and so many open inquiries."""
_LONGEST = 4_000
"""What a program makes up may be longer than any person's question; it is not kept."""


@dataclass(frozen=True)
class KeptQuestions:
    """Where standing questions are kept, and order checks; what is None is not kept."""

    partners: PartnerCaseStore | None = None
    asked: AskedQuestionStore | None = None
    inquiries: InquiryStore | None = None
    orders: OrderCheckStore | None = None

    def gather(self) -> Kept:
        """Return partners' cases, and what was asked: each question once, with how often."""
        times = Counter[str]()
        requests: dict[str, BillRequest] = {}
        for request, count in (*self._counted(), *self._inquired()):
            text = canonical(request)
            requests[text] = request
            times[text] += count
        partners = () if self.partners is None else [standing_of(row) for row in self.partners.all()]
        return Kept(partners, [Standing("asked", one, times=times[text]) for text, one in requests.items()])

    def without_asked(self) -> "KeptQuestions":
        """Partners' cases alone: those that are asked first."""
        return KeptQuestions(self.partners)

    def newest(self) -> tuple[object, ...]:
        """Return what is another one once a case or an inquiry comes, is changed or goes: what is reckoned from these
        questions holds no longer then."""
        cases = () if self.partners is None else [(row.account, row.id, row.created_at) for row in self.partners.all()]
        inquiries = () if self.inquiries is None else self.inquiries.page(1, status=OPEN)
        return *cases, *(one.id for one in inquiries)

    def _counted(self) -> Iterator[tuple[BillRequest, int]]:
        for one in () if self.asked is None else self.asked.last(MOST_ASKED):
            request = _request(json.loads(one.request))
            if request is not None:
                yield request, one.times

    def _inquired(self) -> Iterator[tuple[BillRequest, int]]:
        for kept in () if self.inquiries is None else self.inquiries.page(MOST_ASKED, status=OPEN):
            request = _request(json.loads(kept.document)["request"])
            if request is not None:
                yield request, 1


def questions_in(database: Database, keeping: Keeping) -> KeptQuestions:
    """The standing questions that a database keeps."""
    return KeptQuestions(
        PartnerCaseStore(database),
        AskedQuestionStore(database),
        InquiryStore(database, keeping),
        OrderCheckStore(database, keeping),
    )


def count_asked(store: AskedQuestionStore, requests: Iterable[BillRequest]) -> None:
    """Count questions that were asked just now; how many bills were to be listed makes no other question."""
    times = Counter(canonical(_unlimited(request)) for request in requests)
    counted = {text: count for text, count in times.items() if len(text) <= _LONGEST}
    if counted:
        store.add(counted, datetime.now(UTC), MOST_ASKED)


def _request(said: dict[str, object]) -> BillRequest | None:
    """A request that was kept; None where a version kept it that asked in another form, or it is about no car of the
    catalog."""
    try:
        return _unlimited(BillRequest.model_validate(said))
    except ValidationError:
        return None


def _unlimited(request: BillRequest) -> BillRequest:
    return request.model_copy(update={"limit": BillRequest.model_fields["limit"].default, "revision": None})
