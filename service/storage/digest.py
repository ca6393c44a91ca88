"""The digest of a catalog: proof that a stored revision is still what was published."""

import hashlib
import json
from typing import Any

from service.documents.catalog import Catalog


def catalog_digest(catalog: Catalog) -> str:
    """Return the SHA-256, in hex, of the catalog's canonical JSON.

    Canonical: fields in the order of the format, lists and objects in the order of the document, nothing that
    has its default, ASCII, no spaces, the shortest decimals that read back the same. A field added to the
    format with a default leaves the digests of older catalogs as they are.
    """
    document = _without_negative_zero(catalog.model_dump(exclude_defaults=True))
    text = json.dumps(document, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _without_negative_zero(value: Any) -> Any:
    """Return the same with 0.0 for -0.0: databases do not tell them apart."""
    if isinstance(value, float):
        return value + 0.0
    if isinstance(value, dict):
        return {key: _without_negative_zero(element) for key, element in value.items()}
    if isinstance(value, list):
        return [_without_negative_zero(element) for element in value]
    return value
