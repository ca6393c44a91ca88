"""The OpenAPI document: what FastAPI gathers from the routes, with the schemas that it cannot see."""

from collections.abc import Iterable, Mapping
from typing import Any

from fastapi import APIRouter, FastAPI
from fastapi.openapi.utils import get_openapi
from fastapi.routing import APIRoute
from pydantic import BaseModel

from service import __version__
from service.documents.contract_kinds import PartnerCase
from service.documents.draft import BegunDraft, DraftMove, Publication
from service.documents.explain import ExplainRequest
from service.documents.inquiry import InquiryChange, SentInquiry
from service.documents.joint import JointQuestion
from service.documents.order import OrderRequest
from service.documents.order_reading import OrderText
from service.documents.problem import MEDIA_TYPE, Problem
from service.documents.question_reading import QuestionText
from service.documents.request import BillRequest, DetailedRequest
from service.documents.sweep import BegunSweep
from service.documents.unknown_car import SentUnknownCar
from service.documents.webhook import NewWebhook, WebhookChange
from service.web import examples
from service.web.deprecations import Deprecation, describe_deprecations
from service.web.openapi_keys import describe_keys
from service.web.openapi_words import describe_properties, describe_rules, without_null_defaults
from service.web.operations import Later, lines_of, shown_problem
from service.web.problems import PROBLEM_TYPES, fault, faulty
from service.web.queries import names_told
from service.web.representations import NDJSON

_DESCRIPTION = (
    "Which parts does a car need to run its fuel this way? Complete bills of material, with the reason for every "
    "line. Lengths mm, pressures kPa gauge, flows L/h, money integer minor units. A check on paper does not prove "
    "that an assembly is safe: heed the cautions that come with every answer. The examples are of the catalog that "
    "comes with the service: revision 1 is that catalog, revision 2 has the edit that the examples of drafts publish."
)


def describe(app: FastAPI, routers: Iterable[APIRouter], deprecated: Mapping[str, Deprecation]) -> dict[str, Any]:
    """The document of an application and its routers; `deprecated`: the operations that are to go."""
    document = get_openapi(
        title="Portwright",
        version=__version__,
        description=_DESCRIPTION,
        routes=app.routes,
        tags=_TAGS,
        servers=[{"url": "/", "description": "The service that gave this document."}],
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
    schemas |= _schemas_of(WebhookChange)
    schemas |= _schemas_of(PartnerCase, "Asked")
    for model in (ExplainRequest, SentInquiry):
        schemas[model.__name__] = _schemas_of(model)[model.__name__]  # what is within it is there already
    _leave_optional_tags(document, schemas)
    describe_properties(schemas)
    describe_rules(schemas)
    document["components"]["schemas"] = dict(sorted(schemas.items()))
    _give_examples(document["paths"], routers)
    describe_keys(document)
    for path, status, links in _LINKS:
        document["paths"][path]["post"]["responses"][status]["links"] = links
    for operations in document["paths"].values():
        for operation in operations.values():
            _exemplify(operation.get("parameters", []))
            _show_what_is_not_known(operation)
            _tell_lines(operation["responses"].get("200", {}).get("content", {}))
            if "304" in operation["responses"]:
                operation.setdefault("parameters", []).append(_IF_NONE_MATCH)
    describe_deprecations(document["paths"], deprecated)
    without_null_defaults(document)
    return document


def _leave_optional_tags(told: Any, schemas: Mapping[str, Any]) -> None:
    """Make each `oneOf` an `anyOf` whose kinds are told by a property that one of them may omit, which is no tag."""
    for part in told.values() if isinstance(told, dict) else told if isinstance(told, list) else ():
        _leave_optional_tags(part, schemas)
    if not (isinstance(told, dict) and "oneOf" in told and isinstance(told.get("discriminator"), dict)):
        return
    kinds = [schemas[kind["$ref"].rpartition("/")[2]] for kind in told["oneOf"]]
    if any(told["discriminator"]["propertyName"] not in kind.get("required", ()) for kind in kinds):
        told["anyOf"] = told.pop("oneOf")
        del told["discriminator"]


def _give_examples(paths: dict[str, Any], routers: Iterable[APIRouter]) -> None:
    """Give each answer its example again: FastAPI leaves out what is null, which an answer does not. What takes long is
    worked out now."""
    for route in (route for router in routers for route in router.routes if isinstance(route, APIRoute)):
        for method in route.methods or ():
            operation = paths.get(route.path_format, {}).get(method.lower())
            if operation is not None:
                for status in {200, 201, 202} & set(route.responses):
                    told = operation["responses"][str(status)]["content"]
                    for media_type, content in route.responses[status]["content"].items():
                        told[media_type] |= content
                        if isinstance(content.get("example"), Later):
                            told[media_type]["example"] = content["example"].make()


def _exemplify(parameters: list[dict[str, Any]]) -> None:
    """Give parameters of the query that name something the name of something that there is."""
    known = examples.parameters()
    for parameter in parameters:
        if parameter["in"] == "query" and parameter["name"] in known:
            parameter["schema"]["examples"] = [known[parameter["name"]]]


def _show_what_is_not_known(operation: dict[str, Any]) -> None:
    """Show how a request is refused: what every operation refuses is a parameter that it does not know."""
    content = operation["responses"]["422"]["content"][MEDIA_TYPE]
    known = [one["name"] for one in operation.get("parameters", []) if one["in"] == "query"]
    refusal = faulty((fault({"parameter": "nonsense"}, "this name", names_told(known)),))
    if content["example"]["type"] == PROBLEM_TYPES[refusal.code].uri:
        content["example"] = shown_problem(refusal)


def _tell_lines(content: dict[str, Any]) -> None:
    """Say that the schema of a stream of lines is that of a line."""
    if NDJSON in content:
        content[NDJSON]["schema"] = lines_of({"$ref": content[NDJSON]["schema"]["$ref"]})


def _schemas_of(model: type[BaseModel], suffix: str = "") -> dict[str, Any]:
    """A model's schema and those within it; these get `suffix`, as answers have their namesakes."""
    schema = model.model_json_schema(ref_template="#/components/schemas/{model}" + suffix)
    inner = schema.pop("$defs", {})
    named = {name + suffix: content | {"title": name + suffix} for name, content in inner.items()}
    return {model.__name__: schema} | named


_IF_NONE_MATCH = {
    "name": "If-None-Match",
    "in": "header",
    "required": False,
    "description": "ETags of what the caller has; 304 where one of them is still right",
    "schema": {"type": "string"},
}


def _link(operation: str, parameter: str, place: str, description: str) -> dict[str, Any]:
    parameters = {parameter: f"$response.body#/{place}"}
    return {operation: {"operationId": operation, "parameters": parameters, "description": description}}


_OF_BILL = (
    ("recallBill", "the first bill again"),
    ("getSheet", "its assembly sheet"),
    ("getDrawing", "its drawing, with the pressure along its paths"),
    ("linkBill", "a short link to it"),
)
_LINKS: tuple[tuple[str, str, dict[str, Any]], ...] = (
    (
        "/v1/bills",
        "200",
        {name: one for id_, says in _OF_BILL for name, one in _link(id_, "key", "bills/0/key", says).items()},
    ),
    ("/v1/order-checks", "201", _link("recallOrderCheck", "id", "id", "the check again")),
    ("/v1/inquiries", "201", _link("recallInquiry", "id", "id", "the inquiry again")),
    ("/v1/inquiries/cars", "201", _link("recallInquiry", "id", "inquiry/id", "the inquiry again")),
    ("/v1/bills/{key}/link", "201", _link("followShortLink", "code", "code", "where the link leads")),
    ("/v1/drafts", "201", _link("getDraft", "id", "id", "the draft, with what does not hold in it")),
)
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
