"""What a question says: values of fields with the words they came from, what is to be asked, and all of it together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from service.reading.questions.sentence import Sentence

Value = str | int | float | bool | None | Mapping[str, "Value"] | Sequence["Value"]
Stance = Literal["yes", "no", "doubt"]
MOST_CHOICES = 200
_BEFORE = ("used to", "was", "had", "originally", "left the factory")
_NOW = ("now", "nowadays", "these days", "today", "currently", "converted to", "by now", "since been")
ASKS = {
    "chassis": "Is it this car?",
    "layout": "Is the fuel to run like this?",
    "fuel": "Is this the fuel?",
    "power_kw": "Is this the power?",
    "boost_kpa": "Is this the boost?",
    "addons": "Is this equipment on the car?",
    "gauge": "Is this where the gauge is to be?",
    "finish": "Is this the finish?",
    "clearances": "Is this the room that there is?",
    "feed_hose_m": "Is this the length of the feed hose?",
    "return_hose_m": "Is this the length of the return hose?",
    "max_price": "Is this what it may cost at most?",
    "in_stock_only": "Is it to be made of what is in stock alone?",
    "pump": "Is this what the pump moves?",
    "injectors": "Is this what an injector delivers?",
    "regulator": "Is this the pressure that the regulator is set to?",
    "allow_unsold": "May parts be used that have to be bought elsewhere?",
    "exclude": "Must these parts not be used?",
    "have": "Is this part there already?",
    "own_rail": "Is this what the spots of that rail offer?",
}
"""What is asked of each field where a value is doubted."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A value that may be meant, and what it is in words."""

    value: Value
    says: str


@dataclass(frozen=True, slots=True)
class Understood:
    """A value of a field of a request, and the words of the text that say it; `value` None: it only narrows.

    `first` to before `last`: which words.
    """

    words: str
    field: str
    value: Value
    says: str
    first: int = 0
    last: int = 0

    @classmethod
    def of(cls, sentence: Sentence, first: int, last: int, field: str, value: Value, says: str) -> "Understood":
        """A value that the words from one to before another say."""
        return cls(sentence.quote(first, last), field, value, says, first, last)


@dataclass(frozen=True, slots=True)
class Open:
    """A field that has to be asked, with what may be meant, the likeliest first."""

    field: str
    asks: str
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class UnknownSaid:
    """What a text tells of a car that the catalog does not have; empty or None: it does not."""

    car: str
    engine: str = ""
    cylinders: int | None = None
    banks: int | None = None
    power_kw: float | None = None
    pressure_kpa: float | None = None
    fuel: str = ""
    ends: str = ""
    room: str = ""
    rail: str = ""


@dataclass(frozen=True, slots=True)
class QuestionReading:
    """A question as it was read; `request`: fields of a request for bills, as it takes them."""

    request: dict[str, object]
    understood: tuple[Understood, ...]
    open: tuple[Open, ...]
    unread: tuple[str, ...]
    unknown: UnknownSaid | None = None


@dataclass(slots=True)
class Found:
    """What one reader of a field has found; `value` None and nothing open: the text says nothing of it."""

    value: object = None
    understood: list[Understood] = field(default_factory=list)
    open: Open | None = None


@dataclass(frozen=True, slots=True)
class Said:
    """A value that words say, from one word to before another, and whether it is meant."""

    value: Value
    first: int
    last: int
    says: str
    stance: Stance = "yes"


def settled(said: Sequence[Said]) -> Said | None:
    """What is meant where one value is said, surely, and never denied; None: it is to be asked, or nothing is said."""
    meant = [one for one in said if one.stance == "yes"]
    if not meant or any(one.stance == "doubt" for one in said):
        return None
    if any(not alike(one.value, meant[0].value) for one in meant):
        return None
    return None if any(alike(one.value, meant[0].value) for one in said if one.stance == "no") else meant[0]


def now_of(sentence: Sentence, said: Sequence[Said]) -> list[Said]:
    """What is said without that which is told only of before, where another value is told of now: `used to be petrol,
    converted to E85`."""
    left = {
        x for x, other in pairwise(said) if sentence.at(x.first - 1) == "from" and sentence.at(other.first - 1) == "to"
    }
    said = [x for x in said if x not in left or not isinstance(x.value, str)]
    before = [x for x in said if _is_told(sentence, x, _BEFORE) and not _is_told(sentence, x, _NOW)]
    now = [x for x in said if _is_told(sentence, x, _NOW) and x.stance == "yes"]
    is_apart = bool(before and now) and max(x.last for x in before) <= min(x.first for x in now)
    return [x for x in said if x not in before] if is_apart else list(said)


def _is_told(sentence: Sentence, one: Said, phrases: Sequence[str]) -> bool:
    start, end = sentence.clause_of(one.first)
    return any(start <= first < end for first, _ in sentence.phrases(phrases))


_ALIKE = 0.01


def alike(one: Value, other: Value) -> bool:
    """Whether two values are the same but for how numbers are rounded in speech, to one part in a hundred."""
    if isinstance(one, int | float) and isinstance(other, int | float) and not isinstance(one, bool):
        return abs(one - other) <= _ALIKE * max(abs(one), abs(other))
    return one == other


def choices_of(said: Sequence[Said]) -> tuple[Choice, ...]:
    """The values that were said, the last one first, as it may put the others right."""
    told: dict[str, Choice] = {}
    for one in reversed(said):
        if one.value is not None:
            told.setdefault(repr(one.value), Choice(one.value, one.says))
    return tuple(told.values())[:MOST_CHOICES]
