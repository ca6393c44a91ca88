"""Gather the standing questions that the service keeps beside its catalogs."""

import json
from collections import Counter
from typing import Protocol

from pydantic import ValidationError

from service.documents.request import BillRequest
from service.impact.questions import Kept, Standing, canonical
from service.storage.inquiries import StoredInquiry

MOST_ASKED = 5_000
"""So many different questions that were asked count at most, the last ones."""


class KeptInquiries(Protocol):
    """Where inquiries are kept."""

    def page(self, limit: int) -> list[StoredInquiry]:
        """Return the newest."""


def kept_questions(inquiries: KeptInquiries | None) -> Kept:
    """Return the questions of inquiries, each once, with how often it was sent."""
    if inquiries is None:
        return Kept()
    times = Counter[str]()
    requests: dict[str, BillRequest] = {}
    for kept in inquiries.page(MOST_ASKED):
        try:
            request = BillRequest.model_validate(json.loads(kept.document)["request"] | {"revision": None})
        except ValidationError:
            continue  # kept by a version that asked in another form
        text = canonical(request)
        requests[text] = request
        times[text] += 1
    return Kept(asked=[Standing("asked", request, times=times[text]) for text, request in requests.items()])
