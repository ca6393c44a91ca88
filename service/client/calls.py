"""A call as a value: what is sent, and how the answer is read. The clients only carry it."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from decimal import Decimal
from types import UnionType
from typing import Any, Generic, TypeVar, overload
from urllib.parse import parse_qsl, quote, urlsplit

import httpx

from .errors import BrokenAnswerError
from .reading import JSON, PROBLEM, content_of, document, media_type_of, refusal_of

T = TypeVar("T")
P = TypeVar("P", bound=Mapping[str, Any])
E = TypeVar("E")
R = TypeVar("R")


@dataclass(frozen=True)
class Fetched(Generic[T]):
    """What a conditional request gave: content with its entity tag, or None where the caller's own is still right."""

    content: T | None
    etag: str | None


@dataclass(frozen=True)
class Call(Generic[T]):
    """One call of the API.

    `body` is sent as JSON, `content` as it is. `repeatable`: to send it twice does no more than to send it once.
    `pending`: 202 tells that the answer is being worked out, so that the call is sent again for it.
    """

    method: str
    path: str
    read: Callable[[httpx.Response], T]
    params: Mapping[str, str] = field(default_factory=dict)
    body: Any = None
    content: bytes | None = None
    media_type: str = JSON
    headers: Mapping[str, str] = field(default_factory=dict)
    repeatable: bool = True
    pending: bool = False

    def request(self, client: httpx.Client | httpx.AsyncClient) -> httpx.Request:
        """The request of this call, at the client's base URL."""
        sent = self.body is not None or self.content is not None
        return client.build_request(
            self.method,
            self.path,
            params=self.params or None,
            json=self.body,
            content=self.content,
            headers={
                "Accept": f"{JSON}, {PROBLEM}",
                **({"Content-Type": self.media_type} if sent else {}),
                **self.headers,
            },
        )

    def reading(self, read: Callable[[httpx.Response], R], **headers: str) -> "Call[R]":
        """The same call with its answer read in another way, and these headers besides."""
        same = {one.name: getattr(self, one.name) for one in fields(Call)}
        return Call(**{**same, "read": read, "headers": {**self.headers, **headers}})

    def fetched(self, etag: str | None = None) -> "Call[Fetched[T]]":
        """The same call with the entity tag of its answer; `etag` is that of the answer that the caller has."""

        def read(response: httpx.Response) -> Fetched[T]:
            tag = response.headers.get("etag")
            if response.status_code == httpx.codes.NOT_MODIFIED and etag is not None:
                return Fetched(None, tag)
            return Fetched(self.read(response), tag)

        return self.reading(read, **({} if etag is None else {"If-None-Match": etag}))

    def as_bytes(self, media_type: str) -> "Call[bytes]":
        """The same call for an answer of another type, such as a sheet as `application/pdf` or items as `text/csv`."""

        def read(response: httpx.Response) -> bytes:
            if response.status_code != httpx.codes.OK:
                raise refusal_of(response)
            if media_type_of(response) != media_type:
                raise BrokenAnswerError(
                    response.status_code, f"its content is {content_of(response)}, not {media_type}"
                )
            return response.content

        return self.reading(read, Accept=f"{media_type}, {PROBLEM}")


@dataclass(frozen=True)
class Listed(Call[P], Generic[P, E]):
    """A call for a page of a list; `elements` names the list in the page."""

    elements: str = "results"

    def of(self, page: P) -> list[E]:
        """What is on a page."""
        elements: list[E] = page[self.elements]
        return elements

    def after(self, page: P) -> "Listed[P, E] | None":
        """The call for the page after that one, None after the last.

        Raises BrokenAnswerError for a link that leads elsewhere.
        """
        following = page.get("next")
        if following is None:
            return None
        address = urlsplit(following)
        if (
            not address.path.endswith(self.path)
            or address.netloc
            or not (following.isascii() and following.isprintable())
        ):
            raise BrokenAnswerError(200, f"the next page is no page of {self.path}")
        return replace(self, params=dict(parse_qsl(address.query, keep_blank_values=True)))


@overload
def answer(kind: type[T], *statuses: int) -> Callable[[httpx.Response], T]: ...
@overload
def answer(kind: UnionType, *statuses: int) -> Callable[[httpx.Response], Any]: ...
def answer(kind: Any, *statuses: int) -> Callable[[httpx.Response], Any]:
    """Return a reader of JSON answers of this kind. `statuses`: those that it takes; 200 where none is named.

    It raises ProblemError and BrokenAnswerError. Fields and values that are not known here are kept: answers may gain
    some.
    """

    def read(response: httpx.Response) -> Any:
        _expect(response, JSON, statuses or (200,))
        return document(kind, response.content, response.status_code)

    return read


def answer_lines(kind: type[T]) -> Callable[[httpx.Response], list[T]]:
    """Return a reader of answers that have a JSON document of this kind on each line."""

    def read(response: httpx.Response) -> list[T]:
        _expect(response, "application/x-ndjson", (200,))
        return [document(kind, line, response.status_code) for line in response.content.splitlines() if line.strip()]

    return read


def location(response: httpx.Response) -> str:
    """Where an answer leads, as it stands in its header."""
    if not response.has_redirect_location:
        raise refusal_of(response)
    where: str = response.headers["location"]
    return where


def as_lines(documents: Iterable[Mapping[str, Any]]) -> bytes:
    """Documents as JSON, one a line."""
    return b"".join(json.dumps(one).encode() + b"\n" for one in documents)


def segment(text: str) -> str:
    """A text as one segment of a path."""
    return quote(text, safe="")


def given(named: Mapping[str, bool | float | str | Sequence[str] | None]) -> dict[str, str]:
    """What is given of these parameters, as text; None is not given."""
    return {name: _text(value) for name, value in named.items() if value is not None}


def _text(value: bool | float | str | Sequence[str]) -> str:
    match value:
        case str():
            return value
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():  # without an exponent, which no parameter takes
            return f"{Decimal(repr(value)):f}".removesuffix(".0")
        case _:
            return ",".join(value)


def _expect(response: httpx.Response, media_type: str, statuses: Sequence[int]) -> None:
    if response.status_code not in statuses:
        raise refusal_of(response)
    if media_type_of(response) != media_type:
        raise BrokenAnswerError(response.status_code, f"its content is {content_of(response)}, not {media_type}")
