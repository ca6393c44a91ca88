"""What is refused outside the pages' own routes: as a page for who asks for one, as a problem for all others."""

from fastapi import Request
from starlette.responses import Response
from starlette.types import Scope

from service.documents.problem import MEDIA_TYPE
from service.web.counter.showing import problem_page
from service.web.errors import NotAcceptableError
from service.web.middleware import request_id_of
from service.web.negotiation import negotiated
from service.web.problems import Refusal, problem_response
from service.web.representations import HTML, JSON

_FOR_PEOPLE = frozenset(
    {"not-allowed", "unknown-path", "unknown-id", "method-not-allowed", "not-acceptable", "invalid-request"}
)
"""What somebody meets who follows a link or types an address; refusals of a crowd stay as cheap as they are."""


def refusal_response(scope: Scope, refusal: Refusal) -> Response:
    """The answer to a request that is refused."""
    if refusal.code in _FOR_PEOPLE and asks_for_page(scope):
        response = problem_page(Request(scope), refusal)
    else:
        response = problem_response(refusal, request_id_of(scope))
    if refusal.code in _FOR_PEOPLE:
        response.headers["Vary"] = "Accept"
    return response


def asks_for_page(scope: Scope) -> bool:
    """Whether a browser asks: it names HTML, and likes it better than JSON."""
    if scope["method"] not in ("GET", "HEAD"):
        return False
    try:
        return negotiated(Request(scope), (MEDIA_TYPE, JSON, HTML)) == HTML
    except NotAcceptableError:
        return False
