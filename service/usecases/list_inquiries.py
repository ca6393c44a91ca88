"""List inquiries for the workshop: newest first, or by what was missing; and delete those that are done.

What is listed here has contact lines in it: it is for the maker's own people, never for the public API.
"""

import json
from dataclasses import dataclass

from service.documents.inquiry import Inquiry, InquiryGroup, InquiryStatus, WorkshopInquiry
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.usecases.errors import NotFoundError
from service.usecases.keep_inquiry import KIND, document_of
from service.usecases.moments import moment


@dataclass(frozen=True)
class InquiryPage:
    """Some inquiries, newest first; `next` is the id to go on after, None where there are no more."""

    inquiries: tuple[WorkshopInquiry, ...]
    next: str | None


def list_inquiries(
    store: InquiryStore,
    limit: int,
    after: str | None = None,
    missing: str | None = None,
    status: InquiryStatus | None = None,
) -> InquiryPage:
    """Up to `limit` inquiries that follow the one with the id `after`: all, those that lacked `missing`, those of a
    status.

    Raises NotFoundError where `after` is not, or no longer, there.
    """
    last = None if after is None else _known(store, after)
    found = store.page(limit + 1, last, missing, status)
    shown = found[:limit]
    return InquiryPage(tuple(map(told_inquiry, shown)), shown[-1].id if len(found) > limit and shown else None)


def group_inquiries(store: InquiryStore, each: int, status: InquiryStatus | None = None) -> list[InquiryGroup]:
    """What was missing, in all or those of a status: most frequent first, each with its newest `each` inquiries."""
    return [
        {
            "missing": group.missing,
            "count": group.count,
            "newest": moment(group.newest),
            "inquiries": list(map(told_inquiry, store.page(each, missing=group.missing, status=status))),
        }
        for group in store.groups(status)
    ]


def delete_inquiry(store: InquiryStore, id_: str) -> None:
    """Delete an inquiry with its contact line for good. Raises NotFoundError."""
    if not store.delete(id_):
        raise NotFoundError(KIND, id_)


def _known(store: InquiryStore, id_: str) -> StoredInquiry:
    found = store.get(id_)
    if found is None:
        raise NotFoundError(KIND, id_)
    return found


def told_inquiry(kept: StoredInquiry) -> WorkshopInquiry:
    """An inquiry as the workshop sees it."""
    document: Inquiry = json.loads(document_of(kept))
    return {**document, "contact": kept.contact, "note": kept.note}
