"""A row of a text taken apart: the parts that it names whole, the pieces beside them."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from service.domain.lazy import lazy
from service.reading import counts, looks, words
from service.reading.amounts import FIRST_PART, NAME, Piece, labelled_spans, pieces_of, told_sums
from service.reading.asides import aside_spans, aside_spans_of_line, blanked
from service.reading.folding import Token, folded, key_of, shortened, singular, tokens_of
from service.reading.phrases import without_phrases
from service.reading.recipients import without_recipients
from service.reading.vocabulary import Mention, Vocabulary

LONGEST_ROW = 500
"""Characters: a row that people write has a tenth of it; what is longer is read so far and never sure."""
MOST_PARTS = 40
"""So many parts of a row are told apart."""

_STUCK = re.compile(r"(?<![\w.,/\-])(\d{1,4}x)(?=[a-z])")
_CODE = r"(?:\d{4,}|\d+(?:[.\-/]\d+){2,}|[a-z]{1,4}-?\d{3,}[a-z]?)"
_CODE_COUNTED = re.compile(
    rf"\W*(?:{_CODE}\s*[:;\t|]\s*\d{{1,4}}|{_CODE}\W+x\s*\d{{1,4}}|{_CODE}\W+\d{{1,4}}\s*(?:x|{words.PIECES})"
    rf"|\d{{1,4}}\s*(?:[x;\t|]|{words.PIECES})\s*{_CODE})\W*"
)
_CODE_LABELLED = re.compile(rf"\b(?:{'|'.join(sorted(words.LABELS))})[\s.:#]+\d{{3,}}(?!\d)")
_LONG_FIGURE = 3
_DIGITS_GLUED = re.compile(r"[.,:]\d")


@dataclass(eq=False)
class Row:
    """A row taken apart. `folded`: without what leads it; `pieces`: with each part as one sign; `doubts`: what makes
    the whole row doubtful, once its parts were read; `others`: how many it tells of things that no part is called."""

    text: str
    folded: str
    pieces: tuple[Piece, ...]
    mentions: tuple[Mention, ...]
    tokens: Sequence[Token]
    is_cut: bool = False
    doubts: Sequence[str] = ()
    others: tuple[int, ...] = ()
    knows: Callable[[str], bool] = str.isdigit

    @lazy
    def words(self) -> list[str]:
        """The words that name no part."""
        return [piece.text for piece in self.pieces if piece.kind == "word"]

    @lazy
    def kinds(self) -> frozenset[str]:
        """The kinds of its pieces."""
        return frozenset(piece.kind for piece in self.pieces)

    @lazy
    def said(self) -> tuple[Piece, ...]:
        """The pieces of a row that names no part without the clauses that tell of something else."""
        return pieces_of(blanked(self.folded, self._asides)) if self._asides else self.pieces

    @lazy
    def said_words(self) -> list[str]:
        """The words of `said`."""
        return [piece.text for piece in self.said if piece.kind == "word"]

    @lazy
    def said_text(self) -> str:
        """The row without those clauses."""
        return blanked(self.folded, self._asides)

    @lazy
    def _asides(self) -> list[tuple[int, int]]:
        return [] if self.mentions else aside_spans_of_line(self.folded, self.knows)

    @property
    def counts_a_code(self) -> bool:
        """Whether a row is a number as SKUs have it, and a quantity that is marked or has a cell of its own."""
        is_labelled = "mark" in self.kinds and _CODE_LABELLED.search(self.folded)
        return bool(is_labelled or _CODE_COUNTED.fullmatch(self.folded))

    def forget_tokens(self) -> None:
        """Let go of what only the reading of the row itself needs: long texts have many tokens."""
        self.tokens = ()

    def is_code(self, mention: Mention) -> bool:
        """Whether a part is written as its SKU in one word."""
        written = self.folded[self.tokens[mention.first].start : self.tokens[mention.last - 1].end]
        return mention.how == "sku" and not any(sign.isspace() for sign in written)

    def number_in(self, mention: Mention) -> int:
        """The number in words that may be a quantity as well as a part; 0: none."""
        return looks.quantity_in(self.tokens[mention.first : mention.last]) if mention.is_weak else 0

    @property
    def spoken(self) -> list[Token]:
        """The words and numbers that may tell of a part: not those of prices, dates, addresses, names of cars."""
        return tokens_of("".join(" " if piece.kind in _UNSPOKEN else piece.text for piece in self.pieces))


_UNSPOKEN = frozenset({"nothing", "money", "decimal", "position", "day", "part"})


def row_of(text: str, vocabulary: Vocabulary) -> Row:
    """Take a row apart; a number that sticks to its part by an x is tried apart, and what is said in short."""
    plain = folded(text[:LONGEST_ROW])
    row = _taken_apart(text, plain, vocabulary)
    for other in (_STUCK.sub(r"\1 ", plain), shortened(plain)):
        if other != plain:
            apart = _taken_apart(text, other, vocabulary)
            row = apart if _length(apart) > _length(row) else row
    return row


def _length(row: Row) -> int:
    """How many tokens name parts."""
    return sum(mention.last - mention.first for mention in row.mentions)


def _taken_apart(text: str, plain: str, vocabulary: Vocabulary) -> Row:
    bare = without_phrases(plain)
    tokens = tokens_of(bare)
    mentions = _meant(text, bare, tokens, vocabulary)[:MOST_PARTS]
    inside = {place for one in mentions for place in range(one.first, one.last)}
    names = [name for name in vocabulary.other_names(tokens) if not inside.intersection(range(*name))]
    signs = {(x.first, x.last): chr(FIRST_PART + place) for place, x in enumerate(mentions)} | dict.fromkeys(
        names, NAME
    )
    residue, last = "", 0
    for (first, end), sign in sorted(signs.items()):
        residue += bare[last : tokens[first].start] + sign
        last = _end(bare, tokens[end - 1].end)
    own = vocabulary.own_words({sku for mention in mentions for sku in mention.skus})
    residue += bare[last:]
    asides = aside_spans(residue, own, vocabulary)
    residue, kept = blanked(residue, asides), blanked(bare, _in_full(asides, bare, signs, tokens))
    residue = _IN_A_STREET.sub("", residue)
    if mentions:
        residue = _without_vessel(residue, own)
        residue = without_recipients(residue, partial(vocabulary.is_of_like, own), vocabulary.is_known)
    counted = counts.without_cars(pieces_of(told_sums(residue)), vocabulary)
    pieces, others = counts.without_others(counted, own, len(mentions))
    return Row(
        text,
        kept,
        pieces,
        tuple(mentions),
        tokens,
        len(text) > LONGEST_ROW,
        others=others,
        knows=lambda word: vocabulary.is_known(word) or vocabulary.is_known(singular(word)),
    )


_VESSEL = re.compile(
    r"(?<=\ba )(?:tube|bottle|tin|pot|jar)\s+(?:of\s+)?(?:the\s+)?(?=[\ue100-\uf8ff])"
    r"|(?:(?<=\bone )|(?<=\b1 ))(?:tube|bottle|tin|pot|jar)(?:\s+(?:of\s+)?(?:the\s+)?(?=[\ue100-\uf8ff])|\W*$)"
)
_IN_A_STREET = re.compile(rf"(?:,|\bto|\bat)\s*\d{{1,4}}[a-z]?\s+(?:[a-z.']+\s+){{1,3}}(?:{words.STREETS})\b")
"""A house number and a street on the row of a part."""
_POURED = words.words_of("paste grease sealant lubricant compound gel ml l litre")


def _without_vessel(residue: str, own: frozenset[str]) -> str:
    """A row without the vessels of what is sold in one: "a tube of sealant"."""
    return residue if own.isdisjoint(_POURED) else _VESSEL.sub("", residue)


def _in_full(
    spans: Sequence[tuple[int, int]],
    bare: str,
    signs: Mapping[tuple[int, int], str],
    tokens: Sequence[Token],
) -> list[tuple[int, int]]:
    """Spans of a row in which parts and names are one sign each, as spans of the row as it is written."""
    longer = [(tokens[first].start, _end(bare, tokens[end - 1].end)) for first, end in sorted(signs)]

    def place(at: int) -> int:
        for start, end in longer:
            if at <= start:
                break
            at += end - start - 1
        return at

    return [(place(first), place(last)) for first, last in spans]


def _end(text: str, end: int) -> int:
    """Where a part ends, the genitive or the plural of its figures with it."""
    for ending in ("'s", "s"):
        if text[end : end + len(ending)] == ending and not text[end + len(ending) : end + len(ending) + 1].isalnum():
            return end + len(ending)
    return end


def _meant(text: str, bare: str, tokens: Sequence[Token], vocabulary: Vocabulary) -> list[Mention]:
    """The parts that a row may mean: not what is but a number of something else, or a word of every day."""
    found = vocabulary.mentions(bare, tokens)
    codes = _counted_codes(bare, tokens, found)
    if any(_is_of_digits(tokens, one) for one in found):
        found = _without_numbers_of_others(bare, tokens, found, codes)
    found = [replace(one, is_weak=False) if one in codes else one for one in found]
    if not any(one.is_weak for one in found):
        return found
    strong = {sku for one in found if not one.is_weak for sku in one.skus}
    kept = [
        x
        for x in found
        if not x.is_weak or strong.intersection(x.skus) or _is_labelled(tokens, x) or _is_code_first(tokens, x)
    ]
    return kept or [one for one in found if _may_be_meant(text, bare, tokens, one)]


def _is_of_digits(tokens: Sequence[Token], mention: Mention) -> bool:
    return all(token.is_number for token in tokens[mention.first : mention.last])


def _without_numbers_of_others(
    bare: str, tokens: Sequence[Token], found: list[Mention], codes: Sequence[Mention]
) -> list[Mention]:
    """Without the parts of digits alone that stand in a price, a date, a telephone number, a decimal or an address."""
    spans = labelled_spans(bare)
    named = {place for one in found for place in range(one.first, one.last)}
    is_address = any(token.text in words.NO_PARTS for place, token in enumerate(tokens) if place not in named)

    def is_of_other(one: Mention) -> bool:
        start, end = tokens[one.first].start, tokens[one.last - 1].end
        is_single = one.last - one.first == 1
        glued = is_single and (
            _DIGITS_GLUED.match(bare[end : end + 2]) or _DIGITS_GLUED.match(bare[max(start - 2, 0) : start][::-1])
        )
        return is_address or bool(glued) or any(first < end and start < last for first, last in spans)

    return [one for one in found if one in codes or not (_is_of_digits(tokens, one) and is_of_other(one))]


def _counted_codes(bare: str, tokens: Sequence[Token], found: list[Mention]) -> list[Mention]:
    """The SKUs of digits that look like a range or a fraction and are none: written to the letter, and each with a
    marked quantity, or behind a word that says that it is a SKU."""
    codes = [one for one in found if one.is_weak and _is_long_code(bare, tokens, one)]
    if not codes:
        return []
    rest = bare
    for one in codes[::-1]:
        rest = f"{rest[: tokens[one.first].start]}{chr(FIRST_PART)}{rest[tokens[one.last - 1].end :]}"
    marks = sum(piece.kind == "mark" and piece.form != "mark_word" for piece in pieces_of(rest))
    spans = labelled_spans(bare)
    return [
        one
        for one in codes
        if (marks >= len(codes) or _is_labelled(tokens, one))
        and not any(first < tokens[one.last - 1].end and tokens[one.first].start < last for first, last in spans)
    ]


def _is_long_code(bare: str, tokens: Sequence[Token], mention: Mention) -> bool:
    """Whether a mention is a SKU of digits with a dash or the like in it, written so, longer than any fraction."""
    written = tokens[mention.first : mention.last]
    is_code = mention.how == "sku" and len(mention.skus) == 1 and _is_of_digits(tokens, mention) and len(written) > 1
    is_long = any(len(token.text) >= _LONG_FIGURE for token in written)
    return is_code and is_long and bare[written[0].start : written[-1].end] == folded(mention.skus[0])


def _is_code_first(tokens: Sequence[Token], mention: Mention) -> bool:
    """Whether a row begins with a SKU of digits that no quantity is written as."""
    return mention.first == 0 and mention.last > 1 and mention.how == "sku" and _is_of_digits(tokens, mention)


def _is_labelled(tokens: Sequence[Token], mention: Mention) -> bool:
    """Whether a word before the mention says that it is a part."""
    return mention.first > 0 and tokens[mention.first - 1].text in words.LABELS


def _may_be_meant(text: str, bare: str, tokens: Sequence[Token], mention: Mention) -> bool:
    """Whether a mention that looks like something else may be one: a quantity stands beside it, or it is written to
    the letter."""
    start, end = tokens[mention.first].start, tokens[mention.last - 1].end
    rest = pieces_of(f"{bare[:start]}{chr(FIRST_PART)}{bare[end:]}")
    if any(piece.kind in ("mark", "plain", "odd") for piece in rest):
        return True
    is_to_the_letter = any(sku in re.split(r"[\s,;:]+", text) and not sku.isdigit() for sku in mention.skus)
    return is_to_the_letter and key_of(text[:LONGEST_ROW]) in map(key_of, mention.skus)
