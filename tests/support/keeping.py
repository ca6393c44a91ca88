"""What is sent is judged, then kept, in two steps as the API does it."""

from service.documents.inquiry import SentInquiry
from service.documents.order import OrderRequest
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.kept_once import Kept


def kept_check(checks: OrderChecks, order: OrderRequest, key: str | None = None) -> Kept:
    """The check of an order, kept; the one from before where its idempotency key came already."""
    judged = checks.judge(order, key)
    return judged if isinstance(judged, Kept) else checks.store(judged)


def kept_inquiry(inquiries: Inquiries, sent: SentInquiry, key: str | None = None) -> Kept:
    """An inquiry, kept; the one from before where its idempotency key came already."""
    judged = inquiries.judge(sent, key)
    return judged if isinstance(judged, Kept) else inquiries.store_judged(judged)
