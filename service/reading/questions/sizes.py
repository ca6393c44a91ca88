"""The sizes of hoses, and what is said of the feed and what of the return."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from service.reading.questions import words
from service.reading.questions.facts import Stance
from service.reading.questions.lexicon import LayoutWords, Sizes
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

Role = Literal["feed", "return", "any"]
_NEAR_MM = 0.55
_DASHES = words.set_of("an jic dash")
_OF_BOSS = words.set_of(
    "boss bosses port ports plug plugs orb o adapter adapters fitting fittings thread boss-8 screw bolt"
)
_LARGEST_SIZE, _SMALLEST_SIZE = 32, 3
_SIZED = words.set_of("size sizes an dash -")
_ONE_HOSE = words.set_of("hose line pipe feed return")
_AMONG = words.set_of(
    "to into in at from for and no with without on returnless please each or straight directly running going"
)
"""What goes on behind a hose that is told by its size: else its number may be of other things, as in `8 hose clips`."""
_ARTICLES = ("a", "any", "the")


@dataclass(frozen=True, slots=True)
class SizeSaid:
    """A size of a hose: a number, a dash number (AN, JIC), or millimetres."""

    how: Literal["number", "dash", "mm"]
    value: float
    role: Role
    first: int
    last: int
    stance: Stance

    def is_of(self, sizes: Sizes) -> bool:
        """Whether an end is of that size, but for how exactly people measure."""
        if self.how == "mm":
            return any(abs(self.value - mm) <= _NEAR_MM for mm in sizes.mm)
        return self.value in (sizes.dashes if self.how == "dash" else sizes.numbers)

    @property
    def says(self) -> str:
        shown = f"{self.value:g}"
        return f"hose of {shown} mm" if self.how == "mm" else f"hose size {shown}"


def sizes_in(
    sentence: Sentence,
    measures: Sequence[Measure],
    lengths: Sequence[Measure],
    called: frozenset[str],
    numbers: frozenset[int],
) -> Iterator[SizeSaid]:
    """The sizes of hoses: size 6, -6, AN6, 6 AN, dash six, #6; widths in mm or inches. `called`: further words that a
    catalog's sizes are called by; `numbers`: those of its hoses, for `hose 8`."""
    for one in measures:
        if one.kind not in ("bare", "other") or len(one.values) != 1 or not one.values[0].is_integer():
            continue
        if any(sentence.read[one.first : one.last]) or not 0 < one.values[0] <= _LARGEST_SIZE:
            continue
        how = _told_as_size(sentence, one, called)
        if how is None and one.values[0] in numbers and _is_of_hose(sentence, one):
            how = ("number", one.first - 1, one.last)
        if how is None:
            continue
        first, last = how[1], how[2]
        following = [sentence.at(x) for x in range(last, last + 3) if sentence.at(x) != "-"][:1]
        if (following and following[0] in _OF_BOSS) or sentence.at(first - 1) in _OF_BOSS:
            continue
        yield SizeSaid(
            how[0], one.values[0], role_of(sentence, first, last), first, last, stance_of(sentence, first, last)
        )
    for one in lengths:
        if len(one.values) == 1 and not any(sentence.read[one.first : one.last]):
            role, stance = role_of(sentence, one.first, one.last), stance_of(sentence, one.first, one.last)
            yield SizeSaid("mm", round(one.values[0], 3), role, one.first, one.last, stance)


def _told_as_size(
    sentence: Sentence, one: Measure, called: frozenset[str]
) -> tuple[Literal["number", "dash"], int, int] | None:
    """How a number is told as a size, and its words."""
    first, last = one.first, one.first + 1
    is_apart = not sentence.is_glued(first - 1) or sentence.at(first - 2) in ("/", "(", ",", ":", "=")
    dash = sentence.at(first - 1) == "-" and is_apart
    before = sentence.at(first - 2 if sentence.at(first - 1) == "-" else first - 1)
    begin = first - 2 if sentence.at(first - 1) == "-" else first - 1
    behind = last + (sentence.at(last) == "-")
    following = sentence.at(behind + 1 + (sentence.at(behind + 1) == "-"))
    if sentence.at(behind) in _DASHES and not following[:1].isdigit():
        return "dash", first - dash, behind + 1
    if sentence.at(first - 1) == "minus":
        return "dash", first - 1, last
    if before in _DASHES or (before in called and not sentence.at(begin - 1)[:1].isdigit()):
        return "dash", begin, last
    if sentence.at(last) in ("size", "sized") and sentence.at(last + 1) in words.HOSES | words.FEEDS:
        return "number", first, last + 1
    if before in ("size", "sizes", "gr", "grosse", "nr", "no"):
        return ("number", begin, last) if before in ("size", "sizes") else None
    if sentence.at(first - 1) == "#" or (dash and sentence.is_glued(first)):
        return "dash", first - 1, last
    if sentence.at(last) in _ONE_HOSE and one.values[0] >= _SMALLEST_SIZE and _is_led(sentence, first, last):
        return "number", first, last
    if sentence.at(first - 1) in (":", "=") and sentence.at(first - 2) in ("size", "sizes"):
        return "number", first - 2, last  # in a form
    is_listed = sentence.at(first - 1) in ("or", "and") and sentence.at(first - 3) in _SIZED
    return ("number", first, last) if is_listed else None


def _is_of_hose(sentence: Sentence, one: Measure) -> bool:
    """Whether a number stands right behind one hose, and counts nothing: `hose 8 at the centre`."""
    following = sentence.at(one.last)
    is_end = (
        not following.isalnum() or following in _AMONG | words.FEEDS | words.RETURNS | words.PLACES.keys() | words.LIGHT
    )
    return sentence.at(one.first - 1) in ("hose", "pipe") and is_end


def _is_led(sentence: Sentence, first: int, last: int) -> bool:
    """Whether a number stands right before one hose, and no other thing follows: `8 hose to the side`, `8 feed`."""
    behind = last + 1 + (sentence.at(last + 1) in _ONE_HOSE - words.RETURNS)
    following = sentence.at(behind)
    is_end = not following.isalpha() or following in _AMONG or following in words.FEEDS | words.RETURNS
    is_more = following[:1].isdigit() and sentence.at(behind + 1) in _ONE_HOSE
    return not sentence.is_glued(first) and (is_more or (is_end and not following[:1].isdigit()))


def role_of(sentence: Sentence, first: int, last: int) -> Role:
    """What words beside a place or a size say it is of: the feed, the return, or nothing."""
    start, end = sentence.clause_of(first)
    near: list[tuple[float, Role]] = []
    for role, known in (("feed", words.FEEDS), ("return", words.RETURNS)):
        for x in sentence.places(known, start, end):
            if sentence.at(x - 1 - (sentence.at(x - 1) in _ARTICLES)) in words.DENIALS:
                continue
            between = (x + 1, first) if x < first else (last, x)
            crossed = sum(4 for y in range(*between) if sentence.at(y) in ("and", "with", "&", "from", "through"))
            if role == "return" and x < first:
                crossed = sum(4 for y in range(*between) if sentence.at(y) in ("and", "with", "&", "feed"))
            near.append((abs(between[1] - between[0]) + crossed, "feed" if role == "feed" else "return"))
    best = min(near, default=(9.0, "any"))
    return "any" if best[0] > 3 else "feed" if best[1] == "feed" else "return"


def sized(said: SizeSaid) -> Callable[[LayoutWords], bool]:
    """Tells of a layout whether a hose of it is of a size that is said."""

    def fits(layout: LayoutWords) -> bool:
        feeds, returns = layout.traits.feed_sizes, layout.traits.return_sizes
        among = {"feed": feeds, "return": returns, "any": (*feeds, *returns)}[said.role]
        return any(said.is_of(size) for size in among)

    return fits


def all_sizes(layout: LayoutWords) -> tuple[Sizes, ...]:
    """The sizes of all hoses of a layout."""
    return (*layout.traits.feed_sizes, *layout.traits.return_sizes)


def of_these_sizes(fitting: list[LayoutWords], said: Sequence[SizeSaid]) -> list[LayoutWords]:
    """Those whose hoses are all of sizes that were said, if there are any; else those that such a hose feeds."""
    if not said:
        return fitting
    whole = [x for x in fitting if all(any(one.is_of(size) for one in said) for size in all_sizes(x))]
    fed = [x for x in fitting if any(one.is_of(size) for size in x.traits.feed_sizes for one in said)]
    return whole or fed or fitting
