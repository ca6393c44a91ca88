"""What Schemathesis does not know by itself: a body of JSON lines is text already; and who may what."""

import json
import os
from pathlib import Path
from typing import Any

import schemathesis

_MAY = Path(os.environ["ROLE_MAY"]) if "ROLE_MAY" in os.environ else None
"""A file with the operations that the key in use has the right to, as JSON."""


@schemathesis.serializer("application/x-ndjson")
def lines(_: object, value: Any) -> bytes:
    """Send text as it is; anything else as one line of JSON."""
    return (value if isinstance(value, str) else json.dumps(value)).encode("utf-8", "surrogatepass")


if _MAY is not None:
    _OPERATIONS = frozenset(json.loads(_MAY.read_text(encoding="utf-8")))

    @schemathesis.check
    def right_of_the_role(_: Any, response: Any, case: Any) -> None:
        """Who has the right is never told 403; who has not, always where the request is right, and never answered."""
        operation = case.operation.definition.raw["operationId"]
        status = response.status_code
        if response.request.method == "OPTIONS":  # tells everybody the methods that there are
            return
        is_right = case.meta is not None and case.meta.generation.mode.is_positive
        if operation in _OPERATIONS and status == 403:
            raise AssertionError(f"{operation} is refused, though the role has the right to it")
        if operation not in _OPERATIONS and (status != 403 if is_right else status < 400):
            raise AssertionError(f"{operation} answers {status}, though the role has no right to it")
