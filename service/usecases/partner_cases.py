"""Partners' cases: what a partner counts on, checked against the newest catalog and kept under its account's name."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from pydantic import TypeAdapter

from service.documents.arriving import Part
from service.documents.contract import ACCOUNT, FileCase
from service.documents.contract_integrity import case_faults
from service.documents.contract_kinds import PROMISES, AnyCase, ExplainCase, KeptCase, OtherCase, case_of
from service.documents.money import money_of
from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.impact.promised import names_promised
from service.impact.questions import Question, Standing, StandingCase, request_of
from service.impact.seen import Body, kept_beside, kept_promises
from service.storage.errors import RowsRefusedError
from service.storage.partner_cases import PartnerCaseStore, StoredCase
from service.usecases.bill_keys import KeyMaker, NoKeyError
from service.usecases.errors import ConflictError, FullError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.impact import EditionSide, Remembered, body_of
from service.usecases.library import Edition, Library
from service.usecases.long_work import begin_long_work
from service.usecases.recall_bill import held_by, recall
from service.usecases.resolve_request import resolve_request, with_skus
from service.usecases.standing_cases import answer_to, faults_of_promises

MOST_OF_ACCOUNT = 100
MOST_CASES = 1_000
MOST_BYTES = 16_000
"""So long is a case at most, as JSON: a key takes the most of it."""
KIND = "case of a partner"
_BODY = TypeAdapter(Body)
_ACCOUNT = re.compile(ACCOUNT)


@dataclass(frozen=True)
class CheckedCase:
    """A case that can be kept, and what is told of it."""

    row: StoredCase
    told: KeptCase


class PartnerCases:
    """Checks cases against a library and keeps them. Safe to share by threads.

    `account`: whose cases are seen and kept; None: those of whatever account a case names. `sees_all`: others' are seen
    too.
    """

    def __init__(
        self, library: Library, store: PartnerCaseStore, account: str | None = None, *, sees_all: bool = False
    ) -> None:
        self._library = library
        self._store = store
        self._account = account
        self._sees_all = sees_all

    def of(self, account: str | None, *, sees_all: bool = False) -> "PartnerCases":
        """The same, as an account sees it."""
        return PartnerCases(self._library, self._store, account, sees_all=sees_all)

    def check(self, case: AnyCase) -> CheckedCase:
        """Look at a case in the newest revision, and ask its question, but keep nothing.

        Raises RequestFaultsError for what it names and the catalog has not, and for promises that contradict one
        another; TooCostlyError, NoCatalogError.
        """
        begin_long_work()
        asked, place = (case.request, "") if not isinstance(case, ExplainCase) else (case.request.request, "/request")
        edition = self._library.edition_for(asked.revision, f"/request{place}/revision")
        account = self._account if case.account is None else case.account
        body, faults = None, [*self._account_faults(account), *_faults(case, edition)]
        case = case.model_copy(update={"account": account})
        if not faults and isinstance(case, FileCase) and case.promises.key is not None:
            body = self._body(case, case.promises.key, faults)
        document = case.model_dump_json(exclude_defaults=True)
        if len(document) > MOST_BYTES:
            faults.append(RequestFault("", f"{len(document)} bytes", f"a case of at most {MOST_BYTES} bytes"))
        if faults:
            raise RequestFaultsError(tuple(faults))
        row = StoredCase(account or "", case.id, document, _written(body), datetime.now(UTC))
        question = standing_of(row)
        seen = EditionSide(edition, Remembered()).seen(question)
        promised = names_promised(case.promises)
        not_kept = promised - (
            kept_promises(case.promises, seen, body) if isinstance(case, FileCase) else kept_beside(case.promises, seen)
        )
        return CheckedCase(
            row,
            KeptCase(
                case=case,
                revision=edition.number,
                **money_of(edition.revision),
                not_kept=[x for x in PROMISES if x in not_kept],
            ),
        )

    def keep(self, checked: CheckedCase) -> bool:
        """Keep a case that was checked; False where it is kept already.

        Raises ConflictError where another one has its id, FullError.
        """
        row = checked.row
        kept = self._store.get(row.account, row.id)
        if kept is None:
            self._check_room(row.account)
            try:
                self._store.add(row)
            except RowsRefusedError:
                kept = self._store.get(row.account, row.id)
                if kept is None:
                    raise
            else:
                return True
        if kept.document != row.document:
            raise ConflictError("case-exists", f"Another case {rendered(row.id)} of {row.account} is kept already.")
        return False

    def listed(self) -> list[AnyCase]:
        """The cases of all partners that are seen here, by account and id."""
        return [case_of(row.document) for row in self._store.all() if self._sees(row.account)]

    def find(self, account: str, id_: str) -> AnyCase:
        """A case of an account. Raises NotFoundError."""
        row = self._store.get(account, id_) if self._sees(account) else None
        if row is None:
            raise NotFoundError(KIND, f"{account}/{id_}")
        return case_of(row.document)

    def delete(self, account: str, id_: str) -> None:
        """Delete a case of the own account. Raises NotFoundError."""
        if not self._is_own(account) or not self._store.delete(account, id_):
            raise NotFoundError(KIND, f"{account}/{id_}")

    def _check_room(self, account: str) -> None:
        for of, most, words in ((account, MOST_OF_ACCOUNT, "of this account "), (None, MOST_CASES, "")):
            if self._store.count(of) >= most:
                raise FullError(f"{most} cases {words}are kept already: delete some")

    def _is_own(self, account: str) -> bool:
        return self._account in (None, account)

    def _sees(self, account: str) -> bool:
        return self._sees_all or self._is_own(account)

    def _account_faults(self, account: str | None) -> Iterator[RequestFault]:
        """What is wrong with whose case it is."""
        if account is None:
            yield RequestFault("/account", "nothing", "a name for the account, as no key tells it")
        elif not self._is_own(account):
            yield RequestFault("/account", rendered(account), f"{rendered(self._account or '')}, or to be left out")
        elif not _ACCOUNT.fullmatch(account):
            yield RequestFault(
                "/account", rendered(account), "a key of an account of letters, digits, ., _ and - alone"
            )

    def _body(self, case: FileCase, key: str, faults: list[RequestFault]) -> Body | None:
        """The very bill that a key promises, which must be one of the case's question."""
        try:
            bill, held = recall(self._library, key), held_by(key)
        except NotFoundError:
            faults.append(RequestFault("/promises/key", rendered(key), "the key of a valid bill"))
            return None
        asked = with_skus(request_of(case.request), bill.edition.revision)
        if KeyMaker(held.revision, asked).key_of(held.bill) != key:
            faults.append(RequestFault("/promises/key", rendered(key), "the key of a bill of this very question"))
        return body_of(bill.bill)


def standing_of(row: StoredCase) -> Question:
    """The standing question of a case that is kept."""
    case = case_of(row.document)
    if not isinstance(case, FileCase):
        return StandingCase("partner", case, row.account)
    body = None if row.body is None else _BODY.validate_json(row.body)
    return Standing("partner", request_of(case.request), case.promises, case.id, row.account, body)


def _faults(case: AnyCase, edition: Edition) -> Iterator[RequestFault]:
    part = Part((), case.model_dump(mode="json", exclude_none=True))
    yield from (RequestFault(x.pointer, x.found, x.expected) for x in case_faults(part))
    if not isinstance(case, FileCase):
        yield from _faults_of_other(case, edition)
        return
    revision = edition.revision
    try:
        resolve_request(request_of(case.request), revision)
    except RequestFaultsError as error:
        yield from (fault.within("/request") for fault in error.faults)
    for name in ("contains", "never_contains"):
        for index, sku in enumerate(getattr(case.promises, name) or ()):
            if sku not in revision.items:
                alike = tuple(nearest(sku, revision.items))
                yield RequestFault(f"/promises/{name}/{index}", rendered(sku), "the sku of an item", alike)


def _faults_of_other(case: OtherCase, edition: Edition) -> Iterator[RequestFault]:
    try:
        answer_to(case, edition)
    except RequestFaultsError as error:
        yield from (fault.within("/request") for fault in error.faults)
    except NoKeyError:
        yield RequestFault("/request/key", rendered(str(getattr(case.request, "key", ""))), "the key of a valid bill")
    except NotFoundError as error:
        field = "key" if getattr(case.request, "key", None) else "chassis"
        yield RequestFault(f"/request/{field}", rendered(error.value), f"the id of a {error.kind}", error.nearest)
    yield from faults_of_promises(case, edition)


def _written(body: Body | None) -> str | None:
    return None if body is None else _BODY.dump_json(body).decode()
