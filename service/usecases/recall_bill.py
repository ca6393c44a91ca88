"""Recall a bill by its key: the same bill, in its own revision, from any worker."""

from service.documents.answer import RecalledBill
from service.explain.report import report_bill
from service.explain.safety import SAFETY
from service.usecases.bill_keys import NoKeyError, decode_key
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.find_bills import key_maker
from service.usecases.library import Library
from service.usecases.resolve_request import resolve_request


def recall_bill(library: Library, key: str) -> RecalledBill:
    """The bill of a key, with its reasons. Raises NotFoundError for a key that names no valid bill."""
    try:
        held = decode_key(key)
        edition = library.edition(held.revision)
        request = resolve_request(held.request, edition.revision)
    except (NoKeyError, NotFoundError, RequestFaultsError) as error:
        raise NotFoundError("bill", key) from error
    bill = edition.engine.recall(request, held.bill)
    if bill is None:
        raise NotFoundError("bill", key)
    return {
        "revision": edition.number,
        "currency": edition.revision.currency,
        "bill": report_bill(
            bill,
            request,
            edition.revision,
            key_maker(edition.number, held.request)(bill),
            edition.assessor.assess(bill, request),
        ),
        "safety": list(SAFETY),
    }
