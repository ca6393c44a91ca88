"""The language that answers are worded in. English texts are the ids of the messages; what is said instead of one in
another language comes from message files, of a name from the catalog. Outside `speaking` everything is said in English.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations
from json import dumps

ENGLISH = "en"
WORD = "word"
"""The context, as gettext has it, of words that stand within messages."""
SPOT_CASES = ("what is meant", "where something is")
"""The contexts of the forms in which texts call a spot."""
_SPOT = re.compile(r"the (\S+) spot")
_WORD = re.compile(rb"[\w\x80-\xff]+")


class Left:
    """What a language has no words for. `has_messages`: what is left is these texts of the catalog alone."""

    def __init__(self, texts: Iterable[str], *, has_messages: bool) -> None:
        self._has_messages = has_messages
        self._texts = {dumps(text, ensure_ascii=False)[1:-1].encode() for text in texts}
        self._shapes: dict[bytes, set[tuple[int, int]]] = {}
        for text in self._texts:
            if word := _WORD.search(text):
                self._shapes.setdefault(word[0], set()).add((word.start(), len(text)))

    def is_in(self, answer: bytes) -> bool:
        """Whether any of it stands in an answer, as JSON: looked for where its first word is, by length."""
        if not (self._has_messages and self._shapes):
            return not self._has_messages
        return any(
            answer[word.start() - before : word.start() - before + length] in self._texts
            for word in _WORD.finditer(answer)
            for before, length in self._shapes.get(word[0], ())
            if word.start() >= before
        )


@dataclass(frozen=True, slots=True, eq=False)
class Tongue:
    """Another language than English.

    `tag`: as of BCP 47; `messages`: from English to it; `names`: from what the catalog says to what it says in this
    language; `left`: what stays English; `decimal`: the sign before decimals; `priced`: words an amount, given
    in minor units, of a currency with so many decimals.
    """

    tag: str
    messages: NullTranslations
    names: Mapping[str, str]
    left: Left
    decimal: str
    priced: Callable[[int, str, int], str]

    def languages(self, answer: bytes) -> str:
        """The languages that the texts of an answer, as JSON, are in, as Content-Language tells them."""
        return f"{self.tag}, {ENGLISH}" if self.left.is_in(answer) else self.tag


_TONGUE: ContextVar[Tongue | None] = ContextVar("tongue", default=None)
spoken: Callable[[], Tongue | None] = _TONGUE.get
"""The tongue that is spoken here; None: English."""


@contextmanager
def speaking(tongue: Tongue | None) -> Iterator[None]:
    """Word everything within the block in a tongue; None: in English."""
    token = _TONGUE.set(tongue)
    try:
        yield
    finally:
        _TONGUE.reset(token)


def language() -> str:
    """The tag of the language that is spoken here: what is kept in words is kept for each language."""
    tongue = _TONGUE.get()
    return ENGLISH if tongue is None else tongue.tag


@lru_cache(4096, typed=True)  # most of what an answer says was said in the one before it
def _in_english(text: str, /, **values: object) -> str:
    return text.format_map(values)


def sentence(text: str) -> str:
    """Mark a message that is said later, by `said` or `word`."""
    return text


def plural(one: str, many: str) -> tuple[str, str]:
    """Mark a message with its plural that is said later, by `numbered`."""
    return one, many


def said(text: str, /, **values: object) -> str:
    """Say a message, with its placeholders filled by what can be hashed."""
    tongue = _TONGUE.get()
    if tongue is None:
        return _in_english(text, **values) if values else text
    text = tongue.messages.gettext(text)
    return text.format_map(values) if values else text


def numbered(count: int, one: str, many: str, /, **values: object) -> str:
    """Say a message in its form for so many things."""
    tongue = _TONGUE.get()
    if tongue is None:
        return _in_english(one if count == 1 else many, **values)
    return tongue.messages.ngettext(one, many, count).format_map(values)


def word(text: str) -> str:
    """Say a word, or a few, that stand within a message; those of no message stay as they are."""
    tongue = _TONGUE.get()
    return text if tongue is None else tongue.messages.pgettext(WORD, text)


def named(name: str) -> str:
    """Say a name, or another text, of the catalog."""
    tongue = _TONGUE.get()
    return name if tongue is None else tongue.names.get(name, name)


def place(spot: str) -> str:
    """Say where a spot is, as in `left` or `2.left`."""
    if _TONGUE.get() is None:
        return spot
    bank, dot, where = spot.rpartition(".")
    return f"{bank}{dot}{word(where)}"


def places(spots: Sequence[str]) -> list[str]:
    """Say where each of several spots is."""
    return [place(spot) for spot in spots]


def the_spot(spot: str) -> str:
    """Say a spot, as in `the left spot`."""
    return said("the {spot} spot", spot=place(spot))


def called(text: str) -> str:
    """Say what facts call by a name of the catalog, as a spot (`the left spot`) or as a line of the car."""
    tongue = _TONGUE.get()
    if tongue is None:
        return text
    spot = _SPOT.fullmatch(text)
    if spot is not None:
        return the_spot(spot[1])
    return tongue.names.get(text) or word(text)


def in_figures(text: str) -> str:
    """Say a number that is written in English, without groups of digits."""
    tongue = _TONGUE.get()
    return text if tongue is None else text.replace(".", tongue.decimal)


@dataclass(frozen=True, slots=True)
class SpotForm:
    """How texts call a spot: `pattern` finds one with its name, `several` says many with their names in a row."""

    pattern: re.Pattern[str]
    several: str


def spot_forms() -> tuple[SpotForm, ...]:
    """The forms in which the texts of this language call a spot: as what is meant, and where something is."""
    tongue = _TONGUE.get()
    if tongue is None:
        return _ENGLISH_FORMS
    messages = tongue.messages
    return tuple(
        _form(
            messages.npgettext(case, "the {spot} spot", "the {spot} spots", 1),
            messages.npgettext(case, "the {spot} spot", "the {spot} spots", 2),
        )
        for case in SPOT_CASES
    )


def _form(one: str, many: str) -> SpotForm:
    return SpotForm(re.compile(re.escape(one).replace(r"\{spot\}", r"([\w.]*\w)") + r"\b"), many)


_ENGLISH_FORMS = (SpotForm(re.compile(r"the (\S+) spot\b"), "the {spot} spots"),)
