"""The tables: one module a part of what is kept. A module imported here is known to the metadata and to migrations."""

from service.storage.tables import (
    aliases,
    connections,
    contract,
    engineering,
    inquiries,
    items,
    layouts,
    order_batches,
    order_checks,
    order_readings,
    revisions,
    short_links,
    substances,
    vehicles,
)
from service.storage.tables.base import Row

METADATA = Row.metadata

__all__ = [
    "METADATA",
    "aliases",
    "connections",
    "contract",
    "engineering",
    "inquiries",
    "items",
    "layouts",
    "order_batches",
    "order_checks",
    "order_readings",
    "revisions",
    "short_links",
    "substances",
    "vehicles",
]
