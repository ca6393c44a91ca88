"""A text as it is compared, sign by sign, with where each sign of it comes from."""

import re
import unicodedata
from collections.abc import Callable

from service.reading.folding import folded

_LONG = re.compile(r"(?<![^\W\d_])[^\W\d_]{2,20}(?![^\W\d_])")


def folded_with_places(text: str) -> tuple[str, list[int]]:
    """A text as it is compared, and for each sign of it where it comes from."""
    signs: list[str] = []
    where: list[int] = []
    for place, sign in enumerate(text):
        plain = sign.lower() if sign.isascii() and sign not in "_`" else _one(sign)
        if sign == "." and text[place + 1 : place + 2].isdigit() and not _goes_on(text[max(place - 1, 0) : place]):
            plain = "0."  # as in `.6 bar`
        signs.append(plain)
        where += [place] * len(plain)
    return "".join(signs), where


def _goes_on(sign: str) -> bool:
    """Whether a point right behind a sign is no beginning of a number."""
    return sign.isalnum() or sign in (".", "-")


def put_right(plain: str, where: list[int], spelling: Callable[[str], str]) -> tuple[str, list[int]]:
    """A folded text with its words as they are meant, and for each sign of it where it comes from."""
    pieces: list[str] = []
    places: list[int] = []
    last = 0
    for found in _LONG.finditer(plain):
        right = spelling(found[0])
        if right == found[0]:
            continue
        start, end = found.span()
        pieces += [plain[last:start], right]
        places += [*where[last:start], *[where[start]] * (len(right) - 1), where[end - 1]]
        last = end
    if not pieces:
        return plain, where
    return "".join([*pieces, plain[last:]]), [*places, *where[last:]]


def _one(sign: str) -> str:
    if unicodedata.combining(sign):
        return ""
    return " or " if sign == "\u00b1" else folded(sign)
