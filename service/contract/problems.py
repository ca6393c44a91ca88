"""Whether a refusal is a problem document as RFC 9457 has it."""

from collections.abc import Iterator

import httpx
from pydantic import ValidationError

from service.contract.outcomes import Broken
from service.contract.site import given
from service.documents.problem import MEDIA_TYPE, PAGES, Problem

_SERVER_ERRORS = 500


def faults_of_problem(
    what: str, response: httpx.Response, status: int, *, code: str | None = None, at: str | None = None
) -> Iterator[Broken]:
    """What is wrong with the refusal of `what`; `code`: its type, `at`: the pointer or parameter that a fault names.

    Raises BrokenAnswerError where the service cannot answer now.
    """
    got = str(given(response).status_code)
    if response.status_code >= _SERVER_ERRORS:
        yield Broken(f"{what} gives {got}: bad input must never be a fault of the service", "", str(status), got)
        return
    if response.status_code != status:
        yield Broken(f"{what} gives {got}, not {status}", "", str(status), got)
        return
    media_type = response.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media_type != MEDIA_TYPE:
        told = media_type or "no content type"
        yield Broken(f"{what} is refused with {told}, not {MEDIA_TYPE}", "Content-Type", MEDIA_TYPE, told)
    if "no-store" not in response.headers.get("cache-control", ""):
        told = response.headers.get("cache-control", "none")
        yield Broken(f"the refusal of {what} may be kept by caches", "Cache-Control", "no-store", told)
    try:
        problem = Problem.model_validate_json(response.content)
    except ValidationError:
        yield Broken(f"{what} is refused without a problem document (type, title, status, detail)")
        return
    if problem.status != response.status_code:
        told = f"{what}: the problem says status {problem.status}, the answer {got}"
        yield Broken(told, "#/status", got, str(problem.status))
    if not (problem.type and problem.title and problem.detail):
        yield Broken(f"{what}: the problem lacks its type, title or detail")
    if code is not None and problem.type != f"{PAGES}/{code}":
        told = f"{what} is refused as another problem than it is"
        yield Broken(told, "#/type", f"{PAGES}/{code}", problem.type)
    places = [error.pointer if error.pointer is not None else error.parameter or "" for error in problem.errors]
    if at is not None and at.removeprefix("#/") not in [place.removeprefix("#/") for place in places]:
        told = f"{what}: the problem does not name the field"
        yield Broken(told, "#/errors", at, ", ".join(places) or "no place")
