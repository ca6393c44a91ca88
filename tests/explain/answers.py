"""Answers of the explain layer, each bill under a key that a reader can follow."""

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any, cast

from service.assessment import Assessor
from service.documents.answer import Answer, Bill
from service.documents.catalog import Catalog
from service.documents.compile import compile_revision
from service.documents.request import BillRequest
from service.explain.report import report_answer
from service.solver.engine import Engine
from service.usecases.resolve_request import resolve_request

Json = dict[str, Any]


def answered(catalog: Json, asked: Json) -> Answer:
    """The answer to a request; the key of a bill is its rail and price."""
    revision = compile_revision(Catalog.model_validate(catalog), 1)
    request = resolve_request(BillRequest.model_validate(asked), revision)
    assessed = partial(Assessor(revision).assess, request=request)
    return report_answer(
        Engine(revision).answer(request), revision, lambda bill: f"{bill.rail.sku} at {bill.price}", assessed
    )


def best_bill(catalog: Json, asked: Json) -> Bill:
    """The first bill of the answer."""
    return answered(catalog, asked)["bills"][0]


def texts(document: object) -> Iterator[str]:
    """Every `text` of a document, of lines, extras, cautions and what was ruled out."""
    if isinstance(document, Mapping):
        for name, value in cast("Mapping[str, object]", document).items():
            if name == "text" and isinstance(value, str):
                yield value
            else:
                yield from texts(value)
    elif isinstance(document, list):
        for value in document:
            yield from texts(value)
