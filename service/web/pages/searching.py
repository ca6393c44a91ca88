"""Things found by words: all the words, with dashes or without, or near spellings of them."""

from collections.abc import Mapping

from rapidfuzz import process
from rapidfuzz.distance import OSA

from service.reading.folding import folded, singular, tokens_of

_MOST_WORDS = 8
_LEAST_NEAR = 4
"""Shorter words are near too many others."""
_LONG = 8
_MOST_NEAR = 12


def found_by(words: str, texts: Mapping[str, str]) -> list[str]:
    """The ids whose texts hold every word, in their order; `texts`: folded, by id. Without words: all.

    Of each word the first that finds anything counts: as it is written, without its dashes, as a near spelling.
    """
    found = list(texts)
    for word in folded(words).split()[:_MOST_WORDS]:
        holding = _holding(word, texts)
        found = [id_ for id_ in found if id_ in holding]
    return found


def _holding(word: str, texts: Mapping[str, str]) -> set[str]:
    stem = singular(word)
    as_written = {id_ for id_, text in texts.items() if stem in text}
    if as_written:
        return as_written
    bare = _bare(stem)
    joined = {id_ for id_, text in texts.items() if bare and bare in _bare(text)}
    return joined or _near(bare, texts)


def _near(word: str, texts: Mapping[str, str]) -> set[str]:
    if len(word) < _LEAST_NEAR:
        return set()
    words_of = {id_: {token.text for token in tokens_of(text)} for id_, text in texts.items()}
    known = sorted(set().union(*words_of.values()))
    most = 1 if len(word) < _LONG else 2
    near = process.extract(word, known, scorer=OSA.distance, score_cutoff=most, limit=_MOST_NEAR)
    nearest = {text for text, distance, _ in near if distance == near[0][1]}
    return {id_ for id_, own in words_of.items() if own & nearest}


def _bare(text: str) -> str:
    return "".join(sign for sign in text if sign.isalnum())
