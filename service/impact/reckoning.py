"""The impact of one catalog against another: the outcome of every standing question, and which changes did it.

A question is asked anew only where its footprint differs in the two catalogs.
"""

from collections import Counter
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from service.documents.packed import PackedCatalog
from service.domain.work import TooCostlyError
from service.impact.changes import Change
from service.impact.outcomes import EXPLAINED, OUTCOMES, Outcome, broken_promises, outcome_of
from service.impact.questions import Kept, Pair, Question, Standing, is_known, paired, standing_questions
from service.impact.seen import Seen
from service.impact.undoing import Undoing


class Side(Protocol):
    """A catalog that can be asked."""

    @property
    def catalog(self) -> PackedCatalog: ...

    def footprint(self, question: Question) -> Hashable:
        """Return all that the answer to a question of this catalog hangs on."""

    def seen(self, question: Question) -> Seen:
        """Ask a question of this catalog. Raises TooCostlyError."""


@dataclass(frozen=True)
class Judged:
    """A question with its outcome, its answers (None: it is not there), the promises that are not kept any more, and
    the changes that did it, each by itself."""

    question: Question
    outcome: Outcome
    before: Seen | None
    after: Seen | None
    broken: frozenset[str] = frozenset()
    because: tuple[Change, ...] = ()


@dataclass(frozen=True)
class Impact:
    """What one catalog does to the questions of another. `judged` leaves out what is the same; `not_asked`: what takes
    too much work."""

    changes: tuple[Change, ...]
    counts: dict[Outcome, int]
    judged: tuple[Judged, ...]
    not_asked: tuple[Question, ...] = ()

    @property
    def needs_accept(self) -> bool:
        """Whether it may be published only with a reason: a promise is broken, or a question lost its bills."""
        return any(needs_accept(one) for one in self.judged)


def needs_accept(judged: Judged) -> bool:
    """Return whether an outcome is to be accepted by a person: broken, lost, or gone with its bill."""
    if judged.outcome == "gone":
        return judged.before is not None and judged.before.best is not None
    return judged.outcome in ("broken", "lost")


def reckon(
    before: Side, after: Side, reopened: Callable[[PackedCatalog], Side], kept: Kept, *, explained: bool = True
) -> Impact:
    """Return the impact of the catalog `after` against the one `before`.

    `reopened` makes a catalog ready to be asked: the later one with a change undone. Without `explained` nothing is
    said of which changes did it.
    """
    undoing = Undoing(before.catalog, after.catalog)
    pairs = pairs_of(before.catalog, after.catalog, kept)
    found = [judged(pair, before, after) for pair in pairs]
    asked = to_explain(pairs, found) if explained else []
    because: dict[int, list[Change]] = {}
    for change in undoing.changes if asked else ():
        undone = undoing.with_what_hangs_on(change)
        if undone is not None:
            without = reopened(undoing.without(undone))
            for place, pair, one in asked:
                if is_decided(pair, one, after, without):
                    because.setdefault(place, []).append(change)
    return assembled(undoing.changes, pairs, found, because)


def pairs_of(before: PackedCatalog, after: PackedCatalog, kept: Kept) -> list[Pair]:
    """Return the standing questions of two catalogs, each once."""
    return paired(standing_questions(before, kept), standing_questions(after, kept))


def judged(pair: Pair, before: Side, after: Side) -> Judged | None:
    """Return a question with its outcome, asked only where its footprint differs; None where that takes too much."""
    question = pair.question
    if pair.before and pair.after and before.footprint(question) == after.footprint(question):
        return Judged(question, "same", None, None)
    try:
        was = before.seen(question) if pair.before else None
        now = after.seen(question) if pair.after else None
    except TooCostlyError:
        return None
    outcome = outcome_of(pair, was, now)
    broken = broken_promises(question, was, now) if outcome == "broken" else frozenset[str]()
    return Judged(question, outcome, was, now, broken)


def to_explain(pairs: Sequence[Pair], found: Sequence[Judged | None]) -> list[tuple[int, Pair, Judged]]:
    """Return the questions of which it is told which changes did it, each with its place."""
    both = enumerate(zip(pairs, found, strict=True))
    return [(place, pair, one) for place, (pair, one) in both if one is not None and one.outcome in EXPLAINED]


def is_decided(pair: Pair, one: Judged, after: Side, without: Side) -> bool:
    """Return whether the outcome of a question is another without a change; not where that takes too much to say."""
    question = one.question
    is_there = _is_standing(question, without.catalog)
    if is_there and pair.after and without.footprint(question) == after.footprint(question):
        return False
    try:
        now = without.seen(question) if is_there else None
    except TooCostlyError:
        return False
    return outcome_of(pair, one.before, now) != one.outcome


def assembled(
    changes: tuple[Change, ...],
    pairs: Sequence[Pair],
    found: Sequence[Judged | None],
    because: Mapping[int, Sequence[Change]],
) -> Impact:
    """Return the impact that is made of what was found of each question, and of the changes that did it, by place."""
    there = [(place, one) for place, one in enumerate(found) if one is not None]
    counts = Counter(one.outcome for _, one in there)
    told = [replace(one, because=tuple(because.get(place, ()))) for place, one in there if one.outcome != "same"]
    told.sort(key=lambda one: (OUTCOMES.index(one.outcome), one.question.rank))
    not_asked = tuple(pair.question for pair, one in zip(pairs, found, strict=True) if one is None)
    return Impact(changes, {x: counts[x] for x in OUTCOMES if counts[x]}, tuple(told), not_asked)


def _is_standing(question: Question, catalog: PackedCatalog) -> bool:
    """Whether a question that stands in one of two catalogs stands in this one between them."""
    if not is_known(question, catalog):
        return False
    if question.origin == "case":
        return question.id in catalog.texts["contract_cases"]
    if question.origin == "grid" and isinstance(question, Standing):
        chassis, layout = catalog.chassis.get(question.request.chassis), catalog.layouts.get(question.request.layout)
        return chassis is not None and layout is not None and chassis.banks == layout.banks
    return True
