"""The tables. What is imported here is known to the metadata and to migrations."""

from service.storage.tables import accounts, catalog
from service.storage.tables.base import Row

METADATA = Row.metadata

__all__ = ["METADATA", "accounts", "catalog"]
