"""Problems: the closed list of their types, which `problem_types.json` words, and the answer that carries a problem."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from urllib.parse import quote

from pydantic_core import to_json
from starlette.responses import Response

from service.documents.problem import MEDIA_TYPE, PAGES, Problem, ProblemError


@dataclass(frozen=True)
class ProblemType:
    """A kind of problem: its code, status and title never change; `remedy` tells what the caller can do."""

    code: str
    status: int
    title: str
    meaning: str
    remedy: str

    @property
    def uri(self) -> str:
        """The full path that identifies the type and serves a page about it."""
        return f"{PAGES}/{self.code}"


def _types() -> Iterator[ProblemType]:
    told = json.loads(Path(__file__).with_name("problem_types.json").read_text(encoding="utf-8"))
    for code, (status, title, meaning, remedy) in told.items():
        yield ProblemType(code, status, title, meaning, remedy)


_IN_DETAIL = 3
PROBLEM_TYPES = MappingProxyType({kind.code: kind for kind in _types()})


@dataclass(frozen=True)
class Refusal:
    """A problem before it is told: its type's code, its detail, its faults and further headers.

    `more`: how many faults there are besides.
    """

    code: str
    detail: str
    errors: tuple[ProblemError, ...] = ()
    headers: tuple[tuple[str, str], ...] = ()
    more: int = 0

    def with_header(self, name: str, value: str) -> "Refusal":
        return replace(self, headers=(*self.headers, (name, value)))


def fault(place: dict[str, str], found: str, expected: str, nearest: tuple[str, ...] = ()) -> ProblemError:
    """Word one fault; `place` is {"pointer": JSON Pointer} or {"parameter": name}."""
    where = {name: "#" + quote(at, safe="/~") if name == "pointer" else at for name, at in place.items()}
    hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
    at = next(iter(place.values())) or "the body"
    return ProblemError(
        **where,
        detail=f"{at}: found {found}, expected {expected}{hint}.",
        found=found,
        expected=expected,
        nearest=list(nearest),
    )


def faulty(errors: tuple[ProblemError, ...], more: int = 0) -> Refusal:
    """Refuse a request for its faults, `more` of which are not told; the detail says all of them up to three."""
    told = [error.detail for error in errors[:_IN_DETAIL]]
    rest = len(errors) + more - len(told)
    counted = [f"{rest} more: see errors."] if rest else []
    return Refusal("invalid-request", " ".join([*told, *counted]), errors, more=more)


def problem_of(refusal: Refusal, occurrence: str) -> Problem:
    """Make the problem document of a refusal; `occurrence` is the request's id, perhaps with a part of it behind #."""
    kind = PROBLEM_TYPES[refusal.code]
    return Problem(
        type=kind.uri,
        title=kind.title,
        status=kind.status,
        detail=refusal.detail,
        instance=f"urn:uuid:{occurrence}",
        errors=list(refusal.errors),
        more=refusal.more or None,
    )


def problem_response(refusal: Refusal, request_id: str) -> Response:
    """Answer with a problem document."""
    problem = problem_of(refusal, request_id)
    headers = {"Cache-Control": "no-store", **dict(refusal.headers)}
    return Response(to_json(problem, exclude_none=True), problem.status, headers, MEDIA_TYPE)
