"""What the OpenAPI document tells of every operation: its refusals, its headers, its examples."""

from collections.abc import Callable, Mapping
from typing import Any

from service.documents.problem import MEDIA_TYPE
from service.web.problems import PROBLEM_TYPES, Refusal, problem_of
from service.web.representations import CONTENT_LANGUAGE, JSON, MERGE_PATCH, NDJSON, REVISION

Responses = dict[int | str, dict[str, Any]]

OF_ID = ("unknown-id", "invalid-request", "no-catalog")
OF_BODY = ("malformed-json", "invalid-request", "unsupported-media-type", "body-timeout", "no-catalog")
"""The problems of operations on one thing by its id, and of those that take a body."""


class Later(dict[str, Any]):
    """An example that takes long to make: empty until the document is asked for, not made at every start."""

    def __init__(self, make: Callable[[], Any]) -> None:
        super().__init__()
        self.make = make


def _header(description: str, type_: str = "string", *, always: bool = True, **more: str) -> dict[str, Any]:
    return {"description": description, "required": always, "schema": {"type": type_, **more}}


_HEADERS: dict[str, Any] = {
    "X-Request-ID": _header("the id of the request", format="uuid"),
    "Cache-Control": _header("whether and how long the answer may be kept"),
    "Vary": _header("the headers of the request that the form of the answer goes by", always=False),
}
_TAG_HEADER = {"ETag": _header("a strong entity tag of the content")}
_REVISION_HEADER = {REVISION: _header("the revision that answered", "integer")}
_LOCATION_HEADER = {"Location": _header("the path of what was made")}
_PATH_HEADER = {"Location": _header("the path to go on to")}
_LINK_HEADER = {"Link": _header("the next page, as rel=next; not on the last one", always=False)}
_LANGUAGE_HEADER = {
    CONTENT_LANGUAGE: _header("the language of the texts; two where some of them stay English", always=False)
}
_VARY_HEADER = {"Vary": _header("the headers of the request that the form of the answer goes by")}
_STATUS_HEADERS: dict[int, dict[str, Any]] = {
    406: _VARY_HEADER,
    405: {"Allow": _header("the methods that the path takes")},
    415: {
        "Accept": _header("the media type that is taken", always=False),
        "Accept-Encoding": _header("the encoding that is taken", always=False),
    },
    412: {"ETag": _header("the entity tag that it has now", always=False)},
    429: {
        "Retry-After": _header("seconds to wait before the next try", "integer"),
        "RateLimit-Policy": _header("how many requests are allowed in how many seconds"),
        "RateLimit": _header("how many are left, and the seconds until there are more"),
    },
    503: {"Retry-After": _header("seconds to wait before the next try", "integer")},
    507: {"Retry-After": _header("seconds to wait before the next try", "integer")},
}
_ALWAYS = (
    "too-many-requests",
    "unknown-path",
    "method-not-allowed",
    "malformed-request",
    "head-timeout",
    "body-too-large",
    "address-too-long",
    "wrong-host",
    "head-too-large",
    "too-costly",
    "internal-error",
    "storage-unavailable",
    "overloaded",
)


def answers(
    description: str,
    example: Any,
    *codes: str,
    revision: bool = True,
    conditional: bool = True,
    paged: bool = False,
    also: Mapping[str, Any] | None = None,
    worded: bool = False,
) -> Responses:
    """The responses of an operation: its answer with an example, and every problem by status.

    `also`: the other media types in which it answers, each with its schema; `worded`: its texts are given in a
    language that is wished for.
    """
    headers = dict(_HEADERS)
    for told_too, more in (
        (revision, _REVISION_HEADER),
        (conditional, _TAG_HEADER),
        (paged, _LINK_HEADER),
        (worded, _LANGUAGE_HEADER),
        (also is not None or worded, _VARY_HEADER),
    ):
        headers |= more if told_too else {}
    told: Responses = {
        200: {
            "description": description,
            "headers": headers,
            "content": {JSON: {"example": example}}
            | {media_type: {"schema": schema} for media_type, schema in (also or {}).items()},
        }
    }
    if conditional:
        told[304] = {"description": "The caller has this already.", "headers": headers}
    return told | problems(*codes)


def created(
    description: str, again: str, model: Any, example: Any, *codes: str, revision: bool = True, worded: bool = False
) -> Responses:
    """The responses of an operation that makes a thing: 201, and 200 (`again`) where it had been made before."""
    told = answers(again, example, *codes, revision=revision, conditional=False, worded=worded)
    told[200] |= {"model": model, "headers": told[200]["headers"] | _LOCATION_HEADER}
    return {201: told[200] | {"description": description}, **told}


def worked_out(
    description: str, later: Any, later_example: Any, example: Any, *codes: str, paged: bool = False
) -> Responses:
    """The responses of an operation whose answer is worked out in the background: 202 with `Retry-After` (`later`)
    until it is there."""
    told = answers(description, example, *codes, paged=paged)
    waiting = {
        "description": "It is being worked out: ask again.",
        "model": later,
        "headers": _HEADERS | _REVISION_HEADER | _STATUS_HEADERS[503],
        "content": {JSON: {"example": later_example}},
    }
    return {200: told.pop(200), 202: waiting, **told}


def edited(
    description: str, model: Any, example: Any, *codes: str, may_be_new: bool, is_left: bool = True
) -> Responses:
    """The responses of an edit: 200 with the entity tag that it has now, unless it is gone; 201 for a new one."""
    told = answers(description, example, *codes, revision=False, conditional=False)
    told[200] |= {"model": model, "headers": told[200]["headers"] | (_TAG_HEADER if is_left else {})}
    if not may_be_new:
        return told
    new = {"description": "It is new.", "headers": told[200]["headers"] | _LOCATION_HEADER}
    return {201: told[200] | new, **told}


def made(description: str, example: Any, *codes: str) -> Responses:
    """The responses of an operation that makes a new thing each time: 201."""
    told = answers(description, example, *codes, revision=False, conditional=False)
    new = told.pop(200)
    return {201: new | {"headers": new["headers"] | _LOCATION_HEADER}, **told}


def accepted(description: str, example: Any, *codes: str) -> Responses:
    """The responses of an operation that begins work in the background: 202, with the path where to look."""
    told = made(description, example, *codes)
    begun = told.pop(201)
    return {202: begun | {"headers": begun["headers"] | _STATUS_HEADERS[503]}, **told}


def published(description: str, example: Any, later: Any, later_example: Any, *codes: str) -> Responses:
    """The responses of an operation that publishes: 201, or 202 while what it does is worked out."""
    told = worked_out(description, later, later_example, example, *codes)
    told.pop(304)
    new = {**told.pop(200), "headers": _HEADERS}
    return {201: new, **told}


def redirected(description: str, *codes: str) -> Responses:
    """The responses of an operation that leads on to another path."""
    return {302: {"description": description, "headers": _HEADERS | _PATH_HEADER}} | problems(*codes)


def streamed(description: str, line: Any, example: Any, *codes: str) -> Responses:
    """The responses of an operation that answers in lines of JSON, each of the model `line`."""
    content = {NDJSON: {"example": example}}
    told: Responses = {200: {"description": description, "model": line, "headers": _HEADERS, "content": content}}
    return told | problems(*codes)


def problems(*codes: str) -> Responses:
    """The problems of these codes and those of every operation, by status."""
    by_status: dict[int, list[str]] = {}
    for code in dict.fromkeys((*codes, *_ALWAYS)):
        by_status.setdefault(PROBLEM_TYPES[code].status, []).append(code)
    return {
        status: {
            "description": "; ".join(PROBLEM_TYPES[code].title for code in codes_of_status) + ".",
            "headers": _HEADERS | _STATUS_HEADERS.get(status, {}),
            "content": {MEDIA_TYPE: {"schema": ref("Problem"), "example": _example(codes_of_status[0])}},
        }
        for status, codes_of_status in sorted(by_status.items())
    }


def ref(schema: str) -> dict[str, str]:
    """The reference to a schema of the document."""
    return {"$ref": f"#/components/schemas/{schema}"}


def _example(code: str) -> dict[str, Any]:
    kind = PROBLEM_TYPES[code]
    return shown_problem(Refusal(code, f"{kind.meaning} {kind.remedy}"))


def shown_problem(refusal: Refusal) -> dict[str, Any]:
    """The example of a problem."""
    return problem_of(refusal, "3f8c2a5e-1d47-4b06-9a53-6c0f2e7d9b18").model_dump(exclude_none=True)


def json_body(schema: str, example: Any) -> dict[str, Any]:
    """The description of a required JSON body, for `openapi_extra`."""
    return {"requestBody": {"required": True, "content": {JSON: {"schema": ref(schema), "example": example}}}}


def patch_body(schema: str, example: Any) -> dict[str, Any]:
    """The description of a required body of a JSON Merge Patch, for `openapi_extra`."""
    content = {media_type: {"schema": ref(schema), "example": example} for media_type in (MERGE_PATCH, JSON)}
    return {"requestBody": {"required": True, "content": content}}


def lines_body(schema: str, example: Any) -> dict[str, Any]:
    """The description of a required body of JSON lines, for `openapi_extra`."""
    content = {NDJSON: {"schema": lines_of(ref(schema)), "example": example}}
    return {"requestBody": {"required": True, "content": content}}


def lines_of(line: dict[str, Any]) -> dict[str, Any]:
    """The schema of a text of JSON lines, each of the schema `line`."""
    says = "lines of JSON, each as `contentSchema` says"
    return {"type": "string", "description": says, "contentMediaType": JSON, "contentSchema": line}


def query(parameters: list[dict[str, Any]]) -> dict[str, Any]:
    """The description of parameters of the query or the header, for `openapi_extra`."""
    return {"parameters": parameters}
