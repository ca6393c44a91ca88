"""Moments as documents have them."""

from datetime import UTC, datetime


def moment(at: datetime) -> str:
    """A moment in UTC, to the second: RFC 3339."""
    return at.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
