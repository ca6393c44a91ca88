"""Asides: clauses around the parts of a row about something else, such as the reason, the recipient, the fate of the
old parts or the packing. The row is read without them.

A clause is an aside if it has a subject of its own, gives a reason or a purpose, or asks for some handling of the
parcel. It is none if it cancels, leaves open or counts a part of the order.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from service.reading import aside_forms as forms
from service.reading import courtesies, words
from service.reading.amounts import FIRST_PART
from service.reading.casting import casts
from service.reading.common import is_english
from service.reading.folding import singular
from service.reading.meanings import MEANT
from service.reading.subjects import DETERMINERS, FINITE, NOUNS, OF_ROWS, PERSONS, is_noun, is_past, is_verb, subject_of
from service.reading.vocabulary import Vocabulary

_PART: Final = re.compile("[\ue100-\uf8ff]")
_WORD: Final = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_LEAST_TOLD: Final = 2
_CAME: Final = words.CAME | words.words_of(
    "contains contained held holds had was were brought ready shelf stock left still"
)
_NO_BIDS: Final = (
    FINITE
    | PERSONS
    | forms.REASONS
    | DETERMINERS
    | courtesies.AND
    | courtesies.EMPTY
    | courtesies.COMING_FROM
    | words.QUESTIONS
    | words.RECORDS
    | words.CALLED_OFF
    | words.words_of(
        "in on at into from by under over with without before after until till once unless only or but not no than "
        "about against between during through per each every both all wait hold waiting still subject on for swap "
        "exchange return returning back test replace replacing instead"
    )
)
"""Words that begin no request, and verbs of requests about the order itself."""


def aside_spans(text: str, own: frozenset[str], vocabulary: Vocabulary) -> list[tuple[int, int]]:
    """The spans of the asides in a folded row, in which each part is one sign from FIRST_PART on.

    `own`: the words of all that the row's parts are called. None where the row would tell neither how many nor that
    it orders, were it not for them.
    """
    if not any(sign >= chr(FIRST_PART) for sign in text):
        return []

    def is_own(word: str) -> bool:
        return singular(word) in own or vocabulary.is_of_like(own, word)

    found = [
        span
        for span in _clauses(text)
        if _is_aside(text[slice(*span)], is_own, is_beside=False) and not _tells_what_came(text, span)
    ]
    found = found if found and forms.ORDERING.search(blanked(text, found)) else []
    label = forms.LABEL.match(text)
    if label and all(map(_names_whom, label["told"].split())) and not any(map(is_own, label["told"].split())):
        found.insert(0, label.span())
    return found


def aside_spans_of_line(text: str, knows: Callable[[str], bool]) -> list[tuple[int, int]]:
    """The spans of the asides in a folded row that names no part. `knows`: whether a word is one of the catalog.

    The clause that a colon ends is about the rows below it.
    """
    last = len(text.rstrip(" *_").removesuffix(":")) if text.rstrip(" *_").endswith(":") else -1
    last = text.rindex("(", 0, last) if text[:last].endswith(")") and "(" in text[:last] else last
    spans = [*_clauses(text)]
    found = {
        span
        for span in spans
        if _is_aside(text[slice(*span)], knows, is_beside=True, is_over=span[0] < last <= span[1])
    }
    found |= {
        other
        for one, other in pairwise(spans)
        if one in found and forms.GOES_ON.match(text[slice(*other)]) and not forms.COURTESY.match(text[slice(*one)])
    }
    tied = {one for one, other in pairwise(spans) if other in found and forms.CONDITION.match(text[slice(*one)])}
    return sorted(found | tied)


def blanked(text: str, spans: Sequence[tuple[int, int]]) -> str:
    """A text with spaces in the place of these clauses, and a comma first."""
    for first, last in spans:
        text = f"{text[:first]}{','.ljust(last - first)}{text[last:]}" if last > first else text
    return text


def _clauses(text: str) -> Iterator[tuple[int, int]]:
    """The spans of the clauses, without the signs between them."""
    begun = 0
    for found in forms.BREAKS.finditer(text):
        if found.start() > begun:
            yield begun, found.start()
        begun = found.end()
    if begun < len(text):
        yield begun, len(text)


def _is_aside(clause: str, is_own: Callable[[str], bool], *, is_beside: bool, is_over: bool = False) -> bool:
    """Whether a clause is an aside. `is_over`: it is about the rows below, so only handling of the parcel is one."""
    if _PART.search(clause):
        return False
    if forms.COURTESY.match(clause):
        return True
    said = _WORD.findall(clause)
    if len(said) < _LEAST_TOLD or forms.CONDITION.match(clause):
        return False
    if is_over:
        return _is_handling(said) and not forms.TURNS.search(clause)
    if forms.PLACE.match(clause):
        return True
    subject = subject_of(said, is_own)
    if subject is not None and subject.kind == "thing":
        if subject.is_pronoun:
            return (
                (_tells(subject.told) or said[0] in forms.REASONS)
                and OF_ROWS.isdisjoint(subject.told)
                and not forms.TURNS.search(clause)
            )
        return bool(subject.told) and not forms.THESE.search(clause)
    if forms.TURNS.search(clause):
        return False
    if forms.PURPOSE.match(clause):
        return True
    if said[0] in forms.REASONS:
        is_told = subject is not None and bool(subject.told)
        is_reason = said[0] in forms.CAUSES and any(word in FINITE or "'" in word or is_verb(word) for word in said[1:])
        return is_told or is_reason
    if subject is not None and not subject.is_pronoun and forms.AGREEING.issuperset(subject.told):
        return True
    if subject is not None and any(is_own(word) for word in subject.told if is_noun(word)):
        return False
    if subject is not None:
        return forms.WISHING.isdisjoint(subject.told) and _tells(subject.told)
    is_denial = _denies_else(said, is_own) and (is_beside or not forms.OF_PARCELS.isdisjoint(said))
    return is_denial or _is_handling(said) or _bids_else(clause, is_own)


def _tells_what_came(text: str, span: tuple[int, int]) -> bool:
    """Whether a clause tells of something that came or is there, and the parts behind its colon are that."""
    first, last = span
    said = _WORD.findall(text[first:last])
    is_led = text[last:].lstrip().startswith(":") and said[:1] not in (["for"], ["to"])
    return is_led and not _CAME.isdisjoint(said)


def _names_whom(word: str) -> bool:
    """Whether a word may name a recipient or a use: it is a thing, or a name."""
    return (
        len(word) > 1
        and word not in forms.NO_LABELS
        and not casts(word)
        and word not in MEANT
        and (
            is_noun(word)
            or word in NOUNS
            or not (is_english(word) or words.is_of(word, words.DOUBTFUL) or word in courtesies.EVERYDAY)
        )
    )


def _tells(told: Sequence[str]) -> bool:
    """Whether something is said of a subject beside what anybody is or does."""
    return any(is_noun(word) and word not in FINITE and not is_past(word) for word in told)


def _is_handling(said: Sequence[str]) -> bool:
    place = next((at for at, word in enumerate(said) if word in forms.HANDLED), None)
    return place is not None and forms.NOT_HANDLED.isdisjoint(said) and forms.HANDLING.issuperset(said[:place])


def _denies_else(said: Sequence[str], is_own: Callable[[str], bool]) -> bool:
    """Whether a clause wishes for something else not to be: "no invoice in the box", "bitte keine Teillieferung"."""
    told = [word for word in said if word not in ("please", "bitte", "and", "but", "just")]
    if not told or told[0] not in ("no", "kein", "keine", "keinen", "without", "ohne") or len(told) < _LEAST_TOLD:
        return False
    thing = told[1]
    is_word = is_noun(thing) or told[0].startswith("k")
    return is_word and OF_ROWS.isdisjoint(told) and not any(map(is_own, told[1:]))


def _bids_else(clause: str, is_own: Callable[[str], bool]) -> bool:
    """Whether a clause bids to do something, or not, to a thing that is no part: "don't send the invoice to him"."""
    found = forms.BIDDING.match(clause)
    if found is None or found["verb"] in _NO_BIDS or found["verb"].endswith("ed") or forms.POINTING.search(clause):
        return False
    things = [word for word in found["thing"].split() if word not in courtesies.EMPTY and word not in FINITE]
    return (
        (OF_ROWS | forms.AWAITED).isdisjoint(things)
        and bool(things)
        and all(map(is_noun, things))
        and not any(map(is_own, things))
    )
