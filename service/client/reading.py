"""What an answer says: a document of the kind that was asked for, or the exception of what it is instead."""

from datetime import UTC, datetime
from typing import Any, TypeVar

import httpx
from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails, from_json

from .errors import BrokenAnswerError, ClientError, problem_error
from .retries import asked_wait_s
from .schemas import Problem
from .text import printable

T = TypeVar("T")
JSON = "application/json"
PROBLEM = "application/problem+json"


def refusal_of(response: httpx.Response) -> ClientError:
    """The exception of an answer that is not what was asked for."""
    status = response.status_code
    if response.has_redirect_location:
        return BrokenAnswerError(status, f"it redirects to {printable(response.headers['location'])}")
    if media_type_of(response) != PROBLEM:
        return BrokenAnswerError(status, f"its content is {content_of(response)}, not a problem document")
    try:
        problem = document(Problem, response.content, status)
    except BrokenAnswerError as error:
        return error
    if problem["status"] != status:
        return BrokenAnswerError(status, f"its problem document tells status {problem['status']}")
    return problem_error(problem, asked_wait_s(response.headers.get("retry-after"), datetime.now(UTC)))


def media_type_of(response: httpx.Response) -> str:
    """The media type of an answer, without its parameters."""
    media_type: str = response.headers.get("content-type", "").partition(";")[0].strip().lower()
    return media_type


def content_of(response: httpx.Response) -> str:
    """The media type of an answer in words."""
    return printable(media_type_of(response)) or "of no type"


def document(kind: type[T], content: bytes, status: int) -> T:
    """The document of this kind that stands in JSON. Raises BrokenAnswerError where it is of another form."""
    adapter: TypeAdapter[T] = _adapter(kind)
    try:
        return adapter.validate_json(content, strict=True, extra="allow")
    except ValidationError as error:
        errors = [one for one in error.errors(include_url=False) if not _is_new_value(one)]
        if not errors:
            told: T = from_json(content)
            return told
        raise BrokenAnswerError(status, _said(errors)) from None


_ADAPTERS: dict[Any, TypeAdapter[Any]] = {}


def _adapter(kind: Any) -> TypeAdapter[Any]:
    """What reads this kind; it takes a while to make, so it is made once."""
    if kind not in _ADAPTERS:
        _ADAPTERS[kind] = TypeAdapter(kind)
    return _ADAPTERS[kind]


def _is_new_value(error: ErrorDetails) -> bool:
    """Whether it is a word that is not known here: of a kind, an answer may have more than its document names."""
    return error["type"] == "literal_error" and isinstance(error["input"], str)


def _said(errors: list[ErrorDetails]) -> str:
    first, *others = errors
    place = "/".join(map(str, first["loc"]))
    found = f"at {printable(place)}: {first['msg']}" if place else first["msg"]
    more = f", and {len(others)} more" if others else ""
    return f"its content is not what it should be: {found}{more}"
