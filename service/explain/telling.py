"""The words of a revision: each reason is worded once, and kept for the answers after it.

A reason hangs on a part and its situation, of which the bills of an answer and the answers of a revision share most.
What is kept is bounded by count, what was not asked for longest going first, and it goes with its revision.
"""

from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import Any, NamedTuple, TypeVar

from service.documents.answer import Reason
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.lazy import Newest
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.domain.tongue import SpotForm, language, spot_forms
from service.explain.figures import figures
from service.explain.phrases import listed
from service.explain.reasons import broken
from service.rules import RULE_BY_ID, RULE_ORDER

T = TypeVar("T")
_LASTING = 20_000
"""So many words that hang on parts are kept at least, and twice as many at most; one takes about a kilobyte."""
_PASSING = 2_000
"""So many that hang on what flows: the next power has no use for most of them."""
_BROKEN = 6_000


_PLACE = "\0"
"""Stands for the spot in a reason."""


class _Placed(NamedTuple):
    """What a reason says of any spot, in which form it names it, and the one that it names; no form: not just one."""

    anywhere: str
    form: SpotForm | None
    spot: str


class Told:
    """A reason in words, one object for all answers that have it.

    `rank`: its place in the order of telling; `short`: what tells it from others by its text, `whole` by its facts too.
    Its facts are written once somebody reads them.
    """

    __slots__ = ("_facts", "_placed", "_reason", "_whole", "rank", "rule", "short", "text")

    def __init__(self, rule: str, text: str, facts: Mapping[str, Any]) -> None:
        self.rule = rule
        self.text = text
        self.rank = RULE_ORDER.get(rule, len(RULE_ORDER))
        self.short = f"{rule}\n{text}"
        self._facts = facts
        self._reason: Reason | None = None
        self._whole: str | None = None
        self._placed: _Placed | None = None

    @classmethod
    def of(cls, reason: Reason) -> "Told":
        return cls(reason["rule"], reason["text"], reason["facts"])

    @property
    def reason(self) -> Reason:
        if self._reason is None:
            self._reason = {"rule": self.rule, "text": self.text, "facts": figures(self._facts)}
        return self._reason

    @property
    def whole(self) -> str:
        if self._whole is None:
            self._whole = f"{self.short}\n{self.reason['facts']}"
        return self._whole

    @property
    def placed(self) -> "_Placed":
        """The spot that it names, taken out of its text."""
        if self._placed is None:
            found = [(form, spot) for form in spot_forms() for spot in form.pattern.findall(self.short)]
            self._placed = _Placed(self.short, None, "")
            if len(found) == 1:
                [(form, spot)] = found
                self._placed = _Placed(form.pattern.sub(_PLACE, self.short), form, spot)
        return self._placed

    def saying(self, text: str) -> "Told":
        """The same of another text."""
        return Told(self.rule, text, self._facts)


class Words:
    """What was worded of one revision. Safe to share by threads: two of them may word the same, and one is kept.

    `once` keeps what hangs on parts, `in_passing` what hangs on a flow as well: so a power that nobody asks for again
    pushes no part's words out.
    """

    def __init__(self, _: Revision) -> None:
        self.once = Newest(_LASTING).once
        self.in_passing = Newest(_PASSING).once
        self._broken: dict[int, tuple[Finding, Reason]] = {}

    def broken(self, finding: Finding) -> Reason:
        """The finding in the words of its rule broken; told apart by identity, as facts cannot be hashed."""
        known = self._broken.get(id(finding))
        if known is None:
            if len(self._broken) >= _BROKEN:
                self._broken.clear()
            known = self._broken[id(finding)] = (finding, broken(finding))
        return known[1]


def words_of(revision: Revision) -> Words:
    """The words of a revision in the language that is spoken here: those of one are never given in another."""
    known = revision.once(_by_language)
    words = known.get(language())
    return known.setdefault(language(), Words(revision)) if words is None else words


def _by_language(_: Revision) -> dict[str, Words]:
    return {}


class Telling:
    """The words of one answer. `is_silent`: nobody reads its reasons."""

    def __init__(self, request: Request, revision: Revision, *, is_silent: bool = False) -> None:
        self.is_silent = is_silent
        self.request = request
        self.revision = revision
        self.parts = PartSituation.of(request)
        self.words = words_of(revision)
        self.once = self.words.once
        self.flowing: dict[Hashable, Any] = {}
        """What was made of lines and what flows in them, for the bills of this answer."""
        asked = (request.chassis, request.layout, request.fuel, request.addons, request.clearances, request.gauge)
        self._asked = self.once((*asked, request.regulated_kpa, self.parts, is_silent), object)
        """Stands for all of the request that the words of a bill depend on, but for what flows."""

    def of_bill(self, kind: Hashable, bill: Bill, make: Callable[[], T]) -> T:
        """What is made of a bill, whatever flows in it; other requests find bills of the same parts."""
        return self.once((kind, self._asked, bill.parts), make)

    def told(self, key: Hashable, find: Callable[[], Iterable[Finding]]) -> tuple[Told, ...]:
        """The reasons that are found; what has the same key is looked for once."""
        if self.is_silent:
            return ()
        return self.once(key, lambda: worded(find()))

    def cautioned(self, key: Hashable, make: Callable[[], Iterable[Reason]]) -> tuple[Told, ...]:
        """The cautions that are made; what has the same key is looked for once."""
        return self.once(key, lambda: tuple(map(Told.of, make())))


def worded(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Findings in the words of their rules kept."""
    return tuple([Told(found.rule, RULE_BY_ID[found.rule].reason(found.facts), found.facts) for found in findings])


def in_order(reasons: tuple[Told, ...]) -> tuple[Told, ...]:
    """The reasons in the order of telling, each text once."""
    each: dict[str, Told] = {}
    for told in reasons:
        each.setdefault(told.short, told)
    return tuple(sorted(each.values(), key=_rank))


def _rank(told: Told) -> int:
    return told.rank


def at_all_spots(reasons: tuple[Told, ...]) -> tuple[Told, ...]:
    """The reasons in their order, those that differ in the spot alone as one that names all of its spots."""
    alike: dict[tuple[str, SpotForm | None], list[Told]] = {}
    for told in reasons:
        alike.setdefault(told.placed[:2], []).append(told)
    return tuple([_as_one(key, form, group) for (key, form), group in alike.items()])


def _as_one(key: str, form: SpotForm | None, alike: list[Told]) -> Told:
    first = alike[0]
    if form is None or len(alike) == 1:
        return first
    spots = form.several.format(spot=listed([told.placed.spot for told in alike]))
    _, text = key.replace(_PLACE, spots).split("\n", 1)
    return first.saying(text)
