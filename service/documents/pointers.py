"""JSON Pointers (RFC 6901): the address of a value within a document."""

from collections.abc import Iterable

_SEGMENT_LIMIT = 120


def pointer_to(segments: Iterable[str | int]) -> str:
    """Join keys and indices to a pointer; overlong keys are cut, and what UTF-8 cannot carry becomes `?`."""
    return "".join("/" + _escaped(str(segment)) for segment in segments)


def segments_of(pointer: str) -> list[str]:
    """Split a pointer into its keys and indices."""
    return [part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:]]


def _escaped(segment: str) -> str:
    cut = segment if len(segment) <= _SEGMENT_LIMIT else segment[: _SEGMENT_LIMIT - 1] + "…"
    safe = cut.encode("utf-8", "replace").decode("utf-8")
    return safe.replace("~", "~0").replace("/", "~1")
