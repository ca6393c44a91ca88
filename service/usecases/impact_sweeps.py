"""Sweeps that are kept: begun, worked at by one worker at a time, gone on with after a kill, cancelled, told by
page."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from service.documents.rendering import rendered
from service.documents.sweep import BegunSweep, Sweep, SweepStatus
from service.storage.impact_sweeps import CANCELLED, RUNNING, ImpactSweepStore, StoredSweep
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError, FullError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.ids import new_id
from service.usecases.impact import impact_told
from service.usecases.impact_orders import orders_told
from service.usecases.library import Edition, Library
from service.usecases.moments import moment
from service.usecases.publish import looked_at
from service.usecases.standing import KeptQuestions
from service.usecases.sweep_impact import SweepCancelledError, sweep
from service.usecases.sweep_workers import Workers

PREFIX = "/v1/sweeps"
KIND = "sweep"
LEASE_S = 60
MOST_RUNNING = 16
PAGE = 50
"""So many questions stand in a row of what is told."""
_HEAD = "told/head"
_STATUSES: dict[str, SweepStatus] = {"running": "running", "done": "done", "cancelled": "cancelled"}
Progress = Callable[[int, int], None]


def quietly(_done: int, _total: int) -> None:
    """Tell nobody how far it is."""


@dataclass(frozen=True)
class Sides:
    """The editions that are held against each other, and by what they are named."""

    before: Edition
    after: Edition
    names: tuple[int | str, int | str]


class StoredJournal:
    """What was found of a sweep in its database; it is held for a worker for as long as more comes."""

    def __init__(self, store: ImpactSweepStore, id_: str, worker: str, progress: Progress) -> None:
        self._store = store
        self._id = id_
        self._worker = worker
        self._progress = progress

    def known(self) -> Mapping[str, str]:
        return self._store.parts(self._id)

    def record(self, found: Mapping[str, str], done: int, total: int) -> None:
        if not self._store.record(self._id, self._worker, _lease(datetime.now(UTC)), total, found):
            raise SweepCancelledError
        self._progress(done, total)


class Sweeper:
    """Works at sweeps that a store keeps; `workers` as `sweep` has them."""

    def __init__(self, store: ImpactSweepStore, kept: KeptQuestions, workers: Workers | None = None) -> None:
        self.store = store
        self._kept = kept
        self._workers = workers
        self._worker = new_id()

    def begin(self, sides: Sides) -> StoredSweep:
        """Begin a sweep, or go on with one between the same catalogs that was not brought to its end."""
        now = datetime.now(UTC)
        before, after = (edition.catalog.digest() for edition in (sides.before, sides.after))
        found = self.store.running(before, after)
        if found is not None:
            return found
        if self.store.count(RUNNING) >= MOST_RUNNING:
            raise FullError(f"{MOST_RUNNING} sweeps are not at their end yet: cancel some")
        names = str(sides.names[0]), str(sides.names[1])
        made = StoredSweep(new_id(), before, after, *names, now, RUNNING, None, self._worker, now)
        self.store.begin(made)
        return made

    def claim(self, id_: str) -> bool:
        """Take a sweep to work at it; False where another worker does, or it is at its end."""
        now = datetime.now(UTC)
        return self.store.claim(id_, self._worker, now, _lease(now))

    def work(self, id_: str, sides: Sides, progress: Progress = quietly) -> dict[str, Any]:
        """Bring a sweep that was claimed to its end, and return what is told of it.

        Raises SweepCancelledError where it is this worker's no more, WorkersError.
        """
        journal = StoredJournal(self.store, id_, self._worker, progress)
        found = sweep(sides.before, sides.after, self._kept.gather(), self._workers, journal)
        told = dict(impact_told(found, sides.before, sides.after, sides.names))
        told["orders"] = orders_told(sides.before, sides.after, self._kept.orders)
        if not self.store.finish(id_, self._worker, _rows(told)):
            raise SweepCancelledError
        return told


class Sweeps:
    """Sweeps between revisions of a library, and drafts of them. Safe to share by threads."""

    def __init__(self, library: Library, drafts: Drafts | None, sweeper: Sweeper) -> None:
        self._library = library
        self._drafts = drafts
        self._sweeper = sweeper

    def begin(self, asked: BegunSweep) -> Sweep:
        """Begin a sweep. Raises RequestFaultsError for what is not there, ConflictError, FullError."""
        return self._told(self._sweeper.begin(self._sides(asked.from_, asked.to)))

    def told(self, id_: str) -> Sweep:
        """How far a sweep is. Raises NotFoundError."""
        return self._told(self._stored(id_))

    def is_left(self, id_: str) -> bool:
        """Whether nobody works at a sweep that is not at its end."""
        stored = self._stored(id_)
        return stored.status == RUNNING and stored.lease_ends < datetime.now(UTC)

    def cancel(self, id_: str) -> Sweep:
        """Cancel a sweep that is running: its worker stops within seconds. One that is at its end is deleted."""
        stored = self._stored(id_)
        if self._sweeper.store.end(id_, CANCELLED):
            return self.told(id_)
        self._sweeper.store.delete(id_)
        return self._told(stored)

    def work(self, id_: str) -> None:
        """Bring a sweep to its end, unless another worker does. A draft that was changed meanwhile ends it."""
        if not self._sweeper.claim(id_):
            return
        stored = self._stored(id_)
        to: int | str = int(stored.after_name) if stored.after_name.isdecimal() else stored.after_name
        try:
            sides = self._sides(int(stored.before_name), to)
            if sides.after.catalog.digest() != stored.after:
                raise ConflictError("draft-changed", "The draft was changed meanwhile.")
        except (RequestFaultsError, ConflictError):
            self._sweeper.store.end(id_, CANCELLED)
            return
        self._sweeper.work(id_, sides)

    def page(self, id_: str, start: int, end: int) -> tuple[dict[str, Any], int] | None:
        """The impact with some of its questions, and how many there are; None until it is there."""
        if self._stored(id_).status != "done":
            return None
        first, last = start // PAGE, (end - 1) // PAGE
        keys = [_page(number) for number in range(first, last + 1)]
        rows = self._sweeper.store.some(id_, (_HEAD, *keys))
        head = json.loads(rows[_HEAD])
        questions = [one for key in keys for one in json.loads(rows.get(key, "[]"))]
        return head["told"] | {"questions": questions[start - first * PAGE :][: end - start]}, head["questions"]

    def _stored(self, id_: str) -> StoredSweep:
        found = self._sweeper.store.get(id_)
        if found is None:
            raise NotFoundError(KIND, id_)
        return found

    def _sides(self, from_: int, to: int | str) -> Sides:
        before = self._library.edition_for(from_, "/from")
        if isinstance(to, int):
            return Sides(before, self._library.edition_for(to, "/to"), (from_, to))
        if self._drafts is None:
            raise RequestFaultsError((RequestFault("/to", rendered(to), "the number of a revision"),))
        try:
            ready = looked_at(self._drafts, to)
        except NotFoundError:
            raise RequestFaultsError((RequestFault("/to", rendered(to), "the id of a draft"),)) from None
        return Sides(before, Edition(ready.base + 1, ready.catalog), (from_, to))

    def _told(self, stored: StoredSweep) -> Sweep:
        is_done = stored.status == "done"
        total = stored.total or 0
        done = total if is_done else min(total, self._sweeper.store.count_parts(stored.id))
        return {
            "id": stored.id,
            "from": _number(stored.before_name),
            "to": _number(stored.after_name),
            "status": _STATUSES[stored.status],
            "begun": moment(stored.created_at),
            "done": done,
            "total": stored.total,
            "impact": f"{PREFIX}/{stored.id}/impact" if is_done else None,
        }


def _lease(now: datetime) -> datetime:
    return now + timedelta(seconds=LEASE_S)


def _number(name: str) -> int | str:
    return int(name) if name.isdecimal() else name


def _page(number: int) -> str:
    return f"told/{number:07}"


def _rows(told: Mapping[str, Any]) -> dict[str, str]:
    """What is told, in small rows: the questions by page, all else in one."""
    questions = told["questions"]
    head = {"told": {**told, "questions": []}, "questions": len(questions)}
    rows = {_HEAD: json.dumps(head)}
    for first in range(0, len(questions), PAGE):
        rows[_page(first // PAGE)] = json.dumps(questions[first : first + PAGE])
    return rows
