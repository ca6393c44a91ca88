"""Pages as answers: a template with what every page needs, its headers, and errors as pages for people."""

from collections.abc import Callable, Coroutine
from typing import Any

from fastapi import Request
from fastapi.routing import APIRoute
from starlette.responses import RedirectResponse, Response

from service.access.roles import EVERYBODY, Right
from service.web.access import caller_of
from service.web.counter.visits import keep_token, visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.middleware import refused, request_id_of
from service.web.pages.pdf import offered
from service.web.pages.rendering import PAGE_POLICY, rendered_page
from service.web.problems import PROBLEM_TYPES, Refusal
from service.web.refusals import refusal_of
from service.web.representations import HTML

_PLACES = (
    ("/ask", "Ask", Right.ASK),
    ("/order", "Orders", Right.DESK),
    ("/catalog", "Catalog", Right.ASK),
    ("/workshop", "Workshop", Right.EDIT),
    ("/inquiries", "Inquiries", Right.EDIT),
)
"""Where one can go from every page who has the right."""
_FIRST_ERROR = 400
_MOST_ERROR_BYTES = 60_000
_MOST_QUERY_BYTES = 32_000
"""Of what follows the path: a question with every wish takes some 8,000."""
_PAGE_HEADERS = {
    "Content-Security-Policy": PAGE_POLICY,
    "Cache-Control": "private, no-cache",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def shown(request: Request, template: str, *, status: int = 200, **values: Any) -> Response:
    """A page of a template, which finds the visit as `visit`.

    A page that tells faults and shows too much of what was sent beside them is answered as the faults alone.
    """
    visit = visit_of(request)
    caller = caller_of(request.scope)
    seen: dict[str, Any] = {
        "units": visit.units,
        "visit": visit,
        "caller": caller,
        "asks_for_keys": caller != EVERYBODY,
    }
    seen["places"] = [(path, name) for path, name, right in _PLACES if caller.may(right)]
    body = rendered_page(template, pdf_offered=offered, **seen, **values)
    if status >= _FIRST_ERROR and len(body) > _MOST_ERROR_BYTES and "faults" in values:
        raise InvalidQueryError(*values["faults"])
    response = Response(body, status_code=status, headers=_PAGE_HEADERS, media_type=HTML)
    keep_token(response, visit, request)
    return response


def gone_to(path: str) -> Response:
    """Send the browser on to a page after a form: it asks for that page with GET."""
    return RedirectResponse(path, status_code=303, headers={"Cache-Control": "no-store"})


def problem_page(request: Request, refusal: Refusal) -> Response:
    """A refusal as a page for people."""
    kind = PROBLEM_TYPES[refusal.code]
    response = shown(request, "problem.html", status=kind.status, kind=kind, refusal=refusal)
    response.headers.update(dict(refusal.headers))
    return response


class PageRoute(APIRoute):
    """A route whose errors are pages as well, in the words of their problems."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        answer = super().get_route_handler()

        async def answer_or_tell(request: Request) -> Response:
            try:
                _hold_to_size(request)
                return await answer(request)
            except Exception as error:
                if refusal_of(error) is None:
                    raise
                return problem_page(request, refused(error, request_id_of(request.scope)))

        return answer_or_tell


def _hold_to_size(request: Request) -> None:
    query: bytes = request.scope["query_string"]
    if len(query) > _MOST_QUERY_BYTES:
        found, expected = f"{len(query)} bytes", f"at most {_MOST_QUERY_BYTES} bytes"
        raise InvalidQueryError(ParameterFault("the query of the address", found, expected))
