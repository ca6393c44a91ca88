"""The OpenAPI document as it is served, worked out once a process: that takes a second."""

from functools import cache
from typing import Any

from service.web.app import create_app


@cache
def served_document() -> dict[str, Any]:
    """Whoever reads it leaves it as it is."""
    return create_app().openapi()
