"""What a worker of a sweep does, in whatever process or on whatever machine: it asks some questions of two catalogs.

What goes to a worker and comes back is plain: texts, questions, and what was found as JSON, so that the same comes of
it wherever it is worked out.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from threading import Lock

from pydantic import TypeAdapter

from service import __version__
from service.documents.packed import PackedCatalog
from service.domain.lazy import lazy
from service.impact.changes import Change
from service.impact.outcomes import Outcome
from service.impact.questions import Pair, Question, Standing
from service.impact.reckoning import Judged, is_decided, judged
from service.impact.seen import Seen
from service.impact.undoing import Undoing
from service.usecases.impact import EditionSide, Remembered
from service.usecases.library import Edition

_TOO_COSTLY, _SAME = "too costly", "same"


@dataclass(frozen=True)
class Source:
    """Two catalogs that are held against each other; `id` tells one such pair from others."""

    id: str
    before: Mapping[str, Mapping[str, str]]
    after: Mapping[str, Mapping[str, str]]
    numbers: tuple[int, int]

    @staticmethod
    def of(before: Edition, after: Edition) -> "Source":
        numbers = before.number, after.number
        names = "/".join((before.catalog.digest(), after.catalog.digest(), *map(str, numbers), __version__))
        id_ = hashlib.sha256(names.encode()).hexdigest()
        return Source(id_, _texts(before), _texts(after), numbers)


def _texts(edition: Edition) -> dict[str, dict[str, str]]:
    return {name: dict(section) for name, section in edition.catalog.texts.items()}


_SOURCE = TypeAdapter(Source)


@dataclass(frozen=True)
class SourceFile:
    """The same in a file that every process of this machine can read."""

    id: str
    path: Path

    @staticmethod
    def of(source: Source, path: Path) -> "SourceFile":
        path.write_bytes(_SOURCE.dump_json(source))
        return SourceFile(source.id, path)


@dataclass(frozen=True)
class Asked:
    """Questions to be asked of both, each under its key."""

    pairs: Sequence[tuple[str, Pair]]


@dataclass(frozen=True)
class Undone:
    """Questions to be asked with a change undone: whether that alone did it. The answer goes under one key."""

    key: str
    change: Change
    told: Sequence[tuple[str, Pair, Judged]]


Task = Asked | Undone


class Opened:
    """Two catalogs that are ready to be asked."""

    def __init__(self, source: Source) -> None:
        self.before = Edition(source.numbers[0], PackedCatalog(source.before))
        self.after = Edition(source.numbers[1], PackedCatalog(source.after))
        self._remembered = Remembered()
        self.without = lru_cache(2)(self._without)

    def do(self, task: Task) -> dict[str, str]:
        """Return what is found, as JSON by key."""
        old, new = self.sides
        if isinstance(task, Asked):
            return {key: written(judged(pair, old, new)) for key, pair in task.pairs}
        without = self.without(task.change)
        told = () if without is None else task.told
        decided = [key for key, pair, one in told if without and is_decided(pair, one, new, without)]
        return {task.key: _KEYS.dump_json(decided).decode()}

    @lazy
    def sides(self) -> tuple[EditionSide, EditionSide]:
        return self._side(self.before), self._side(self.after)

    @lazy
    def undoing(self) -> Undoing:
        return Undoing(self.before.catalog, self.after.catalog)

    def _without(self, change: Change) -> EditionSide | None:
        """The later catalog with a change undone; None where it cannot be."""
        undone = self.undoing.with_what_hangs_on(change)
        return None if undone is None else self._side(Edition(self.after.number, self.undoing.without(undone)))

    def _side(self, edition: Edition) -> EditionSide:
        return EditionSide(edition, self._remembered)


def run(source: Source | SourceFile, task: Task) -> dict[str, str]:
    """Do a task in this process, whose catalogs stay open for the next one."""
    return _opened(source).do(task)


def get_ready(source: Source | SourceFile) -> None:
    """Open the catalogs in this process, before there is anything to do."""
    _opened(source).sides  # noqa: B018 worked out now and not with the first task


def key_of(source: str, pair: Pair) -> str:
    """Name a question of a sweep by all that its outcome hangs on."""
    question = pair.question
    promises = None if question.promises is None else question.promises.model_dump_json(exclude_none=True)
    body = question.body if isinstance(question, Standing) else None
    told = (*question.name, question.text, promises, body, pair.before, pair.after)
    return hashlib.sha256(f"{source}/{told}".encode()).hexdigest()[:32]


def key_of_change(source: str, change: Change, keys: Sequence[str]) -> str:
    """Name what is found of some questions with a change undone."""
    return hashlib.sha256(f"{source}/{change.kind}/{change.id}/{'/'.join(keys)}".encode()).hexdigest()[:32]


@dataclass(frozen=True)
class _Found:
    outcome: Outcome
    before: Seen | None
    after: Seen | None
    broken: list[str]


_FOUND = TypeAdapter(_Found)
_KEYS = TypeAdapter(list[str])


def written(one: Judged | None) -> str:
    """What was found of a question as text; short where nothing is to be told."""
    if one is None or one.outcome == "same":
        return _TOO_COSTLY if one is None else _SAME
    return _FOUND.dump_json(_Found(one.outcome, one.before, one.after, sorted(one.broken))).decode()


def read(question: Question, text: str) -> Judged | None:
    """What was found of a question, of its text."""
    if text in (_TOO_COSTLY, _SAME):
        return None if text == _TOO_COSTLY else Judged(question, "same", None, None)
    found = _FOUND.validate_json(text)
    return Judged(question, found.outcome, found.before, found.after, frozenset(found.broken))


def read_keys(text: str) -> list[str]:
    """The keys of the questions that a change decided."""
    return _KEYS.validate_json(text)


_lock = Lock()
_last: list[tuple[str, Opened]] = []


def _opened(source: Source | SourceFile) -> Opened:
    with _lock:
        if not _last or _last[0][0] != source.id:
            _last[:] = [(source.id, Opened(_read(source)))]
        return _last[0][1]


def _read(source: Source | SourceFile) -> Source:
    return source if isinstance(source, Source) else _SOURCE.validate_json(source.path.read_bytes())
