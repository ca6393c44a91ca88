"""Whether a refusal is a problem document as RFC 9457 has it."""

from collections.abc import Iterator

import httpx
from pydantic import ValidationError

from service.documents.problem import MEDIA_TYPE, Problem

_SERVER_ERRORS = 500


def faults_of_problem(what: str, response: httpx.Response, status: int, *, has_place: bool = False) -> Iterator[str]:
    """What is wrong with the refusal of `what`; `has_place`: each fault must name its pointer or parameter."""
    if response.status_code >= _SERVER_ERRORS:
        yield f"{what} gives {response.status_code}: bad input must never be a fault of the service"
        return
    if response.status_code != status:
        yield f"{what} gives {response.status_code}, not {status}"
        return
    media_type = response.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media_type != MEDIA_TYPE:
        yield f"{what} is refused with {media_type or 'no content type'}, not {MEDIA_TYPE}"
    try:
        problem = Problem.model_validate_json(response.content)
    except ValidationError:
        yield f"{what} is refused without a problem document (type, title, status, detail)"
        return
    if problem.status != response.status_code:
        yield f"{what}: the problem says status {problem.status}, the answer {response.status_code}"
    if not (problem.type and problem.title and problem.detail):
        yield f"{what}: the problem lacks its type, title or detail"
    if has_place and not any(error.pointer is not None or error.parameter for error in problem.errors):
        yield f"{what}: the problem names no field"
