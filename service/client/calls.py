"""A call as a value: what is sent, and how the answer is read. The clients only carry it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any, Generic, TypeVar

import httpx
from pydantic import TypeAdapter, ValidationError

from service.client.errors import BrokenAnswerError, ClientError, problem_error
from service.client.retries import asked_wait_s
from service.documents.problem import MEDIA_TYPE, Problem
from service.documents.rendering import printable

T = TypeVar("T")
_JSON = "application/json"


@dataclass(frozen=True)
class Call(Generic[T]):
    """One call of the API; `repeatable`: to send it twice does no more than to send it once."""

    method: str
    path: str
    read: Callable[[httpx.Response], T]
    params: Mapping[str, str] = field(default_factory=dict)
    body: Any = None
    headers: Mapping[str, str] = field(default_factory=dict)
    repeatable: bool = True

    def request(self, client: httpx.Client | httpx.AsyncClient) -> httpx.Request:
        """The request of this call, at the client's base URL."""
        return client.build_request(
            self.method,
            self.path,
            params=self.params or None,
            json=self.body,
            headers={"Accept": f"{_JSON}, {MEDIA_TYPE}", **self.headers},
        )


def read_as(adapter: TypeAdapter[T], *statuses: int) -> Callable[[httpx.Response], T]:
    """Make what reads an answer of one of these statuses (200 where none is named) as a document.

    It raises ProblemError and BrokenAnswerError. Fields that are not known here are kept: answers may gain some.
    """

    def read(response: httpx.Response) -> T:
        if response.status_code not in (statuses or (200,)):
            raise refusal_of(response)
        if media_type_of(response) != _JSON:
            raise BrokenAnswerError(response.status_code, f"its content is {_content_of(response)}, not {_JSON}")
        return _document(adapter, response)

    return read


def refusal_of(response: httpx.Response) -> ClientError:
    """The exception of an answer that is not what was asked for."""
    status = response.status_code
    if response.has_redirect_location:
        return BrokenAnswerError(status, f"it redirects to {printable(response.headers['location'])}")
    if media_type_of(response) != MEDIA_TYPE:
        return BrokenAnswerError(status, f"its content is {_content_of(response)}, not a problem document")
    try:
        problem = _document(_PROBLEM, response)
    except BrokenAnswerError as error:
        return error
    if problem.status != status:
        return BrokenAnswerError(status, f"its problem document tells status {problem.status}")
    return problem_error(problem, asked_wait_s(response.headers.get("retry-after"), datetime.now(UTC)))


def media_type_of(response: httpx.Response) -> str:
    """The media type of an answer, without its parameters."""
    media_type: str = response.headers.get("content-type", "").partition(";")[0].strip().lower()
    return media_type


_PROBLEM = TypeAdapter(Problem)


def _document(adapter: TypeAdapter[T], response: httpx.Response) -> T:
    try:
        return adapter.validate_json(response.content, strict=True, extra="allow")
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        place = "/".join(map(str, first["loc"]))
        found = f"at {printable(place)}: {first['msg']}" if place else first["msg"]
        more = f", and {error.error_count() - 1} more" if error.error_count() > 1 else ""
        raise BrokenAnswerError(response.status_code, f"its content is not what it should be: {found}{more}") from None


def _content_of(response: httpx.Response) -> str:
    return printable(media_type_of(response)) or "of no type"
