"""Sweep all standing questions: the whole impact by many workers, kept bit by bit, so that what was killed goes on."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing
from itertools import islice
from time import monotonic
from typing import Protocol

from service.impact.changes import Change, changes_between
from service.impact.questions import Kept, Pair, Standing
from service.impact.reckoning import Impact, Judged, assembled, pairs_of, to_explain
from service.usecases.library import Edition
from service.usecases.sweep_work import Asked, Source, Task, Undone, key_of, key_of_change, read, read_keys
from service.usecases.sweep_workers import Each, Workers, usual

QUESTIONS_AT_ONCE = 100
"""So many a task, those of one car and layout together: some half a second of work, as what is worked out for one
question serves the others of the same process."""
UNDONE_AT_ONCE = 400
"""Most of them have the footprint that they had."""
_KEEP_EVERY_S = 1.0


class SweepCancelledError(Exception):
    """Somebody cancelled the sweep, or another worker took it over."""


class Journal(Protocol):
    """What was found so far, and where more of it is kept."""

    def known(self) -> Mapping[str, str]:
        """Return what was found before, by key."""

    def record(self, found: Mapping[str, str], done: int, total: int) -> None:
        """Keep more of it; so many parts of all are done. Raises SweepCancelledError."""


class InMemory:
    """Keeps nothing; `progress` is told how far it is."""

    def __init__(self, progress: Callable[[int, int], None] = lambda _done, _total: None) -> None:
        self._progress = progress

    def known(self) -> Mapping[str, str]:
        return {}

    def record(self, found: Mapping[str, str], done: int, total: int) -> None:  # noqa: ARG002
        self._progress(done, total)


def sweep(
    before: Edition, after: Edition, kept: Kept, workers: Workers | None = None, journal: Journal | None = None
) -> Impact:
    """Return the impact of one edition against another, as `impact_of` does, whoever works it out.

    `workers`: None is this process alone, or one on each core for many questions. What the journal knows is not asked
    again. Raises SweepCancelledError, WorkersError.
    """
    journal = journal or InMemory()
    source = Source.of(before, after)
    pairs = pairs_of(before.catalog, after.catalog, kept)
    work = _Work(journal)
    with (workers or usual(len(pairs)))(source) as each:  # who works at it gets ready meanwhile
        keys = [key_of(source.id, pair) for pair in pairs]
        changes = changes_between(before.catalog, after.catalog)
        work.do(each, keys, _questions(work.found, keys, pairs))
        found = [read(pair.question, work.found[key]) for key, pair in zip(keys, pairs, strict=True)]
        asked = [(keys[place], pair, one) for place, pair, one in to_explain(pairs, found)]
        undone = list(_undone(source.id, changes, asked))
        left = [task for task in undone if task.key not in work.found]
        work.do(each, [task.key for task in undone], iter(left))
    return assembled(changes, pairs, found, _because(keys, undone, work.found))


class _Work:
    """What is found, as it comes, and how far the work is."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._total = 0
        self.found = dict(journal.known())

    def do(self, each: Each, keys: Sequence[str], tasks: Iterator[Task]) -> None:
        """Do the tasks by which these keys are found that are not known; what is found is kept every second."""
        self._total += len(keys)
        new: dict[str, str] = {}
        self._keep(new, keys)
        at = monotonic()
        with closing(each(tasks)) as results:
            for result in results:
                new |= result
                if monotonic() - at > _KEEP_EVERY_S:
                    self._keep(new, keys)
                    new, at = {}, monotonic()
        self._keep(new, keys)

    def _keep(self, new: Mapping[str, str], keys: Sequence[str]) -> None:
        self.found |= new
        left = sum(key not in self.found for key in keys)
        self._journal.record(new, self._total - left, self._total)


def _questions(known: Mapping[str, str], keys: Sequence[str], pairs: Sequence[Pair]) -> Iterator[Task]:
    """Yield the questions that are not asked yet, some a task."""
    left = {key: pair for key, pair in zip(keys, pairs, strict=True) if key not in known}
    items = iter(sorted(left.items(), key=lambda one: _place(one[1])))
    while some := tuple(islice(items, QUESTIONS_AT_ONCE)):
        yield Asked(some)


def _place(pair: Pair) -> tuple[str, str]:
    question = pair.question
    if isinstance(question, Standing):
        return question.request.chassis, question.request.layout
    car, layout = question.car
    return car or "", layout or ""


def _undone(source: str, changes: Sequence[Change], asked: Sequence[tuple[str, Pair, Judged]]) -> Iterator[Undone]:
    """Yield each change with some of the questions of which it is asked whether that change did it, car by car."""
    by_car = sorted(asked, key=lambda one: _place(one[1]))
    for change in changes:
        for first in range(0, len(by_car), UNDONE_AT_ONCE):
            some = by_car[first : first + UNDONE_AT_ONCE]
            yield Undone(key_of_change(source, change, [key for key, *_ in some]), change, some)


def _because(keys: Sequence[str], undone: Sequence[Undone], found: Mapping[str, str]) -> dict[int, list[Change]]:
    """The changes that did it, in their order, by the places of the questions."""
    places = {key: place for place, key in enumerate(keys)}
    because: dict[int, list[Change]] = {}
    for task in undone:
        for key in read_keys(found[task.key]):
            because.setdefault(places[key], []).append(task.change)
    return because
