"""Each request that the OpenAPI document shows, sent as it stands to the seed catalog, gives what is shown."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import sleep
from typing import Any, NamedTuple
from urllib.parse import quote

import httpx
import pytest

from service.documents.folder import load_catalog, seed_folder
from service.documents.problem import MEDIA_TYPE
from service.rules import RULES
from service.tables.csv_files import write_csv
from service.usecases.standing import KeptQuestions
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
_OWN = (
    ("beginDraft", "patchDraftObject", "deleteDraft"),
    ("beginDraft", "removeDraftObject", "putDraftObject"),
    ("beginDraft", "bringDraftTables"),
    ("beginDraft", "patchDraftObject", "publishDraft"),
)
"""What is sent to a thing of its own, in turn."""
_OF_TWO = (
    ("listChanges", "getImpact"),
    ("beginSweep", "cancelSweep"),
    ("beginSweep", "getSweep", "getSweepImpact"),
    ("restoreRevision",),
)
"""The same once there is a second revision: the draft, published."""
_BUT = {
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
_LATER = {name for names in (*_OWN, *_OF_TWO) for name in names} - {"putDraftObject"}
_ORDER = (*_FIRST, *(name for name in _OPERATIONS if name not in {*_FIRST, *_ENDINGS, *_LATER}), *_ENDINGS)


class Reply(NamedTuple):
    """An answer; `text` has the ids that the document shows in the place of this service's own."""

    status: int
    text: str

    def json(self) -> Any:
        return _json(self.text)


Sent = dict[str, list[Reply]]


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sent]:
    """The answers to each request of the document, by its operation: what makes a thing before what asks."""
    file = tmp_path_factory.mktemp("seed") / "catalog.sqlite3"
    with library_in(file, load_catalog(seed_folder()).model_dump(exclude_none=True)) as library:
        kept: dict[str, Any] = {
            "kept_inquiries": inquiries_of(library),
            "links": links_of(library),
            "readings": readings_of(library),
            "standing": KeptQuestions(),
        }
        kept |= {"kept_webhooks": webhooks_of(library), "kept_sweeps": sweeps_of(library)}
        app = create_app(
            library, checks_of(library), **kept, kept_drafts=drafts_of(library), partner_cases=cases_of(library)
        )
        with caller(app) as client:
            answers: Sent = {}
            for names in (_ORDER, *_OWN, *_OF_TWO):
                own: Sent = {}
                for name in names:
                    own[name] = list(_send(client, name, own))
                    answers.setdefault(name, []).extend(own[name])
                    answers[f"{name}?"] = list(_send(client, name, own, {"nonsense": "1"}))
                    for parameter, wish in _wishes(_OPERATIONS[name][2]):
                        answers[f"{name}?{parameter}"] = list(_send(client, name, own, wish))
        yield answers


def _table() -> bytes:
    """The items as a CSV of the catalog's own export, with the price that the examples of drafts change."""
    catalog = load_catalog(seed_folder()).model_dump(exclude_none=True)
    dearer = draft_examples.item()
    items = [dearer if item["sku"] == dearer["sku"] else item for item in catalog["items"]]
    with TemporaryDirectory() as folder:
        write_csv(packed_of(catalog | {"items": items}), Path(folder) / "tables")
        return (Path(folder) / "tables" / "items.csv").read_bytes()


def _wishes(operation: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The parameters that need not be given, each with its example."""
    for one in operation.get("parameters", []):
        if one["in"] == "query" and not one["required"] and "examples" in one["schema"]:
            yield one["name"], {one["name"]: one["schema"]["examples"][0]}


def _send(client: Caller, name: str, answers: Sent, wishes: dict[str, Any] | None = None) -> Iterator[Reply]:
    """Yield what is answered: also what is said while it is worked out, and to whoever sends the same again."""
    method, path, operation = _OPERATIONS[name]
    parameters, ids = operation.get("parameters", []), list[tuple[str, str]]()
    for parameter in parameters:
        if parameter["in"] == "path":
            shown = str(parameter["schema"]["examples"][0])
            value = _of_this_service(path, parameter["name"], answers) or shown
            path = path.replace(f"{{{parameter['name']}}}", quote(value, safe=""))
            ids.append((value, shown))
    takes = {one["name"] for one in parameters if one["in"] == "header"}
    options: dict[str, Any] = {"params": _query(operation) | (wishes or {}), "headers": {}}
    if "If-Match" in takes:
        is_new = name == "putDraftObject" and "removeDraftObject" in answers
        options["headers"]["If-None-Match" if is_new else "If-Match"] = "*"
    if "Idempotency-Key" in takes:
        options["headers"]["Idempotency-Key"] = name
    bodies = list(_bodies(operation)) or [{}]
    is_kept_once = {"200", "201"} <= operation["responses"].keys() and method == "POST"
    for body in bodies * 2 if is_kept_once else bodies:
        sent = options | body | {name: options[name] | body.get(name, {}) for name in ("params", "headers")}
        response = client.request(method, path, **sent)
        if response.status_code == 202:
            yield Reply(202, _with_ids(response.text, ids))
        while name != "beginSweep" and (response.status_code == 202 or '"status":"running"' in response.text):
            sleep(0.05)
            response = client.request(method, path, **sent)
        if response.status_code != 202:
            yield Reply(response.status_code, _with_ids(response.text, ids))


def _with_ids(text: str, ids: Iterable[tuple[str, str]]) -> str:
    for own, shown in ids:
        text = text.replace(own, shown)
    return text


def _bodies(operation: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Each form of the body that is shown; a file has no example."""
    for media_type, content in operation.get("requestBody", {}).get("content", {}).items():
        headers = {"headers": {"Content-Type": media_type}}
        if media_type in (_JSON, _PATCH):
            yield {"json": content["example"], **headers}
        elif media_type == _LINES:
            yield {"content": content["example"], **headers}
        elif media_type == _CSV:
            yield {"content": _table(), "params": {"table": "items"}, **headers}


def _query(operation: dict[str, Any]) -> dict[str, Any]:
    """The parameters that are asked for; of the others those that say how much is shown."""
    return {
        one["name"]: one["schema"]["examples"][0]
        for one in operation.get("parameters", [])
        if one["in"] == "query" and (one["required"] or one["name"] == _HOW_MUCH.get(operation["operationId"], "limit"))
    }


def _of_this_service(path: str, name: str, answers: Sent) -> str | None:
    """The id of what was made before."""
    for start, maker in (
        ("/v1/drafts/", "beginDraft"),
        ("/v1/order-checks/", "checkOrder"),
        ("/v1/inq", "sendInquiry"),
        ("/v1/webhooks/", "makeWebhook"),
        ("/v1/sweeps/", "beginSweep"),
    ):
        if name == "id" and path.startswith(start):
            return str(answers[maker][0].json()["id"])
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


@pytest.mark.parametrize("name", list(_OPERATIONS))
def test_a_request_gives_what_is_shown(sent: Sent, name: str) -> None:
    """Statuses and contents, but for ids and times; what is worked out behind people says so first, as is shown."""
    responses = _OPERATIONS[name][2]["responses"]
    statuses = {str(reply.status) for reply in sent[name]}
    assert statuses == {status for status in responses if status < "304"}, sent[name]
    for status, text in sent[name]:
        content = responses[str(status)].get("content", {})
        if _LINES in content:
            lines = zip(content[_LINES]["example"].splitlines(), text.splitlines(), strict=True)
            assert [x for one, other in lines for x in _differs(_json(one), _json(other))] == []
        elif _JSON in content:
            shown, got = content[_JSON]["example"], _json(text)
            if name in _BEGINNINGS:
                got = {one: got[one] for one in shown}
            left = [f"/{one}" for one in _BUT.get(name, ())]
            assert [one for one in _differs(shown, got) if not one.startswith(tuple(left))] == []


def test_what_is_shown_of_a_parameter_is_taken(sent: Sent) -> None:
    """Each parameter that need not be given, by itself."""
    taken = {name: {x.status for x in replies} for name, replies in sent.items() if "?" in name.removesuffix("?")}
    assert len(taken) > 60
    assert {name: statuses for name, statuses in taken.items() if not statuses <= {200, 202}} == {}


def test_what_is_not_known_is_refused_as_is_shown(sent: Sent) -> None:
    """Of each operation that shows how a request is refused."""
    shown = {
        name: one["responses"]["422"]["content"][MEDIA_TYPE]["example"] for name, (_, _, one) in _OPERATIONS.items()
    }
    refused = {name: one for name, one in shown.items() if one["type"] == "/v1/problems/invalid-request"}
    assert len(refused) > 60
    wrong = {name: list(_differs(one, sent[f"{name}?"][0].json())) for name, one in refused.items()}
    assert {name: told for name, told in wrong.items() if told} == {}


def _json(text: str) -> Any:
    return httpx.Response(200, text=text).json()


def test_facts_are_those_of_their_rule(sent: Sent) -> None:
    """Each rule has a schema of its facts, and no answer here has a fact that its rule's schema does not name."""
    schemas = _DOCUMENT["components"]["schemas"]
    assert schemas["RuleId"]["enum"] == [rule.id for rule in RULES]
    found = [x for name in ("recallBill", "explainPart", "checkOrder") for x in _judged(sent[name][0].json())]
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
