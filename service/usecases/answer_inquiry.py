"""Answer an inquiry: its status, and a reply with its time, under the state of it that whoever answers has seen."""

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from service.documents.inquiry import InquiryChange
from service.documents.rendering import rendered
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.usecases.errors import EditedMeanwhileError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.keep_inquiry import KIND, document_of
from service.usecases.kept_once import Kept
from service.usecases.moments import moment
from service.usecases.preconditions import ANY


def tag_of(document: bytes) -> str:
    """The strong entity tag of an inquiry: that with which it is given out."""
    return f'"{hashlib.sha256(document).hexdigest()[:32]}"'


def answer_inquiry(store: InquiryStore, id_: str, asked: InquiryChange, tags: Sequence[str]) -> Kept:
    """Change an inquiry that has one of these tags (`ANY`: whatever it has).

    Raises NotFoundError, EditedMeanwhileError where it has another one, RequestFaultsError for an answer without words.
    """
    now = datetime.now(UTC).replace(microsecond=0)

    def change(kept: StoredInquiry) -> StoredInquiry:
        tag = tag_of(document_of(kept).encode())
        if not {ANY, tag}.intersection(tags):
            raise EditedMeanwhileError(", ".join(tags), tag, f"Nothing was done: the inquiry is {_state(kept)}.")
        return _changed(kept, asked, now)

    changed = store.change(id_, change)
    if changed is None:
        raise NotFoundError(KIND, id_)
    return Kept(changed.id, changed.revision, document_of(changed).encode(), again=True)


def _changed(kept: StoredInquiry, asked: InquiryChange, now: datetime) -> StoredInquiry:
    told = asked.model_fields_set
    reply = asked.reply if "reply" in told else kept.reply
    status = asked.status or ("answered" if asked.reply is not None else kept.status)
    if status == "answered" and reply is None:
        raise RequestFaultsError((RequestFault("/reply", rendered(None), "the reply, as the status is answered"),))
    at = kept.answered_at if reply == kept.reply else now
    return replace(kept, status=status, reply=reply, answered_at=None if reply is None else at)


def _state(kept: StoredInquiry) -> str:
    return kept.status if kept.answered_at is None else f"{kept.status}, its reply is of {moment(kept.answered_at)}"
