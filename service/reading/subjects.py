"""Who or what a clause is about: a person, a thing of its own, or nobody, so that it is about what is ordered."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from service.reading import courtesies, words
from service.reading.common import is_english
from service.reading.words import words_of

FINITE: Final = words_of(
    "is are was were am has have had do does did will would can could shall should must won't wont can't cant isn't "
    "isnt aren't wasn't weren't hasn't haven't hadn't doesn't doesnt don't dont didn't didnt couldn't wouldn't cannot "
    "ist sind war waren hat haben hatte hatten wird wurde wartet braucht est sont etait"
)
"""Verbs that stand with any subject."""
_PAST: Final = words_of(
    "wrote told grew drove rode flew sold began sat spoke stole threw woke knew chose forgot drew lay led left lent "
    "rose sang shot slept swore swam taught won cut hit hurt put set shut spread kept felt held heard dealt built "
    "spent bought brought caught fought sought paid met broke burst went came fell gave got took wore tore split "
    "stood let ate ran snapped bit bent lost made said thought blew"
)
_ENDINGS: Final = ("s", "m", "d", "re", "ve", "ll")
PERSONS: Final = words_of(
    "i we he she they you nobody somebody someone everybody everyone who ich wir er sie nous il elle"
) | {f"{one}'{end}" for one in ("i", "we", "he", "she", "they", "you", "who") for end in _ENDINGS}
_THINGS: Final = words_of("mine ours hers theirs there es") | {
    f"{one}'{end}" for one in ("there", "it") for end in _ENDINGS
}
_POINTING: Final = words_of("there that this it es") | {f"{one}'{end}" for one in ("there", "it") for end in _ENDINGS}
DETERMINERS: Final = words_of(
    "the my our your his her their its a an this that der die das den mein meine unser unsere le la les mon ma notre"
)
_PEOPLE: Final = words_of(
    "boss customer client wife husband partner owner mechanic garage office branch supplier dealer competitor "
    "competition colleague chief foreman insurance insurer bank accountant management workshop shop friend brother "
    "sister neighbour son daughter father mother mate lad lads kunde chef client patron purchasing buyer site team "
    "guy man people kollege"
)
"""Who may decide on an order, or have parts of his own."""
_LED_BY: Final = words_of(
    "and but so while also now then because since as cos coz cause though although yet oh well for"
)
_QUALIFYING: Final = words_of(
    "old last other previous existing original originals short worn current broken first new ones spare second long "
    "alten alte"
)
"""What tells a part that is there from the one that is ordered."""
_COUNTING: Final = frozenset(words.NUMBERS) | words.OTHER_NUMBERS | words.SETS | frozenset(words.PIECES.split("|"))
NOUNS: Final = words_of(
    "customer car truck van workshop shop team sir madam driver boss mechanic garage vehicle engine"
)
_MOST_OF_SUBJECT: Final = 8
OF_ROWS: Final = words_of(
    "order orders list lot part parts item items line lines row rows position positions goods quantity quantities "
    "number numbers amount amounts above below following rest thing things same last first second third whole others "
    "other one ones quote quotation offer price prices estimate"
)
"""What rows are called by."""


@dataclass(frozen=True, slots=True)
class Subject:
    """Of which kind a subject is, and what the clause says of it."""

    kind: Literal["person", "thing"]
    told: Sequence[str]
    is_pronoun: bool = True


def subject_of(said: Sequence[str], is_own: Callable[[str], bool]) -> Subject | None:
    """The subject of a clause; None where it has none of its own. `is_own`: whether a word is one of the parts'."""
    begun = next((at for at, word in enumerate(said) if word not in _LED_BY), len(said))
    told = said[begun:]
    if told[1:2] == ["time"] and told[0] in ("last", "next", "this"):
        told = told[2:]
    if not told:
        return None
    if told[0] in PERSONS:
        return Subject("person", told[1:])
    if told[0] in _THINGS or _points(told):
        return Subject("thing", told[1:], is_pronoun=told[0] in _POINTING)
    is_led = told[0] in DETERMINERS
    end = _end_of_subject(told, is_led=is_led, is_joined=said[0] == "and")
    if told[end + 1 : end + 2] and told[end + 1] in PERSONS and told[end] in FINITE:
        return None  # "can you"
    nouns = [word for word in told[:end] if word not in DETERMINERS and word not in ("one", "ones") and len(word) > 1]
    if not nouns or not _COUNTING.isdisjoint(nouns) or words.any_of(nouns[:1], _NO_SUBJECTS):
        return None
    is_number_of = nouns[-1] in ("number", "numbers") and len(nouns) > 1 and nouns[-2] not in OF_ROWS
    if not (is_number_of or OF_ROWS.isdisjoint(nouns) or _QUALIFYING & {*nouns}):
        return None
    if is_own(_head_of(nouns)) and _QUALIFYING.isdisjoint(nouns):
        return None
    if not is_led and not all(map(is_noun, nouns)):
        return None
    return Subject("thing" if _PEOPLE.isdisjoint(nouns) else "person", told[end:], is_pronoun=False)


def _head_of(nouns: Sequence[str]) -> str:
    """The noun that a subject is about: the last before a preposition."""
    end = next((at for at, word in enumerate(nouns) if at and word in _PREPOSITIONS | PERSONS), len(nouns))
    return nouns[end - 1]


_PREPOSITIONS: Final = words_of("of for in on at from with to by under over behind about")


def _points(told: Sequence[str]) -> bool:
    """Whether a pronoun for a thing stands before its verb."""
    verb = told[1] if len(told) > 1 else ""
    return (told[0] in ("that", "it", "this") and (verb in FINITE or is_past(verb))) or (
        told[0] in ("that", "it") and verb.endswith("s")
    )


_NO_SUBJECTS: Final = words.ORDERING | words.QUESTIONS | words.CALLED_OFF


def _end_of_subject(told: Sequence[str], *, is_led: bool, is_joined: bool) -> int:
    """Where the subject ends and its verb begins; 0: nowhere."""
    places = range(1, min(len(told), _MOST_OF_SUBJECT + 1))
    finite = next((at for at in places if told[at] in FINITE), 0)
    if finite or is_joined:
        return finite
    verbs = (at for at in places if at > is_led and is_verb(told[at]))
    return next((at for at in verbs if at + 1 < len(told) or is_past(told[at])), 0)


def is_noun(word: str) -> bool:
    """Whether a word may name a person or a thing that no part is."""
    return word in _QUALIFYING or (
        is_english(word)
        and not word.endswith("ly")
        and word not in words.DOUBTFUL - words.SETS
        and word not in words.DESCRIBING
        and word not in courtesies.HARMLESS - NOUNS
    )


def is_verb(word: str) -> bool:
    return (word.endswith("s") and not word.endswith("ss")) or is_past(word)


def is_past(word: str) -> bool:
    return word.endswith("ed") or word in _PAST
