"""The service under a usual load, with keys of all roles: `python -m tests.load`.

Two hundred clients ask, check orders, send files, keep cases, edit drafts and publish for a minute. Nothing may come
back but answers and honest refusals (with Retry-After: 429, 503, or 507 where as much is kept as may be). With
`--requests`, a few clients send so many varied ones instead, as fast as they are answered, and memory and open files of
each process are told along the way: behind their beginning both stay as they are. Over either database, all on
loopback, bounded in time and number.
"""

import argparse
import asyncio
import json
import sys
import tempfile
from collections.abc import Callable, Generator, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass, field, replace
from itertools import count
from pathlib import Path
from random import Random
from time import perf_counter
from typing import Any
from urllib.parse import quote, urlsplit

from service.access.allowances import NO_LIMIT
from service.access.roles import Role
from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.storage.engine import open_database
from service.storage.keys import KeyStore
from service.usecases.access_keys import AccessKeys
from tests.attack import (
    PATIENCE_S,
    SEED_CATALOG,
    Catalogs,
    Sent,
    Told,
    answer,
    connection,
    memory_mb,
    merged,
    servers,
    tell,
    with_catalog,
)
from tests.storage.databases import empty_database
from tests.support.server import served

Json = dict[str, Any]
KEYS_A_ROLE = 4
_SAMPLES = 50
_WARM = 0.4
"""Until so much of the requests is sent, what is kept to be quick fills up."""
_MORE_MEMORY, _MORE_FILES = 1.1, 8
"""So many times the memory, and so many more files, may be in use at the end as when it was warm."""
_LONGEST_WAIT_S = 1.0
_REFUSALS = (429, 503, 507)


@dataclass(frozen=True)
class Came:
    """What came back."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    def json(self) -> Json:
        """The body, which is an object."""
        told: Json = json.loads(self.body)
        return told


Talk = Generator[Sent, Came, None]


@dataclass(frozen=True)
class Talks:
    """What the roles do, each as requests that follow from what came back."""

    catalogs: Catalogs
    serial: Iterator[int] = field(default_factory=count)

    def ask(self, rng: Random) -> Talk:
        made = (self.catalogs.light, self.catalogs.light, self.catalogs.random_bills, self.catalogs.explain)
        yield rng.choice(made)(rng)
        said = {"text": f"Which plugs for the {rng.choice(self.catalogs.chassis)}, {rng.randint(2, 9)} of them?"}
        yield _sent("question in words", "POST", "/v1/questions/read", said)

    def desk(self, rng: Random) -> Talk:
        kept = yield self.catalogs.order(rng)
        if kept.status == 201:
            yield _sent("order check again", "GET", kept.headers["location"])
        yield rng.choice((self.catalogs.pasted, self.catalogs.upload, self._inquiry))(rng)

    def partner(self, rng: Random) -> Talk:
        once = replace(self.catalogs.order(rng), name="order with a key")
        once = replace(once, headers=(*once.headers, ("Idempotency-Key", f"k{next(self.serial)}")))
        yield once
        yield once
        id_ = f"case-{next(self.serial)}"
        asked = json.loads(self.catalogs.light_bills(rng).body)
        case = {"account": "load", "id": id_, "says": "Has a bill.", "request": asked, "promises": {"has_bill": True}}
        if (yield _sent("case", "POST", "/v1/contract/cases", case)).status == 201:
            yield _sent("case deleted", "DELETE", f"/v1/contract/cases/load/{id_}")

    def editor(self, rng: Random) -> Talk:
        begun = yield _sent("draft", "POST", "/v1/drafts", {"name": "load", "author": "tests"})
        if begun.status == 201:
            path = f"/v1/drafts/{begun.json()['id']}"
            yield from self._edits(path, rng)
            yield _sent("draft's changes", "GET", f"{path}/changes")
            yield _sent("draft deleted", "DELETE", path)

    def publisher(self, rng: Random) -> Talk:
        begun = yield _sent("draft", "POST", "/v1/drafts", {"name": "load", "author": "tests"})
        if begun.status != 201:
            return
        path = f"/v1/drafts/{begun.json()['id']}"
        yield from self._edits(path, rng)
        asked = {"author": "tests", "reason": "a load", "accept": "it is a test"}
        for _ in range(10):
            told = yield _sent("publish", "POST", f"{path}/publish", asked)
            if told.status not in (202, *_REFUSALS):
                break
        if told.status != 201:
            yield _sent("draft deleted", "DELETE", path)

    def admin(self, rng: Random) -> Talk:
        paths = ("/metrics", "/v1/drafts?limit=5", "/v1/revisions?limit=5", "/inquiries", "/workshop")
        yield _sent("admin", "GET", rng.choice(paths))

    def _edits(self, path: str, rng: Random) -> Talk:
        for _ in range(rng.randint(1, 3)):
            at = f"{path}/items/{quote(rng.choice(self.catalogs.skus), safe='')}"
            seen = yield _sent("draft's item", "GET", at)
            if seen.status == 200:
                patch = _sent("edit", "PATCH", at, {"stock": rng.randint(1, 99)}, "application/merge-patch+json")
                yield replace(patch, headers=(*patch.headers, ("If-Match", seen.headers["etag"])))

    def _inquiry(self, rng: Random) -> Sent:
        asked = json.loads(self.catalogs.light_bills(rng).body) | {"max_price": 1}
        return _sent("inquiry", "POST", "/v1/inquiries", {"request": asked, "contact": "desk@shop.example"})


_SHARES = {Role.ASK: 45, Role.DESK: 25, Role.PARTNER: 12, Role.EDITOR: 10, Role.PUBLISHER: 1, Role.ADMIN: 7}
"""Of a hundred clients; and of a hundred talks, where each client has all roles in turn."""
_RIGHT = {200, 201, 202, 204, 303}
_ALSO_RIGHT = {
    "any bills": {404, 422},  # random wishes may be ones that cannot be asked together, or cost too much
    "explain": {404, 422},
    "publish": {409, 412},  # somebody was faster
}


def _sent(name: str, method: str, target: str, body: Json | None = None, type_: str = "application/json") -> Sent:
    if body is None:
        return Sent(name, method, target)
    return Sent(name, method, target, (("Content-Type", type_),), json.dumps(body).encode())


@dataclass
class Load:
    """The clients over a server: what came back, and what should not have."""

    host: str
    talks: Talks
    keys: Mapping[Role, list[str]]
    told: Told = field(default_factory=Told)
    wrong: list[str] = field(default_factory=list)

    async def client(self, roles: list[Role], rng: Random, *, is_over: Callable[[], bool]) -> None:
        """Talk as one of these roles after the other, on one connection while it stands."""
        while not is_over():
            try:
                async with connection(self.host) as (reader, writer):
                    stands = True
                    while stands:  # once at least: on a busy machine connecting alone takes the time
                        role = rng.choice(roles)
                        talk = getattr(self.talks, role.value)(rng)
                        stands = await self._talk(talk, rng.choice(self.keys[role]), reader, writer) and not is_over()
            except (OSError, asyncio.IncompleteReadError, TimeoutError) as error:
                self.wrong.append(f"cut off: {error!r}")

    async def _talk(self, talk: Talk, key: str, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bool:
        """Talk to the end; whether the connection stands."""
        try:
            sent = next(talk)
            while True:
                started_s = perf_counter()
                headers = (*sent.headers, ("Authorization", f"Bearer {key}"))
                writer.write(replace(sent, headers=headers).bytes_for(self.host))
                async with asyncio.timeout(PATIENCE_S):
                    came = Came(*await answer(reader))
                self.told.times.append((sent.name, perf_counter() - started_s))
                self.told.statuses[sent.name, came.status] += 1
                self._judge(sent, came)
                if came.headers.get("connection") == "close":
                    return False
                if came.status in _REFUSALS:
                    await asyncio.sleep(min(float(came.headers.get("retry-after", 0)), _LONGEST_WAIT_S))
                sent = talk.send(came)
        except StopIteration:
            return True

    def _judge(self, sent: Sent, came: Came) -> None:
        is_honest = came.status in _REFUSALS and "retry-after" in came.headers
        if not is_honest and came.status not in _RIGHT | _ALSO_RIGHT.get(sent.name, set()):
            self.wrong.append(f"{sent.method} {sent.target}: {came.status} {came.body[:300]!r}")


async def for_a_time(load: Load, clients: int, seconds: float) -> None:
    """So many clients at once, each with one role."""
    until_s = perf_counter() + seconds
    roles = [role for role, share in _SHARES.items() for _ in range(share)]
    async with asyncio.TaskGroup() as group:
        for index in range(clients):
            one = [roles[index * 37 % len(roles)]]
            group.create_task(load.client(one, Random(index), is_over=lambda: perf_counter() >= until_s))


async def so_many(load: Load, clients: int, requests: int, say: Callable[[str], object]) -> list[str]:
    """Send so many requests, and look at the processes along the way; what did not stay as it was."""
    looked: list[tuple[list[float], list[int]]] = []
    roles = [role for role, share in _SHARES.items() for _ in range(share)]

    def is_over() -> bool:
        sent = len(load.told.times)
        while len(looked) <= sent * _SAMPLES // requests:
            looked.append((memory_mb(servers()), files(servers())))
            say(f"{sent:>7} requests: {[round(one) for one in looked[-1][0]]} MB, {looked[-1][1]} files")
        return sent >= requests

    async with asyncio.TaskGroup() as group:
        for index in range(clients):
            group.create_task(load.client(roles, Random(index), is_over=is_over))
    return grown(looked)


def files(pids: list[int]) -> list[int]:
    """How many files and sockets processes have open."""
    return [len(list(Path(f"/proc/{pid}/fd").iterdir())) for pid in pids]


def grown(looked: list[tuple[list[float], list[int]]]) -> list[str]:
    """What is more at the end than when it was warm, of what was looked at along the way."""
    fifth = len(looked) // 5
    warm, late = looked[int(len(looked) * _WARM) :][:fifth], looked[-fifth:]
    told = []
    for index in range(len(late[0][0])):
        before_mb, after_mb = (max(memory[index] for memory, _ in part) for part in (warm, late))
        before, after = (max(opened[index] for _, opened in part) for part in (warm, late))
        if after_mb > before_mb * _MORE_MEMORY:
            told.append(f"process {index}: {after_mb:.0f} MB at the end, {before_mb:.0f} before")
        if after > before + _MORE_FILES:
            told.append(f"process {index}: {after} files at the end, {before} before")
    return told


def keys_in(url: str) -> dict[Role, list[str]]:
    """Make keys of each role, each of another account but those of partners, whose account the cases have."""
    with closing(open_database(url)) as database:
        made = AccessKeys(KeyStore(database))
        return {
            role: [
                made.make(role, "load" if role is Role.PARTNER else f"{role}-{number}").text
                for number in range(KEYS_A_ROLE)
            ]
            for role in Role
        }


def main() -> None:
    """Run; end with 1 where something failed, or grew."""
    given = _arguments()
    catalog = load_catalog(SEED_CATALOG)
    unlimited = ",".join(f"{role}={NO_LIMIT}" for role in Role) if given.requests else ""
    with tempfile.TemporaryDirectory() as folder, empty_database(given.database, Path(folder)) as url:
        with_catalog(url, catalog.model_dump(mode="json", exclude_none=True), 1)
        keys = keys_in(url)
        with served(url, without_key="none", requests_a_minute=unlimited, most_kept=_ROOM) as server:
            load = Load(urlsplit(server).netloc, Talks(Catalogs(Catalog.model_validate(catalog))), keys)
            if given.requests:
                load.wrong += asyncio.run(so_many(load, 8, min(given.requests, 200_000), _say))
            else:
                asyncio.run(for_a_time(load, min(given.clients, 250), min(given.seconds, 600)))
            print(f"memory: {[round(one) for one in memory_mb(servers())]} MB, files: {files(servers())}")
    tell("all", merged([load.told]))
    print("\n".join(load.wrong[:30]))
    print(f"{len(load.wrong)} wrong")
    sys.exit(bool(load.wrong))


_ROOM = "order-checks=1000000,inquiries=1000000,batches=100000,readings=1000000,drafts=100000"


def _say(text: str) -> None:
    print(text, flush=True)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.load", description="The service under a usual load.")
    parser.add_argument("--clients", type=int, default=200, help="at most 250")
    parser.add_argument("--seconds", type=float, default=60.0, help="at most 600")
    parser.add_argument("--requests", type=int, default=0, help="send so many varied ones instead; at most 200000")
    parser.add_argument("--database", choices=("sqlite", "postgresql"), default="sqlite")
    return parser.parse_args()


if __name__ == "__main__":
    main()
