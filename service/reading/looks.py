"""What words that name a part look like besides: a quantity, a size, words of every day."""

import re
from collections.abc import Sequence

from service.reading.courtesies import EVERYDAY, HARMLESS
from service.reading.folding import Token, singular
from service.reading.words import MOST_QTY, NUMBERS, OTHER_NUMBERS, PIECES

_COUNTING = frozenset(NUMBERS) | frozenset(PIECES.split("|")) | {"x", "dozen", "pair"}
_GLUED = re.compile(rf"0?[1-9]\d{{0,3}}|0|x\d+|\d+x(?:\d+)?|\d+(?:{PIECES})|m\d{{1,2}}|\d{{1,4}}[-./_](?!00)\d{{1,4}}")
"""A quantity, a size, a thread or a fraction, in one word."""
_BROKEN = re.compile(r"\d+[.,]\d+")
_JOINTS = ("-", ".", "_", "/")
_TELLING = frozenset(",:(=+&")


def is_weak(text: str, tokens: Sequence[Token]) -> bool:
    """Whether what names a part may as well be a quantity, a size or words of every day."""
    chunks = text[tokens[0].start : tokens[-1].end].split()
    if len(chunks) == 1 and chunks[0] in EVERYDAY:
        return True
    is_counted = any(chunk.isdigit() for chunk in chunks)
    return all(_is_everyday_chunk(chunk) or (is_counted and chunk in EVERYDAY) for chunk in chunks)


def _is_everyday_chunk(chunk: str) -> bool:
    word = chunk.strip(",.:;()'\"+&")
    if not any(sign.isalnum() for sign in word):
        return True
    if word.isalpha():
        return word in _COUNTING or word in HARMLESS or word in OTHER_NUMBERS
    if _BROKEN.fullmatch(word):
        return True
    return bool(_GLUED.fullmatch(word)) and all(int(figure) <= MOST_QTY for figure in re.findall(r"\d+", word))


def are_everyday(tokens: Sequence[Token]) -> bool:
    """Whether all of these are numbers or words of every day."""
    return all(x.is_number or x.text in HARMLESS or x.text in OTHER_NUMBERS for x in tokens)


def may_count(tokens: Sequence[Token]) -> bool:
    """Whether tokens may be a quantity: numbers, number words, an x."""
    return all(token.is_number or token.text in _COUNTING for token in tokens)


def quantity_in(tokens: Sequence[Token]) -> int:
    """The quantity that tokens tell, 0 where none or one that is too large."""
    numbers = [int(x.text) if x.is_number else NUMBERS.get(x.text, 0) for x in tokens]
    told = [number for number in numbers if 1 <= number <= MOST_QTY]
    return told[0] if told else 0


def is_apart(between: str) -> bool:
    """Whether what stands between two tokens parts them: a space, a comma, anything but one dash or the like."""
    return bool(between) and between not in _JOINTS


def is_told(between: str) -> bool:
    """Whether what stands between a name and a number tells a quantity rather than joins them."""
    return bool(_TELLING.intersection(between))


def is_plural_and_number(text: str, tokens: Sequence[Token]) -> bool:
    """Whether the words end with a plural and a number: so many of the part, or the part's own figure."""
    *_, before, last = (*tokens[:1], *tokens)
    return (
        len(tokens) > 1
        and may_count([last])
        and is_apart(text[before.end : last.start])
        and singular(before.text) != before.text
    )
