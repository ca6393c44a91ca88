"""Boxes before the rows of a list, to be ticked: where none of a text is, they are but bullets."""

import re
from collections.abc import Iterable
from typing import Final

_SIGNS = "\u2610\u25a1\u25fb\u25fd\u2b1c\u25a2"
_TICKS = "\u2611\u2612\u2713\u2714\u2705\u2717\u2718"
_BOX: Final = re.compile(rf"^\s*(?:[-*\u2022]\s*)?(?:\[[ _]*\]|\([ _]*\)|[{_SIGNS}])\s*(?=\S)")
_TICKED: Final = re.compile(
    rf"^\s*(?:[-*\u2022]\s*)?(?:[\[(]\s*[xXvV{_TICKS}]\s*[\])]|[{_TICKS}])|\b(?:un)?tick(?:ed|s)?\b|\bboxes\b"
)
_LEAST: Final = 2


def are_bullets(rows: Iterable[str]) -> bool:
    """Whether several rows begin with a box, and none is ticked or told of."""
    boxed = 0
    for row in rows:
        if _TICKED.search(row):
            return False
        boxed += _BOX.match(row) is not None
    return boxed >= _LEAST


def without_box(row: str) -> str:
    """A row without the box that it begins with."""
    return _BOX.sub("", row, count=1)
