"""The tables: one module a part of what is kept. A module imported here is known to the metadata and to migrations."""

from service.storage.tables import (
    drafts,
    impact_sweeps,
    inquiries,
    keys,
    order_batches,
    order_checks,
    order_readings,
    outbox,
    revisions,
    short_links,
    standing,
)
from service.storage.tables.base import Row

METADATA = Row.metadata

__all__ = [
    "METADATA",
    "drafts",
    "impact_sweeps",
    "inquiries",
    "keys",
    "order_batches",
    "order_checks",
    "order_readings",
    "outbox",
    "revisions",
    "short_links",
    "standing",
]
