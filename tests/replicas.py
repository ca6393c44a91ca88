"""Replicas under load: `python -m tests.replicas` asks three behind a proxy while revisions follow and each is killed.

All are over one PostgreSQL, the one that `PORTWRIGHT_TEST_POSTGRES_URL` names. Nothing fails at the proxy but what was
in a process that was killed, no answer mixes two revisions, and a second after a publish nobody answers from before it.
"""

import argparse
import json
import sys
import tempfile
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from subprocess import Popen
from threading import Event
from time import perf_counter

from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.bench.client import Connection, request
from tests.publishing import Ask, Json, Seen, catalogs, mixed, seen_while
from tests.storage.databases import empty_database
from tests.support.balancer import BAD_GATEWAY, Balancer, Lost, balanced
from tests.support.server import address_of, begun

_OK = 200
_PATIENCE_S = 60


@dataclass
class Replica:
    """A server over the database, at another port each time that it is started."""

    database_url: str
    settings: dict[str, str]
    process: "Popen[str]" = field(init=False)
    url: str = ""

    def begin(self) -> None:
        """Start it; `wait` waits until it takes requests."""
        self.process = begun(self.database_url, **self.settings)

    def wait(self) -> str:
        """Its address, once it takes requests."""
        self.url = address_of(self.process)
        return self.url

    def kill(self) -> None:
        """End it at once, whatever it is doing."""
        self.process.kill()
        self.process.communicate(timeout=_PATIENCE_S)


@dataclass(frozen=True)
class Told:
    """What came of it: the answers, what failed, and how long after a publish [s] an older revision was answered."""

    seen: Sequence[Seen]
    killed: int
    lost: int
    lost_elsewhere: int
    statuses: dict[int, int]
    latest_s: float

    @property
    def is_sound(self) -> bool:
        """Whether nothing failed but what was in a process that was killed, and nothing was mixed."""
        return not (self.lost_elsewhere or self.statuses or mixed(self.seen))


def tried(publishes: int, kills: int, every_s: float, connections: int, answers: int, *, whole: bool) -> Told:
    """Publish so often, and kill so many of three replicas, one after the other.

    `whole`: with back processes, and those that are killed start anew.
    """
    with (
        tempfile.TemporaryDirectory() as folder,
        empty_database("postgresql", Path(folder)) as url,
        closing(open_database(url)) as database,
    ):
        migrate(database)
        library, revisions = Library(RevisionStore(database)), catalogs()
        library.publish(next(revisions))
        with _three(url, back=whole) as replicas, balanced([one.url for one in replicas]) as balancer:
            published_s, killed_s = [perf_counter()], dict[str, tuple[float, float]]()
            statuses: dict[int, int] = {}
            pause = Event()

            def publish() -> None:
                for number in range(publishes):
                    library.publish(next(revisions))
                    published_s.append(perf_counter())
                    pause.wait(every_s)
                    victim = number * kills // publishes
                    if victim != (number + 1) * kills // publishes:
                        _replace(replicas[victim], balancer, killed_s, anew=whole)

            with ExitStack() as opened:
                askers = [_over(balancer.url, statuses, opened) for _ in range(connections)]
                seen = seen_while(publish, askers, answers)
    elsewhere = [one for one in balancer.lost if not _was_in(one, killed_s.get(one.url, (0.0, 0.0)))]
    latest_s = max((_late_s(one, published_s) for one in seen), default=0.0)
    return Told(seen, len(killed_s), len(balancer.lost), len(elsewhere), statuses, latest_s)


def _was_in(one: Lost, killed_s: tuple[float, float]) -> bool:
    """Whether a request was in a process while that was killed: from the kill until it was known to be gone."""
    return one.begun_s <= killed_s[1] and one.ended_s >= killed_s[0]


def _late_s(one: Seen, published_s: Sequence[float]) -> float:
    """So long before a question was asked there was a later revision than it was answered from; the first is 1."""
    following = published_s[one.revision : bisect_right(published_s, one.begun_s)]
    return one.begun_s - following[0] if following else 0.0


def _replace(replica: Replica, balancer: Balancer, killed_s: dict[str, tuple[float, float]], *, anew: bool) -> None:
    url = replica.url
    begun_s = perf_counter()
    replica.kill()
    killed_s[url] = begun_s, perf_counter()
    if anew:
        replica.begin()
        balancer.replicas = [replica.wait() if one == url else one for one in balancer.replicas]


@contextmanager
def _three(url: str, *, back: bool) -> Iterator[list[Replica]]:
    settings = {"back_process": str(back).lower()}
    replicas = [Replica(url, settings) for _ in range(3)]
    try:
        for one in replicas:
            one.begin()
        for one in replicas:
            one.wait()
        yield replicas
    finally:
        for one in replicas:
            one.kill()


def _over(url: str, statuses: dict[int, int], opened: ExitStack) -> Ask:
    """Asks at the proxy until there is an answer; what was refused is counted, but for what a killed process had."""
    connection = Connection(url)
    opened.callback(connection.socket.close)

    def ask(question: Json) -> Json:
        while True:
            status, content = connection.ask(request(url, "POST", "/v1/bills", json.dumps(question).encode()))
            if status == _OK:
                answer: Json = json.loads(content)
                return answer
            if status != BAD_GATEWAY:
                statuses[status] = statuses.get(status, 0) + 1

    return ask


def main() -> None:
    """Run; end with 1 where something failed that should not, was mixed, or came late."""
    given = _arguments()
    told = tried(given.publishes, 3, given.every, given.connections, given.answers, whole=True)
    print(
        f"{len(told.seen)} answers of {len({one.revision for one in told.seen})} revisions, {told.killed} replicas "
        f"killed: {told.lost} requests lost with them, {told.lost_elsewhere} elsewhere, other refusals "
        f"{told.statuses or 'none'}, {len(mixed(told.seen))} mixed; the latest answer from before a publish was asked "
        f"for {told.latest_s * 1000:.0f} ms after it"
    )
    sys.exit(not told.is_sound or told.latest_s > 1.0)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.replicas", description="Three replicas under load.")
    parser.add_argument("--answers", type=int, default=2000, help="at least so many")
    parser.add_argument("--publishes", type=int, default=20)
    parser.add_argument("--every", type=float, default=1.2, help="seconds between two publishes")
    parser.add_argument("--connections", type=int, default=6)
    return parser.parse_args()


if __name__ == "__main__":
    main()
