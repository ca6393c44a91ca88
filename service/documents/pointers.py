"""JSON Pointers (RFC 6901): the address of a value within a document."""

from collections.abc import Iterable

_SEGMENT_LIMIT = 120
_POINTER_LIMIT = 600


def pointer_to(segments: Iterable[str | int]) -> str:
    """Join keys and indices to a pointer; what UTF-8 cannot carry becomes `?`.

    Overlong keys are cut, and so is a pointer of many long keys: behind the last one that is told stands an ellipsis.
    """
    pointer = ""
    for segment in segments:
        if len(pointer) > _POINTER_LIMIT:
            return pointer + "/…"
        pointer += "/" + _escaped(str(segment))
    return pointer


def segments_of(pointer: str) -> list[str]:
    """Split a pointer into its keys and indices."""
    return [part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:]]


def _escaped(segment: str) -> str:
    cut = segment if len(segment) <= _SEGMENT_LIMIT else segment[: _SEGMENT_LIMIT - 1] + "…"
    safe = cut.encode("utf-8", "replace").decode("utf-8")
    return safe.replace("~", "~0").replace("/", "~1")
