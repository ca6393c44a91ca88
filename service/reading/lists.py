"""Rows that are a list or a table: positions that count up, columns with their header."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from service.reading import columns, tables
from service.reading.amounts import MOST_OFFERED, Piece
from service.reading.meanings import TAKE_OFF
from service.reading.parts import ANOTHER_LOOK, ReadPart, parts_of
from service.reading.quantities import OF_NUMBERS, OWN, POSITION
from service.reading.row import Row, row_of
from service.reading.vocabulary import Vocabulary

_LEADING = re.compile(r"^[^\w]*\d+[.)\]:]*\s*[;|,\t]?")
_COUNTED = re.compile(r"\d+\s")
_LEAST_RUN = 3
"""So many rows must count up for a bare number to be their position."""
_COLUMN = "what does the column of quantities say?"
_PACKED = "is this the number of packs, or of pieces?"


class Lists:
    """The parts of all rows of a text, as its lists and tables leave them. `parts`: by the place of their row."""

    def __init__(self, rows: Sequence[Row | None], parts: dict[int, list[ReadPart]], vocabulary: Vocabulary) -> None:
        self._rows = rows
        self.parts = parts
        self._vocabulary = vocabulary
        self.listed: set[int] = set()
        """The rows of a table that name no part, where a part and a quantity are to stand."""

    def tell_by_columns(self) -> None:
        """Have what stands in columns tell of each row."""
        self._by_columns()
        self._by_headers()
        self._by_tables()
        self._by_margin()

    def _settle(self, place: int, qty: int) -> None:
        """A quantity that the rows tell together."""
        [part] = self.parts[place]
        self.parts[place] = [part.settled(qty, OF_NUMBERS)]

    def _doubt(self, place: int, doubt: str, qtys: Iterable[int] = (), *, is_vague: bool = False) -> None:
        told = tuple(qtys)
        self.parts[place] = [part.doubted(doubt, told, is_vague=is_vague) for part in self.parts[place]]

    def _by_columns(self) -> None:
        """Have rows that agree tell which of their numbers are positions."""
        single = [
            (at, row) for at, row in enumerate(self._rows) if row is not None and len(self.parts.get(at, ())) == 1
        ]
        for place, is_position in counted_up(single).items():
            if is_position:
                self._read_without_position(place)
            else:
                self._doubt(place, POSITION, (1,))
        for doubt in (ANOTHER_LOOK, OWN):
            if any(doubt in self.parts[place][0].doubts for place, _ in single):
                self._by_likeness(single, doubt)

    def _read_without_position(self, place: int) -> None:
        """Have a row say what it would say without the number that counts it."""
        numbered = self._rows[place]
        row = numbered and row_of(without_position(numbered.text), self._vocabulary)
        if row and row.mentions:
            read = parts_of(row, self._vocabulary)
            row.forget_tokens()
            self.parts[place] = read if len(read) == 1 else self.parts[place]

    def _by_likeness(self, single: Sequence[tuple[int, Row]], doubt: str) -> None:
        """Have rows that are written alike say of what looks like a number that it is a part, of a number that it is no
        figure of the part, as in the other rows."""
        for places in alike(single):
            doubted = [place for place in places if doubt in self.parts[place][0].doubts]
            for place in doubted if len(doubted) < len(places) else ():
                if doubt == OWN:
                    self._settle(place, self.parts[place][0].qtys[0])
                else:
                    self._answer(place, doubt)

    def _answer(self, place: int, doubt: str) -> None:
        [part] = self.parts[place]
        self.parts[place] = [replace(part, doubts=tuple(one for one in part.doubts if one != doubt))]

    def _by_headers(self) -> None:
        """Have headers tell which column of the rows below them is the quantity."""
        header: tables.Header | None = None
        for place, row in enumerate(self._rows):
            if row is None:
                header = None
            elif place not in self.parts:
                found = tables.header_of(row.text)
                fit = header and tables.fitted(header, row.text)
                if fit is not None and found is None and tables.lists_something(fit, row.text):
                    read = columns.part_under(fit, row, self._vocabulary)
                    self.parts |= {place: [read]} if read else {}
                    self.listed |= set() if read else {place}
                header = found or (header if self._goes_on(header, row) else None)
            elif header is not None and header.is_denied:
                self._doubt(place, TAKE_OFF)
            elif header is not None and (header.quantities or header.is_crowded):
                self._by_header(tables.fitted(header, row.text), place, row)
            elif header is not None and header.apart in row.text and any(x.kind == "plain" for x in row.pieces):
                self._doubt(place, "no column is called a quantity: how many are meant?", (1,))

    def _goes_on(self, header: tables.Header | None, row: Row) -> bool:
        return header is not None and (tables.is_rule(row.text) or header.apart in row.text)

    def _by_tables(self) -> None:
        """List the rows without a part that stand beside one with a part in the same cells, and count as it does; ask
        about those that leave its number's cell empty."""
        for place, row in enumerate(self._rows):
            if row is None or not tables.is_of_cells(row.text) or self._is_counted(place):
                continue
            beside = [near for at in (place - 1, place + 1) if at in self.parts and (near := self._rows[at])]
            if place in self.parts and any(tables.lacks_number(near, row) for near in beside):
                self._doubt(place, _COLUMN)
            elif place not in self.parts and any(tables.are_alike(near, row) for near in beside):
                self.listed.add(place)

    def _by_margin(self) -> None:
        """Ask about rows that leave blank where the row above has its number."""
        for place, row in enumerate(self._rows):
            above = self._rows[place - 1] if place else None
            is_blank = row is not None and place in self.parts and row.text.startswith("  ")
            if is_blank and above and _COUNTED.match(above.text) and not self._is_counted(place):
                self._doubt(place, _COLUMN)

    def _by_header(self, header: tables.Header, place: int, row: Row) -> None:
        self._by_cells(header, place, row)
        own = self._vocabulary.own_words(sku for part in self.parts[place] for sku in part.skus)
        packed = tables.packed(header, row.text, own)
        if packed is not None:
            told = {qty * pieces for part in self.parts[place] for qty in part.qtys for pieces in (1, *packed)}
            self._doubt(place, _PACKED, sorted(one for one in told if 1 <= one <= MOST_OFFERED))

    def _by_cells(self, header: tables.Header, place: int, row: Row) -> None:
        read = columns.part_under(header, row, self._vocabulary)
        if read is not None:
            self.parts[place] = [read]
            return
        told = tables.counted_by(header, row)
        if told is None and any(piece.kind == "mark" for piece in row.pieces):
            return
        told = told or ()
        if len(told) == 1 and len(header.quantities) == 1 and len(self.parts[place]) == 1:
            self._settle(place, told[0])
            self._by_part_column(header, place, row)
        else:
            self._doubt(place, _COLUMN, told, is_vague=not told)

    def _by_part_column(self, header: tables.Header, place: int, row: Row) -> None:
        """Have the columns of parts say that what looks like a number is a part, or that they name another one."""
        [part] = self.parts[place]
        cells = tables.part_cells(header, row)
        named = [skus for cell in cells if (skus := self._vocabulary.called(cell)) is not None]
        is_another = any(columns.has_figures_of_another(cell, part.skus[0], self._vocabulary) for cell in cells)
        if is_another or any(not set(part.skus) & set(skus) for skus in named):
            self._doubt(place, columns.ANOTHER_PART)
        elif any(set(skus) == set(part.skus) for skus in named):
            self._answer(place, ANOTHER_LOOK)

    def _is_counted(self, place: int) -> bool:
        return place in self.parts and all(part.is_counted for part in self.parts[place])


def alike(rows: Sequence[tuple[int, Row]]) -> Iterator[list[int]]:
    """The places of rows that follow each other and are written alike, so many that their numbers stand in columns."""
    for _, run in groupby(enumerate(rows), key=lambda at: (at[1][0] - at[0], _shape(at[1][1]))):
        places = [place for _, (place, _) in run]
        if len(places) >= _LEAST_RUN:
            yield places


def _shape(row: Row) -> list[str]:
    return [piece.text if piece.kind in ("sign", "part") else piece.form for piece in row.pieces]


def counted_up(rows: Sequence[tuple[int, Row]]) -> dict[int, bool]:
    """The places of rows that follow each other and begin with numbers that count them, and whether these can only be
    positions: else each may be a quantity as well.

    `rows`: those that name one part, with their places in the text.
    """
    told = _numbered_in_place(rows)
    for _, run in groupby(enumerate(rows), key=lambda at: at[1][0] - at[0]):
        members = [(place, row, _numbers(row)) for _, (place, row) in run]
        for begun, same in groupby(members, key=lambda one: _begins_with_number(one[1], one[2])):
            if begun:
                told |= _of_run([(place, numbers) for place, _, numbers in same])
    return told


def _numbered_in_place(rows: Sequence[tuple[int, Row]]) -> dict[int, bool]:
    """Rows that begin with counters which tell their places in a list from 1 on, whatever stands between them."""
    lists: dict[int, list[tuple[int, int]]] = {}
    for place, row in rows:
        numbers = _numbers(row)
        if _begins_with_number(row, numbers) and numbers[0].form == "counter":
            lists.setdefault(place - numbers[0].value, []).append((place, numbers[0].value))
    whole = (one for one in lists.values() if len(one) >= _LEAST_RUN and one[0][1] == 1)
    return {place: True for one in whole for place, _ in one}


def _begins_with_number(row: Row, numbers: Sequence[Piece]) -> bool:
    first = next((piece for piece in row.pieces if piece.kind != "sign"), None)
    return bool(numbers) and numbers[0] is first and first.form in ("counter", "plain", "bracketed")


def _numbers(row: Row) -> list[Piece]:
    return [piece for piece in row.pieces if piece.is_quantity or piece.form == "counter"]


def _of_run(rows: Sequence[tuple[int, list[Piece]]]) -> dict[int, bool]:
    if not _counts([numbers[0].value for _, numbers in rows]):
        return {}
    others = [numbers[1].value for _, numbers in rows if len(numbers) > 1]
    if len(others) == len(rows) and _counts(others):
        return {}
    are_positions = all(numbers[0].form == "counter" for _, numbers in rows) or len(others) == len(rows)
    return {place: are_positions for place, _ in rows}


def without_position(text: str) -> str:
    """A row without the number that it begins with."""
    return _LEADING.sub("", text, count=1)


def _counts(numbers: Sequence[int]) -> bool:
    """Whether numbers count up by ones or by tens, so that they are positions."""
    step = numbers[0] if numbers[0] in (1, 10, 100) else 0
    return len(numbers) >= _LEAST_RUN and step > 0 and list(numbers) == [step * i for i in range(1, len(numbers) + 1)]
