"""Rows that tell of each other: columns with their header, positions that count up, headings, a quantity or a
correction on a row of its own."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from service.reading import columns, courtesies, tables, words
from service.reading.corrections import PRONOUNS, Corrections, corrects, is_item, positions_in, quantities
from service.reading.doubts import DENIES
from service.reading.folding import singular
from service.reading.headings import CHANGES, changes_all, heading_of, is_heading
from service.reading.meanings import HOW_MANY_EACH, TAKE_OFF
from service.reading.parts import ANOTHER_LOOK, ReadPart, parts_of
from service.reading.quantities import OF_NUMBERS, OWN, POSITION
from service.reading.row import Row, row_of
from service.reading.vocabulary import Vocabulary

_TAKEN_OFF = "another row takes this part off: is it meant?"
_COLUMN = "what does the column of quantities say?"
_PACKED = "is this the number of packs, or of pieces?"
_ONE_OF_THEM = "is this meant, or the other?"
_OR = frozenset({"or", "oder", "ou", "o", "alternatively", "either"})
_WHOLE = frozenset({"all", "everything", "above", "order", "complete", "whole", "entire"})
_NUMBERS = frozenset({"mark", "plain", "odd", "decimal", "position"})
_LED_BY = frozenset({"please", "and", "instead", "also", "but", "then"})
_LETTERED = re.compile(r"\s*\(?[A-Za-z]\)\s+\S")
_MONEY = re.compile(r"\d+[.,]\d\d")
_MOST_QUOTED = 40


class Neighbours:
    """The parts of all rows of a text, as the rows beside them leave them. `parts`: by the place of their row."""

    def __init__(self, rows: Sequence[Row | None], parts: dict[int, list[ReadPart]], vocabulary: Vocabulary) -> None:
        self._rows = rows
        self.parts = parts
        self._vocabulary = vocabulary
        self._corrections = Corrections(rows, parts, vocabulary)
        self.listed: set[int] = set()
        """The rows of a table that name no part, where a part and a quantity are to stand."""
        self.headed: set[int] = set()
        """The rows that only head those below them, whatever they come near to."""

    def tell(self) -> None:
        """Have every row tell of the others."""
        self._by_columns()
        self._by_headers()
        self._by_tables()
        self._by_neighbours()
        self._by_denials()
        self._by_closing()
        self._by_letters()

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
        for place, is_position in tables.counted_up(single).items():
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
        row = numbered and row_of(tables.without_position(numbered.text), self._vocabulary)
        if row and row.mentions:
            read = parts_of(row, self._vocabulary)
            row.forget_tokens()
            self.parts[place] = read if len(read) == 1 else self.parts[place]

    def _by_likeness(self, single: Sequence[tuple[int, Row]], doubt: str) -> None:
        """Have rows that are written alike say of what looks like a number that it is a part, of a number that it is no
        figure of the part, as in the other rows."""
        for places in tables.alike(single):
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
            elif header is not None and header.quantities:
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

    def _by_header(self, header: tables.Header, place: int, row: Row) -> None:
        self._by_cells(header, place, row)
        packed = tables.packed(header, row.text)
        if packed is not None:
            told = {qty * pieces for part in self.parts[place] for qty in part.qtys for pieces in (1, *packed)}
            self._doubt(place, _PACKED, sorted(told))

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

    def _by_neighbours(self) -> None:
        """Have rows without a part tell of those beside them: a quantity of its own, a heading, a name's other half."""
        heading = ""
        is_question = False
        last: int | None = None
        for place, row in enumerate(self._rows):
            if row is None:
                heading = heading if self._is_first_blank(place) else ""
                continue
            if place in self.parts:
                if last is not None and _begins_with(row, _OR - {"either"}):
                    self._doubt(last, _ONE_OF_THEM)
                if heading and not self._is_answered(heading, place, row):
                    self._doubt(place, heading)
                last = place
                continue
            goes_on = last != place - 1 and not is_heading(row) and not is_question
            is_over = is_heading(row) or (
                self._next(place) is not None and not self._is_listed(row) and not positions_in(row)
            )
            heading = (heading_of(row, self._vocabulary) if is_over else "") or (heading if goes_on else "")
            is_question = row.folded.endswith("?")
            self._beside(place, row, last)

    def _is_answered(self, heading: str, place: int, row: Row) -> bool:
        """Whether a row says itself what its heading asks: how many, or that it is ordered."""
        if heading == HOW_MANY_EACH:
            return self._is_counted(place)
        told = [word for word in row.words if word not in _LED_BY]
        return heading == CHANGES and told[:1] != [] and told[0] in words.ORDERING

    def _is_listed(self, row: Row) -> bool:
        """Whether a row counts something in words of the catalog alone, as one of a list does."""
        own = [word for word in row.words if word not in courtesies.HARMLESS]
        is_counted = any(piece.is_quantity for piece in row.pieces)
        return is_counted and bool(own) and all(map(self._vocabulary.is_known, own))

    def _is_first_blank(self, place: int) -> bool:
        return place > 0 and self._rows[place - 1] is not None and (place - 1) not in self.parts

    def _beside(self, place: int, row: Row, last: int | None) -> None:
        is_under = last is not None and last == place - 1
        if row.words and _OR.issuperset(row.words) and "part" not in row.kinds:
            for near in (last, self._next(place)):
                if near is not None:
                    self._doubt(near, _ONE_OF_THEM)
        elif place not in self.listed and _is_bare_quantity(row):
            self._count(place, row, last, is_under)
        elif last is not None and is_under and not is_item(row) and self._is_other_half(row, last):
            self._doubt(last, f"does {_quoted(row)} belong to this part?")
        elif (
            last is not None
            and (is_under or quantities(row) or positions_in(row))
            and not (is_item(row) or self._is_listed(row))
            and (corrects(row) or (positions_in(row) and heading_of(row, self._vocabulary)))
        ):
            for near in self._corrections.meant(row, last, is_under=is_under):
                self._doubt(near, f"does {_quoted(row)} change this part?", quantities(row))

    def _count(self, place: int, row: Row, last: int | None, is_under: bool) -> None:
        """Have a quantity on a row of its own ask about the parts above and below it, "each" about all above."""
        beside = [near for near in (last, self._next(place)) if near is not None]
        asked = [near for near in beside if not self._is_counted(near)]
        if is_under and last in asked:
            asked += self._uncounted_above(last)
        if _says_each(row):
            asked = [near for near in self.parts if near < place and not self._is_counted(near)]
        if not asked and any(piece.form == "mark_x" for piece in row.pieces):
            asked = [near for near in beside if near > place or is_under]
        for near in asked or ([last] if last is not None and is_under else []):
            self._doubt(near, f"does {_quoted(row)} tell how many?", quantities(row))

    def _uncounted_above(self, place: int | None) -> list[int]:
        """The rows of parts without a quantity that stand directly above one."""
        found: list[int] = []
        while place is not None and place - 1 in self.parts and not self._is_counted(place - 1):
            place -= 1
            found.append(place)
        return found

    def _is_counted(self, place: int) -> bool:
        return place in self.parts and all(part.is_counted for part in self.parts[place])

    def _next(self, place: int) -> int | None:
        following = next((at for at in range(place + 1, min(place + 3, len(self._rows))) if self._rows[at]), None)
        return following if following in self.parts else None

    def _is_other_half(self, row: Row, last: int) -> bool:
        """Whether a row is but words of the catalog that are not of the part above."""
        written = [token for token in row.spoken if not token.is_number and token.text not in PRONOUNS]
        if (
            not written
            or is_heading(row)
            or row.folded.strip()[-2:] in ("==", "--", "**", "##")
            or "position" in row.kinds
            or any(piece.is_quantity and piece.text.strip() not in PRONOUNS for piece in row.pieces)
        ):
            return False
        own = self._own_words(last)
        known = [singular(token.text) for token in written if token.text not in courtesies.HARMLESS]
        return bool(known) and all(map(self._vocabulary.knows, known)) and own.isdisjoint(known)

    def _own_words(self, place: int) -> frozenset[str]:
        return self._vocabulary.own_words(sku for part in self.parts[place] for sku in part.skus)

    def _by_closing(self) -> None:
        """Have a line that changes all that was ordered ask about the rows above it; about the last alone, where it may
        as well head the rows below it."""
        closing: int | None = None
        for place, row in enumerate(self._rows):
            if row is None or place in self.parts or positions_in(row) or not changes_all(row, self._vocabulary):
                continue
            if self._next(place) is None:
                closing = place
            elif place - 1 in self.parts:
                self._doubt(place - 1, f"does {_quoted(row)} change this part?")
        row = None if closing is None else self._rows[closing]
        for place in self.parts if row else ():
            if closing is not None and row and place < closing:
                self._doubt(place, f"does {_quoted(row)} change this part?")

    def _by_letters(self) -> None:
        """Have rows with letters head the rows below them, where no such row has a part or a number."""
        lettered = [(place, row) for place, row in enumerate(self._rows) if row and _LETTERED.match(row.text)]
        if not any(place in self.parts or quantities(row) for place, row in lettered):
            self.headed.update(place for place, _ in lettered if self._next(place) is not None)

    def _by_denials(self) -> None:
        """Have a row that takes a part off ask about the other rows of that part; one that calls the order off, about
        all."""
        if any(place not in self.parts and _calls_all_off(row) for place, row in enumerate(self._rows) if row):
            for place in self.parts:
                self._doubt(place, _TAKEN_OFF)
        denied = {sku for parts in self.parts.values() for part in parts if DENIES in part.doubts for sku in part.skus}
        for place, parts in self.parts.items() if denied else ():
            if not all(part.doubts for part in parts) and denied.intersection(x for part in parts for x in part.skus):
                self._doubt(place, _TAKEN_OFF)


def _begins_with(row: Row, known: frozenset[str]) -> bool:
    first = next((piece for piece in row.pieces if piece.kind != "sign"), None)
    return first is not None and first.kind == "word" and first.text in known


def _says_each(row: Row) -> bool:
    return any("each" in piece.text for piece in row.pieces)


def _quoted(row: Row) -> str:
    return f"\u201c{row.text.strip()[:_MOST_QUOTED]}\u201d"


def _calls_all_off(row: Row) -> bool:
    return words.any_of(row.words, words.CALLED_OFF) and words.any_of(row.words, _WHOLE)


_NAMED = frozenset(words.QUANTITY_NAMES.split("|")) | frozenset(words.PIECES.split("|")) | words.FILLERS
_SAID = _NAMED | words.OTHER_NUMBERS | courtesies.HARMLESS - courtesies.GREETINGS - words.SUMS


def _is_bare_quantity(row: Row) -> bool:
    """Whether a row is a quantity and nothing else."""
    if row.counts_a_code or is_heading(row) or not words.NO_PARTS.isdisjoint(row.words):
        return False
    told = [piece for piece in row.pieces if piece.kind != "sign"]
    spoken = [piece.text for piece in told if piece.kind == "word"]
    numbers = [piece for piece in told if piece.kind in _NUMBERS and not _MONEY.fullmatch(piece.text)]
    if len(numbers) + len(spoken) < len(told):
        return False
    if numbers:
        return _SAID.issuperset(spoken)
    return bool(spoken) and all(word in _NAMED or word in words.OTHER_NUMBERS for word in spoken)
