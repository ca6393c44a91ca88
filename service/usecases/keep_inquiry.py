"""Keep inquiries: a question that was not answered well, judged by this service itself, and how to reach who asked."""

import json
from datetime import UTC, datetime

from pydantic_core import to_json

from service.documents.answer import Answer
from service.documents.inquiry import JudgedInquiry, SentInquiry
from service.explain.missing import missing
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import answer_in
from service.usecases.ids import new_id
from service.usecases.kept_once import Keeper, Kept, digest_of
from service.usecases.library import Library
from service.usecases.moments import moment

KIND = "inquiry"


class Inquiries:
    """Judges questions in the editions of a library and keeps them. Safe to share by threads."""

    def __init__(self, library: Library, store: InquiryStore) -> None:
        self._library = library
        self._store = store
        self._keeper = Keeper(store, KIND, document_of)

    def of(self, account: str | None, *, sees_all: bool = False) -> "Inquiries":
        """The same, as an account sees it. `sees_all`: what others sent too."""
        return Inquiries(self._library, self._store.of(account, sees_all=sees_all))

    @property
    def store(self) -> InquiryStore:
        """Where they are kept, with what is personal: for the workshop alone."""
        return self._store

    def judge(self, asked: SentInquiry, idempotency_key: str | None = None) -> StoredInquiry | Kept:
        """Answer the question in the revision that it names, else in the newest, for `store_judged` to keep.

        A question that has bills may be sent as well. The same key with the same inquiry gives the stored one again.
        Raises RequestFaultsError, NoCatalogError, IdempotencyKeyReusedError.
        """
        digest = _digest(asked)
        before = self._keeper.before(digest, idempotency_key)
        if before is not None:
            return before
        received = datetime.now(UTC)
        document = inquiry_of(asked, self._answer(asked), received)
        return StoredInquiry(
            id=document["id"],
            revision=document["revision"],
            document=to_json(document).decode(),
            missing=document["missing"]["text"],
            contact=asked.contact,
            note=asked.note,
            created_at=received,
            idempotency_key=idempotency_key,
            body_digest=digest,
        )

    def store_judged(self, judged: StoredInquiry) -> Kept:
        """Keep what `judge` made, unless its key came in between. Raises IdempotencyKeyReusedError, FullError."""
        return self._keeper.save(judged)

    def recall(self, id_: str) -> Kept:
        """The stored inquiry of an id, without contact and note. Raises NotFoundError."""
        return self._keeper.recall(id_)

    def _answer(self, asked: SentInquiry) -> Answer:
        question = asked.request.model_copy(update={"limit": 1})  # the bills themselves are not kept
        try:
            return answer_in(self._library.edition_for(question.revision), question)
        except RequestFaultsError as error:
            raise RequestFaultsError(tuple(fault.within("/request") for fault in error.faults)) from error


def inquiry_of(asked: SentInquiry, answer: Answer, received: datetime) -> JudgedInquiry:
    """A new inquiry: a question with its answer, received at a moment in UTC."""
    return {
        "id": new_id(),
        "revision": answer["revision"],
        "currency": answer["currency"],
        "tax": answer["tax"],
        "received": moment(received),
        "request": asked.request.model_dump(exclude_defaults=True),
        "total_valid": answer["total_valid"],
        "missing": missing(answer["stories"], answer["total_valid"]),
        "conflicts": answer["conflicts"],
        "stories": answer["stories"],
        "repairs": answer["repairs"],
    }


def document_of(kept: StoredInquiry) -> str:
    """The JSON of an inquiry as it is given out: as it was judged, then what became of it."""
    became = {
        "status": kept.status,
        "reply": kept.reply,
        "answered": None if kept.answered_at is None else moment(kept.answered_at),
    }
    return f"{kept.document.rstrip().removesuffix('}')},{to_json(became).decode().removeprefix('{')}"


def _digest(asked: SentInquiry) -> str:
    """The same for the same inquiry, whether it says what has its default or not."""
    said = json.dumps(asked.model_dump(exclude_defaults=True), separators=(",", ":"), sort_keys=True)
    return digest_of(said)
