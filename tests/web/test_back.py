"""The back process over a real server: what takes long is answered there, and it is replaced when it dies."""

import json
import os
import signal
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest
from pydantic_core import to_json

from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import found_in
from service.usecases.library import Library
from service.web.back_process import SOCKET
from tests.attack import SEED_CATALOG, servers, with_twins
from tests.support.server import served
from tests.web.calls import problem
from tests.web.conftest import library_in

PATIENCE_S = 60
LOOK_S = 0.2
_CONNECTED = "03"
Json = dict[str, Any]


@pytest.fixture(name="catalog", scope="module")
def _catalog() -> Json:
    return with_twins(load_catalog(SEED_CATALOG).model_dump(mode="json", exclude_none=True), 2)


@pytest.fixture(name="file", scope="module")
def _file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("back") / "file"


@pytest.fixture(name="library", scope="module")
def _library(file: Path, catalog: Json) -> Iterator[Library]:
    with library_in(file, catalog) as library:
        yield library


@pytest.fixture(name="client", scope="module")
def _client(library: Library, file: Path) -> Iterator[httpx.Client]:
    """A client of a server with a back process that is there, and no bound on the work of a question."""
    assert library
    settings = {"work_limit": str(10**12)}
    with (
        served(f"sqlite:///{file}", **settings) as url,
        httpx.Client(base_url=url, timeout=PATIENCE_S) as client,
    ):
        eventually(lambda: any(map(is_in_use, backs())))
        yield client


def eventually(holds: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE_S
    while not holds():
        assert time.monotonic() < until
        time.sleep(0.05)


def backs() -> list[int]:
    """The back processes of the servers of this test process."""
    return [pid for pid in servers() if b"spawn_main" in Path(f"/proc/{pid}/cmdline").read_bytes()]


@contextmanager
def standing(pid: int) -> Iterator[None]:
    """Have a process stand still; one that is killed meanwhile does not go on."""
    os.kill(pid, signal.SIGSTOP)
    try:
        yield
    finally:
        os.kill(pid, signal.SIGCONT)


def is_in_use(pid: int) -> bool:
    """Whether the process in front has a connection to this back process."""
    variables = Path(f"/proc/{pid}/environ").read_bytes().split(b"\0")
    [path] = [value for name, _, value in (one.partition(b"=") for one in variables) if name == SOCKET.encode()]
    sockets = Path("/proc/net/unix").read_text(encoding="utf-8").splitlines()
    return any(line.split()[-1] == path.decode() and line.split()[5] == _CONNECTED for line in sockets)


def light_question(catalog: Json) -> Json:
    """A car with a layout for its engine."""
    chassis = catalog["chassis"][0]
    layout = next(layout for layout in catalog["layouts"] if layout["banks"] == chassis["banks"])
    return {"chassis": chassis["id"], "layout": layout["id"], "limit": 1}


def long_question(catalog: Json) -> Json:
    """The same question for many bills."""
    return light_question(catalog) | {"group_variants": False, "limit": 40}


def test_a_long_question_is_answered_behind_and_light_ones_are_not(
    client: httpx.Client, library: Library, catalog: Json
) -> None:
    """While the back process stands still, light questions are answered; then the long one is, byte for byte."""
    question = long_question(catalog)
    with ThreadPoolExecutor(1) as elsewhere:
        with standing(backs()[0]):
            asking = elsewhere.submit(client.post, "/v1/bills", json=question)
            assert client.post("/v1/bills", json=light_question(catalog)).status_code == 200
            assert client.get("/v1/items", params={"limit": 1}).status_code == 200
            assert client.get("/v1/health/ready").status_code == 200
            assert not asking.done()
        answer = asking.result(PATIENCE_S)
    assert answer.content == to_json(found_in(library.edition(), BillRequest.model_validate(question), "reasons"))
    again = client.post("/v1/bills", json=light_question(catalog))
    assert list(answer.headers) == list(again.headers)
    assert answer.headers["X-Catalog-Revision"] == "1"


def test_a_dead_back_process_is_replaced(client: httpx.Client, catalog: Json) -> None:
    """Whoever it was working for is told to come again; whoever comes again is answered by the next one."""
    question = long_question(catalog) | {"limit": 41}
    [before] = backs()
    with ThreadPoolExecutor(1) as elsewhere:
        os.kill(before, signal.SIGSTOP)
        asking = elsewhere.submit(client.post, "/v1/bills", json=question)
        time.sleep(LOOK_S)
        os.kill(before, signal.SIGKILL)
        refused = asking.result(PATIENCE_S)
    problem(refused, 503, "overloaded")
    assert refused.headers["Retry-After"] == "1"
    assert client.get("/v1/health/ready").status_code == 200
    eventually(lambda: client.post("/v1/bills", json=question).status_code == 200)
    [after] = backs()
    assert after != before


def test_what_a_client_left_ends_behind(client: httpx.Client, catalog: Json) -> None:
    """Of a batch that takes a minute it saw the first line."""
    lines = [{"sku": item["sku"], "qty": 1} for item in catalog["items"]]
    chassis = catalog["chassis"][0]["id"]
    orders = [json.dumps({"chassis": chassis, "lines": lines[n % 50 : 51 + n // 5]}).encode() for n in range(500)]
    headers = {"Content-Type": "application/x-ndjson"}
    with client.stream("POST", "/v1/order-checks/batch", content=b"\n".join(orders), headers=headers) as answer:
        assert answer.status_code == 200
        answered = answer.iter_lines()
        assert json.loads(next(answered))["line"] == 1
        eventually(lambda: _is_busy(backs()[0]))
    eventually(lambda: not _is_busy(backs()[0]))


def _is_busy(pid: int) -> bool:
    before = _ticks(pid)
    time.sleep(LOOK_S)
    return _ticks(pid) > before + 1


def _ticks(pid: int) -> int:
    """The processor time that a process has taken, in ticks of 10 ms."""
    told = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(") ")[2].split()
    return int(told[11]) + int(told[12])
