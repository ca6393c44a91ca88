"""Names of things that are no parts, as cars and engines, which may stand beside a part."""

from collections.abc import Iterable, Sequence

from service.reading import looks
from service.reading.folding import Token, folded, joined, singular, tokens_of, with_word


class Others:
    """Names of things that are no parts."""

    def __init__(self, names: Iterable[str]) -> None:
        named = [tokens for name in names if not looks.are_everyday(tokens := tokens_of(folded(name)))]
        self._keys = {joined([singular(token.text) for token in tokens]) for tokens in named}
        self.words = frozenset(singular(x.text) for tokens in named for x in tokens if not x.is_number)
        self._firsts = {singular(tokens[0].text) for tokens in named}
        self._longest = max(map(len, self._keys), default=0)

    def places(self, tokens: Sequence[Token]) -> list[tuple[int, int]]:
        """Where they stand: the first token, and the one behind the last."""
        found: list[tuple[int, int]] = []
        place = 0
        while place < len(tokens):
            last = self._end(tokens, place) if singular(tokens[place].text) in self._firsts else 0
            found += [(place, last)] if last else []
            place = last or place + 1
        return found

    def _end(self, tokens: Sequence[Token], first: int) -> int:
        best = 0
        key = ""
        for last in range(first, len(tokens)):
            key = with_word(key, singular(tokens[last].text))
            if len(key) > self._longest:
                break
            best = last + 1 if key in self._keys else best
        return best
