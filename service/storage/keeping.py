"""How long things are kept: each kind has an end, past which nothing finds it and later writes delete it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from types import MappingProxyType

KEY_DAYS = 7
"""So long the same idempotency key gives the same answer again, if that is kept for so long."""
BATCH_DAYS = 30
READING_DAYS = 30
ASKED_DAYS = 365
"""So long after it was asked last a question is counted among those that are asked."""
SWEEP_DAYS = 30
NEWS_DAYS = 30
"""So long what became of a message is told; by then it was taken or given up."""
LAST_DAY = 36_500
"""The most that anything can be kept for: a hundred years."""


MOST_KEPT: Mapping[str, int] = MappingProxyType(
    {"order-checks": 50_000, "inquiries": 5_000, "batches": 200, "readings": 5_000, "drafts": 200}
)
"""So many things of a kind one account keeps at once."""


@dataclass(frozen=True)
class Keeping:
    """For how many days each kind is kept, a draft since it was changed last; `most`: how many of a kind one account
    keeps at once."""

    order_checks_days: int = 90
    inquiries_days: int = 365
    short_links_days: int = 3_650
    order_batches_days: int = BATCH_DAYS
    order_readings_days: int = READING_DAYS
    drafts_days: int = 365
    most: Mapping[str, int] = field(default_factory=lambda: MOST_KEPT)


USUAL = Keeping()


def since(days: int) -> datetime:
    """Return the moment from which on things that are kept for so many days are still there."""
    return datetime.now(UTC) - timedelta(days=days)
