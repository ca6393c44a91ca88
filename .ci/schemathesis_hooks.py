"""What Schemathesis does not know by itself: a body of JSON lines is text already."""

import json
from typing import Any

import schemathesis


@schemathesis.serializer("application/x-ndjson")
def lines(_: object, value: Any) -> bytes:
    """Send text as it is; anything else as one line of JSON."""
    return (value if isinstance(value, str) else json.dumps(value)).encode("utf-8", "surrogatepass")
