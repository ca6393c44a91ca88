"""Both clients over answers made by hand: what is sent, what is raised, what is tried again."""

import asyncio
import json
from collections.abc import Callable
from typing import Any

import httpx
import pytest

from service.client import (
    AddressError,
    AsyncClient,
    BrokenAnswerError,
    Client,
    ClientError,
    ConflictError,
    InvalidRequestError,
    KeyReusedError,
    NotAllowedError,
    NotFoundError,
    ProblemError,
    Retries,
    ServiceFailedError,
    StillWorkingError,
    TooCostlyError,
    UnavailableError,
    UnreachableError,
    operations,
)
from service.documents.problem import MEDIA_TYPE
from service.web.problems import PROBLEM_TYPES

Answer = httpx.Response | Exception
READY = {"live": True, "ready": True, "revision": 1}


class Script:
    """A transport that gives its answers in turn, the last one for ever, and remembers what was asked and waited."""

    def __init__(self, *answers: Answer) -> None:
        self.answers = list(answers)
        self.asked: list[httpx.Request] = []
        self.waits: list[float] = []

    def __call__(self, request: httpx.Request) -> httpx.Response:
        self.asked.append(request)
        answer = self.answers.pop(0) if len(self.answers) > 1 else self.answers[0]
        if isinstance(answer, Exception):
            raise answer
        return httpx.Response(answer.status_code, content=answer.content, headers=answer.headers)

    async def wait(self, wait_s: float) -> None:
        self.waits.append(wait_s)


def _at_once(script: Script, method: str, *args: Any, **named: Any) -> Any:
    transport = httpx.MockTransport(script)
    retries = Retries(most=2, chance=lambda: 0.0)
    with Client("http://x/base", transport=transport, retries=retries, sleep=script.waits.append) as client:
        return getattr(client, method)(*args, **named)


def _awaited(script: Script, method: str, *args: Any, **named: Any) -> Any:
    async def run() -> Any:
        transport = httpx.MockTransport(script)
        retries = Retries(most=2, chance=lambda: 0.0)
        async with AsyncClient("http://x/base", transport=transport, retries=retries, sleep=script.wait) as client:
            return await getattr(client, method)(*args, **named)

    return asyncio.run(run())


@pytest.fixture(params=[_at_once, _awaited], ids=["sync", "async"])
def send(request: pytest.FixtureRequest) -> Callable[..., Any]:
    """Send one call by one of the two clients."""
    made: Callable[..., Any] = request.param
    return made


def _problem(code: str, **headers: str) -> httpx.Response:
    kind = PROBLEM_TYPES[code]
    fault = {"pointer": "#/a", "detail": "d", "found": "f", "expected": "e", "nearest": ["n"]}
    told = {"type": kind.uri, "title": kind.title, "status": kind.status, "detail": "so it is", "errors": [fault]}
    return httpx.Response(kind.status, json=told, headers={"Content-Type": MEDIA_TYPE, **headers})


_CLASSES = {
    **dict.fromkeys(("key-required", "unknown-key", "not-allowed"), NotAllowedError),
    **{code: ConflictError for code, kind in PROBLEM_TYPES.items() if kind.status in (409, 412, 428)},
    "malformed-json": InvalidRequestError,
    "invalid-request": InvalidRequestError,
    "too-costly": TooCostlyError,
    "unknown-id": NotFoundError,
    "unknown-path": NotFoundError,
    "idempotency-key-reused": KeyReusedError,
    "no-catalog": UnavailableError,
    "storage-unavailable": UnavailableError,
    "overloaded": UnavailableError,
    "too-many-requests": UnavailableError,
    "internal-error": ServiceFailedError,
}


@pytest.mark.parametrize("code", list(PROBLEM_TYPES))
def test_each_problem_is_raised_by_its_class(send: Callable[..., Any], code: str) -> None:
    """With all that the document tells."""
    with pytest.raises(ProblemError, match="so it is") as raised:
        send(Script(_problem(code, **{"Retry-After": "600"})), "get_health")
    error = raised.value
    assert type(error) is _CLASSES.get(code, ProblemError)
    assert (error.code, error.status, error.retry_after_s) == (code, PROBLEM_TYPES[code].status, 600.0)
    assert (error.type, error.title, error.detail) == (f"/v1/problems/{code}", PROBLEM_TYPES[code].title, "so it is")
    assert [(fault.get("pointer"), fault.get("nearest")) for fault in error.errors] == [("#/a", ["n"])]


def test_a_problem_of_another_kind_is_a_plain_one(send: Callable[..., Any]) -> None:
    """Types may be added."""
    told = {"type": "about:blank", "title": "t", "status": 451, "detail": "d"}
    answer = httpx.Response(451, json=told, headers={"Content-Type": f"{MEDIA_TYPE}; charset=utf-8"})
    with pytest.raises(ProblemError) as raised:
        send(Script(answer), "get_health")
    assert type(raised.value) is ProblemError


@pytest.mark.parametrize(
    ("answer", "reason"),
    [
        (httpx.Response(200, text="<html>", headers={"Content-Type": "text/html"}), "text/html, not application/json"),
        (httpx.Response(200, content=b"{", headers={"Content-Type": "application/json"}), "Invalid JSON"),
        (httpx.Response(200, content=b"\xff", headers={"Content-Type": "application/json"}), "Invalid JSON"),
        (httpx.Response(200, json=READY | {"revision": "1"}), "at revision: .*integer"),
        (httpx.Response(200, json={}), "at live: Field required, and 2 more"),
        (httpx.Response(200, json=[]), "content is not what it should be"),
        (httpx.Response(200), "of no type"),
        (httpx.Response(304), "of no type"),
        (httpx.Response(302, headers={"Location": "http://elsewhere/"}), "redirects to http://elsewhere/"),
        (httpx.Response(502, text="bad gateway"), "text/plain, not a problem document"),
        (httpx.Response(404, json={"detail": "Not Found"}), "application/json, not a problem document"),
        (httpx.Response(404, content=b"{", headers={"Content-Type": MEDIA_TYPE}), "Invalid JSON"),
        (httpx.Response(404, json={"type": "t"}, headers={"Content-Type": MEDIA_TYPE}), "at title: Field required"),
        (
            httpx.Response(404, content=_problem("invalid-request").content, headers={"Content-Type": MEDIA_TYPE}),
            "tells status 422",
        ),
    ],
)
def test_what_the_api_never_answers(send: Callable[..., Any], answer: httpx.Response, reason: str) -> None:
    """Neither an answer nor a problem: an error of its own that says why."""
    with pytest.raises(BrokenAnswerError, match=reason) as raised:
        send(Script(answer), "get_health")
    assert raised.value.status == answer.status_code


def test_new_fields_do_no_harm(send: Callable[..., Any]) -> None:
    """Answers may gain some."""
    assert send(Script(httpx.Response(200, json=READY | {"new": 1})), "get_health") == READY | {"new": 1}


@pytest.mark.parametrize(
    "fault", [httpx.ConnectError("refused"), httpx.ReadTimeout(""), httpx.RemoteProtocolError("cut")]
)
def test_faults_of_the_connection_are_bridged(send: Callable[..., Any], fault: Exception) -> None:
    """Of a call that may be repeated, a bounded number of times."""
    script = Script(fault, fault, httpx.Response(200, json=READY))
    assert send(script, "get_health") == READY
    assert script.waits == [0.25, 0.5]
    script = Script(fault)
    with pytest.raises(UnreachableError, match=f"GET /v1/health: ({fault}|{type(fault).__name__})"):
        send(script, "get_health")
    assert len(script.asked) == 3


def test_the_service_says_when_to_come_back(send: Callable[..., Any]) -> None:
    """The wait is the one that it asks for; too long a one is not waited."""
    script = Script(_problem("overloaded", **{"Retry-After": "2"}), httpx.Response(200, json=READY))
    assert send(script, "get_health") == READY
    assert script.waits == [2.0]
    script = Script(_problem("overloaded", **{"Retry-After": "3600"}))
    with pytest.raises(UnavailableError):
        send(script, "get_health")
    assert (len(script.asked), script.waits) == (1, [])


@pytest.mark.parametrize("first", [_problem("overloaded"), httpx.ReadTimeout("late")])
def test_an_order_is_sent_again_only_with_a_key(send: Callable[..., Any], first: Answer) -> None:
    """Without one it could be kept twice."""
    order = {"chassis": "c", "lines": []}
    script = Script(first)
    with pytest.raises(ClientError):
        send(script, "check_order", order)
    assert len(script.asked) == 1
    script = Script(first, _problem("idempotency-key-reused"))
    with pytest.raises(KeyReusedError):
        send(script, "check_order", order, idempotency_key="mine")
    assert [request.headers["Idempotency-Key"] for request in script.asked] == ["mine", "mine"]
    assert json.loads(script.asked[1].content) == order


def test_new_values_do_no_harm(send: Callable[..., Any]) -> None:
    """Of a kind an answer may have more than was known; a value of another type is none."""
    sweep = {"id": "1", "from": 1, "to": 2, "begun": "2026-03-01T00:00:00Z", "done": 0, "total": None, "impact": None}
    told = sweep | {"status": "pondered"}
    assert send(Script(httpx.Response(200, json=told)), "get_sweep", "1") == told
    with pytest.raises(BrokenAnswerError, match="at status"):
        send(Script(httpx.Response(200, json=sweep | {"status": 1})), "get_sweep", "1")


def test_what_is_worked_out_is_waited_for(send: Callable[..., Any]) -> None:
    """As long as the service asks for, as often as it takes, until patience ends."""
    later = httpx.Response(202, json={"revision": 1, "text": "soon"}, headers={"Retry-After": "250"})
    script = Script(later, later, httpx.Response(200, json=[]))
    assert send(script, "list_next_parts") == []
    assert script.waits == [250.0, 250.0]
    script = Script(later)
    with pytest.raises(StillWorkingError, match="GET /v1/next-parts"):
        send(script, "list_next_parts")
    assert script.waits == [250.0, 250.0]


def test_what_is_sent(send: Callable[..., Any]) -> None:
    """The path stands behind the base URL's own; ids are one segment; problems are accepted."""
    script = Script(_problem("unknown-id"))
    with pytest.raises(NotFoundError):
        send(script, "list_chassis_layouts", "a/b?c#d ä")
    [request] = script.asked
    assert request.url.raw_path == b"/base/v1/chassis/a%2Fb%3Fc%23d%20%C3%A4/layouts"
    assert request.headers["Accept"] == "application/json, application/problem+json"


@pytest.mark.parametrize(("key", "shown"), [("pw_1", "Bearer pw_1"), (None, None)])
def test_a_key_is_shown(key: str | None, shown: str | None) -> None:
    """With every call, where there is one."""
    script = Script(httpx.Response(200, json=READY))
    with Client("http://x", key=key, transport=httpx.MockTransport(script)) as client:
        client.get_health()
    assert script.asked[0].headers.get("Authorization") == shown


@pytest.mark.parametrize("address", ["", "x", "ftp://x", "http://", "http://x?a=b", "http://x\n", "http://x:99999999"])
@pytest.mark.parametrize("kind", [Client, AsyncClient])
def test_an_address_that_is_none(kind: type[Client | AsyncClient], address: str) -> None:
    """Is told before anything is sent."""
    with pytest.raises(AddressError, match="expected a URL such as"):
        kind(address)


@pytest.mark.parametrize(
    "link", ["http://elsewhere/v1/items?x", "//elsewhere/v1/items?x", "/v1/fuels?x", "/v1/items?\n"]
)
def test_a_link_that_leads_elsewhere_is_not_followed(link: str) -> None:
    """The next page of a list is a page of that list."""
    script = Script(httpx.Response(200, json={"revision": 1, "results": [], "next": link}))
    with Client("http://x", transport=httpx.MockTransport(script)) as client, pytest.raises(BrokenAnswerError):
        list(client.each(operations.list_items()))
    assert len(script.asked) == 1
