"""A row that names several parts: which numbers and words go with which."""

from collections.abc import Sequence
from itertools import pairwise

from service.reading import courtesies
from service.reading.amounts import Piece
from service.reading.row import Row

_LISTS = frozenset(",;&+|./")
_PARTING = _LISTS | courtesies.AND
_EACH = frozenset({"each", "je", "jeweils", "apiece"})
_BETWEEN = frozenset({"of", "x", "pcs", "please"})
_OPENING = frozenset("([")
_OWN_APART = frozenset("\t|;")
_TWO = 2


def is_one_part(row: Row) -> bool:
    """Whether all that is named is one part, or one part named in two ways that do not agree."""
    if len(row.mentions) == 1:
        return True
    if any(piece.text in courtesies.AND or piece.text in "&+" for piece in row.pieces):
        return False
    shared = set(row.mentions[0].skus).intersection(*(mention.skus for mention in row.mentions))
    counted = sum(piece.is_quantity for piece in row.pieces)
    if shared:
        return counted <= 1
    kinds = {"sku" if mention.how == "sku" else "name" for mention in row.mentions}
    cells = any(piece.text in _OWN_APART for piece in row.pieces)
    return counted <= 1 and (len(kinds) > 1 or cells)


def each(row: Row) -> int:
    """The quantity of every part of a row that says so; 0: it does not."""
    numbers = [piece for piece in row.pieces if piece.is_quantity]
    marked = [x for x in numbers if _is_each(x)]
    if len(marked) == 1 and len(numbers) == _TWO and numbers[0].value == marked[0].value * len(row.mentions):
        return marked[0].value
    says = any(_says_each(row.pieces, place) for place in range(len(row.pieces)))
    if len(numbers) != 1 or not (says or marked) or "odd" in row.kinds:
        return 0
    return numbers[0].value


def is_for_all(row: Row) -> bool:
    """Whether a row of several parts tells a number that may be for all of them, or for each, and does not say which:
    "two gauges: A and B", "2 x (A + 2 B)", "2 A, each with B"."""
    if len(row.mentions) == 1:
        return False
    numbers = [piece for piece in row.pieces if piece.is_quantity]
    is_of_each = len(numbers) > 1 and sum(map(_is_each, numbers)) == 1
    return is_of_each or any(map(_is_each_word, row.pieces)) or _is_before_list(row.pieces)


def _is_before_list(pieces: Sequence[Piece]) -> bool:
    """Whether a number stands before a colon or a bracket that the parts follow."""
    first, second, *_ = (place for place, piece in enumerate(pieces) if piece.kind == "part")
    told = [place for place in range(first) if pieces[place].is_quantity]
    between = {piece.text for piece in pieces[told[-1] + 1 : first]} if told else set[str]()
    is_closed = any(piece.text in ")]" for piece in pieces[first:second] if not piece.text.isspace())
    is_counted = any(piece.is_quantity for piece in pieces[first:])
    return bool(between & _OPENING and not is_closed) or (":" in between and not is_counted)


def _is_each_word(piece: Piece) -> bool:
    return piece.kind == "word" and piece.text in _EACH


def _says_each(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a word says of the number beside it, or of all that stands before it, that it is of each part."""
    if not _is_each_word(pieces[place]):
        return False
    sides = (pieces[:place][::-1], pieces[place + 1 :])
    near = [next((x for x in side if x.kind != "sign" and x.text not in _BETWEEN), None) for side in sides]
    return near[1] is None or any(piece is not None and piece.is_quantity for piece in near)


def _is_each(piece: Piece) -> bool:
    return "each" in piece.text.split() or piece.text.endswith("each")


def are_alternatives(row: Row, shares: Sequence[tuple[int, list[Piece]]]) -> bool:
    """Whether a slash stands between parts that are not counted each."""
    counted = all(any(piece.is_quantity for piece in pieces) for _, pieces in shares)
    return not counted and any(piece.text == "/" for piece in row.pieces)


def segments(row: Row) -> list[tuple[int, list[Piece]]] | None:
    """The pieces that go with each part of a row; None where that cannot be told."""
    pieces = row.pieces
    places = [place for place, piece in enumerate(pieces) if piece.kind == "part"]
    cuts = [0]
    orientation = _orientation(pieces, places)
    for left, right in pairwise(places):
        cut = _cut(pieces, left, right, orientation)
        if cut is None:
            return None
        cuts.append(cut)
    cuts.append(len(pieces))
    return [(pieces[place].part, list(pieces[cuts[i] : cuts[i + 1]])) for i, place in enumerate(places)]


def _orientation(pieces: Sequence[Piece], places: Sequence[int]) -> int:
    """-1: quantities stand before their parts; 1: behind; 0: that cannot be told."""
    before = any(piece.is_quantity for piece in pieces[: places[0]])
    after = any(piece.is_quantity for piece in pieces[places[-1] + 1 :])
    return int(after) - int(before)


def _cut(pieces: Sequence[Piece], left: int, right: int, orientation: int) -> int | None:
    """Where what goes with one part ends and what goes with the next begins."""
    between = range(left + 1, right)
    numbers = [place for place in between if pieces[place].is_quantity or pieces[place].kind == "odd"]
    signs = [x for x in between if pieces[x].text in _PARTING or "\t" in pieces[x].text]
    if not numbers:
        return signs[0] if signs else None
    if len(numbers) > 1:
        inner = [sign for sign in signs if numbers[0] < sign < numbers[-1]]
        return inner[0] if inner and len(numbers) == _TWO else None
    before = [sign for sign in signs if sign < numbers[0]]
    after = [sign for sign in signs if sign > numbers[0]]
    if orientation > 0 and pieces[numbers[0]].text.endswith("."):
        return numbers[0] + 1
    if bool(before) != bool(after):
        return before[0] if before else after[-1]
    if orientation < 0:
        return before[0] if before else numbers[0]
    return (after[-1] if after else numbers[0] + 1) if orientation > 0 else None
