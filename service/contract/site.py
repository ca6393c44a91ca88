"""A deployment on trial: the typed client, plain requests where the wire is looked at, and what was asked last."""

import json
import shlex
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

import httpx

from service.client import (
    NO_RETRIES,
    BrokenAnswerError,
    Call,
    Client,
    InvalidRequestError,
    NotFoundError,
    TooCostlyError,
)
from service.contract.operations import find_bills_in_brief
from service.contract.outcomes import Broken
from service.documents.contract import FileCase
from service.documents.contract_kinds import AnyCase

T = TypeVar("T")
TIMEOUT_S = 30.0
_NO_QUESTION = "no case is promised a bill, so that there is no question to try it with"
_NO_BILL = "no case that is promised a bill is answered with one"
_LONGEST_BODY = 6_000
_BY_ITSELF = {"host", "accept-encoding", "connection", "user-agent", "content-length", "authorization"}
_FEW = {"limit": 4}
NO_ANSWERS = (429, 502, 503, 504)
"""Statuses by which a service, or what stands before it, says that it cannot answer now."""
_MOST_TRIED = 5


class NotTriedError(Exception):
    """A promise that cannot be tried on this deployment, and why."""


class BrokenError(Exception):
    """A promise that is broken so that the rest of it cannot be tried."""

    def __init__(self, broken: Broken) -> None:
        super().__init__(broken.what)
        self.broken = broken


@dataclass(frozen=True)
class Exchange:
    """What was asked, and what came."""

    request: httpx.Request
    response: httpx.Response | None = None

    @property
    def where(self) -> str:
        return f"{self.request.method} {self.request.url.path}"

    @property
    def curl(self) -> str:
        """The command that asks the same; a key of the caller's own stands in a variable."""
        request = self.request
        words = ["curl", "-sS", "-i", *(("-I",) if request.method == "HEAD" else ("-X", request.method))]
        words.append(shlex.quote(str(request.url)))
        for name, value in request.headers.items():
            if name not in _BY_ITSELF:
                words += ["-H", shlex.quote(f"{name}: {value}")]
        if "authorization" in request.headers:
            words += ["-H", '"Authorization: Bearer $PORTWRIGHT_KEY"']
        body = request.content.decode(errors="replace")
        if len(body) > _LONGEST_BODY:
            return " ".join([*words, "--data-binary", f"'…'  # a body of {len(request.content)} bytes"])
        return " ".join([*words, "--data-binary", shlex.quote(body)] if body else words)


class Watch(httpx.BaseTransport):
    """Carries requests, with the caller's key where there is one, and remembers the last."""

    def __init__(self, inner: httpx.BaseTransport, key: str | None = None) -> None:
        self._inner = inner
        self._key = key
        self.last: Exchange | None = None

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        request.read()
        if self._key is not None:
            request.headers["Authorization"] = f"Bearer {self._key}"
        self.last = Exchange(request)
        response = self._inner.handle_request(request)
        self.last = Exchange(request, response)
        return response

    def close(self) -> None:
        self._inner.close()


@dataclass
class Site:
    """`cases` are those that are run: they lend the promises of the API a question that has bills.

    `note`: what is to be told of the promise on trial beside its outcome.
    """

    client: Client
    http: httpx.Client
    watch: Watch
    cases: Sequence[AnyCase] = ()
    note: str = ""
    _question: dict[str, Any] | None = None
    _answers: dict[str, tuple[Any, Exchange | None]] = field(default_factory=dict)

    def question(self) -> dict[str, Any]:
        """A question that is promised to have bills, with few wishes and several bills where any case has such.

        Raises NotTriedError where no case is promised one.
        """
        if self._question is None:
            asked = [case.request.model_dump(exclude_unset=True) for case in self.bill_cases(has_bill=True)]
            if not asked:
                raise NotTriedError(_NO_QUESTION)
            self._question = self._chosen(
                sorted(asked, key=lambda one: ("revision" in one, len(one.keys() - _FEW.keys())))
            )
        return self._question

    def _chosen(self, questions: Sequence[dict[str, Any]]) -> dict[str, Any]:
        """The first question with several bills among the first that have any; what is refused is its case's matter."""
        found: list[dict[str, Any]] = []
        for question in (one | _FEW for one in questions):
            try:
                count = len(self.ask(find_bills_in_brief(question))["bills"])
            except (InvalidRequestError, NotFoundError, TooCostlyError):
                continue
            if count > 1:
                return question
            found += [question] if count else []
            if len(found) == _MOST_TRIED:
                break
        if not found:
            raise NotTriedError(_NO_BILL)
        return found[0]

    def bill_cases(self, *, has_bill: bool) -> list[FileCase]:
        """The cases of bills that are promised one, or none."""
        bills = [case for case in self.cases if isinstance(case, FileCase)]
        return [case for case in bills if case.promises.has_bill is has_bill]

    def ask(self, call: Call[T]) -> T:
        """The answer to a call; the same call is sent once. Raises ClientError."""
        name = json.dumps([call.method, call.path, call.params, call.body, dict(call.headers)], sort_keys=True)
        if name not in self._answers:
            self._answers[name] = self.client.send(call), self.watch.last
        kept, self.watch.last = self._answers[name]
        answer: T = kept
        return answer

    def header(self, name: str) -> str | None:
        """A header of the last answer."""
        last = self.watch.last
        response = None if last is None else last.response
        return None if response is None else response.headers.get(name)

    def get(self, path: str, params: Mapping[str, str] | None = None, **headers: str) -> httpx.Response:
        """A plain GET; words of `headers` stand with underscores."""
        return self.http.get(path, params=params, headers=_names(headers))

    def send(
        self,
        method: str,
        path: str,
        params: Mapping[str, str] | None = None,
        content: bytes | None = None,
        **headers: str,
    ) -> httpx.Response:
        """A plain request, sent once."""
        return self.http.request(method, path, params=params, content=content, headers=_names(headers))

    def post(self, path: str, content: bytes, **headers: str) -> httpx.Response:
        """A plain POST of JSON."""
        told = {"Content-Type": "application/json", **_names(headers)}
        return self.http.post(path, content=content, headers=told)

    def placed(self, broken: Broken) -> Broken:
        """What is broken, with the place and the command of the last request where it names none."""
        last = self.watch.last
        if last is None or broken.repeat:
            return broken
        where = f"{last.where}, {broken.where}" if broken.where else last.where
        return replace(broken, where=where, repeat=last.curl)


@contextmanager
def opened(
    base_url: str,
    cases: Sequence[AnyCase] = (),
    transport: httpx.BaseTransport | None = None,
    timeout_s: float = TIMEOUT_S,
    key: str | None = None,
) -> Iterator[Site]:
    """Open a deployment for the time of a trial; `transport` carries the requests, else the network does. `key`: the
    caller's own, which goes with each request.

    Raises AddressError where the base URL is none.
    """
    watch = Watch(transport or httpx.HTTPTransport(), key)
    with (
        Client(base_url, timeout_s=timeout_s, transport=watch, retries=NO_RETRIES) as client,
        httpx.Client(base_url=base_url.rstrip("/"), timeout=timeout_s, transport=watch) as http,
    ):
        yield Site(client, http, watch, cases)


def _names(headers: Mapping[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in headers.items()}


def given(response: httpx.Response) -> httpx.Response:
    """The answer as it is. Raises BrokenAnswerError where the service says that it cannot answer now."""
    if response.status_code in NO_ANSWERS:
        raise BrokenAnswerError(response.status_code, "it is not answered now")
    return response
