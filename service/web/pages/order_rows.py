"""The rows of an order as its page shows them: those to be settled first, and so many at once that the page stays
light."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import escape

from service.documents.catalog import Item
from service.usecases.order_draft import DraftLine

MOST_WEIGHT = 70_000
"""Bytes: so much the rows of a page may weigh together."""
LONGEST_TEXT = 160
_ROW, _CHOICE, _PICTURE = 900, 340, 700
"""Bytes: what the page puts around the words of a row and around those of a choice, and what a part's picture takes,
which is drawn once a page."""


@dataclass(frozen=True)
class ShownRow:
    """A row of the table; `place`: which line of the order it is, `price` in minor units."""

    place: int
    line: DraftLine
    text: str
    name: str
    price: int | None


@dataclass(frozen=True)
class ShownRows:
    """The rows that are shown, `first` to `last` of `total`, counted from 1; `page` of `pages`, from 1 too."""

    rows: Sequence[ShownRow]
    first: int
    last: int
    total: int
    page: int
    pages: int


def rows_on(lines: Sequence[DraftLine], items: Mapping[str, Item], page: int) -> ShownRows:
    """The rows of a page; the last one where there are fewer pages."""
    order = sorted(range(len(lines)), key=lambda place: not lines[place].is_open)
    pages = list(_pages([lines[place] for place in order], items)) or [(0, 0)]
    page = min(max(page, 1), len(pages))
    first, last = pages[page - 1]
    rows = [_row(place, lines[place], items) for place in order[first:last]]
    return ShownRows(rows, min(first + 1, last), last, len(lines), page, len(pages))


def _pages(lines: Sequence[DraftLine], items: Mapping[str, Item]) -> Iterator[tuple[int, int]]:
    """From where to where each page reaches that is not too heavy."""
    first = heavy = 0
    drawn: set[str] = set()
    for place, line in enumerate(lines):
        shown = _skus(line)
        weight = _weight(line, items)
        if heavy + weight + _PICTURE * len(shown - drawn) > MOST_WEIGHT and place > first:
            yield first, place
            first, heavy, drawn = place, 0, set()
        heavy += weight + _PICTURE * len(shown - drawn)
        drawn |= shown
    if first < len(lines):
        yield first, len(lines)


def _skus(line: DraftLine) -> set[str]:
    """The parts whose pictures a row shows."""
    if line.is_open:
        return {choice.sku for choice in line.choices}
    return set() if line.sku is None or line.left_out else {line.sku}


def _weight(line: DraftLine, items: Mapping[str, Item]) -> int:
    choices = line.choices if line.is_open else ()
    told = sum(_CHOICE + _bytes(choice.name) + _bytes(choice.sku) for choice in choices)
    item = None if line.sku is None else items.get(line.sku)
    name = 0 if item is None else _bytes(item.name) + _bytes(item.sku)
    return _ROW + _bytes(_shortened(line.text)) + _bytes(line.asks or "") + told + name


def _bytes(text: str) -> int:
    return len(str(escape(text)).encode())


def _shortened(told: str) -> str:
    text = told.strip()
    return text if len(text) <= LONGEST_TEXT else f"{text[: LONGEST_TEXT - 1]}\u2026"


def _row(place: int, line: DraftLine, items: Mapping[str, Item]) -> ShownRow:
    item = None if line.sku is None else items.get(line.sku)
    if item is None:
        return ShownRow(place, line, _shortened(line.text), "", None)
    price = item.price * line.qty if item.sold and line.qty is not None else None
    return ShownRow(place, line, _shortened(line.text), item.name, price)
