"""The service under the worst requests known: `python -m tests.attack`.

A server over the catalog of `seed_data/` (with `--twins`, every part so many times, figures a little apart) answers
light questions of a few clients, first alone, then beside many clients that send the worst there is. Told are the
times of the light questions in both cases, what was answered how often, and the memory of the server. All on loopback,
bounded in time and number. What is usual, with keys, goes by `python -m tests.load`.
"""

import argparse
import asyncio
import json
import os
import re
import tempfile
from collections import Counter
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ProcessPoolExecutor
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from random import Random
from time import perf_counter, sleep
from typing import Any
from urllib.parse import quote, urlencode, urlsplit

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.support.random_requests import random_request
from tests.support.server import served

SEED_CATALOG = Path(__file__).parents[1] / "seed_data"
PATIENCE_S = 60.0
Json = dict[str, Any]


@dataclass(frozen=True)
class Sent:
    """A request: what it is called in the table, and all that goes over the wire."""

    name: str
    method: str
    target: str
    headers: tuple[tuple[str, str], ...] = ()
    body: bytes = b""

    def bytes_for(self, host: str) -> bytes:
        lines = [f"{self.method} {self.target} HTTP/1.1", f"Host: {host}", f"Content-Length: {len(self.body)}"]
        lines += [f"{name}: {value}" for name, value in self.headers]
        return "\r\n".join([*lines, "", ""]).encode() + self.body


@dataclass
class Told:
    """What came back: name and seconds of each answer, statuses by name, refusals without Retry-After."""

    times: list[tuple[str, float]] = field(default_factory=list)
    statuses: Counter[tuple[str, int]] = field(default_factory=Counter)
    dishonest: int = 0
    largest_refusal: int = 0

    def at(self, share: float, name: str = "") -> float:
        found = sorted(seconds for sent, seconds in self.times if name in ("", sent))
        return found[min(int(len(found) * share), len(found) - 1)] if found else float("nan")


class Catalogs:
    """What requests are made of: the catalog as plain JSON; `in_batch`: so many orders in a batch."""

    def __init__(self, catalog: Catalog, in_batch: int = 100) -> None:
        self.in_batch = in_batch
        self.plain: Json = catalog.model_dump(mode="json", exclude_none=True)
        self.skus = [item["sku"] for item in self.plain["items"]]
        self.chassis = [one["id"] for one in self.plain["chassis"]]

    def light_bills(self, rng: Random) -> Sent:
        chassis = rng.choice(self.plain["chassis"])
        layout = rng.choice([one for one in self.plain["layouts"] if one["banks"] == chassis["banks"]])
        question = json.dumps({"chassis": chassis["id"], "layout": layout["id"], "limit": 1}).encode()
        return Sent("light bills", "POST", "/v1/bills", JSON, question)

    def light(self, rng: Random) -> Sent:
        """A question that a person asks."""
        return rng.choice(
            [
                self.light_bills(rng),
                Sent("light item", "GET", f"/v1/items/{quote(rng.choice(self.skus), safe='')}"),
                Sent("light list", "GET", "/v1/items?limit=20"),
                Sent("light health", "GET", "/v1/health/ready"),
            ]
        )

    def random_bills(self, rng: Random) -> Sent:
        return Sent("any bills", "POST", "/v1/bills", JSON, json.dumps(random_request(rng, self.plain)).encode())

    def ungrouped(self, rng: Random) -> Sent:
        asked = random_request(rng, self.plain, 5) | {"group_variants": False, "limit": 100, "gauge": "any"}
        return Sent("ungrouped bills", "POST", "/v1/bills", JSON, json.dumps(asked).encode())

    def many_had(self, rng: Random) -> Sent:
        """As many parts that are had as can be told."""
        have = [{"sku": sku, "qty": 2} for sku in rng.sample(self.skus, min(50, len(self.skus)))]
        asked = random_request(rng, self.plain, 5) | {"have": have, "group_variants": False}
        return Sent("much had", "POST", "/v1/bills", JSON, json.dumps(asked).encode())

    def order(self, rng: Random) -> Sent:
        lines = [{"sku": sku, "qty": rng.randint(1, 4)} for sku in rng.sample(self.skus, rng.randint(1, 12))]
        asked = {"chassis": rng.choice(self.chassis), "lines": lines}
        return Sent("order", "POST", "/v1/order-checks", JSON, json.dumps(asked).encode())

    def orders(self, rng: Random) -> Sent:
        lines = b"\n".join(self.order(rng).body for _ in range(self.in_batch))
        return Sent("orders", "POST", "/v1/order-checks/batch", (("Content-Type", "application/x-ndjson"),), lines)

    def explain(self, rng: Random) -> Sent:
        asked = {"request": random_request(rng, self.plain, 5), "sku": rng.choice(self.skus)}
        return Sent("explain", "POST", "/v1/explain", JSON, json.dumps(asked).encode())

    def pasted(self, rng: Random) -> Sent:
        lines = "\n".join(f"{rng.randint(1, 9)} x {sku}" for sku in rng.choices(self.skus, k=200))
        form = urlencode({"form_token": _TOKEN, "chassis": rng.choice(self.chassis), "lines": lines})
        headers = (("Content-Type", "application/x-www-form-urlencoded"), _COOKIE)
        return Sent("pasted order", "POST", "/order", headers, form.encode())

    def upload(self, rng: Random) -> Sent:
        rows = "".join(f"O-{n},{rng.choice(self.chassis)},{rng.choice(self.skus)},{n % 4 + 1}\n" for n in range(1_000))
        return _upload(f"order,chassis,sku,qty\n{rows}".encode())

    def hollow_upload(self, rng: Random) -> Sent:
        return _upload(b"order,chassis,sku,qty\n" + b",b,c,1\n" * 500_000)

    def old_revision(self, rng: Random) -> Sent:
        return Sent("old revision", "GET", f"/v1/items?limit=1&revision={rng.randint(1, 5)}")

    def deep_json(self, rng: Random) -> Sent:
        body = b"[" + b"1" * 41 + b'."' + b'\\"' * 30_000
        return Sent("hostile JSON", "POST", "/v1/bills", JSON, body)

    def long_type(self, rng: Random) -> Sent:
        return Sent("hostile type", "POST", "/v1/bills", (("Content-Type", '\\";' * 10_000),), b"{}")

    def unknown_names(self, rng: Random) -> Sent:
        return Sent("unknown names", "GET", "/v1/bills?" + "&".join(f"x{n}=1" for n in range(5_000)))

    def many_places(self, rng: Random) -> Sent:
        rail = {f"p{n}": {"standard": "x", "end": "male"} for n in range(5_000)}
        asked = random_request(rng, self.plain, 0) | {"own_rail": rail}
        return Sent("hostile rail", "POST", "/v1/bills", JSON, json.dumps(asked).encode())

    @property
    def worst(self) -> dict[str, Callable[[Random], Sent]]:
        names = (
            *("ungrouped", "many_had", "order", "orders", "explain", "pasted", "upload", "hollow_upload"),
            *("old_revision", "deep_json", "long_type", "unknown_names", "many_places", "random_bills"),
        )
        return {name: getattr(self, name) for name in names}


JSON = (("Content-Type", "application/json"),)
_TOKEN = "t" * 32
_COOKIE = ("Cookie", f"portwright-form={_TOKEN}")


def _upload(content: bytes) -> Sent:
    parts = [
        b'--x\r\nContent-Disposition: form-data; name="form_token"\r\n\r\n' + _TOKEN.encode(),
        b'--x\r\nContent-Disposition: form-data; name="orders"; filename="o.csv"\r\n\r\n' + content,
    ]
    headers = (("Content-Type", "multipart/form-data; boundary=x"), _COOKIE)
    return Sent("upload", "POST", "/order/batches", headers, b"\r\n".join(parts) + b"\r\n--x--\r\n")


@asynccontextmanager
async def connection(host: str) -> AsyncIterator[tuple[asyncio.StreamReader, asyncio.StreamWriter]]:
    address, port = host.split(":")
    reader, writer = await asyncio.open_connection(address, int(port), limit=1 << 20)
    try:
        yield reader, writer
    finally:
        writer.close()


async def answer(reader: asyncio.StreamReader) -> tuple[int, dict[str, str], bytes]:
    """Read an answer: its status, headers by their names in small letters, and its body."""
    head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1").split("\r\n")
    headers = {name.lower(): value.strip() for name, _, value in (line.partition(":") for line in head[1:])}
    if headers.get("transfer-encoding") == "chunked":
        parts = []
        while length := int(await reader.readline(), 16):
            parts.append((await reader.readexactly(length + 2))[:-2])
        await reader.readline()
        body = b"".join(parts)
    else:
        body = await reader.readexactly(int(headers.get("content-length", 0)))
    return int(head[0].split()[1]), headers, body


async def client(host: str, make: Callable[[Random], Sent], rng: Random, until: float, told: Told) -> None:
    """Send one request after the other on one connection until that time, on a new one where it was closed.

    One at least is tried: a busy machine may pass that time before the first.
    """
    first = True
    while first or perf_counter() < until:
        first = False
        try:
            async with asyncio.timeout(PATIENCE_S), connection(host) as (reader, writer):
                while True:
                    sent = make(rng)
                    started = perf_counter()
                    writer.write(sent.bytes_for(host))
                    status, headers, body = await answer(reader)
                    told.times.append((sent.name, perf_counter() - started))
                    told.statuses[sent.name, status] += 1
                    if status >= 400:
                        told.largest_refusal = max(told.largest_refusal, len(body))
                    told.dishonest += status in (503, 507) and "retry-after" not in headers
                    if headers.get("connection") == "close" or perf_counter() >= until:
                        break
        except (OSError, asyncio.IncompleteReadError, TimeoutError):
            told.statuses["cut off", 0] += 1


async def crowd(host: str, makers: list[Callable[[Random], Sent]], seconds: float, seed: int) -> list[Told]:
    """Have a client for each maker send its requests for so long."""
    until = perf_counter() + seconds
    told = [Told() for _ in makers]
    async with asyncio.TaskGroup() as group:
        for index, make in enumerate(makers):
            group.create_task(client(host, make, Random(seed * 10_000 + index), until, told[index]))
    return told


def merged(told: list[Told]) -> Told:
    whole = Told()
    for one in told:
        whole.times += one.times
        whole.statuses += one.statuses
        whole.dishonest += one.dishonest
        whole.largest_refusal = max(whole.largest_refusal, one.largest_refusal)
    return whole


def with_twins(plain: Json, twins: int) -> Json:
    """The catalog with every part so many times; names, families and figures a little apart."""
    items = list(plain["items"])
    for number in range(1, twins):
        for item in plain["items"]:
            twin = item | {"sku": f"{item['sku']}-T{number}", "name": f"{item['name']} {number}"}
            twin.pop("gtin", None)
            twin |= {"price": item["price"] + number * 7, "mass_g": item["mass_g"] + number / 10}
            items.append(twin | ({"family": f"{item['family']}-t{number}"} if "family" in item else {}))
    return plain | {"items": items}


def memory_mb(pids: list[int]) -> list[float]:
    """The resident memory of processes."""
    found = []
    for pid in pids:
        status = Path(f"/proc/{pid}/status").read_text(encoding="utf-8")
        kept = re.search(r"VmRSS:\s+(\d+) kB", status)
        found.append(int(kept[1]) / 1024 if kept else 0.0)
    return found


def servers() -> list[int]:
    """The servers that this process has started, and their workers."""
    found, look = [], [os.getpid()]
    while look:
        task = Path(f"/proc/{look.pop()}/task")
        for children in task.glob("*/children"):
            pids = [int(pid) for pid in children.read_text(encoding="utf-8").split()]
            found += pids
            look += pids
    return [pid for pid in found if re.search(rb"service|spawn_main", Path(f"/proc/{pid}/cmdline").read_bytes())]


def tell(name: str, told: Told) -> None:
    statuses = ", ".join(f"{name} {status}: {count}" for (name, status), count in sorted(told.statuses.items()))
    print(f"{name}: {len(told.times)} answers\n    {statuses}")
    for sent in ("", *sorted({sent for sent, _ in told.times})):
        p50, p99, most = (told.at(share, sent) * 1000 for share in (0.5, 0.99, 1))
        print(f"    {sent or 'all':16} p50 {p50:6.0f} ms, p99 {p99:6.0f} ms, most {most:6.0f} ms")


def _attack(host: str, catalogs: Catalogs, given: argparse.Namespace) -> None:
    light = [catalogs.light] * given.light
    worst = catalogs.worst
    names = given.only.split(",") if given.only else list(worst)
    attackers = [_pool(worst[names[index % len(names)]], index) for index in range(given.clients - given.light)]
    asyncio.run(crowd(host, light, 3, 0))  # so that what is kept for the next question is there in both cases
    alone = merged(asyncio.run(crowd(host, light, given.seconds / 2, 1)))
    tell("light questions alone", alone)
    print(f"memory: {memory_mb(servers())} MB")
    with ProcessPoolExecutor(1, get_context("fork")) as elsewhere:  # who attacks does not hold up who measures
        attacking = elsewhere.submit(_attacked, host, attackers, given.seconds + 2)
        sleep(2)
        beside = merged(asyncio.run(crowd(host, light, given.seconds - 1, 2)))
        attack = attacking.result()
    tell("light questions beside the attack", beside)
    tell("the attack", attack)
    print(f"memory: {memory_mb(servers())} MB")
    print(f"p99 beside the attack is {beside.at(0.99) / alone.at(0.5):.1f} times p50 alone")
    print(f"5xx without Retry-After: {attack.dishonest + beside.dishonest}; largest refusal {attack.largest_refusal}")


def _attacked(host: str, attackers: list[Callable[[Random], Sent]], seconds: float) -> Told:
    return merged(asyncio.run(crowd(host, attackers, seconds, 3)))


class _Pool:
    """Requests made beforehand, so that sending them takes little."""

    def __init__(self, made: list[Sent]) -> None:
        self._made = made

    def __call__(self, rng: Random) -> Sent:
        return rng.choice(self._made)


def _pool(make: Callable[[Random], Sent], index: int) -> Callable[[Random], Sent]:
    rng = Random(index)
    return _Pool([make(rng) for _ in range(5)])


def with_catalog(url: str, plain: Json, revisions: int) -> None:
    """Fill an empty database with so many revisions of a catalog, prices apart."""
    database = open_database(url)
    migrate(database)
    library = Library(RevisionStore(database))
    for number in range(revisions):
        items = [item | {"price": item["price"] + number} for item in plain["items"]]
        library.publish(Catalog.model_validate(plain | {"items": items}))
    database.close()


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.attack", description="The service under attack.")
    parser.add_argument("--seconds", type=float, default=30.0, help="how long the attack takes; at most 120")
    parser.add_argument("--clients", type=int, default=200, help="clients in all; at most 500")
    parser.add_argument("--light", type=int, default=10, help="how many of them ask light questions")
    parser.add_argument("--twins", type=int, default=1, help="so many times every part")
    parser.add_argument("--workers", type=int, default=1, help="processes that answer")
    parser.add_argument("--only", default="", help="these attacks alone, with commas")
    given = parser.parse_args()
    given.seconds, given.clients = min(given.seconds, 120.0), min(given.clients, 500)
    plain = with_twins(load_catalog(SEED_CATALOG).model_dump(mode="json", exclude_none=True), given.twins)
    catalogs = Catalogs(Catalog.model_validate(plain))
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/catalog.sqlite3"
        with_catalog(url, plain, 5)
        with served(url, workers=given.workers) as server:
            _attack(urlsplit(server).netloc, catalogs, given)


if __name__ == "__main__":
    main()
