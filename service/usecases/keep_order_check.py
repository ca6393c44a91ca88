"""Keep order checks: check an order once and store what was answered, then give that again word for word."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from pydantic import ValidationError
from pydantic_core import to_json

from service.documents.money import money_of
from service.documents.order import OrderRequest
from service.documents.order_answer import Current, OrderCheck, OrderResult
from service.domain.revision import Revision
from service.domain.tongue import ENGLISH, Tongue, said, sentence, speaking, word
from service.explain.tongues import tongue_of
from service.storage.order_checks import OrderCheckStore, StoredOrderCheck
from service.usecases.check_order import check_order
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.ids import new_id
from service.usecases.kept_once import Keeper, Kept, digest_of
from service.usecases.library import Edition, Library
from service.usecases.recall_bill import edition_of_key

Check = Callable[[Edition, OrderRequest], OrderResult]
TongueFor = Callable[[Revision], Tongue | None]
"""Gives the tongue to word what is found in a revision in; None: English."""


def english(_: Revision) -> None:
    """Whatever the catalog says, English."""
    return


_CHANGES = {"add": ("sku", "qty"), "remove": ("sku", "qty"), "swap": ("out", "in", "qty", "spot")}


@dataclass(frozen=True)
class RecalledOrderCheck:
    """A check given again: `document` is the stored JSON with `current` as its last member; `languages`: of both."""

    revision: int
    document: bytes
    languages: str


class OrderChecks:
    """Checks orders in the editions of a library and keeps the results. Safe to share by threads."""

    def __init__(self, library: Library, store: OrderCheckStore, check: Check = check_order) -> None:
        self._library = library
        self._store = store
        self._keeper = Keeper(store, "order check", self._document)
        self._check = check

    def of(self, account: str | None) -> "OrderChecks":
        """The same, as an account sees it."""
        return OrderChecks(self._library, self._store.of(account), self._check)

    def judge(
        self, asked: OrderRequest, idempotency_key: str | None = None, tongue_for: TongueFor = english
    ) -> StoredOrderCheck | Kept:
        """Check an order in the revision that it names, else in the newest, for `store` to keep. `tongue_for` gives the
        tongue of a revision.

        The same key with the same request gives the stored result again, in the language that it was told in, whatever
        was published meanwhile.
        Raises RequestFaultsError, NoCatalogError, IdempotencyKeyReusedError, NotFoundError for the key of no bill.
        """
        request = _canonical(asked)
        digest = digest_of(request)
        before = self._keeper.before(digest, idempotency_key)
        if before is not None:
            return before
        edition = self._edition(asked)
        tongue = tongue_for(edition.revision)
        with speaking(tongue):
            result = self._check(edition, asked)
        id_ = new_id()
        told_in = {} if tongue is None else {"language": tongue.languages(to_json(result))}
        return StoredOrderCheck(
            id=id_,
            revision=edition.number,
            request=request,
            result=to_json({"id": id_, **told_in, **result}).decode(),
            created_at=datetime.now(UTC),
            idempotency_key=idempotency_key,
            body_digest=digest,
        )

    def store(self, judged: StoredOrderCheck) -> Kept:
        """Keep what `judge` made, unless its key came in between. Raises IdempotencyKeyReusedError, FullError."""
        return self._keeper.save(judged)

    def recall(self, id_: str) -> RecalledOrderCheck:
        """The stored check of an id, with how the newest revision judges the order. Raises NotFoundError."""
        kept = self._keeper.row(id_)
        languages = languages_of(kept.result.encode())
        edition = self._library.edition()
        tongue = None if languages == ENGLISH else tongue_of(edition.revision)
        if tongue is not None and tongue.tag != languages.partition(",")[0]:
            tongue = None
        with speaking(tongue):
            current = self._current(kept, edition)
        document = self._document(kept).encode().removesuffix(b"}") + b',"current":' + to_json(current) + b"}"
        told_in = languages if tongue is not None or ENGLISH in languages.split(", ") else f"{languages}, {ENGLISH}"
        return RecalledOrderCheck(kept.revision, document, told_in)

    def _document(self, kept: StoredOrderCheck) -> str:
        """The stored check; one that was stored before the money was told has it at its end."""
        if "currency" in json.loads(kept.result):
            return kept.result
        money = money_of(self._library.catalog(kept.revision).maker)
        return f"{kept.result.removesuffix('}')},{to_json(money).decode().removeprefix('{')}"

    def _edition(self, asked: OrderRequest) -> Edition:
        if asked.key is not None:
            return edition_of_key(self._library, asked.key)
        return self._library.edition_for(asked.revision)

    def _current(self, kept: StoredOrderCheck, edition: Edition) -> Current:
        then: OrderCheck = json.loads(kept.result)
        if edition.number == kept.revision:
            return _told(edition, then, then)
        try:
            now = self._check(edition, OrderRequest.model_validate_json(kept.request))
        except (RequestFaultsError, NotFoundError, ValidationError) as error:
            return {
                "revision": edition.number,
                "same": False,
                "verdict": None,
                "text": said(
                    "Catalog revision {number} cannot judge this order: {why}.",
                    number=edition.number,
                    why=_reason(error),
                ),
            }
        return _told(edition, then, now)


def _canonical(asked: OrderRequest) -> str:
    """The one JSON text of a request: what has its default is left out, as if it had not been told.

    But for the gauge: where nothing is said of it, one in the order tells that it is wanted.
    """
    told = asked.model_dump(exclude_defaults=True)
    if "gauge" in asked.model_fields_set:
        told["gauge"] = asked.gauge
    return json.dumps(told, separators=(",", ":"), sort_keys=True)


def _told(edition: Edition, then: OrderResult, now: OrderResult) -> Current:
    same = judgement(then) == judgement(now)
    if same:
        text = sentence("Catalog revision {number} judges this order the same.")
    elif now["verdict"] == then["verdict"]:
        text = sentence("Catalog revision {number} judges this order {verdict} as well, but with other changes.")
    else:
        text = sentence("Catalog revision {number} judges this order {verdict}, no longer {before}.")
    told = said(text, number=edition.number, verdict=word(now["verdict"]), before=word(then["verdict"]))
    return {"revision": edition.number, "same": same, "verdict": now["verdict"], "text": told}


def languages_of(document: bytes) -> str:
    """The languages of the texts of a check, by its stored JSON."""
    return str(json.loads(document).get("language", ENGLISH)) if b'"language":"' in document else ENGLISH


def judgement(result: Mapping[str, Any]) -> list[object]:
    """What must be alike for two results to say the same: verdict, layout and changes, in whatever words."""
    changes = [sorted([str(one[name]) for name in names] for one in result[kind]) for kind, names in _CHANGES.items()]
    return [result["verdict"], result["layout"], *changes]


def _reason(error: RequestFaultsError | NotFoundError | ValidationError) -> str:
    if isinstance(error, NotFoundError):
        return said("the {thing} that it was compared with is not valid there", thing=word(error.kind))
    if isinstance(error, ValidationError):
        return said("it was asked in a form that is not taken any more")
    return "; ".join(f"{fault.found} is not {fault.expected}" for fault in error.faults)
