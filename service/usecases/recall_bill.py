"""Recall a bill by its key: the same bill, in its own revision, from any worker."""

from dataclasses import dataclass

from service.documents import answer as doc
from service.documents.money import money_of
from service.domain.answer import Bill
from service.domain.request import Request
from service.explain.report import report_bill
from service.explain.safety import SAFETY
from service.explain.telling import Telling
from service.usecases.bill_keys import BillKey, NoKeyError, decode_key
from service.usecases.current_bill import current_bill
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition, Library
from service.usecases.resolve_request import resolve_request


@dataclass(frozen=True, eq=False)
class Recalled:
    """A bill found again: the edition and the request that it is of, and its document."""

    edition: Edition
    request: Request
    bill: Bill
    document: doc.Bill


def recall(library: Library, key: str) -> Recalled:
    """Find the bill of a key. Raises NotFoundError for a key that names no valid bill."""
    return recall_in(edition_of_key(library, key), held_by(key), key)


def edition_of_key(library: Library, key: str) -> Edition:
    """The edition of a key's bill. Raises NotFoundError for a key that names none."""
    try:
        return library.edition(held_by(key).revision)
    except NotFoundError as error:
        raise NotFoundError("bill", key) from error


def held_by(key: str) -> BillKey:
    """What a key holds. Raises NotFoundError for what is no key."""
    try:
        return decode_key(key)
    except NoKeyError as error:
        raise NotFoundError("bill", key) from error


def recall_in(edition: Edition, held: BillKey, key: str) -> Recalled:
    """Find the bill that a key holds in an edition, usually its own. Raises NotFoundError for one that is not valid
    there."""
    try:
        request = resolve_request(held.request, edition.revision)
    except RequestFaultsError as error:
        raise NotFoundError("bill", key) from error
    bill = edition.engine.recall(request, held.bill)
    if bill is None:
        raise NotFoundError("bill", key)
    named = key_maker(edition.number, held.request)(bill)
    assessed = edition.assessor.assess(bill, request)
    return Recalled(edition, request, bill, report_bill(bill, Telling(request, edition.revision), named, assessed))


def recall_bill(library: Library, key: str) -> doc.RecalledBill:
    """The bill of a key, with its reasons, and what the newest revision makes of it. Raises NotFoundError for a key
    that names no valid bill."""
    recalled = recall(library, key)
    return recalled_told(recalled, held_by(key), library.edition())


def recalled_told(recalled: Recalled, held: BillKey, newest: Edition) -> doc.RecalledBill:
    """The document of a recalled bill."""
    return {
        "revision": recalled.edition.number,
        **money_of(recalled.edition.revision),
        "bill": recalled.document,
        "safety": list(SAFETY),
        "current": current_bill(recalled.edition, held, recalled.bill, newest),
    }
