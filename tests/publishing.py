"""Publishing under load: `python -m tests.publishing` asks two workers while revision follows on revision.

Each revision has its number times the prices of the first, so that an answer shows by its price which one it is of. No
answer mixes two, and whoever asks after an answer of a revision has come is not answered from an older one, by any
worker.
"""

import argparse
import json
import sys
import tempfile
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from threading import Event
from time import perf_counter
from typing import Any

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.bench.client import Connection, request
from tests.support.catalogs import small_catalog
from tests.support.server import served
from tests.support.sqlite_files import with_tables

QUESTION = {"chassis": "brook", "layout": "hose-centre"}
Json = dict[str, Any]
Ask = Callable[[Json], Json]
"""Asks a question; its answer."""


@dataclass(frozen=True)
class Seen:
    """An answer: when it was asked for and when it was there [s], the revision it names, the one its prices show."""

    begun_s: float
    ended_s: float
    revision: int
    by_price: int


def catalogs() -> Iterator[Catalog]:
    """The small catalog, then the same at twice its prices, at three times, and so on."""
    plain = small_catalog()
    for times in count(1):
        items = [item | {"price": item["price"] * times} for item in plain["items"]]
        yield Catalog.model_validate(plain | {"items": items})


def seen_while(publish: Callable[[], None], askers: Sequence[Ask], at_least: int) -> list[Seen]:
    """What all askers see from before the publishing until after it, so many answers at least."""
    over = Event()
    with ThreadPoolExecutor(len(askers)) as threads:
        first = _price(askers[0](QUESTION | {"revision": 1}))
        working = [threads.submit(_watch, ask, over, at_least // len(askers), first) for ask in askers]
        try:
            publish()
        finally:
            over.set()
        return [seen for one in working for seen in one.result()]


def mixed(seen: Sequence[Seen]) -> list[Seen]:
    """The answers that name one revision and have the prices of another."""
    return [one for one in seen if one.revision != one.by_price]


def stale(seen: Sequence[Seen]) -> list[Seen]:
    """The answers that were asked for after one of a later revision had come."""
    by_end = sorted(seen, key=lambda one: one.ended_s)
    ends = [one.ended_s for one in by_end]
    newest, highest = [0], 0
    for one in by_end:
        highest = max(highest, one.revision)
        newest.append(highest)
    return [one for one in seen if one.revision < newest[bisect_left(ends, one.begun_s)]]


def _watch(ask: Ask, over: Event, at_least: int, first_price: int) -> list[Seen]:
    found: list[Seen] = []
    while len(found) < at_least or not over.is_set():
        # Every other question is one that was asked before; the rest differ by a limit that sways nothing.
        question = QUESTION if len(found) % 2 else QUESTION | {"max_price": 10**9 + len(found)}
        begun_s = perf_counter()
        answer = ask(question | {"limit": 1, "detail": "brief"})
        by_price, rest = divmod(_price(answer), first_price)
        found.append(Seen(begun_s, perf_counter(), answer["revision"], -1 if rest else by_price))
    return found


def _price(answer: Json) -> int:
    return int(answer["bills"][0]["price"])


def main() -> None:
    """Run against a server with two workers; end with 1 where an answer is mixed or stale."""
    given = _arguments()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "catalog.sqlite3"
        with_tables(file)
        database = open_database(f"sqlite:///{file}")
        library, revisions = Library(RevisionStore(database)), catalogs()
        library.publish(next(revisions))
        with served(f"sqlite:///{file}", workers=2) as url:
            askers = [_over_http(url) for _ in range(given.connections)]
            pause = Event()

            def publish() -> None:
                for _ in range(given.publishes):
                    library.publish(next(revisions))
                    pause.wait(given.every)

            seen = seen_while(publish, askers, given.answers)
        database.close()
    wrong = {"mixed": len(mixed(seen)), "stale": len(stale(seen))}
    revisions_seen = len({one.revision for one in seen})
    print(f"{len(seen)} answers of {revisions_seen} revisions: {wrong['mixed']} mixed, {wrong['stale']} stale")
    sys.exit(any(wrong.values()))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.publishing", description="Publish under load.")
    parser.add_argument("--answers", type=int, default=2000, help="at least so many")
    parser.add_argument("--publishes", type=int, default=20)
    parser.add_argument("--every", type=float, default=0.7, help="seconds between two publishes")
    parser.add_argument("--connections", type=int, default=8, help="which fall to either worker")
    return parser.parse_args()


def _over_http(url: str) -> Ask:
    connection = Connection(url)

    def ask(question: Json) -> Json:
        status, content = connection.ask(request(url, "POST", "/v1/bills", json.dumps(question).encode()))
        if status != 200:
            raise SystemExit(f"answered with {status}: {content!r}")
        answer: Json = json.loads(content)
        return answer

    return ask


if __name__ == "__main__":
    main()
