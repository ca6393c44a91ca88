"""The one place where tests that compare solvers call the service: catalog and request in, answer out, plain JSON."""

from typing import Any

from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition


def edition(catalog: dict[str, Any]) -> Edition:
    """A catalog made ready to answer, as revision 1."""
    return Edition(1, Catalog.model_validate(catalog))


def answer(catalog: dict[str, Any], request: dict[str, Any]) -> dict[str, Any]:
    """The answer document to a request."""
    return answer_from(edition(catalog), request)


def answer_from(ready: Edition, request: dict[str, Any]) -> dict[str, Any]:
    """The answer document to a request, from a catalog made ready before."""
    return dict(answer_in(ready, BillRequest.model_validate(request)))
