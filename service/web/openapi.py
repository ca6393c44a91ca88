"""The OpenAPI document: what FastAPI gathers from the routes, with the schemas that it cannot see."""

from collections.abc import Iterable
from typing import Any

from fastapi import APIRouter, FastAPI
from fastapi.openapi.utils import get_openapi
from fastapi.routing import APIRoute
from pydantic import BaseModel

from service import __version__
from service.documents.contract import PartnerCase
from service.documents.draft import BegunDraft, DraftMove, Publication
from service.documents.explain import ExplainRequest
from service.documents.inquiry import InquiryChange, SentInquiry
from service.documents.joint import JointQuestion
from service.documents.order import OrderRequest
from service.documents.order_reading import OrderText
from service.documents.problem import Problem
from service.documents.question_reading import QuestionText
from service.documents.request import BillRequest, DetailedRequest
from service.documents.sweep import BegunSweep
from service.documents.unknown_car import SentUnknownCar
from service.documents.webhook import NewWebhook
from service.web.representations import NDJSON

_DESCRIPTION = (
    "Which parts does a car need to run its fuel this way? Complete bills of material, with the reason for every "
    "line. Lengths mm, pressures kPa gauge, flows L/h, money integer minor units. A check on paper does not prove "
    "that an assembly is safe: heed the cautions that come with every answer."
)


def describe(app: FastAPI, routers: Iterable[APIRouter]) -> dict[str, Any]:
    """The document of an application and its routers."""
    document = get_openapi(
        title="Portwright",
        version=__version__,
        description=_DESCRIPTION,
        routes=app.routes,
        tags=_TAGS,
        separate_input_output_schemas=False,  # what is not set is left out, also of answers
    )
    schemas = document["components"]["schemas"]
    for schema in schemas.values():
        if schema.get("additionalProperties") is False:
            del schema["additionalProperties"]  # answers may gain fields, requests are taken strictly
    schemas |= _schemas_of(Problem)
    schemas |= (
        _schemas_of(BillRequest, "Asked") | _schemas_of(DetailedRequest, "Asked") | _schemas_of(OrderRequest, "Asked")
    )
    schemas |= _schemas_of(JointQuestion) | _schemas_of(OrderText) | _schemas_of(QuestionText)
    schemas |= _schemas_of(SentUnknownCar)
    schemas |= _schemas_of(BegunDraft) | _schemas_of(DraftMove) | _schemas_of(Publication)
    schemas |= _schemas_of(InquiryChange) | _schemas_of(BegunSweep) | _schemas_of(NewWebhook)
    for model in (ExplainRequest, SentInquiry, PartnerCase):
        schemas[model.__name__] = _schemas_of(model)[model.__name__]  # what is within it is there already
    document["components"]["schemas"] = dict(sorted(schemas.items()))
    document["components"]["securitySchemes"] = {"key": _KEY}
    document["security"] = [{}, {"key": []}]
    _give_examples(document["paths"], routers)
    document["paths"]["/v1/bills"]["post"]["responses"]["200"]["links"] = _LINKS
    document["paths"]["/v1/order-checks"]["post"]["responses"]["201"]["links"] = _ORDER_LINKS
    document["paths"]["/v1/inquiries"]["post"]["responses"]["201"]["links"] = _INQUIRY_LINKS
    for operations in document["paths"].values():
        for operation in operations.values():
            _tell_lines(operation["responses"].get("200", {}).get("content", {}))
            if "304" in operation["responses"]:
                operation.setdefault("parameters", []).append(_IF_NONE_MATCH)
    return document


def _give_examples(paths: dict[str, Any], routers: Iterable[APIRouter]) -> None:
    """Give each answer its example again: FastAPI leaves out what is null, which an answer does not."""
    for route in (route for router in routers for route in router.routes if isinstance(route, APIRoute)):
        for method in route.methods or ():
            operation = paths.get(route.path_format, {}).get(method.lower())
            if operation is not None:
                for status in {200, 201, 202} & set(route.responses):
                    told = operation["responses"][str(status)]["content"]
                    for media_type, content in route.responses[status]["content"].items():
                        told[media_type] |= content


def _tell_lines(content: dict[str, Any]) -> None:
    """Say that the schema of a stream of lines is that of a line, in the words of OpenAPI 3.2."""
    lines = content.get(NDJSON)
    if lines is not None:
        lines |= {"itemSchema": {"$ref": lines["schema"]["$ref"]}, "schema": {"type": "string"}}


def _schemas_of(model: type[BaseModel], suffix: str = "") -> dict[str, Any]:
    """A model's schema and those within it; these get `suffix`, as answers have their namesakes."""
    schema = model.model_json_schema(ref_template="#/components/schemas/{model}" + suffix)
    inner = schema.pop("$defs", {})
    named = {name + suffix: content | {"title": name + suffix} for name, content in inner.items()}
    return {model.__name__: schema} | named


_KEY = {
    "type": "http",
    "scheme": "bearer",
    "description": "A key of the service. What is open to who shows none is set where the service runs.",
}
_IF_NONE_MATCH = {
    "name": "If-None-Match",
    "in": "header",
    "required": False,
    "description": "ETags of what the caller has; 304 where one of them is still right",
    "schema": {"type": "string"},
}
_LINKS = {
    "recallBill": {
        "operationId": "recallBill",
        "parameters": {"key": "$response.body#/bills/0/key"},
        "description": "the first bill again",
    }
}
_ORDER_LINKS = {
    "recallOrderCheck": {
        "operationId": "recallOrderCheck",
        "parameters": {"id": "$response.body#/id"},
        "description": "the check again",
    }
}


_INQUIRY_LINKS = {
    "recallInquiry": {
        "operationId": "recallInquiry",
        "parameters": {"id": "$response.body#/id"},
        "description": "the inquiry again",
    }
}
_TAGS = [
    {"name": "bills", "description": "Questions and their answers."},
    {"name": "joints", "description": "Whether ports meet, and what joins those that do not."},
    {"name": "order checks", "description": "Orders judged: whether they make a whole assembly, and what to change."},
    {"name": "inquiries", "description": "Questions that the catalog cannot answer, sent to the workshop."},
    {"name": "catalog", "description": "The catalog, section by section."},
    {"name": "drafts", "description": "Working copies of the catalog: edited, tried on every question, published."},
    {"name": "webhooks", "description": "News that is sent to an account, signed."},
    {"name": "descriptions", "description": "What describes the service itself."},
    {"name": "health", "description": "Whether it runs, and whether it can answer."},
]
