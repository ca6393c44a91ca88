"""A question as words that know where they stand: in the text as it was written, and in which clause."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from service.reading.folding import singular, tokens_of
from service.reading.questions.words import set_of
from service.reading.questions.written import folded_with_places, put_right

_WORD = re.compile(
    r"[^\W\d_\ue000-\uf8ff]+(?:'[^\W\d_\ue000-\uf8ff]+)*|[0-9]+(?:[.,'][0-9]+)*|[^\w\s]|[\ue000-\uf8ff]|\n"
)
_ENDS = frozenset(".;!?,|()[]{}\n")
_ABBREVIATED = re.compile(r"\b(?:max|min|approx|ca|nr|incl|excl|abt|appr|mr|mrs|ms|dr|st|e\.g|i\.e)$")
_LONGEST_SHORT = 7
_SUM_MAX = re.compile(r"\d\s*(?:[a-z]{2,7}|[\u00a3\u20ac$])?\s+max$")
"""A sum that is the most, so that the point behind it ends the sentence."""
_LONGEST_SUM = 20
LONGEST_QUOTE = 200
_LONGEST_CLAUSE = 60
"""Words; a longer one is cut, so that what looks through a clause takes time in proportion to the text."""
_CLOSING = frozenset(".;!?\n")
_ASKING = set_of("is are do does should shall would could can may will must")
_OF_IT = set_of("can could does will would")
"""How a question goes on in the middle of a clause: `... can it run on ...`."""
_ASKING_ON = set_of("have do does is are much many would")
_OF_COST = set_of("cost costs price much need")
_ASKED_OF = set_of("i we you it he she they there a an the that this my our all everything")
"""How a question begins where its sign was left out."""
_OF_ORDERS, _POLITE = set_of("can could would will may"), set_of("please kindly just also")
_ORDERED = {
    **dict.fromkeys(("i", "we"), set_of("have get order buy trouble")),
    "you": set_of("price quote send give put fit add supply order prepare include sort post ship"),
}
"""What is said to order politely, and by whom."""
_WEIGHING = set_of("what how whether if which or back out through look word idea had been")
"""What makes of it a question, or an order of another thing."""
_GOING_ON = set_of("and but so")
_GOES_ON_NEXT = re.compile(
    r"\s+(?:how (?:long|much|soon|fast|many)|when|what|where|why|who|do you|can you|could you|"
    r"is it|are they|does it|will it|do i|should i|(?:now )?(?:i|we|he|she|it|they|there)(?:'\w+)?)\b"
)
"""How a clause begins behind `and` that asks, or has somebody of its own who does something."""
_LONG_NUMBER = 6
_SPACED_ENDS = frozenset("/+-*")
"""Signs that end a clause where spaces stand around them."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word, a number or a sign. `start` to before `end`: where it stands in the folded text; `clause`: which one,
    from 0; `sentence`: which one, from 0."""

    text: str
    start: int
    end: int
    clause: int
    sentence: int

    @property
    def is_number(self) -> bool:
        return self.text[0].isdigit()

    @property
    def is_code(self) -> bool:
        """Whether it is a number of a telephone, or of an order."""
        return self.text.isdigit() and (len(self.text) >= _LONG_NUMBER or (len(self.text) > 1 and self.text[0] == "0"))

    @property
    def is_word(self) -> bool:
        return self.text[0].isalpha()


class Sentence:
    """A text in words. All is found in one pass; what was read of it is marked."""

    def __init__(self, text: str, spelling: Callable[[str], str] | None = None) -> None:
        """`spelling`: gives for a word the one that is meant; what is quoted stays as it was written."""
        self.text = text
        self.plain, self._where = folded_with_places(text)
        if spelling is not None:
            self.plain, self._where = put_right(self.plain, self._where, spelling)
        self.words = list(self._cut())
        self._index: dict[str, list[int]] = {}
        for place, word in enumerate(self.words):
            self._index.setdefault(word.text, []).append(place)
        self._phrases: dict[int, tuple[tuple[str, ...], list[tuple[int, int]]]] = {}
        """Where the phrases of a tuple stand, once looked for; the tuple is kept, so that its id stays its own."""
        self.tokens = tokens_of(self.plain)
        """The words as names are looked for, figures taken apart."""
        self.has_cases = any(x.isupper() for x in text) and any(x.islower() for x in text)
        """Whether some letters are capital and some are small, so that capitals tell something."""
        self.read = [False] * len(self.words)
        """Which words something was made of."""
        self.trade: frozenset[str] = frozenset()
        """Words that the parts of the catalog are called by, in the singular: they change nothing of what is told."""
        self.cars = [False] * len(self.words)
        """Which words name cars."""
        self.asides: frozenset[int] = frozenset()
        """Which words are about another car than the one in question."""
        self.apart: frozenset[int] = frozenset()
        """Which words tell of how it came to it, or of another, and nothing of what is wished."""
        self.of_others: set[int] = set()
        """Words that were read as told of another thing, as the colour of the car: they are shown as unread."""
        self.is_mine_told = False
        """Whether that one is told apart from another's as `mine`."""
        self.compared: list[tuple[int, int, frozenset[str]]] = []
        """The names of cars that are only compared with, and the cars."""
        self.nearly: list[tuple[int, int]] = []
        """Words that are nearly the name of a car, or one with a figure that no such car has."""
        self.clauses: list[tuple[int, int]] = _clauses(self.words)
        """The first word of each clause and the one behind its last."""
        self._begins: dict[int, int] = {}
        for place, word in enumerate(self.words):
            self._begins.setdefault(word.sentence, place)
        self.closing = frozenset(_closing(self.words))
        """The quotes that end what another one began."""

    def quote(self, first: int, last: int) -> str:
        """The words from one to before another, as they stand in the text."""
        start, end = self._where[self.words[first].start], self._where[self.words[last - 1].end - 1]
        return self.text[start : min(end, start + LONGEST_QUOTE - 1) + 1]

    def mark(self, first: int, last: int) -> None:
        """Take words as read."""
        self.read[first:last] = [True] * (last - first)

    def set_aside(self, first: int, last: int) -> None:
        """Take words as read, of which nothing is made."""
        self.mark(first, last)
        self.of_others.update(range(first, last))

    def at(self, place: int) -> str:
        """The word at a place; empty beyond the text."""
        return self.words[place].text if 0 <= place < len(self.words) else ""

    def is_glued(self, place: int) -> bool:
        """Whether a word stands right behind the one before it."""
        return 0 < place < len(self.words) and self.words[place].start == self.words[place - 1].end

    def places(self, words: Iterable[str], first: int = 0, last: int | None = None) -> list[int]:
        """Where any of these words stand."""
        known = words if isinstance(words, frozenset | set | dict) else frozenset(words)
        if last is None:
            return sorted(place for word in known for place in self._index.get(word, ()) if place >= first)
        return [place for place in range(max(first, 0), min(last, len(self.words))) if self.words[place].text in known]

    def phrases(self, phrases: Iterable[str]) -> list[tuple[int, int]]:
        """Where phrases stand, the first word and the one behind the last; dashes between their words do not count."""
        if isinstance(phrases, tuple):
            known = self._phrases.get(id(phrases))
            if known is not None:
                return known[1]
        found: list[tuple[int, int]] = []
        for phrase in phrases:
            first, *rest = phrase.split()
            for place in self._index.get(first, ()):
                last = self._end_of(place + 1, rest)
                found += [(place, last)] if last else []
        found.sort()
        if isinstance(phrases, tuple):
            self._phrases[id(phrases)] = (phrases, found)
        return found

    def _end_of(self, place: int, rest: list[str]) -> int:
        for word in rest:
            place += self.at(place) == "-"
            if self.at(place) != word:
                return 0
            place += 1
        return place

    def is_capital(self, place: int) -> bool:
        """Whether a word is written with a capital."""
        return self.has_cases and self.text[self._where[self.words[place].start]].isupper()

    def clause_of(self, place: int) -> tuple[int, int]:
        """The first word of the clause that a word stands in, and the one behind its last."""
        return self.clauses[self.words[place].clause]

    def is_question(self, place: int) -> bool:
        """Whether the clause that a word stands in asks: by its sign, or by how it begins; not for what it orders
        politely: `could you price ...`."""
        start, _ = self.clause_of(place)
        start = max((x + 1 for x in self.places((":",), start, place)), default=start)
        start += self.at(start) == "and"
        if self._is_order(start):
            return False
        following = self.at(start + 1)
        is_begun = self.at(start) in _ASKING and (following in _ASKED_OF or following[:1].isdigit())
        is_first = start == 0 or self.words[start - 1].sentence != self.words[start].sentence
        is_begun = is_begun or (is_first and self.at(start) in ("which", "what", "how"))
        is_begun = is_begun or (self.at(start) in ("what", "how") and following in _ASKING_ON)
        is_begun = is_begun or any(self.at(x + 1) == "it" for x in self.places(_OF_IT, start, place))
        is_begun = is_begun or any(
            self.at(x + 1) == "there" and self.at(x + 2) in ("a", "an", "any")
            for x in self.places(("is",), start, place)
        )
        return is_begun or self.has_sign(place)

    def _is_order(self, start: int) -> bool:
        """Whether words begin that order something politely, and ask nothing of it: `could I please have ...`."""
        start += 2 * ((self.at(start), self.at(start + 1)) == ("any", "chance"))
        place = start + 2
        while self.at(place) in _POLITE:
            place += 1
        verb = (self.at(start + 1), self.at(place))
        is_order = self.at(start) in _OF_ORDERS and (
            verb[1] in _ORDERED.get(verb[0], ()) or (verb[1] in ("make", "do") and self.at(place + 1) in ("it", "them"))
        )
        return is_order and not self.places(_WEIGHING, place, self.clause_of(start)[1])

    def has_sign(self, place: int) -> bool:
        """Whether the clause that a word stands in has a sign of asking of its own: in `what would it cost for a ...,
        with a return?` it is that of the beginning."""
        start, end = self.clause_of(place)
        first = self._begins[self.words[start].sentence]
        is_asked = self.at(first) in ("what", "how") and self.places(_OF_COST, *self.clause_of(first))
        is_of_all = bool(is_asked) or (self._is_order(first) and not self.places(_WEIGHING, start, end))
        return (first == start or not is_of_all) and "?" in (self.at(end - 1), self.at(end))

    def within(self, start: int, end: int) -> tuple[int, int]:
        """The words that signs of the folded text belong to: the first, and the one behind the last."""
        return self._by_start(start), self._by_start(end)

    def _by_start(self, sign: int) -> int:
        low, high = 0, len(self.words)
        while low < high:
            middle = (low + high) // 2
            if self.words[middle].end <= sign:
                low = middle + 1
            else:
                high = middle
        return low if low == len(self.words) or self.words[low].start >= sign else low + 1

    def _cut(self) -> Iterator[Word]:
        clause = sentence = length = 0
        text = ""
        for found in _WORD.finditer(self.plain):
            before, text = text, found[0]
            if length and text in _GOING_ON and before != "or" and _GOES_ON_NEXT.match(self.plain, found.end()):
                clause, length = clause + 1, 0
            yield Word(text, found.start(), found.end(), clause, sentence)
            length += 1
            if length >= _LONGEST_CLAUSE or _is_end(self.plain, found):
                clause, length = clause + 1, 0
                sentence += text in _CLOSING


def _closing(words: list[Word]) -> Iterator[int]:
    """The second of each pair of quotes; one right behind a number, with none open, is a sign of inches."""
    is_open = False
    for place, word in enumerate(words):
        if word.text != '"':
            continue
        if is_open:
            yield place
            is_open = False
        else:
            is_open = not (place and words[place - 1].is_number and words[place - 1].end == word.start)


def _is_end(text: str, found: "re.Match[str]") -> bool:
    sign = found[0]
    before, after = text[found.start() - 1 : found.start()], text[found.end() : found.end() + 1]
    if sign == "." and _SUM_MAX.search(text[max(found.start() - _LONGEST_SUM, 0) : found.start()]):
        return True
    if sign == "." and _ABBREVIATED.search(text[max(found.start() - _LONGEST_SHORT, 0) : found.start()]):
        return False
    if sign in _ENDS:
        return sign != "." or not after.strip() or not after.isalnum()
    return sign in _SPACED_ENDS and before in ("", " ") and after in ("", " ")


def _clauses(words: list[Word]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for place, word in enumerate(words):
        if word.clause == len(found):
            found.append((place, place + 1))
        else:
            found[-1] = (found[-1][0], place + 1)
    return found


def singulars(words: Iterable[str]) -> list[str]:
    """Words without the ending of a plural or of a genitive; numbers stay."""
    return [singular(word.removesuffix("'s")) for word in words]
