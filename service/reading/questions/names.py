"""Where a text names things of the catalog whole; of several beginnings the longest name counts."""

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from service.reading import looks
from service.reading.folding import folded, singular, tokens_of, with_word
from service.reading.questions.sentence import Sentence

_GAPS = frozenset(" ._/-,()'\":+&;")
_LONGEST_GAP = 4
_CODE = re.compile(r"[a-z]{1,3}\d{1,4}")


@dataclass(frozen=True, slots=True)
class Hit:
    """Words of a text, from one to before another, that name things whole."""

    ids: tuple[str, ...]
    first: int
    last: int


class NameFinder:
    """The names of some things. Built once a revision; safe to share by threads."""

    def __init__(self, named: Iterable[tuple[str, str]], everyday: frozenset[str] = frozenset()) -> None:
        """`named`: a name and whose it is. A name that is numbers or words of every day alone is left out, and one that
        is a single word of `everyday`."""
        self._ids: dict[str, list[str]] = defaultdict(list)
        beginnings: set[str] = set()
        codes: set[str] = set()
        for name, id_ in named:
            tokens = tokens_of(folded(name))
            is_code = bool(_CODE.fullmatch(folded(name)))
            if not tokens or (looks.are_everyday(tokens) and not is_code):
                continue
            if len(tokens) == 1 and tokens[0].text in everyday:
                continue
            key = ""
            for token in tokens:
                key = with_word(key, singular(token.text))
                beginnings.add(key)
            if is_code:
                codes.add(key)
            if id_ not in self._ids[key]:
                self._ids[key].append(id_)
        self._beginnings = frozenset(beginnings)
        self._codes = frozenset(codes)
        """Names of letters and figures in one word, as `A33`: they are meant by one word alone."""

    def hits(self, sentence: Sentence) -> list[Hit]:
        """Where the text names some of these, from left to right."""
        tokens, plain = sentence.tokens, sentence.plain
        found: list[Hit] = []
        place = 0
        while place < len(tokens):
            last, key, best = place, "", (place, "")
            while last < len(tokens):
                between = plain[tokens[last - 1].end : tokens[last].start] if last > place else ""
                if len(between) > _LONGEST_GAP or not _GAPS.issuperset(between):
                    break
                key = with_word(key, singular(tokens[last].text))
                if key not in self._beginnings:
                    break
                last += 1
                start, end = tokens[place].start, tokens[last - 1].end
                is_apart = key in self._codes and not plain[start:end].isalnum()
                if key in self._ids and not is_apart and _is_whole(plain, start, end):
                    best = (last, key)
            if best[1]:
                first, behind = sentence.within(tokens[place].start, tokens[best[0] - 1].end)
                found.append(Hit(tuple(self._ids[best[1]]), first, max(behind, first + 1)))
            place = max(best[0], place + 1)
        return found


def _is_whole(plain: str, start: int, end: int) -> bool:
    """Whether no number at either end goes on beyond."""
    if plain[end - 1].isdigit() and plain[end : end + 1] in (".", ",", "/") and plain[end + 1 : end + 2].isdigit():
        return False
    return not (plain[start].isdigit() and start > 1 and plain[start - 1] in ".,/" and plain[start - 2].isdigit())
