"""Each request that the OpenAPI document shows, sent as it stands to the seed catalog, gives what is shown."""

import json
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import quote

import httpx
import pytest
from jsonschema.exceptions import ValidationError
from openapi_spec_validator import validate
from openapi_spec_validator.validation.exceptions import OpenAPIValidationError
from referencing.exceptions import Unresolvable

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog, seed_folder
from service.rules import RULES
from service.tables.csv_files import write_csv
from service.web import draft_examples
from service.web.app import create_app
from tests.support.served_document import served_document
from tests.tables.tabled import packed_of
from tests.web.calls import Caller, caller
from tests.web.conftest import (
    cases_of,
    checks_of,
    drafts_of,
    inquiries_of,
    library_in,
    links_of,
    readings_of,
    sweeps_of,
    webhooks_of,
)

_DOCUMENT = served_document()
_JSON, _LINES, _PATCH = "application/json", "application/x-ndjson", "application/merge-patch+json"
_CSV = "text/csv"
_OF_THE_MOMENT = frozenset(
    (
        "id",
        "draft",
        "begun",
        "changed",
        "published",
        "received",
        "answered",
        "done",
        "instance",
        "digest",
        "etag",
        "author",
        "made",
        "secret",
        "old_secret_ends",
        "due",
        "created",
    )
)
"""Ids, times, tags and who did it, which each service has its own of."""
_OPERATIONS = {
    operation["operationId"]: (method.upper(), path, operation)
    for path, operations in _DOCUMENT["paths"].items()
    for method, operation in operations.items()
}
_HOW_MUCH = {"findBillsByQuery": "", "listDraftTrail": "", "getDropCurves": "power_kw"}
_MADE = {"beginDraft": "draft", "checkOrder": "check", "sendInquiry": "inquiry", "makeWebhook": "webhook"}
"""What has to be there before it can be asked for, and by what: sent first."""
_OWN = {
    "deleteDraft": ("beginDraft", "patchDraftObject"),
    "removeDraftObject": ("beginDraft",),
    "bringDraftTables": ("beginDraft",),
    "cancelSweep": ("beginSweep", "getSweep"),
}
"""What is sent last, to a thing of its own, and what is sent before that."""
_OF_TWO = ("listChanges", "restoreRevision")
"""What is sent once there is a second revision, which has the price that the examples of drafts change."""
_UNSENT = {"getSweepImpact": "a sweep of this catalog is done after a minute of all cores"}
_BUT = {
    "getSweep": ("done", "total"),
    "beginSweep": ("done", "total"),
    "cancelSweep": ("done", "total"),
    "removeDraftObject": ("faults", "more_faults"),
}
"""What is answered otherwise than shown: how far a sweep is, and that other parts refer to the one that is removed."""
_BEGINNINGS = ("getCatalogSchema",)
"""Of what the beginning is shown."""
_ENDINGS = ("deleteWebhook", "deleteContractCase")
_FIRST = (
    *_MADE,
    "recallInquiry",
    "listContractCases",
    "keepContractCase",
    "linkBill",
    "patchDraftObject",
    "listDrafts",
    "listDraftTrail",
    "pingWebhook",
    "getWebhook",
)
_LAST = (*_OWN, *(name for names in _OWN.values() for name in names if "Sweep" in name), *_OF_TWO)
_ORDER = [
    *_FIRST,
    *(name for name in _OPERATIONS if name not in (*_FIRST, *_ENDINGS, *_LAST, *_UNSENT)),
    *_ENDINGS,
]


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, httpx.Response]]:
    """The answer to each request of the document, by its operation: sent once, what makes a thing before what asks."""
    file = tmp_path_factory.mktemp("seed") / "catalog.sqlite3"
    catalog = load_catalog(seed_folder()).model_dump(exclude_none=True)
    with library_in(file, catalog) as library:
        kept: dict[str, Any] = {
            "kept_inquiries": inquiries_of(library),
            "links": links_of(library),
            "readings": readings_of(library),
        }
        kept |= {"kept_webhooks": webhooks_of(library), "kept_sweeps": sweeps_of(library)}
        app = create_app(
            library, checks_of(library), **kept, kept_drafts=drafts_of(library), partner_cases=cases_of(library)
        )
        answers: dict[str, httpx.Response] = {}
        with caller(app) as client:
            for name in _ORDER:
                answers[name] = _send(client, name, answers)
            for name, before in _OWN.items():
                own: dict[str, httpx.Response] = {}
                for one in (*before, name):
                    own[one] = _send(client, one, own)
                answers = own | answers
            library.publish(Catalog.model_validate(_dearer(catalog)))
            for name in _OF_TWO:
                answers[name] = _send(client, name, answers)
        yield answers


def _dearer(catalog: dict[str, Any]) -> dict[str, Any]:
    """The catalog with the price that the examples of drafts change."""
    first, *others = catalog["items"]
    return catalog | {"items": [first | draft_examples.patch(), *others]}


def _table() -> bytes:
    """The items as a CSV of the catalog's own export, with that price."""
    dearer = packed_of(_dearer(load_catalog(seed_folder()).model_dump(exclude_none=True)))
    with TemporaryDirectory() as folder:
        write_csv(dearer, Path(folder) / "tables")
        return (Path(folder) / "tables" / "items.csv").read_bytes()


def _send(client: Caller, name: str, answers: dict[str, httpx.Response]) -> httpx.Response:
    method, path, operation = _OPERATIONS[name]
    for parameter in operation.get("parameters", []):
        if parameter["in"] == "path":
            value = _of_this_service(path, parameter["name"], answers) or parameter["schema"]["examples"][0]
            path = path.replace(f"{{{parameter['name']}}}", quote(str(value), safe=""))
    options: dict[str, Any] = {"params": _query(operation), "headers": {}}
    if any(one["name"] == "If-Match" for one in operation.get("parameters", [])):
        options["headers"]["If-Match"] = "*"
    for media_type, content in operation.get("requestBody", {}).get("content", {}).items():
        if media_type in (_JSON, _PATCH, _LINES):
            body = "content" if media_type == _LINES else "json"
            options[body] = content["example"]
            options["headers"]["Content-Type"] = media_type
            break
        if media_type == _CSV:  # a file has no example
            options |= {"content": _table(), "params": {"table": "items"}}
            options["headers"]["Content-Type"] = media_type
    return client.request(method, path, **options)


def _query(operation: dict[str, Any]) -> dict[str, Any]:
    """The parameters that are asked for; of the others those that say how much is shown."""
    return {
        one["name"]: one["schema"]["examples"][0]
        for one in operation.get("parameters", [])
        if one["in"] == "query" and (one["required"] or one["name"] == _HOW_MUCH.get(operation["operationId"], "limit"))
    }


def _of_this_service(path: str, name: str, answers: dict[str, httpx.Response]) -> str | None:
    """The id of what was made before."""
    for start, maker in (
        ("/v1/drafts/", "beginDraft"),
        ("/v1/order-checks/", "checkOrder"),
        ("/v1/inq", "sendInquiry"),
        ("/v1/webhooks/", "makeWebhook"),
        ("/v1/sweeps/", "beginSweep"),
    ):
        if name == "id" and path.startswith(start):
            return str(answers[maker].json()["id"])
    return None


def _differs(shown: Any, got: Any, place: str = "") -> Iterator[str]:
    """Where an answer is otherwise than shown, but for ids and times."""
    if isinstance(shown, dict) and isinstance(got, dict):
        for name in sorted(shown.keys() | got.keys() - {"next"}):
            if name in shown and name in got:
                if name not in _OF_THE_MOMENT:
                    yield from _differs(shown[name], got[name], f"{place}/{name}")
            elif name != "next":
                yield f"{place}/{name} is {'missing' if name in shown else 'not shown'}"
    elif isinstance(shown, list) and isinstance(got, list) and len(shown) == len(got):
        for index, (one, other) in enumerate(zip(shown, got, strict=True)):
            yield from _differs(one, other, f"{place}/{index}")
    elif shown != got:
        yield f"{place}: shown {str(shown)[:60]!r}, got {str(got)[:60]!r}"


@pytest.mark.parametrize("name", [name for name in _OPERATIONS if name not in _UNSENT])
def test_a_request_gives_what_is_shown(sent: dict[str, httpx.Response], name: str) -> None:
    """Status and content, but for ids and times; what is worked out behind people says so first, as is shown."""
    response, operation = sent[name], _OPERATIONS[name][2]
    assert response.status_code in (200, 201, 202, 204, 302), response.text[:500]
    content = operation["responses"][str(response.status_code)].get("content", {})
    if _LINES in content:
        lines = zip(content[_LINES]["example"].splitlines(), response.text.splitlines(), strict=True)
        assert [x for one, other in lines for x in _differs(_json(one), _json(other))] == []
    elif _JSON in content:
        shown, got = content[_JSON]["example"], response.json()
        if name in _BEGINNINGS:
            got = {one: got[one] for one in shown}
        left = [f"/{one}" for one in _BUT.get(name, ())]
        assert [one for one in _differs(shown, got) if not one.startswith(tuple(left))] == []


def _json(text: str) -> Any:
    return httpx.Response(200, text=text).json()


def test_the_document_is_valid() -> None:
    """OpenAPI 3.1, with a server and keys, and nothing that is null by default."""
    validate(_each_once(_DOCUMENT))
    assert _DOCUMENT["openapi"].startswith("3.1")
    assert _DOCUMENT["servers"]
    assert list(_null_defaults(_DOCUMENT)) == []


def _each_once(document: dict[str, Any]) -> dict[str, Any]:
    """The same document with each response, parameter and header in it once, referred to from wherever it stands.

    Of 1,400 responses some 120 differ, and the validator goes through each as often as it is written out.
    """
    names: dict[str, str] = {}
    components: dict[str, Any] = {"responses": {}, "parameters": {}, "headers": {}}

    def once(kind: str, part: dict[str, Any]) -> dict[str, Any]:
        if "$ref" in part:
            return part
        name = names.setdefault(kind + json.dumps(part, sort_keys=True), f"Once{len(names)}")
        components[kind][name] = part
        return {"$ref": f"#/components/{kind}/{name}"}

    def response(part: dict[str, Any]) -> dict[str, Any]:
        headers = {name: once("headers", header) for name, header in part.get("headers", {}).items()}
        return once("responses", part | ({"headers": headers} if headers else {}))

    def operation(part: dict[str, Any]) -> dict[str, Any]:
        parameters = [once("parameters", one) for one in part.get("parameters", ())]
        responses = {code: response(one) for code, one in part["responses"].items()}
        return part | {"responses": responses} | ({"parameters": parameters} if parameters else {})

    paths = {
        path: {method: operation(one) for method, one in operations.items()}
        for path, operations in document["paths"].items()
    }
    return document | {"paths": paths, "components": document["components"] | components}


_SMALL: dict[str, Any] = {
    "parameters": [{"name": "id", "in": "path", "required": True, "schema": {"type": "string"}}],
    "responses": {
        "200": {
            "description": "What was asked for.",
            "headers": {"ETag": {"schema": {"type": "string"}}},
            "content": {_JSON: {"schema": {"$ref": "#/components/schemas/Thing"}}},
        }
    },
}


@pytest.mark.parametrize(
    ("place", "wrong"),
    [
        ("responses/200/description", 7),
        ("responses/200/headers/ETag/required", 7),
        ("responses/200/content/application~1json/schema/$ref", "#/components/schemas/NoSuch"),
        ("parameters/0/in", "nowhere"),
        ("parameters/0/name", "other"),
        ("parameters/0/schema/minLength", -1),
        ("operationId", "get"),
    ],
)
def test_what_is_not_valid_is_noticed(place: str, wrong: object) -> None:
    """Wherever in an operation it is, though each part is looked at once."""
    right, broken = (json.loads(json.dumps(_SMALL)) for _ in range(2))
    part, (*names, last) = broken, [name.replace("~1", "/") for name in place.split("/")]
    for name in names:
        part = part[int(name)] if isinstance(part, list) else part[name]
    part[last] = wrong
    document: dict[str, Any] = {"openapi": "3.1.0", "info": {"title": "t", "version": "1"}}
    document["components"] = {"schemas": {"Thing": {"type": "object"}}}
    document["paths"] = {"/a/{id}": {"get": right | {"operationId": "get"}}}
    validate(_each_once(document))
    document["paths"]["/b/{id}"] = {"get": broken}
    with pytest.raises((OpenAPIValidationError, ValidationError, Unresolvable)):
        validate(_each_once(document))


def _null_defaults(part: Any) -> Iterator[Any]:
    if isinstance(part, dict):
        if part.get("default", 0) is None:
            yield part
        for name, inner in part.items():
            yield from () if name in ("example", "examples") else _null_defaults(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from _null_defaults(inner)


def test_every_operation_says_who_may() -> None:
    """By the roles of a key, or that none is asked for; and every property says what it is."""
    for _, _, operation in _OPERATIONS.values():
        roles = [role for one in operation["security"] for role in one.get("bearerKey", ())]
        assert bool(roles) == ("401" in operation["responses"])
    assert _OPERATIONS["publishDraft"][2]["security"] == [{"bearerKey": ["publisher", "admin"]}]
    assert _OPERATIONS["getHealth"][2]["security"] == []
    for schema in _DOCUMENT["components"]["schemas"].values():
        for name, property_ in schema.get("properties", {}).items():
            assert property_["description"], name
            assert not name.endswith("_kpa") or "kpa" in property_["description"].lower()
            assert "default" not in property_


def test_links_lead_to_operations() -> None:
    """Each names an operation, and parameters of its path."""
    links = [
        link
        for _, _, operation in _OPERATIONS.values()
        for response in operation["responses"].values()
        for link in response.get("links", {}).values()
    ]
    assert len(links) >= 9
    for link in links:
        _, path, _ = _OPERATIONS[link["operationId"]]
        assert all(f"{{{name}}}" in path for name in link["parameters"])


def test_facts_are_those_of_their_rule(sent: dict[str, httpx.Response]) -> None:
    """Each rule has a schema of its facts, and no answer here has a fact that its rule's schema does not name."""
    schemas = _DOCUMENT["components"]["schemas"]
    assert schemas["RuleId"]["enum"] == [rule.id for rule in RULES]
    found = [x for name in ("recallBill", "explainPart", "checkOrder") for x in _judged(sent[name].json())]
    assert len({rule for rule, _ in found}) > 5
    for rule, facts in found:
        assert facts.keys() <= schemas[f"{rule.title()}Facts"]["properties"].keys(), rule


def _judged(part: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each rule with its facts within an answer; cautions may be told by the names of checks."""
    if isinstance(part, dict):
        if {"rule", "facts"} <= part.keys():
            yield part["rule"], part["facts"]
        for name, inner in part.items():
            if name not in ("cautions", "checks", "extras"):
                yield from _judged(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from _judged(inner)
