"""The OpenAPI document: what FastAPI gathers from the routes, with the schemas that it cannot see."""

from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from service import __version__
from service.documents.request import BillRequest
from service.web.problems import Problem

_DESCRIPTION = (
    "Which parts does a car need to run its fuel this way? Complete bills of material, with the reason for every "
    "line. Lengths mm, pressures kPa gauge, flows L/h, money integer minor units. A check on paper does not prove "
    "that an assembly is safe: heed the cautions that come with every answer."
)
_READ_BY_HAND: tuple[type[BaseModel], ...] = (BillRequest, Problem)


def describe(app: FastAPI) -> dict[str, Any]:
    """The document of an application."""
    document = get_openapi(
        title="Portwright", version=__version__, description=_DESCRIPTION, routes=app.routes, tags=_TAGS
    )
    template = "#/components/schemas/{model}"
    _, schemas = models_json_schema([(model, "validation") for model in _READ_BY_HAND], ref_template=template)
    known = document.setdefault("components", {}).setdefault("schemas", {})
    for name, schema in schemas["$defs"].items():
        known.setdefault(name, schema)
    for unused in ("HTTPValidationError", "ValidationError"):
        known.pop(unused, None)
    return document


_TAGS = [
    {"name": "bills", "description": "Questions and their answers."},
    {"name": "catalog", "description": "The catalog, section by section."},
    {"name": "descriptions", "description": "What describes the service itself."},
    {"name": "health", "description": "Whether it runs, and whether it can answer."},
]
