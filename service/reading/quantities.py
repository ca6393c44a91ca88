"""How many of a part are meant: what the numbers beside it say."""

import re
from collections.abc import Sequence
from itertools import groupby, takewhile

from service.reading import courtesies, words
from service.reading.amounts import Piece, measures_of
from service.reading.folding import singular, tokens_of
from service.reading.own import Own

_CELLS = frozenset("\t|;,")
_OF_CODES = frozenset({"word", "odd", "plain"})
_JOINTS = frozenset("-./_")
_MONEY = re.compile(r"(?<![\d.,])(\d+)[.,](\d\d)(?![\d.,])")
_TWICE = 2
_ASKING = words.ORDERING | {"please", "only", "just", "exactly", "like", "take", "thanks"}


class Told:
    """What the pieces around a part tell of its quantity. `qtys`: all that may be meant; `doubts`: what is to be asked;
    `is_vague`: whether a number was written that is no plain quantity."""

    def __init__(self, pieces: Sequence[Piece], own: Own, *, is_code: bool = False) -> None:
        """`is_code`: the part is written as its SKU in one word, whose own figures nobody says again."""
        self._own = own
        self._pieces = pieces = _without_own_codes(pieces, own)
        self.doubts: list[str] = []
        marks = [piece for piece in pieces if piece.kind == "mark"]
        plain = [place for place, piece in enumerate(pieces) if piece.kind == "plain"]
        if _agree([piece for piece in pieces if piece.is_quantity]):
            marks, plain = marks[:1], []
        plain = self._by_sums(plain) if len(plain) == _TWICE and not marks else plain
        if marks or len(plain) > 1:
            plain = [place for place in plain if not self._is_of_place(place)]
        if marks:
            plain = [place for place in plain if not self._is_figure(place)]
        elif any(self._is_figure(place) for place in plain):
            self.doubts.append(OWN)
        self.qtys = tuple(dict.fromkeys([x.value for x in marks] + [pieces[place].value for place in plain]))
        if len(marks) + len(plain) > 1:
            self.doubts.append(WHICH)
        elif plain and (self._counts_cars(plain[0]) or not self._is_beside(plain[0])):
            self.doubts.append(f"is {self.qtys[0]} the quantity?")
            self.qtys += (1,) if self.qtys[0] != 1 else ()
        elif plain and self._is_behind(plain[0]) and pieces[plain[0]].text in (own.named if is_code else own.measures):
            self.doubts.append(OWN)
            self.qtys += (1,)
        if any(piece.text.endswith("pair") for piece in marks) and "pair" in own.words:
            self.doubts.append(HOW_MANY)
            self.qtys = tuple(dict.fromkeys((1, *self.qtys)))
        self.is_vague = any(piece.kind == "odd" for piece in pieces)
        self._look_for_odd()
        self._look_for_sum()

    def _is_figure(self, place: int) -> bool:
        """Whether a number is one of the part's own, told beside one of its own words."""
        if self._pieces[place].text not in self._own.words:
            return False
        before, behind = self._nearest(place)
        if before is not None and self._is_own_word(before):
            return True
        if behind is None or not self._is_own_word(behind):
            return False
        thing = singular(behind.text)
        is_counted = thing != behind.text and self._own.spelt[0][:1] == (thing,)
        return not is_counted or self._own.has_run((self._pieces[place].text, thing))

    def _look_for_sum(self) -> None:
        """Doubt a quantity where the row tells the part's price, and behind it what another quantity comes to."""
        prices = [_cents(piece.text) for piece in self._pieces if piece.kind in ("decimal", "money")]
        if len(prices) != _TWICE or not prices[0] or prices[0] != self._own.price or len(self.qtys) != 1:
            return
        times, left = divmod(prices[1], prices[0])
        if not left and times not in (1, self.qtys[0]) and times <= words.MOST_QTY:
            self.doubts.append(WHICH)
            self.qtys += (times,) if times else ()

    def _sums_up(self) -> bool:
        """Whether the quantity times a price of the row is its sum."""
        sums = self._sums()
        return len(self.qtys) == 1 and any(price and self.qtys[0] * price == total for price, total in sums)

    def _sums(self) -> set[tuple[int, int]]:
        """Each sum of money with one behind it."""
        prices = [_cents(piece.text) for piece in self._pieces if piece.kind in ("decimal", "money")]
        return {(price, total) for at, price in enumerate(prices) for total in prices[at + 1 :]}

    def _by_sums(self, plain: list[int]) -> list[int]:
        """Of two numbers the one behind a position that begins the row, where it times a price is the row's sum."""
        sums = self._sums()
        fits = [place for place in plain if any(price and self._pieces[place].value * price == x for price, x in sums)]
        is_first = all(piece.kind == "sign" for piece in self._pieces[: plain[0]])
        return fits if is_first and fits == plain[1:] else plain

    def _is_of_place(self, place: int) -> bool:
        """Whether a number says which of several places, as in "workshop 2"."""
        before, behind = self._nearest(place)
        is_behind_place = before is not None and before.text in words.NUMBERED_PLACES
        return is_behind_place and (behind is None or behind.kind != "part")

    def _counts_cars(self, place: int) -> bool:
        """Whether a number says for how many cars."""
        _, behind = self._nearest(place)
        return behind is not None and behind.text in courtesies.VEHICLES

    def _nearest(self, place: int) -> list[Piece | None]:
        """What stands before and behind a piece, over spaces."""
        sides = (self._pieces[:place][::-1], self._pieces[place + 1 :])
        return [next((piece for piece in side if not piece.text.isspace()), None) for side in sides]

    def _is_own_word(self, piece: Piece) -> bool:
        is_everyday = piece.text in courtesies.HARMLESS or piece.text in words.FILLERS
        return piece.kind == "word" and not is_everyday and singular(piece.text) in self._own.words

    def _is_others_figure(self, place: int) -> bool:
        """Whether a broken number stands behind an own word of the part, and is none of its own."""
        before, _ = self._nearest(place)
        is_own = measures_of(self._pieces[place].text) <= self._own.measures
        return before is not None and self._is_own_word(before) and not is_own and not self._is_cell(place)

    def _is_beside(self, place: int) -> bool:
        """Whether nothing but signs and fillers stands between a number and its part, or it has a cell of its own."""
        if self._is_cell(place) or self._is_asked_for(place):
            return True
        for step in (-1, 1):
            near = place + step
            while 0 <= near < len(self._pieces) and (self._is_filler(self._pieces[near]) or self._links(near)):
                near += step
            if 0 <= near < len(self._pieces) and self._pieces[near].kind == "part":
                return True
        return False

    def _is_asked_for(self, place: int) -> bool:
        """Whether a number ends the row, behind a word that asks for so many and no word that is not said anywhere."""
        told = [piece for piece in self._pieces[:place] if not piece.text.isspace()]
        behind = list(takewhile(lambda piece: piece.kind != "part", told[::-1]))
        is_last = all(piece.kind == "sign" or piece.text in _ASKING for piece in self._pieces[place + 1 :])
        is_led = bool(behind) and behind[0].text in _ASKING and len(behind) < len(told)
        return is_last and is_led and all(piece.kind == "sign" or piece.text in courtesies.USUAL for piece in behind)

    def _is_behind(self, place: int) -> bool:
        """Whether only a space stands between the part and a number behind it."""
        before = self._pieces[max(place - 2, 0) : place]
        return len(before) == _TWICE and before[0].kind == "part" and before[1].text.isspace()

    def _is_filler(self, piece: Piece) -> bool:
        if piece.kind == "word":
            is_own = singular(piece.text) in self._own.words and piece.text not in courtesies.HARMLESS
            return piece.text in words.FILLERS or piece.text in words.LABELS or is_own
        return piece.kind in ("sign", "money", "position", "nothing") or (
            piece.kind == "size" and self._is_own_size(piece)
        )

    def _links(self, place: int) -> bool:
        """Whether a small word stands between own words of the part."""
        before, behind = self._nearest(place)
        is_led = before is not None and self._is_own_word(before)
        goes_on = behind is not None and (self._is_own_word(behind) or self._is_own(behind))
        text = self._pieces[place].text
        following = next((piece.text for piece in self._pieces[place + 1 :] if piece.kind != "sign"), "")
        is_begun = self._pieces[place].kind == "word" and self._own.has_run((text, singular(following)))
        return is_begun or (text in courtesies.EMPTY and is_led and goes_on)

    def _is_own(self, piece: Piece) -> bool:
        return piece.kind == "size" and self._is_own_size(piece)

    def _is_own_size(self, piece: Piece) -> bool:
        return piece.is_size_of(self._own.words, self._own.measures)

    def _repeats_a_size(self) -> bool:
        """Whether a size stands beside itself more often than in any name of the part, as "size 8 to size 8" does."""
        for is_run, run in groupby(self._pieces, key=lambda piece: piece.kind in ("size", "word") or piece.text == " "):
            sizes = [piece.text for piece in run if piece.kind == "size"] if is_run else []
            for size in sizes if len(set(sizes)) < len(sizes) else ():
                told = tuple(singular(token.text) for token in tokens_of(size))
                if sizes.count(size) > max(_times(told, name) for name in self._own.spelt):
                    return True
        return False

    def _is_cell(self, place: int) -> bool:
        """Whether a number stands alone between signs that part cells."""
        sides = [self._pieces[:place][::-1], self._pieces[place + 1 :]]
        ends = [next((x.text for x in side if x.text != " "), "") for side in sides]
        framed = [end in _CELLS or "\t" in end for end in ends]
        return all(framed) or (any(framed) and "" in ends)

    def _look_for_odd(self) -> None:
        kinds = {piece.kind for piece in self._pieces}
        if self.is_vague:
            self.doubts.append(HOW_MANY)
            self.qtys += tuple(x for piece in self._pieces for x in piece.offers if x not in self.qtys)
        decimals = [] if self._sums_up() else [at for at, x in enumerate(self._pieces) if x.kind == "decimal"]
        is_others = any(piece.kind == "size" and not self._is_own_size(piece) for piece in self._pieces)
        if is_others or self._repeats_a_size() or any(map(self._is_others_figure, decimals)):
            self.doubts.append(SIZE)
        if self.qtys:
            return
        if any(_cents(self._pieces[at].text) != self._own.price for at in decimals) or "day" in kinds:
            self.doubts.append(NUMBER)
            self.is_vague = True
        counters = [piece for piece in self._pieces if piece.form == "counter"]
        if any(x.value != 1 for x in counters):
            self.doubts.append(POSITION)
            self.qtys = tuple(dict.fromkeys((1, *(x.value for x in counters if 0 < x.value <= words.MOST_QTY))))


WHICH = "which number is the quantity?"
POSITION = "is this number a position or a quantity?"
NUMBER = "is this number a quantity?"
HOW_MANY = "how many are meant?"
SIZE = "is this size the part\u2019s?"
OWN = "is this number the part's own?"
OF_NUMBERS = frozenset({WHICH, OWN, POSITION, NUMBER, HOW_MANY})
"""What a column of quantities answers."""


def _times(run: Sequence[str], name: Sequence[str]) -> int:
    """How often words follow each other so in a name."""
    return sum(tuple(name[at : at + len(run)]) == run for at in range(len(name)))


def _cents(text: str) -> int:
    """A sum of money in hundredths; 0 where it is not written with two decimals."""
    found = _MONEY.search(text)
    return int(found[1]) * 100 + int(found[2]) if found else 0


def _agree(numbers: list[Piece]) -> bool:
    """Whether a quantity is told twice: in a word and in figures."""
    same = len({number.value for number in numbers}) == 1
    return len(numbers) == _TWICE and same and sum(number.form == "mark_word" for number in numbers) == 1


def _without_own_codes(pieces: Sequence[Piece], own: Own) -> Sequence[Piece]:
    """The pieces without words of letters and digits that stand so in a name of the part, as the number of a norm."""
    if all(piece.kind != "odd" for piece in pieces):
        return pieces
    kept: list[Piece] = []
    for is_glued, run in groupby(pieces, key=lambda piece: piece.kind in _OF_CODES or piece.text in _JOINTS):
        chunk = list(run)
        told = [singular(token.text) for token in tokens_of("".join(piece.text for piece in chunk))]
        is_code = is_glued and len(told) > 1 and {piece.kind for piece in chunk} >= {"word", "odd"}
        kept += [] if is_code and own.has_run(told) else chunk
    return kept
