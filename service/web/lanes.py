"""The lanes of a process: each kind of work has turns of its own, so that none starves another.

Nobody can see from a question what it costs. So each begins with a small bound of steps, and where that does not do it
is begun anew, with a larger one, behind those of its own kind: whoever asks little waits for nobody who asks much. What
a question cost is remembered, so that asking it again takes no one's turn. The bounds count steps, not time: they say
where a question is worked out, and the last of them whether; never what the answer is.
"""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import TypeVar

from service.domain.work import Meter, TooCostlyError
from service.settings import WORK_LIMIT
from service.usecases.long_work import LongWorkError, briefly
from service.usecases.pacing import PacedMeter
from service.web.gate import Lane
from service.web.handing import go_elsewhere
from service.web.turns import Rank
from service.web.visitors import visitor

T = TypeVar("T")

LIGHT_STEPS = 6_000
"""Some 5 ms of work: of a plain catalog nearly every question. The back process, if there is one, does what takes
more."""
LOOK_STEPS = 8_000
LONGER_STEPS = 50_000
"""About half a second of work."""
_CROWDED = 12
"""So many light questions take some 50 ms; of more, those of who asks most go to the back process."""
_AHEAD = 3
_KEPT_HINTS = 4096
_PAST_FRONT = 2
_TOO_COSTLY = 3
"""The hint for a question that went past every stage."""


@dataclass(frozen=True)
class _Stage:
    """A lane with the steps that a question may take in it before it goes on to the next."""

    lane: Lane
    steps: int


@dataclass(frozen=True)
class Lanes:
    """Gives each kind of work its turn.

    `work_limit`: the most steps that a question may take at all; `work_limits`: of a key of a role, by its name.
    """

    work_limit: int = WORK_LIMIT
    questions: Lane = field(default_factory=partial(Lane, "questions", patience_s=5.0, ahead=_AHEAD, crowded=_CROWDED))
    browsing: Lane = field(default_factory=partial(Lane, "browsing", 2, patience_s=5.0, ahead=_AHEAD, crowded=_CROWDED))
    longer: Lane = field(default_factory=partial(Lane, "longer", waiting=100, crowded=_CROWDED))
    heavy: Lane = field(default_factory=partial(Lane, "heavy", waiting=100))
    writes: Lane = field(default_factory=partial(Lane, "writes", at_once=2))
    reckoning: Lane = field(default_factory=partial(Lane, "reckoning"))
    sweeping: Lane = field(default_factory=partial(Lane, "sweeping"))
    uploads: Lane = field(default_factory=partial(Lane, "uploads", waiting=50))
    work_limits: Mapping[str, int] = field(default_factory=dict)
    _hints: OrderedDict[bytes, int] = field(default_factory=OrderedDict)

    async def ask(self, call: Callable[[], T], *, in_batch: bool = False, at_once: Callable[[], T] | None = None) -> T:
        """Work out a question, which must leave nothing behind before its end: it may be begun several times.

        `in_batch`: one of many, for which no person waits. `at_once`: the same call where it waits for nothing but the
        processor; while nobody waits for a turn, it is tried on the event loop, which saves the way to a thread and
        back. Raises TooCostlyError past the limit; OverloadedError, AbandonedError.
        """
        light, longer = _Stage(self.questions, LIGHT_STEPS), _Stage(self.longer, LONGER_STEPS)
        stages = (light,) if visitor().may_go else (light, longer)
        tried = 0
        if at_once is not None and self._is_time_for(light):
            try:
                return light.lane.run_here(partial(_briefly, at_once), self._meter(light))
            except (TooCostlyError, LongWorkError):
                tried = 1
        return await self._staged(call, stages, in_batch=in_batch, tried=tried)

    async def look(self, call: Callable[[], T]) -> T:
        """Look something up that takes no search. Raises as `ask`."""
        return await self._staged(call, (_Stage(self.browsing, LOOK_STEPS),))

    async def take_in(self, call: Callable[[], T]) -> T:
        """Read or write a whole file, which gives way to people. Raises OverloadedError, AbandonedError."""
        return await self.uploads.run(call, PacedMeter(None, self._someone_waits))

    async def reckon(self, call: Callable[[], T]) -> T:
        """Work out what nobody waits for, which gives way to people."""
        return await self.reckoning.run(call, PacedMeter(None, self._someone_waits))

    async def sweep(self, call: Callable[[], T]) -> T:
        """Have a sweep of all standing questions done, by processes of its own."""
        return await self.sweeping.run(call, Meter(None), Rank.BATCH)

    def paced(self) -> Meter:
        """A meter of one question among many, which gives way to people."""
        return PacedMeter(self.work_limit, self._someone_waits)

    def is_known_as_long(self, question: bytes | None) -> bool:
        """Whether a question, by its digest, went past what is done in front before."""
        return question is not None and self._hints.get(question, 0) >= _PAST_FRONT

    async def _staged(
        self, call: Callable[[], T], stages: tuple[_Stage, ...], *, in_batch: bool = False, tried: int = 0
    ) -> T:
        question = None if in_batch else visitor().question
        begin = max(tried, self._hints.get(question, 0) if question else 0)
        rank = Rank.BATCH if in_batch else Rank.PERSON
        work_limit = self._limit()
        for place, stage in enumerate(stages):
            if place < begin or stage.steps >= work_limit:
                continue
            try:
                return await stage.lane.run(partial(_briefly, call), self._meter(stage), rank)
            except TooCostlyError:
                self._remember(question, place + 1)
            except LongWorkError:
                break
        if visitor().may_go:
            self._remember(question, _PAST_FRONT)
            go_elsewhere()
        if begin == _TOO_COSTLY:
            rank = Rank.KNOWN_COSTLY
        try:
            return await self.heavy.run(call, PacedMeter(work_limit, self._someone_waits), rank)
        except TooCostlyError:
            self._remember(question, _TOO_COSTLY)
            raise

    def _is_time_for(self, stage: _Stage) -> bool:
        """Whether nobody waits for a turn in a stage, and the question is not known to take more than it."""
        is_known = visitor().question in self._hints
        return not (is_known or stage.lane.people_waiting or stage.steps >= self._limit())

    def _limit(self) -> int:
        """The most steps of a question of who asks here."""
        role = visitor().role
        return self.work_limit if role is None else self.work_limits.get(role, self.work_limit)

    def _meter(self, stage: _Stage) -> Meter:
        return PacedMeter(stage.steps, self._someone_waits) if stage.lane is self.longer else Meter(stage.steps)

    def _someone_waits(self) -> bool:
        return self.questions.is_busy() or self.browsing.is_busy()

    def _remember(self, question: bytes | None, place: int) -> None:
        if question is None or place < _PAST_FRONT:
            return  # the first lane costs little, and has the answers that are kept
        self._hints[question] = place
        self._hints.move_to_end(question)
        if len(self._hints) > _KEPT_HINTS:
            self._hints.popitem(last=False)


def _briefly(call: Callable[[], T]) -> T:
    with briefly():
        return call()
