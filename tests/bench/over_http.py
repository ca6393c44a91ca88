"""What an answer costs over HTTP, beside endpoints of the same application that send ready bytes.

A question and the ready bytes take turns, in slices of a second, so that what else the machine does falls on both.
"""

import json
import statistics
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import cycle, repeat
from pathlib import Path
from urllib.parse import urlencode

from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.bench.client import Connection, Load, flood, request
from tests.bench.questions import Json, Questions
from tests.bench.report import Row
from tests.bench.served import READY, SPENT, UNCHANGED
from tests.support.server import served

_BILLS = "/v1/bills"
_AT_ONCE = 4
_WARM_UP_S = 0.5
_DETAILS = {"brief": 0.30, "reasons": 0.15}
_NEW_FLOOR = 0.02
"""Both are missed yet; less than this would be a step back."""
_REPEATED, _CONDITIONAL = 0.85, 0.9
_FEW = 20
"""So many questions are repeated in turn."""


_Slice = tuple[Load, float]
"""What came of a load, and what the process in front took of a processor for each answer [s]."""
_Sides = tuple[list[_Slice], list[_Slice]]


@dataclass(frozen=True)
class Pace:
    """How long is measured: `slices` of `slice_s` for each side of a row; new questions only once others were asked
    for `asked_before_s`, as by noon of any day: what parts are told of with is worded by then."""

    slices: int
    slice_s: float
    asked_before_s: float = _WARM_UP_S


def rows(questions: Questions, pace: Pace) -> list[Row]:
    """All rows of one worker."""
    different, everyday = questions.different(), questions.everyday()
    with serving(questions) as url:
        told = [_new(f"new question, {detail}", url, everyday, detail, pace) for detail in _DETAILS]
        told += [
            _new(f"new question of wishes at random, {detail}", url, different, detail, pace, {}) for detail in _DETAILS
        ]
        told += [_repeated(url, different, detail, pace) for detail in ("brief", "reasons", "full")]
        return [*told, _conditional(url, different, pace)]


@contextmanager
def serving(questions: Questions) -> Iterator[str]:
    """A server in processes of its own, over the seed, with one worker."""
    with tempfile.TemporaryDirectory() as folder:
        address = f"sqlite:///{Path(folder) / 'bench.sqlite3'}"
        database = open_database(address)
        migrate(database)
        Library(RevisionStore(database)).publish(questions.edition.catalog)
        database.close()
        with served(address, module="tests.bench.served") as url:
            yield url


def asking(url: str, question: Json, detail: str) -> bytes:
    """A question as bytes."""
    return request(url, "POST", _BILLS, json.dumps(question | {"detail": detail}).encode())


def _new(
    what: str, url: str, questions: Iterator[Json], detail: str, pace: Pace, targets: Mapping[str, float] = _DETAILS
) -> Row:
    """A row of questions that nobody asked before; without a target where `targets` has none for the detail."""
    new = (asking(url, question, detail) for question in questions)
    some = flood(url, new, pace.asked_before_s, _AT_ONCE)
    size_bytes = round(statistics.mean(some.sizes_bytes))
    return replace(_against_ready(what, url, new, size_bytes, pace, targets.get(detail)), floor=_NEW_FLOOR)


def _repeated(url: str, different: Iterator[Json], detail: str, pace: Pace) -> Row:
    few = [asking(url, next(different), detail) for _ in range(_FEW)]
    connection = Connection(url)
    size_bytes = round(statistics.mean(len(connection.ask(one)[1]) for one in [*few, *few]))
    return _against_ready(f"repeated question, {detail}", url, cycle(few), size_bytes, pace, _REPEATED)


def _against_ready(
    what: str, url: str, asked: Iterator[bytes], size_bytes: int, pace: Pace, target: float | None
) -> Row:
    """A question against the same number of bytes sent ready."""
    ready = json.dumps("x" * (size_bytes - 2)).encode()
    Connection(url).ask(request(url, "PUT", READY, ready, Content_Length=str(len(ready))))
    send = request(url, "POST", READY, json.dumps({"chassis": "any", "layout": "any"}).encode())
    return _row(f"{what}, against its bytes sent ready", *_in_turn(url, asked, repeat(send), pace), target)


def _conditional(url: str, different: Iterator[Json], pace: Pace) -> Row:
    query = urlencode({name: value for name, value in next(different).items() if name in ("chassis", "layout")})
    target = f"{_BILLS}?{query}"
    connection = Connection(url)
    connection.ask(request(url, "GET", target))
    tag = next(line for line in connection.head().splitlines() if line.startswith("etag: ")).removeprefix("etag: ")
    still_right = repeat(request(url, "GET", target, If_None_Match=tag))
    empty = repeat(request(url, "GET", UNCHANGED, If_None_Match=tag))
    return _row(
        "conditional GET that is still right, against an empty 304",
        *_in_turn(url, still_right, empty, pace),
        _CONDITIONAL,
    )


def _in_turn(url: str, asked: Iterator[bytes], ready: Iterator[bytes], pace: Pace) -> _Sides:
    flood(url, ready, _WARM_UP_S, _AT_ONCE)
    loads = [(_slice(url, asked, pace), _slice(url, ready, pace)) for _ in range(pace.slices)]
    return [one for one, _ in loads], [other for _, other in loads]


def _slice(url: str, requests: Iterator[bytes], pace: Pace) -> _Slice:
    before_s = _spent_s(url)
    load = flood(url, requests, pace.slice_s, _AT_ONCE)
    return load, (_spent_s(url) - before_s) / len(load.took_s)


def _spent_s(url: str) -> float:
    """What the process in front has had of a processor so far [s]."""
    return float(Connection(url).ask(request(url, "GET", SPENT))[1])


def _row(what: str, asked: list[_Slice], ready: list[_Slice], target: float | None) -> Row:
    for load, _ in (*asked, *ready):
        if set(load.statuses) - {200, 304} or len(load.statuses) != 1:
            raise SystemExit(f"{what}: answered with {load.statuses}")
    rate, ready_rate = (statistics.median(load.rate for load, _ in side) for side in (asked, ready))
    spent_s, ready_spent_s = (statistics.median(spent_s for _, spent_s in side) for side in (asked, ready))
    figures = {
        "a second": rate,
        "ready": ready_rate,
        "ms of processor": spent_s * 1000,
        "ready ms": ready_spent_s * 1000,
    }
    figures["bytes"] = statistics.mean(asked[0][0].sizes_bytes)
    figures["client's share of a processor"] = statistics.median(load.own_s / load.seconds for load, _ in ready)
    return Row(what, rate / ready_rate, target, figures=figures)
