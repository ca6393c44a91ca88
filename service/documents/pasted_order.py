"""Lines of an order as people paste them from an e-mail or a spreadsheet: which part is meant, and how many."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from service.documents.nearest import nearest

MOST_QTY = 10_000
LONGEST_LINE = 500
"""Characters: a line that people write has a tenth of it, and reading one takes its words many times over."""
_MOST_WORDS = 12
"""A SKU may be torn into so many words at most; it is looked for among them by index, never by scanning the catalog."""
_WORD = re.compile(r"\d+[.,]\d\d(?!\d)|[^\s,;|]+")
_SIGN = re.compile(r"[^0-9a-z]+")
_MARKED = re.compile(r"(?:[x\u00d7*]\s*(\d{1,6})|(\d{1,6})\s*(?:[x\u00d7*]|pcs?\.?|pieces?|off|units?))", re.IGNORECASE)
_PLAIN = re.compile(r"\d{1,6}")


@dataclass(frozen=True)
class PastedLine:
    """A line that was read; `sku` None: no part was recognised, `alike` has the nearest ones."""

    number: int
    text: str
    sku: str | None
    qty: int
    alike: tuple[str, ...] = ()


class SkuReader:
    """Recognises the SKUs of a catalog in whatever case, and with dashes that are odd, torn or lost."""

    def __init__(self, skus: Iterable[str]) -> None:
        self._skus = tuple(skus)
        self._exact = frozenset(self._skus)
        self._folded: dict[str, list[str]] = {}
        for sku in self._skus:
            self._folded.setdefault(_fold(sku), []).append(sku)

    def lines(self, text: str) -> list[PastedLine]:
        """Every line with something in it. Words without a number and without anything like a SKU have quantity 0.

        Of a line that is longer than any, only the beginning is read.
        """
        return [self._line(number, line.strip()) for number, line in enumerate(text.splitlines(), 1) if line.strip()]

    def _line(self, number: int, text: str) -> PastedLine:
        words = _WORD.findall(text[:LONGEST_LINE])
        place = self._place(words)
        if place is None:
            wanted = " ".join(word for word in words if not _qty_of(word)) or text
            alike = tuple(nearest(wanted, self._skus))
            is_meant = bool(alike) or any(character.isdigit() for character in text)
            return PastedLine(number, text, None, _quantity(words, []) if is_meant else 0, alike)
        start, end, found = place
        qty = _quantity(words[:start], words[end:])
        if len(found) > 1:
            return PastedLine(number, text, None, qty, tuple(found))
        return PastedLine(number, text, found[0], qty)

    def _place(self, words: list[str]) -> tuple[int, int, list[str]] | None:
        """Where a SKU stands among the words, the longest first, and which SKUs are written so."""
        for length in range(min(len(words), _MOST_WORDS), 0, -1):
            for start in range(len(words) - length + 1):
                written = words[start : start + length]
                found = self._folded.get(_fold("".join(written)), [])
                if length == 1 and written[0] in self._exact:
                    found = [written[0]]
                if found and _fold("".join(written)):
                    return start, start + length, found
        return None


def _fold(text: str) -> str:
    return _SIGN.sub("", text.casefold())


def _qty_of(word: str) -> int | None:
    marked = _MARKED.fullmatch(word)
    if marked is not None:
        return int(marked[1] or marked[2])
    return int(word) if _PLAIN.fullmatch(word) else None


def _quantity(before: list[str], after: list[str]) -> int:
    """One that is marked as a quantity; else the number that stands first, last, or next to the SKU; else 1."""
    joined = [" ".join(before), " ".join(after)]
    for words in joined:
        marked = re.search(rf"(?<![\w.,]){_MARKED.pattern}(?![\w.,])", words, re.IGNORECASE)
        if marked is not None:
            return int(marked[1] or marked[2])
    ends = [*before[:1], *after[:1], *after[-1:], *before[-1:]]
    return next((qty for word in ends if (qty := _qty_of(word)) is not None), 1)
