"""The OpenAPI document: complete, stable, and true of what is answered."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI
from jsonschema import Draft202012Validator

from service.documents.catalog import Catalog
from service.documents.problem import MEDIA_TYPE
from service.web import examples
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.orders import ORDER, WHOLE
from tests.support.served_document import served_document
from tests.web.calls import ask, call, caller, check, check_batch, get, lines_of
from tests.web.conftest import QUESTION, checks_of, drafts_of, inquiries_of, library_in, links_of


@pytest.fixture(scope="module")
def example_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    """The application over the catalog that the examples are made from."""
    file = tmp_path_factory.mktemp("examples") / "catalog.sqlite3"
    with library_in(file, examples.edition().catalog.whole().model_dump(exclude_none=True)) as library:
        yield create_app(library, checks_of(library), kept_inquiries=inquiries_of(library), links=links_of(library))


_OF_OURS = {
    *("etag", "cache-control", "link", "allow", "accept", "accept-encoding", "retry-after"),
    *("x-catalog-revision", "x-request-id", "location", "vary"),
}
_DOCUMENT = served_document()
_OPERATIONS = {
    f"{method.upper()} {path}": operation
    for path, operations in _DOCUMENT["paths"].items()
    for method, operation in operations.items()
}


def _validator(schema: dict[str, Any]) -> Draft202012Validator:
    return Draft202012Validator(schema | {"components": _DOCUMENT["components"]})


def _conforms(operation: dict[str, Any], response: httpx.Response) -> None:
    """The status is declared, the content is of the declared type and shape, every header is there and declared."""
    declared = operation["responses"][str(response.status_code)]
    if response.status_code not in (302, 304):
        media_type = response.headers["content-type"].removesuffix("; charset=utf-8")
        content = response.json() if media_type.endswith("json") else response.text
        _validator(declared["content"][media_type]["schema"]).validate(content)
    told = {name.lower(): header["required"] for name, header in declared["headers"].items()}
    sent = _OF_OURS & set(response.headers)
    assert {name for name, always in told.items() if always} <= sent <= set(told)


def _parts(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        yield schema
    for part in schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ():
        yield from _parts(part)


@pytest.mark.parametrize("name", list(_OPERATIONS))
def test_every_operation_is_told_whole(name: str) -> None:
    """An id, a summary, a tag, a description of each parameter, an example of the answer that fits its schema."""
    operation = _OPERATIONS[name]
    assert re.fullmatch(r"[a-z]+[A-Za-z]+", operation["operationId"])
    assert operation["summary"]
    assert len(operation["tags"]) == 1
    for parameter in operation.get("parameters", []):
        assert parameter["description"]
    for status in {"200", "201"} & set(operation["responses"]):
        (_, content), *others = operation["responses"][status]["content"].items()
        told = {form: other["schema"]["type"] for form, other in others}
        assert told == {form: "object" if "json" in form else "string" for form in told}
        _validator(content["schema"]).validate(content["example"])
        for line in content["example"].splitlines() if "contentSchema" in content["schema"] else ():
            _validator(content["schema"]["contentSchema"]).validate(json.loads(line))


@pytest.mark.parametrize("name", list(_OPERATIONS))
def test_every_operation_tells_its_problems(name: str) -> None:
    """Each error status has the schema of problems, and an example of one."""
    responses = _OPERATIONS[name]["responses"]
    assert {"404", "405", "413", "422", "500", "503"} <= set(responses)
    for status, response in responses.items():
        if int(status) >= 400:
            [(media_type, content)] = response["content"].items()
            assert media_type == MEDIA_TYPE
            assert content["schema"] == {"$ref": "#/components/schemas/Problem"}
            _validator(content["schema"]).validate(content["example"])
            assert content["example"]["status"] == int(status)


def test_operation_ids_are_unique() -> None:
    """Generated clients name their functions by them."""
    ids = [operation["operationId"] for operation in _OPERATIONS.values()]
    assert sorted(set(ids)) == sorted(ids)


def test_operation_ids_stay() -> None:
    """Clients that were generated once call the operations by these names."""
    assert {name: operation["operationId"] for name, operation in _OPERATIONS.items()} == {
        "POST /v1/bills": "findBills",
        "GET /v1/bills": "findBillsByQuery",
        "GET /v1/bills/{key}": "recallBill",
        "GET /v1/bills/{key}/sheet": "getSheet",
        "POST /v1/bills/{key}/link": "linkBill",
        "GET /b/{code}": "followShortLink",
        "GET /v1/bills/{key}/drawing": "getDrawing",
        "POST /v1/explain": "explainPart",
        "POST /v1/questions/read": "readQuestion",
        "POST /v1/orders/read": "readOrder",
        "POST /v1/order-checks": "checkOrder",
        "POST /v1/order-checks/batch": "checkOrders",
        "GET /v1/order-checks/{id}": "recallOrderCheck",
        "POST /v1/inquiries": "sendInquiry",
        "POST /v1/inquiries/cars": "sendUnknownCar",
        "GET /v1/inquiries/{id}": "recallInquiry",
        "PATCH /v1/inquiries/{id}": "answerInquiry",
        "POST /v1/drafts/{id}/tables": "bringDraftTables",
        "POST /v1/webhooks": "makeWebhook",
        "GET /v1/webhooks": "listWebhooks",
        "GET /v1/webhooks/{id}": "getWebhook",
        "PATCH /v1/webhooks/{id}": "changeWebhook",
        "POST /v1/webhooks/{id}/secret": "rotateWebhookSecret",
        "DELETE /v1/webhooks/{id}": "deleteWebhook",
        "POST /v1/webhooks/{id}/ping": "pingWebhook",
        "GET /v1/chassis/{id}/layouts": "listChassisLayouts",
        "GET /v1/chassis/{id}/drop-curves": "getDropCurves",
        "GET /v1/items/{sku}/uses": "listItemUses",
        "POST /v1/joints": "joinPorts",
        "GET /v1/revisions": "listRevisions",
        "GET /v1/revisions/{from}/impact/{to}": "getImpact",
        "GET /v1/changes": "listChanges",
        "GET /v1/next-parts": "listNextParts",
        "POST /v1/sweeps": "beginSweep",
        "GET /v1/sweeps/{id}": "getSweep",
        "DELETE /v1/sweeps/{id}": "cancelSweep",
        "GET /v1/sweeps/{id}/impact": "getSweepImpact",
        "GET /v1/contract/cases": "listContractCases",
        "POST /v1/contract/cases": "keepContractCase",
        "GET /v1/contract/cases/{account}/{id}": "getContractCase",
        "DELETE /v1/contract/cases/{account}/{id}": "deleteContractCase",
        "GET /v1/schema/catalog": "getCatalogSchema",
        "GET /v1/problems/{code}": "getProblem",
        "GET /v1/health": "getHealth",
        "GET /v1/health/live": "getLiveness",
        "GET /v1/health/ready": "getReadiness",
    } | _section_ids() | _draft_ids()


def _draft_ids() -> dict[str, str]:
    ids = {
        "POST /v1/drafts/{id}/tables": "bringDraftTables",
        "POST /v1/drafts": "beginDraft",
        "GET /v1/drafts": "listDrafts",
        "GET /v1/drafts/{id}": "getDraft",
        "DELETE /v1/drafts/{id}": "deleteDraft",
        "GET /v1/drafts/{id}/changes": "listDraftChanges",
        "GET /v1/drafts/{id}/trail": "listDraftTrail",
        "GET /v1/drafts/{id}/impact": "getDraftImpact",
        "POST /v1/drafts/{id}/rebase": "rebaseDraft",
        "POST /v1/drafts/{id}/publish": "publishDraft",
        "POST /v1/revisions/{number}/restore": "restoreRevision",
        "DELETE /v1/drafts/{id}/{section}/{key}": "removeDraftObject",
    }
    for method in ("GET", "PUT", "PATCH"):
        ids[f"{method} /v1/drafts/{{id}}/{{section}}/{{key}}"] = f"{method.lower()}DraftObject"
        for section, name in (("maker", "Maker"), ("policies", "Policies"), ("fuel_order", "FuelOrder")):
            ids[f"{method} /v1/drafts/{{id}}/{section}"] = f"{method.lower()}Draft{name}"
    return ids


def _section_ids() -> dict[str, str]:
    things = {"items": "sku"} | dict.fromkeys(("chassis", "layouts", "addons", "fuels", "materials"), "id")
    ids = {"GET /v1/port-standards": "listPortStandards", "GET /v1/port-standards/{id}": "getPortStandards"}
    for section, key in things.items():
        ids[f"GET /v1/{section}"] = f"list{section.title()}"
        ids[f"GET /v1/{section}/{{{key}}}"] = f"get{section.title()}"
    return ids


def test_every_reference_leads_somewhere() -> None:
    """And FastAPI's own error schemas, which nothing answers with, are not there."""
    schemas = _DOCUMENT["components"]["schemas"]
    references = {part["$ref"] for part in _parts(_DOCUMENT) if "$ref" in part}
    assert references <= {f"#/components/schemas/{name}" for name in schemas}
    assert not {"HTTPValidationError", "ValidationError"} & set(schemas)


def _examples(operation: dict[str, Any], place: str) -> dict[str, Any]:
    return {
        parameter["name"]: parameter["schema"]["examples"][0]
        for parameter in operation.get("parameters", [])
        if parameter["in"] == place and parameter["name"] != "cursor"
    }


_KEPT = "GET /v1/order-checks/{id}"
_SENT = "GET /v1/inquiries/{id}"
_SHORT = "GET /b/{code}"
_RECKONED = ("GET /v1/revisions/{from}/impact/{to}", "GET /v1/next-parts")
"""These are not there at once."""
_OF_DRAFTS = tuple(name for name in _OPERATIONS if name.startswith("GET /v1/drafts"))
_CASE = "GET /v1/contract/cases/{account}/{id}"
_SWEPT = ("GET /v1/sweeps/{id}", "GET /v1/sweeps/{id}/impact")
_WEBHOOKS = ("GET /v1/webhooks", "GET /v1/webhooks/{id}")
_MADE_FIRST = (_KEPT, _SENT, _SHORT, _CASE, *_SWEPT, *_WEBHOOKS, *_RECKONED, *_OF_DRAFTS)


def test_bounds_of_parameters_are_told() -> None:
    """In the words of JSON Schema."""
    [limit] = [x for x in _OPERATIONS["GET /v1/items"]["parameters"] if x["name"] == "limit"]
    assert limit["schema"] == {"type": "integer", "minimum": 1, "maximum": 200, "default": 50, "examples": [1]}
    [revision] = [x for x in _OPERATIONS["GET /v1/items"]["parameters"] if x["name"] == "revision"]
    assert revision["schema"] == {"type": "integer", "minimum": 1, "maximum": 2**31 - 1, "examples": [1]}


def _closed(name: str) -> bool:
    return _DOCUMENT["components"]["schemas"][name].get("additionalProperties") is False


def test_requests_are_closed_and_answers_open() -> None:
    """What is sent is taken strictly; what is answered may gain fields."""
    assert {name for name in _DOCUMENT["components"]["schemas"] if _closed(name)} == {
        *(
            "BillRequest",
            "DetailedRequest",
            "SentUnknownCar",
            "UnknownCar",
            "OrderRequest",
            "OrderLineAsked",
            "ClearanceAsked",
            "HadPartAsked",
            "OwnSpotAsked",
        ),
        *("PumpPointAsked", "PumpVoltsAsked", "RegulatorAsked", "InjectorFlowAsked"),
        *(
            "ExplainRequest",
            "SentInquiry",
            "InquiryChange",
            *("FileCaseAsked", "PinnedQuestionAsked", "FilePromisesAsked", "PriceRangeAsked", "OrderCaseAsked"),
            *("OrderPromisesAsked", "ExplainCaseAsked", "ExplainPromisesAsked", "LayoutsCaseAsked"),
            *("CarQuestionAsked", "LayoutsPromisesAsked", "ItemCaseAsked", "ItemQuestionAsked", "ItemPromisesAsked"),
            *("JointCaseAsked", "JointPromisesAsked", "JointQuestionAsked", "PartSideAsked", "PortSideAsked"),
            *("OrderRequestAsked", "BillRequestAsked", "ExplainRequestAsked"),
            "BegunSweep",
            "JointQuestion",
            "PartSide",
            "PortSide",
            "OrderText",
            "QuestionText",
        ),
        *("BegunDraft", "DraftMove", "Publication", "NewWebhook", "WebhookChange"),
    }


def test_the_example_question_is_answered_so(example_app: FastAPI) -> None:
    """The example asks what the schema allows and the service answers."""
    content = _OPERATIONS["POST /v1/bills"]["requestBody"]["content"]["application/json"]
    _validator(content["schema"]).validate(content["example"])
    assert ask(example_app, content["example"]).status_code == 200


_GETS = {
    "/v1/bills": "/v1/bills?chassis=brook&layout=through-return",
    "/v1/chassis/{id}/layouts": "/v1/chassis/brook/layouts",
    "/v1/contract/cases": "/v1/contract/cases",
    "/v1/chassis/{id}/drop-curves": "/v1/chassis/brook/drop-curves?fuel=petrol",
    "/v1/items/{sku}/uses": "/v1/items/GAUGE-T/uses?limit=2",
    "/v1/items": "/v1/items?limit=5",
    "/v1/items/{sku}": "/v1/items/RAIL-S",
    "/v1/chassis": "/v1/chassis?limit=1",
    "/v1/chassis/{id}": "/v1/chassis/brook",
    "/v1/layouts": "/v1/layouts",
    "/v1/layouts/{id}": "/v1/layouts/through-return",
    "/v1/addons": "/v1/addons",
    "/v1/addons/{id}": "/v1/addons/blower",
    "/v1/fuels": "/v1/fuels",
    "/v1/fuels/{id}": "/v1/fuels/petrol",
    "/v1/materials": "/v1/materials",
    "/v1/materials/{id}": "/v1/materials/aluminium",
    "/v1/port-standards": "/v1/port-standards",
    "/v1/port-standards/{id}": "/v1/port-standards/taper-1/8",
    "/v1/revisions": "/v1/revisions?limit=1",
    "/v1/changes": "/v1/changes?since=1",
    "/v1/schema/catalog": "/v1/schema/catalog",
    "/v1/problems/{code}": "/v1/problems/unknown-id",
    "/v1/health": "/v1/health",
    "/v1/health/live": "/v1/health/live",
    "/v1/health/ready": "/v1/health/ready",
}


def test_every_get_is_tried() -> None:
    """All but what has to be made first, or is worked out behind people, stand in the table."""
    gets = {name for name in _OPERATIONS if name.startswith("GET ")}
    made_first = {
        *_WEBHOOKS,
        "GET /v1/bills/{key}",
        "GET /v1/bills/{key}/sheet",
        "GET /v1/bills/{key}/drawing",
        *_MADE_FIRST,
    }
    assert {f"GET {path}" for path in _GETS} == gets - made_first


@pytest.mark.parametrize("path", list(_GETS))
def test_answers_are_as_the_document_says(app: FastAPI, path: str) -> None:
    """A good answer, one that is not sent again, and whatever is refused."""
    operation = _OPERATIONS[f"GET {path}"]
    good = get(app, _GETS[path])
    assert good.status_code == 200
    _conforms(operation, good)
    _conforms(operation, get(app, _GETS[path], params={"nonsense": "1"}))
    _conforms(operation, call(app, "DELETE", _GETS[path]))
    _conforms(operation, call(app, "GET", _GETS[path], content=b" " * 300_000))
    if "etag" in good.headers:
        _conforms(operation, get(app, _GETS[path], headers={"If-None-Match": good.headers["etag"]}))
    if "{" in path:
        missing = get(app, re.sub(r"\{.*?\}", "none", path))
        assert missing.status_code == 404
        _conforms(operation, missing)


@pytest.mark.parametrize("name", _RECKONED)
def test_what_is_reckoned_is_as_the_document_says(app: FastAPI, name: str) -> None:
    """While it is being worked out, and refused; `test_revisions` waits for it."""
    operation, path = _OPERATIONS[name], name.removeprefix("GET ").format(**{"from": 1, "to": 2})
    begun = get(app, path)
    assert begun.status_code == 202
    _conforms(operation, begun)
    _conforms(operation, get(app, path, params={"nonsense": "1"}))
    _conforms(operation, call(app, "DELETE", path))


def test_bills_are_as_the_document_says(app: FastAPI) -> None:
    """With bills and without, in each layout, recalled, and refused."""
    operation = _OPERATIONS["POST /v1/bills"]
    for layout in ("factory", "hose-centre", "through-return", "linked-banks"):
        for wish in ({}, {"gauge": "any"}, {"max_price": 1}, {"limit": 0}, {"fuel": "none"}):
            answer = ask(app, QUESTION | {"layout": layout} | wish)
            _conforms(operation, answer)
            for bill in answer.json().get("bills", []):
                _conforms(_OPERATIONS["GET /v1/bills/{key}"], get(app, f"/v1/bills/{bill['key']}"))
    _conforms(operation, ask(app, b"{"))
    _conforms(operation, call(app, "POST", "/v1/bills", content=b"{}"))
    _conforms(operation, call(app, "POST", "/v1/bills", json={}, headers={"Content-Encoding": "gzip"}))
    _conforms(operation, call(app, "PUT", "/v1/bills"))
    _conforms(operation, call(app, "POST", "/v1/bills", content=b" " * 300_000))


def test_drawings_are_as_the_document_says(app: FastAPI) -> None:
    """In each layout, not sent again, and of no bill."""
    operation = _OPERATIONS["GET /v1/bills/{key}/drawing"]
    for layout in ("factory", "hose-centre", "through-return", "linked-banks"):
        for bill in ask(app, QUESTION | {"layout": layout}).json().get("bills", []):
            path = f"/v1/bills/{bill['key']}/drawing"
            good = get(app, path)
            _conforms(operation, good)
            _conforms(operation, get(app, path, headers={"If-None-Match": good.headers["etag"]}))
    _conforms(operation, get(app, "/v1/bills/none/drawing"))


def test_sheets_are_as_the_document_says(app: FastAPI) -> None:
    """In each media type, not sent again, in none that is asked for, and of no bill."""
    operation = _OPERATIONS["GET /v1/bills/{key}/sheet"]
    path = f"/v1/bills/{ask(app, QUESTION).json()['bills'][0]['key']}/sheet"
    statuses = []
    for media_type in operation["responses"]["200"]["content"]:
        good = get(app, path, headers={"Accept": media_type})
        known = {"Accept": media_type, "If-None-Match": good.headers.get("etag", "")}
        for answer in (good, get(app, path, headers=known)):
            _conforms(operation, answer)
            statuses.append(answer.status_code)
    assert set(statuses) <= {200, 304, 406}
    assert {200, 304} <= set(statuses)
    _conforms(operation, get(app, path, headers={"Accept": "image/png"}))
    _conforms(operation, get(app, "/v1/bills/none/sheet"))
    _conforms(operation, get(app, path, params={"x": "1"}))
    _conforms(operation, call(app, "DELETE", path))


def test_explanations_are_as_the_document_says(app: FastAPI) -> None:
    """Of a part that is in the bills and of one that is not, and refused."""
    operation = _OPERATIONS["POST /v1/explain"]
    for sku in ("PLUG-B8", "GAUGE-T", "SEALANT", "none"):
        _conforms(operation, call(app, "POST", "/v1/explain", json={"request": QUESTION, "sku": sku}))
    _conforms(operation, call(app, "POST", "/v1/explain", content=b"{}"))
    _conforms(operation, call(app, "PUT", "/v1/explain"))
    _conforms(operation, call(app, "POST", "/v1/explain", content=b" " * 300_000))


def test_joints_are_as_the_document_says(app: FastAPI) -> None:
    """That meet and that do not, and refused."""
    operation = _OPERATIONS["POST /v1/joints"]
    rail, bare = {"sku": "RAIL-S"}, {"standard": "flare-6", "end": "female"}
    for other in ({"sku": "PLUG-B8"}, bare, {"sku": "RAIL-S", "port": "t"}, {"sku": "none"}, {}):
        _conforms(operation, call(app, "POST", "/v1/joints", json={"one": rail, "other": other}))
    _conforms(operation, call(app, "POST", "/v1/joints", content=b"{}"))
    _conforms(operation, call(app, "PUT", "/v1/joints"))
    _conforms(operation, call(app, "POST", "/v1/joints", content=b" " * 300_000))


def test_the_example_order_is_answered_so(example_app: FastAPI) -> None:
    """Over the catalog that it is from: the check, the check again, and the batch, all but what is new each time."""
    operation = _OPERATIONS["POST /v1/order-checks"]
    made = check(example_app, operation["requestBody"]["content"]["application/json"]["example"])
    shown = operation["responses"]["201"]["content"]["application/json"]["example"]
    assert made.json() | {"id": shown["id"]} == shown
    recalled = get(example_app, made.headers["location"]).json()
    shown = _OPERATIONS[_KEPT]["responses"]["200"]["content"]["application/json"]["example"]
    assert recalled | {"id": shown["id"]} == shown
    operation = _OPERATIONS["POST /v1/order-checks/batch"]
    asked = operation["requestBody"]["content"]["application/x-ndjson"]["example"]
    shown = operation["responses"]["200"]["content"]["application/x-ndjson"]["example"]
    first, second = lines_of(check_batch(example_app, *asked.splitlines()))
    first["result"]["id"] = json.loads(shown.splitlines()[0])["result"]["id"]
    second["problem"]["instance"] = json.loads(shown.splitlines()[1])["problem"]["instance"]
    assert [first, second] == [json.loads(line) for line in shown.splitlines()]


def test_order_checks_are_as_the_document_says(order_app: FastAPI) -> None:
    """Made, known again, recalled, not sent again, and refused."""
    operation = _OPERATIONS["POST /v1/order-checks"]
    _validator(operation["requestBody"]["content"]["application/json"]["schema"]).validate(ORDER)
    made = check(order_app, ORDER, "conforming")
    statuses = []
    for answer in (
        made,
        check(order_app, ORDER, "conforming"),
        check(order_app, WHOLE, "conforming"),
        check(order_app, ORDER, "no key"),
        check(order_app, ORDER | {"sets": 0}),
        check(order_app, b"{"),
        check(order_app, b" " * 300_000),
        call(order_app, "POST", "/v1/order-checks", content=b"{}"),
        call(order_app, "PUT", "/v1/order-checks"),
    ):
        _conforms(operation, answer)
        statuses.append(answer.status_code)
    assert statuses == [201, 200, 422, 422, 422, 400, 413, 415, 405]
    path = made.headers["location"]
    tag = get(order_app, path).headers["etag"]
    for answer in (
        get(order_app, path),
        get(order_app, path, headers={"If-None-Match": tag}),
        get(order_app, "/v1/order-checks/nobody"),
        get(order_app, path, params={"x": "1"}),
        call(order_app, "DELETE", path),
    ):
        _conforms(_OPERATIONS[_KEPT], answer)


def test_inquiries_are_as_the_document_says(example_app: FastAPI) -> None:
    """The example, made and recalled; known again, not sent again, and refused."""
    operation = _OPERATIONS["POST /v1/inquiries"]
    asked = operation["requestBody"]["content"]["application/json"]
    _validator(asked["schema"]).validate(asked["example"])
    shown = operation["responses"]["201"]["content"]["application/json"]["example"]
    made = call(example_app, "POST", "/v1/inquiries", json=asked["example"])
    assert made.json() | {name: shown[name] for name in ("id", "received")} == shown
    assert get(example_app, made.headers["location"]).json() == made.json()
    keyed = {"headers": {"Idempotency-Key": "conforming"}}
    statuses = []
    for body, more in (
        ({"json": asked["example"]}, keyed),
        ({"json": asked["example"]}, keyed),
        ({"json": asked["example"] | {"note": "another"}}, keyed),
        ({"json": asked["example"] | {"contact": " "}}, {}),
        ({"content": b"{}"}, {}),
        ({"content": b" " * 300_000}, {}),
    ):
        answer = call(example_app, "POST", "/v1/inquiries", **body, **more)
        _conforms(operation, answer)
        statuses.append(answer.status_code)
    assert statuses == [201, 200, 422, 422, 415, 413]
    path = made.headers["location"]
    tag = get(example_app, path).headers["etag"]
    for answer in (
        get(example_app, path),
        get(example_app, path, headers={"If-None-Match": tag}),
        get(example_app, "/v1/inquiries/nobody"),
        get(example_app, path, params={"x": "1"}),
        call(example_app, "DELETE", path),
    ):
        _conforms(_OPERATIONS[_SENT], answer)


def test_drafts_are_as_the_document_says(tmp_path: Path) -> None:
    """Begun, edited, looked at, moved, published and restored, deleted; and each refused."""
    statuses = []

    def try_(name: str, path: str, **options: Any) -> httpx.Response:
        answer = client.request(name.partition(" ")[0], path, **options)
        _conforms(_OPERATIONS[name], answer)
        statuses.append(answer.status_code)
        return answer

    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library, kept_drafts=drafts_of(library))
        with caller(app) as client:
            who = {"author": "Ada", "reason": "spring"}
            begin = _OPERATIONS["POST /v1/drafts"]["requestBody"]["content"]["application/json"]
            path = try_("POST /v1/drafts", "/v1/drafts", json=begin["example"]).headers["location"]
            try_("POST /v1/drafts", "/v1/drafts", json={})
            item = f"{path}/items/RAIL-S"
            for place, kept in (
                (item, "{section}/{key}"),
                (f"{path}/maker", "maker"),
                (f"{path}/policies", "policies"),
            ):
                name = f"/v1/drafts/{{id}}/{kept}"
                seen = try_(f"GET {name}", place)
                tag = {"If-Match": seen.headers["etag"]}
                try_(f"GET {name}", place, headers={"If-None-Match": tag["If-Match"]})
                try_(f"PUT {name}", place, json=seen.json()["result"], headers=tag)
                try_(f"PATCH {name}", place, json={}, headers=tag)
                try_(f"PATCH {name}", place, json={"name": 1}, headers=tag)
                try_(f"PATCH {name}", place, json={}, headers={"If-Match": '"x"'})
                try_(f"PUT {name}", place, json={})
            name = "/v1/drafts/{id}/{section}/{key}"
            new = client.get(item).json()["result"] | {"sku": "NEW"}
            content = _OPERATIONS[f"PUT {name}"]["requestBody"]["content"]["application/json"]
            for body in (new, content["example"]):
                _validator(content["schema"]).validate(body)
            try_(f"PUT {name}", f"{path}/items/NEW", json=new, headers={"If-None-Match": "*"})
            try_(f"DELETE {name}", f"{path}/items/NEW")
            try_(f"DELETE {name}", f"{path}/items/NEW", headers={"If-Match": "*"})
            try_(f"DELETE {name}", f"{path}/items/NEW", headers={"If-Match": "*"})
            client.patch(item, json={"price": 1}, headers={"If-Match": "*"})
            for name in ("/v1/drafts", "/v1/drafts/{id}", "/v1/drafts/{id}/changes", "/v1/drafts/{id}/trail"):
                place = name.replace("/v1/drafts/{id}", path)
                try_(f"GET {name}", place)
                try_(f"GET {name}", place, params={"x": 1})
            try_("GET /v1/drafts/{id}/impact", f"{path}/impact")
            publish, restore = "POST /v1/drafts/{id}/publish", "POST /v1/revisions/{number}/restore"
            try_(publish, f"{path}/publish", json=who)
            try_(publish, f"{path}/publish", json=who | {"accept": "x"})
            try_(publish, f"{path}/publish", json=who)
            try_(restore, "/v1/revisions/1/restore", json=who)
            try_(restore, "/v1/revisions/1/restore", json=who | {"accept": "x"})
            try_(restore, "/v1/revisions/9/restore", json=who)
            path = try_("POST /v1/drafts", "/v1/drafts", json=begin["example"]).headers["location"]
            try_("POST /v1/drafts/{id}/rebase", f"{path}/rebase", json={})
            try_("DELETE /v1/drafts/{id}", path)
            try_("DELETE /v1/drafts/{id}", path)
    assert {200, 201, 202, 304, 404, 409, 412, 422, 428} == set(statuses)


def test_short_links_are_as_the_document_says(example_app: FastAPI) -> None:
    """The example, made, made again and followed; and refused."""
    operation = _OPERATIONS["POST /v1/bills/{key}/link"]
    path = f"/v1/bills/{_examples(operation, 'path')['key']}/link"
    shown = operation["responses"]["201"]["content"]["application/json"]["example"]
    made, again = (call(example_app, "POST", path) for _ in range(2))
    assert (made.status_code, again.status_code) == (201, 200)
    assert made.json() == again.json() == shown
    for answer in (
        made,
        again,
        call(example_app, "POST", "/v1/bills/none/link"),
        call(example_app, "POST", path, params={"x": "1"}),
        call(example_app, "PUT", path),
    ):
        _conforms(operation, answer)
    for answer in (
        get(example_app, shown["path"]),
        get(example_app, "/b/none"),
        get(example_app, shown["path"], params={"x": "1"}),
        call(example_app, "PUT", shown["path"]),
    ):
        _conforms(_OPERATIONS[_SHORT], answer)


def test_batches_are_as_the_document_says(example_app: FastAPI) -> None:
    """Each line of what is sent and of what is answered; and what is refused whole."""
    operation = _OPERATIONS["POST /v1/order-checks/batch"]
    asked = operation["requestBody"]["content"]["application/x-ndjson"]
    response = check_batch(example_app, *asked["example"].splitlines(), "{")
    for line in asked["example"].splitlines():
        _validator(asked["schema"]["contentSchema"]).validate(json.loads(line))
    told = operation["responses"]["200"]
    assert _OF_OURS & set(response.headers) == {name.lower() for name in told["headers"]} - {"vary"}
    answers = lines_of(response)
    assert {answer["status"] for answer in answers} == {201, 400, 422}
    for answer in answers:
        _validator(told["content"]["application/x-ndjson"]["schema"]["contentSchema"]).validate(answer)
    _conforms(operation, call(example_app, "POST", "/v1/order-checks/batch", content=b"{}"))
    _conforms(operation, call(example_app, "POST", "/v1/order-checks/batch", content=b" " * 9_000_000))
    _conforms(operation, call(example_app, "PUT", "/v1/order-checks/batch"))


def test_the_document_is_served(app: FastAPI) -> None:
    """As it was made."""
    assert get(app, "/openapi.json").json() == _DOCUMENT


def test_the_catalog_s_schema_tells_a_catalog(app: FastAPI) -> None:
    """It takes a whole catalog, and no other."""
    schema = get(app, "/v1/schema/catalog").json()
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    validator.validate(small_catalog())
    assert not validator.is_valid(small_catalog() | {"format": "other/1"})
    assert not validator.is_valid(small_catalog() | {"more": []})
    assert schema["title"] == Catalog.__name__


def test_no_two_schemas_have_one_title() -> None:
    """Generators of clients name their classes by them."""
    titles = [schema.get("title", name) for name, schema in _DOCUMENT["components"]["schemas"].items()]
    assert sorted(set(titles)) == sorted(titles)
