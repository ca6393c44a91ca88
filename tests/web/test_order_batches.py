"""/v1/order-checks/batch: an answer for each line, in order and at once; no line spoils another."""

import asyncio
import json
import logging
import threading
from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any

import httpx
import pytest
from fastapi import FastAPI
from starlette.types import Message

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.storage.errors import StorageBusyError
from service.usecases.library import Edition, Library
from service.web.app import BODY_LIMIT_BYTES, create_app
from service.web.batches import BATCH_LIMIT_BYTES, MAX_ORDERS, full_lines
from tests.support.orders import ORDER, WHOLE, three_plugs
from tests.web.calls import call, check, check_batch, get, lines_of, problem, told
from tests.web.conftest import checks_of

BATCH = "/v1/order-checks/batch"
NDJSON = {"Content-Type": "application/x-ndjson"}


def test_every_line_is_answered_in_order(order_app: FastAPI) -> None:
    """As if it had come alone, and each check can be recalled."""
    response = check_batch(order_app, *[ORDER, WHOLE] * 3)
    answers = lines_of(response)
    assert [answer["line"] for answer in answers] == [1, 2, 3, 4, 5, 6]
    assert [answer["result"]["verdict"] for answer in answers] == ["short", "complete"] * 3
    assert {answer["status"] for answer in answers} == {201}
    assert {tuple(answer) for answer in answers} == {("line", "status", "result")}
    assert response.headers["cache-control"] == "no-store"
    for answer in answers:
        recalled = get(order_app, f"/v1/order-checks/{answer['result']['id']}").json()
        assert recalled == answer["result"] | {"current": recalled["current"]}


_BAD_LINES: dict[str, tuple[str, int, str]] = {
    "no JSON": ("chassis=brook", 400, "malformed-json"),
    "cut": ('{"chassis": "brook",', 400, "malformed-json"),
    "two orders": (json.dumps(ORDER) * 2, 400, "malformed-json"),
    "deep": ("[" * 100_000, 400, "malformed-json"),
    "huge integer": ('{"sets": ' + "9" * 5_000 + "}", 400, "malformed-json"),
    "a list": (json.dumps([ORDER]), 422, "invalid-request"),
    "null": ("null", 422, "invalid-request"),
    "NaN": ('{"power_kw": NaN}', 422, "invalid-request"),
    "lone surrogate": ('{"chassis": "\\ud800"}', 422, "invalid-request"),
    "doubled key": ('{"chassis": "brook", "chassis": "brook"}', 422, "invalid-request"),
    "unknown field": (json.dumps(ORDER | {"colour": "red"}), 422, "invalid-request"),
    "unknown chassis": (json.dumps(ORDER | {"chassis": "brok"}), 422, "invalid-request"),
    "unknown item": (json.dumps(ORDER | {"lines": [{"sku": "X", "qty": 1}]}), 422, "invalid-request"),
    "unknown revision": (json.dumps(ORDER | {"revision": 9}), 422, "invalid-request"),
    "too long": (json.dumps(ORDER).ljust(BODY_LIMIT_BYTES + 1), 413, "body-too-large"),
}


@pytest.mark.parametrize("name", list(_BAD_LINES))
def test_a_bad_line_spoils_no_other(order_app: FastAPI, name: str) -> None:
    """It has its problem, with what would be right as if it had come alone; those round it are judged."""
    line, status, code = _BAD_LINES[name]
    response = check_batch(order_app, ORDER, line, WHOLE)
    first, bad, last = lines_of(response)
    assert (first["line"], first["result"]["verdict"]) == (1, "short")
    assert (last["line"], last["result"]["verdict"]) == (3, "complete")
    assert (bad["line"], bad["status"], tuple(bad)) == (2, status, ("line", "status", "problem"))
    found = bad["problem"]
    assert (found["status"], found["type"]) == (status, f"/v1/problems/{code}")
    assert found["instance"] == f"urn:uuid:{response.headers['x-request-id']}#2"
    assert len(json.dumps(bad)) < 2_000
    if code != "body-too-large":
        alone = check(order_app, line.encode())
        assert found == problem(alone, status, code) | {"instance": found["instance"]}


def test_the_problem_of_a_line_names_the_value(order_app: FastAPI) -> None:
    """Field, value, what would be right, what is alike."""
    [answer] = lines_of(check_batch(order_app, ORDER | {"chassis": "brok"}))
    assert told(answer["problem"]) == [("#/chassis", "brok", "the id of a chassis of this revision")]
    assert answer["problem"]["errors"][0]["nearest"] == ["brook"]


def test_the_longest_line_is_taken(order_app: FastAPI) -> None:
    """256 KiB, the line's end not counted."""
    [answer] = lines_of(check_batch(order_app, json.dumps(ORDER).ljust(BODY_LIMIT_BYTES)))
    assert answer["status"] == 201
    [answer] = lines_of(check_batch(order_app, json.dumps(ORDER).ljust(BODY_LIMIT_BYTES + 1)))
    assert answer["problem"]["detail"] == "The line has more than the 262144 bytes that are taken."


def test_blank_lines_are_counted_and_not_answered(order_app: FastAPI) -> None:
    """The numbers are those of the file, whatever its line ends; the last line needs none."""
    for end in ("\n", "\r\n"):
        answers = lines_of(check_batch(order_app, "", ORDER, "  \t", "", "{", "", WHOLE, "", end=end))
        assert [(answer["line"], answer["status"]) for answer in answers] == [(2, 201), (5, 400), (7, 201)]
    raw = json.dumps(ORDER).encode()
    [answer] = lines_of(call(order_app, "POST", BATCH, content=b"\n" + raw, headers=NDJSON))
    assert answer["line"] == 2


@pytest.mark.parametrize("content", [b"", b"\n", b" \r\n\t\n"], ids=["nothing", "a line end", "blanks"])
def test_no_order_has_no_answer(order_app: FastAPI, content: bytes) -> None:
    """As many lines come back as orders came in."""
    assert lines_of(call(order_app, "POST", BATCH, content=content, headers=NDJSON)) == []


def test_an_order_too_many_ends_the_answer(order_app: FastAPI) -> None:
    """500 are judged; the next is told so in a last line, and what follows is not looked at."""
    bad = "[]"
    answers = lines_of(check_batch(order_app, ORDER, *[bad] * (MAX_ORDERS - 2), WHOLE))
    assert (len(answers), answers[0]["status"], answers[-1]["status"]) == (MAX_ORDERS, 201, 201)
    answers = lines_of(check_batch(order_app, "", *[bad] * (MAX_ORDERS - 1), WHOLE, ORDER, ORDER, "{"))
    assert len(answers) == MAX_ORDERS + 1
    assert (answers[-2]["line"], answers[-2]["result"]["verdict"]) == (501, "complete")
    last = answers[-1]
    assert (last["line"], last["status"], last["problem"]["type"]) == (502, 413, "/v1/problems/body-too-large")
    assert "500 orders" in last["problem"]["detail"]


def _padded(size: int) -> bytes:
    raw = json.dumps(ORDER).encode() + b"\n"
    return raw + b"\n" * (size - len(raw))


async def _in_chunks(raw: bytes) -> AsyncIterator[bytes]:
    for start in range(0, len(raw), 1_000_000):
        yield raw[start : start + 1_000_000]


@pytest.mark.parametrize("chunked", [False, True], ids=["plain", "chunked"])
def test_the_largest_batch_and_one_byte_more(order_app: FastAPI, chunked: bool) -> None:
    """8 MiB are taken; one byte more is refused before any order is judged."""
    for size in (BATCH_LIMIT_BYTES, BATCH_LIMIT_BYTES + 1):
        raw = _padded(size)
        response = call(order_app, "POST", BATCH, content=_in_chunks(raw) if chunked else raw, headers=NDJSON)
        if size == BATCH_LIMIT_BYTES:
            assert [answer["status"] for answer in lines_of(response)] == [201]
    assert "8388608 bytes" in problem(response, 413, "body-too-large")["detail"]


@pytest.mark.parametrize(
    "headers",
    [
        {"Content-Type": "application/json"},
        {"Content-Type": "text/plain"},
        {},
        {"Content-Type": "application/x-ndjson; charset=latin-1"},
    ],
    ids=["JSON", "text", "none", "latin-1"],
)
def test_other_media_types_are_415(order_app: FastAPI, headers: dict[str, str]) -> None:
    """The problem and the header Accept say what is taken."""
    response = call(order_app, "POST", BATCH, content=json.dumps(ORDER).encode(), headers=headers)
    [(place, _, expected)] = told(problem(response, 415, "unsupported-media-type"))
    assert (place, expected) == ("Content-Type", "application/x-ndjson, in UTF-8")
    assert response.headers["accept"] == "application/x-ndjson"


def test_a_batch_is_not_taken_compressed(order_app: FastAPI) -> None:
    """Nor does it take a query."""
    response = call(order_app, "POST", BATCH, content=b"{}", headers=NDJSON | {"Content-Encoding": "gzip"})
    problem(response, 415, "unsupported-media-type")
    assert response.headers["accept-encoding"] == "identity"
    response = call(order_app, "POST", BATCH, content=b"{}", headers=NDJSON, params={"x": "1"})
    problem(response, 422, "invalid-request")


def test_a_batch_that_does_not_end_is_408(library: Library) -> None:
    """It has 32 times as long as another body, as it may be 32 times as large."""

    async def stalled() -> AsyncIterator[bytes]:
        yield b"{"
        await asyncio.sleep(60)

    app = create_app(library, checks_of(library, three_plugs), body_timeout_s=0.005)
    response = call(app, "POST", BATCH, content=stalled(), headers=NDJSON)
    assert "0.16 seconds" in problem(response, 408, "body-timeout")["detail"]


def _fails(error: Exception) -> Callable[[Edition, OrderRequest], OrderResult]:
    def judge(edition: Edition, order: OrderRequest) -> OrderResult:
        if order.sets == 13:
            raise error
        return three_plugs(edition, order)

    return judge


@pytest.mark.parametrize(
    ("error", "status", "code"),
    [
        (ZeroDivisionError("secret-7341"), 500, "internal-error"),
        (StorageBusyError("sqlite:///secret-7341", "locked"), 503, "storage-unavailable"),
    ],
    ids=["unexpected", "storage"],
)
def test_what_fails_in_one_line_is_logged_and_the_rest_goes_on(
    library: Library, caplog: pytest.LogCaptureFixture, error: Exception, status: int, code: str
) -> None:
    """The answer has nothing of the inside."""
    app = create_app(library, checks_of(library, _fails(error)))
    response = check_batch(app, ORDER, ORDER | {"sets": 13}, ORDER)
    assert [answer["status"] for answer in lines_of(response)] == [201, status, 201]
    assert lines_of(response)[1]["problem"]["type"] == f"/v1/problems/{code}"
    assert "secret-7341" not in response.text
    [record] = caplog.records
    assert record.levelno == logging.ERROR
    assert response.headers["x-request-id"] in record.getMessage()
    assert "secret-7341" in caplog.text


class Held:
    """The plain judge that does not judge an order for 13 sets before it is let."""

    def __init__(self) -> None:
        self.reached = threading.Event()
        self.let = threading.Event()

    def __call__(self, edition: Edition, order: OrderRequest) -> OrderResult:
        if order.sets == 13:
            self.reached.set()
            assert self.let.wait(10)
        return three_plugs(edition, order)


def test_a_line_is_sent_before_the_next_is_judged(library: Library) -> None:
    """Nobody waits for the whole batch to see its beginning."""
    judge = Held()
    sent: list[bytes] = []
    app = create_app(library, checks_of(library, judge))
    raw = b"".join(json.dumps(order).encode() + b"\n" for order in (ORDER, ORDER | {"sets": 13}))

    async def run() -> None:
        whole = asyncio.Event()

        async def receive() -> Message:
            if not whole.is_set():
                whole.set()
                return {"type": "http.request", "body": raw, "more_body": False}
            await asyncio.sleep(60)
            raise AssertionError("nobody waits for this")

        async def send(message: Message) -> None:
            if message["type"] == "http.response.body" and message["body"]:
                sent.append(message["body"])

        scope = {
            "type": "http",
            "method": "POST",
            "path": BATCH,
            "raw_path": BATCH.encode(),
            "query_string": b"",
            "headers": [(b"host", b"127.0.0.1"), (b"content-type", b"application/x-ndjson")],
        }
        answering = asyncio.create_task(app(scope, receive, send))
        await _until(judge.reached.is_set)
        assert [json.loads(line)["line"] for line in sent] == [1]
        judge.let.set()
        await answering
        assert [json.loads(line)["line"] for line in sent] == [1, 2]

    asyncio.run(run())


async def _until(holds: Callable[[], bool]) -> None:
    async with asyncio.timeout(10):
        while not holds():
            await asyncio.sleep(0.001)


def _beside(app: FastAPI, judge: Held, then: Callable[[httpx.AsyncClient, asyncio.Task[Any]], Awaitable[Any]]) -> None:
    """Do something while the second of many lines of a batch is judged."""

    async def run() -> None:
        orders = [ORDER, ORDER | {"sets": 13}, *[ORDER] * 50]
        raw = "".join(json.dumps(order) + "\n" for order in orders)
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1") as client:
            batch = asyncio.create_task(client.post(BATCH, content=raw, headers=NDJSON))
            await _until(judge.reached.is_set)
            other = asyncio.create_task(then(client, batch))
            await asyncio.sleep(0.05)
            judge.let.set()
            await other
            assert [answer["status"] for answer in lines_of(await batch)] == [201] * len(orders)

    asyncio.run(run())


def test_health_answers_while_a_batch_is_judged(library: Library) -> None:
    """The work is done beside the loop."""
    judge = Held()

    async def then(client: httpx.AsyncClient, _: asyncio.Task[Any]) -> None:
        assert (await client.get("/v1/health/live")).status_code == 200
        assert not judge.let.is_set()

    _beside(create_app(library, checks_of(library, judge)), judge, then)


def test_others_get_their_turn_between_the_lines(library: Library) -> None:
    """A batch stands in the queue again for each of its lines."""
    judge = Held()

    async def then(client: httpx.AsyncClient, batch: asyncio.Task[Any]) -> None:
        assert (await client.get("/v1/items")).status_code == 200
        assert not batch.done()

    _beside(create_app(library, checks_of(library, judge)), judge, then)


@pytest.mark.parametrize(
    ("body", "lines"),
    [
        (b"", []),
        (b"a", [(1, b"a")]),
        (b"a\n", [(1, b"a")]),
        (b"a\nb", [(1, b"a"), (2, b"b")]),
        (b"\n\n a b \r\n\t\nc\n\n", [(3, b"a b \r"), (5, b"c")]),
        (b"\xef\xbb\xbf{}\n\x00\n", [(1, b"\xef\xbb\xbf{}"), (2, b"\x00")]),
    ],
)
def test_lines_have_their_numbers(body: bytes, lines: list[tuple[int, bytes]]) -> None:
    """Blank ones are counted; what stands before the first character is left out."""
    assert list(full_lines(body)) == lines


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_a_batch_is_no_check(order_app: FastAPI, method: str) -> None:
    """Its path takes POST alone, and says so, although the path of a check by its id looks alike."""
    response = call(order_app, method, "/v1/order-checks/batch")
    assert (response.status_code, response.headers["allow"]) == (405, "OPTIONS, POST")
    assert call(order_app, "OPTIONS", "/v1/order-checks/batch").headers["allow"] == "OPTIONS, POST"
    assert call(order_app, method, "/v1/order-checks/batches").status_code == 404
