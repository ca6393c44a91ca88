"""What came of one promise: kept, broken, not tried, or the service did not answer."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

State = Literal["kept", "broken", "skipped", "slow", "failing"]
"""slow: no answer came in time; failing: the service says that it cannot answer, or the connection ended. Neither says
that an answer is wrong."""


@dataclass(frozen=True)
class Broken:
    """One way in which a promise is broken: what in a sentence, where, what was expected and what came instead.

    `repeat`: a command that asks the same again.
    """

    what: str
    where: str = ""
    expected: str = ""
    got: str = ""
    repeat: str = ""

    def lines(self) -> Iterator[str]:
        """Yield the sentence, then what is known besides, a line each."""
        yield self.what
        told = (("where", self.where), ("expected", self.expected), ("got", self.got), ("repeat", self.repeat))
        yield from (f"{name}: {value}" for name, value in told if value)


@dataclass(frozen=True)
class Outcome:
    """A promise and what came of it. `group`: cases, or promises of the API; `why`: of one that was not tried, or had
    no answer."""

    group: str
    name: str
    broken: tuple[Broken, ...] = ()
    state: State = "kept"
    why: str = ""
    note: str = ""

    @property
    def is_kept(self) -> bool:
        return self.state == "kept"
