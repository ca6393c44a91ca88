"""What the API promises of requests and answers as such: refusals, tags, caches, methods, idempotency, compression."""

import json
import secrets
from collections.abc import Iterator
from typing import Any

import httpx

from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.site import NotTriedError, Site, given
from service.documents.question_parameters import query_of

_TWO = 2
_FOREIGN_TAG = '"0123456789abcdef0123456789abcdef"'
_BAD_BODIES: tuple[tuple[str, str, bytes, int, str, str | None], ...] = (
    ("an empty question", "/v1/bills", b"{}", 422, "invalid-request", "#/chassis"),
    ("a question with a wrong type", "/v1/bills", b'{"chassis":1,"layout":[]}', 422, "invalid-request", "#/layout"),
    ("a number that JSON does not have", "/v1/bills", b'{"chassis":"a","power_kw":NaN}', 422, "invalid-request", ""),
    ("a body that is no JSON", "/v1/bills", b"{", 400, "malformed-json", None),
    (
        "a question with a field that is none",
        "/v1/bills",
        b'{"chassis":"a","layout":"b","no_such":1}',
        422,
        "",
        "#/no_such",
    ),
    ("a limit out of range", "/v1/bills", b'{"chassis":"a","layout":"b","limit":0}', 422, "invalid-request", "#/limit"),
    ("an order to be read without its text", "/v1/orders/read", b"{}", 422, "invalid-request", "#/text"),
    ("an order without lines", "/v1/order-checks", b'{"chassis":"a","lines":[]}', 422, "invalid-request", "#/lines"),
    ("an explanation of nothing", "/v1/explain", b"{}", 422, "invalid-request", "#/sku"),
    ("a joint with one side", "/v1/joints", b'{"one":{"sku":"a"}}', 422, "invalid-request", "#/other"),
)
"""What is sent, where, and the refusal: status, type and the field that it names. Nothing: any will do."""
_BAD_PATHS: tuple[tuple[str, str, int, str, str | None], ...] = (
    ("an unknown query parameter", "/v1/items?no_such_name=1", 422, "invalid-request", "no_such_name"),
    ("a number out of range in the query", "/v1/items?limit=0", 422, "invalid-request", "limit"),
    ("an unknown revision", "/v1/items?revision=2147483647", 404, "unknown-id", "revision"),
    ("an unknown path", "/v1/no-such-path", 404, "", None),
    ("an unknown key of a bill", "/v1/bills/1no-such-key", 404, "unknown-id", "key"),
    ("an unknown order check", "/v1/order-checks/no-such-check", 404, "unknown-id", "id"),
)


def errors_are_problems(site: Site) -> Iterator[Broken]:
    """Bad input is refused with a problem document (RFC 9457) that names the field, and never with a 5xx."""
    for what, path, body, status, code, at in _BAD_BODIES:
        response = site.post(path, body)
        yield from faults_of_problem(what, response, status, code=code or None, at=at or None)
    for what, path, status, code, at in _BAD_PATHS:
        yield from faults_of_problem(what, site.get(path), status, code=code or None, at=at)
    plain = site.send("POST", "/v1/bills", content=b"{}", Content_Type="text/plain")
    yield from faults_of_problem("a body of another type", plain, 415, code="unsupported-media-type")
    refused = site.get("/v1/no-such-path")
    page = str(object_of(refused).get("type", ""))
    about = site.get(page) if page.startswith("/v1/problems/") else None
    if about is not None and about.status_code != httpx.codes.OK:
        yield Broken(f"{page}, the type of a problem, leads to no page about it", "", "200")
    elif about is not None and object_of(about).get("title") != object_of(refused).get("title"):
        told, meant = str(object_of(refused).get("title")), str(object_of(about).get("title"))
        yield Broken("a problem has another title than the page about it", "#/title", meant, told)


def methods_are_told(site: Site) -> Iterator[Broken]:
    """A method that a path does not take gives 405 with those that it takes; HEAD is GET without content."""
    for path, methods in (("/v1/layouts", {"GET", "HEAD"}), ("/v1/bills", {"GET", "HEAD", "POST"})):
        for method in ("PUT", "OPTIONS"):
            response = site.send(method, path)
            if method == "PUT":
                yield from faults_of_problem(f"PUT {path}", response, 405, code="method-not-allowed")
            told = {one.strip() for one in response.headers.get("allow", "").split(",")}
            if not methods <= told:
                expected, got = ", ".join(sorted(methods)), response.headers.get("allow", "none")
                yield Broken(f"{method} {path} does not tell in Allow what the path takes", "Allow", expected, got)
    for path in ("/v1/layouts", "/v1/items?limit=1", "/v1/items/no-such-part"):
        whole, head = given(site.get(path)), given(site.send("HEAD", path))
        if head.content:
            yield Broken(f"HEAD {path} is answered with content", "", "no content", f"{len(head.content)} bytes")
        if head.status_code != whole.status_code:
            yield Broken(f"HEAD {path} has another status than GET", "", str(whole.status_code), str(head.status_code))
        for name in ("etag", "cache-control", "content-type", "x-catalog-revision"):
            if head.headers.get(name) != whole.headers.get(name):
                got = head.headers.get(name, "none")
                yield Broken(f"HEAD {path} has another {name} than GET", name, whole.headers.get(name, "none"), got)


def requests_are_conditional(site: Site) -> Iterator[Broken]:
    """What can be cached has a strong entity tag; who has it, and nobody else, is answered 304 (RFC 9110)."""
    asked: list[tuple[str, dict[str, str]]] = [("/v1/layouts", {}), ("/v1/contract/cases", {}), ("/v1/items", {})]
    if site.bill_cases(has_bill=True):
        asked.append(("/v1/bills", query_of(site.question())))
    for path, params in asked:
        first = given(site.get(path, params))
        tag = first.headers.get("etag", "")
        if not (tag.startswith('"') and tag.isascii()):
            yield Broken(f"GET {path} has no strong ETag: found {tag!r}", "ETag", "a strong entity tag", tag or "none")
            continue
        again = site.get(path, params, If_None_Match=tag)
        if again.status_code != httpx.codes.NOT_MODIFIED or again.content:
            told = f"GET {path} with If-None-Match of its own ETag gives {again.status_code}, not 304 without content"
            yield Broken(told, "", "304", str(again.status_code))
        elif again.headers.get("etag") != tag:
            yield Broken(
                f"GET {path} with If-None-Match gives another ETag", "ETag", tag, again.headers.get("etag", "")
            )
        foreign = site.get(path, params, If_None_Match=_FOREIGN_TAG)
        if foreign.status_code != httpx.codes.OK:
            told = f"GET {path} with an entity tag that is not its own gives {foreign.status_code}, not 200"
            yield Broken(told, "", "200 with the whole answer", str(foreign.status_code))


def tags_go_by_revision(site: Site) -> Iterator[Broken]:
    """Two answers that differ have different tags: another revision is not told to be the one that is known."""
    revisions = object_of(site.get("/v1/revisions", {"limit": "2"})).get("results", [])
    if len(revisions) < _TWO:
        raise NotTriedError("the service has one revision only")
    for path in ("/v1/items", "/v1/layouts"):
        newer, older = (site.get(path, {"revision": str(one["number"])}) for one in revisions[:2])
        tag = older.headers.get("etag")
        if newer.content != older.content and newer.headers.get("etag") == tag:
            yield Broken(f"GET {path} has the same ETag in two revisions that differ", "ETag", "another tag", str(tag))
        known = site.get(path, {"revision": str(revisions[0]["number"])}, If_None_Match=str(tag))
        if newer.content != older.content and known.status_code != httpx.codes.OK:
            told = f"GET {path} of the newest revision gives {known.status_code} to who knows an older one"
            yield Broken(told, "", "200", str(known.status_code))


def caches_are_told(site: Site) -> Iterator[Broken]:
    """Cache-Control fits each kind: what changes is asked for again, what is pinned lasts, the rest is not shared."""
    revision = site.header("x-catalog-revision") if site.get("/v1/layouts").is_success else None
    kinds = [
        ("GET", "/v1/layouts", "no-cache", "the newest of a list"),
        ("GET", f"/v1/layouts?revision={revision}", "max-age", "a list of a revision"),
        ("GET", "/v1/contract/cases", "private", "the standing cases"),
        ("GET", "/v1/health", "no-store", "health"),
    ]
    for method, path, directive, what in kinds:
        response = site.send(method, path)
        found = response.headers.get("cache-control", "")
        if directive not in found:
            got = found or "none"
            yield Broken(f"{what} is cached in another way than it may be", "Cache-Control", directive, got)
    if site.bill_cases(has_bill=True):
        asked = site.post("/v1/bills", json.dumps(site.question()).encode())
        found = asked.headers.get("cache-control", "")
        if "no-store" not in found:
            yield Broken("what was asked by POST may be kept by caches", "Cache-Control", "no-store", found or "none")


def compressions_are_alike(site: Site) -> Iterator[Broken]:
    """An answer is the same in each compression, says which it has, and that it hangs on what is accepted."""
    plain = site.get("/v1/layouts", Accept_Encoding="identity")
    for coding in ("gzip", "zstd", "deflate"):
        packed = site.get("/v1/layouts", Accept_Encoding=coding)
        used = packed.headers.get("content-encoding", "identity")
        if used not in (coding, "identity"):
            yield Broken(f"an answer comes as {used} to who accepts {coding}", "Content-Encoding", coding, used)
        elif packed.content != plain.content:
            yield Broken(f"an answer by {coding} is another than without compression", "", "the same content")
        if used != "identity" and "accept-encoding" not in packed.headers.get("vary", "").lower():
            got = packed.headers.get("vary", "none")
            yield Broken(
                "a compressed answer does not say that it hangs on Accept-Encoding", "Vary", "Accept-Encoding", got
            )


def keys_are_kept(site: Site) -> Iterator[Broken]:
    """The same order with the same Idempotency-Key is kept once; another order with it is refused."""
    question = site.question()
    item = next(iter(object_of(site.get("/v1/items", {"limit": "1"})).get("results", [])), None)
    if item is None:
        raise NotTriedError("the catalog has no items")
    order: dict[str, Any] = {"chassis": question["chassis"], "lines": [{"sku": item["sku"], "qty": 1}]}
    key = secrets.token_hex(16)
    first, second = (_sent(site, order, key) for _ in range(2))
    if not first.is_success:
        yield from _not_kept(first)
        return
    if object_of(first).get("id") != object_of(second).get("id"):
        yield Broken("the same order with the same Idempotency-Key was kept twice", "#/id", "the same id", "another")
    elif first.content != second.content:
        yield Broken("the same order with the same Idempotency-Key is not answered the same", "", "the same answer")
    other = _sent(site, order | {"lines": [{"sku": item["sku"], "qty": 2}]}, key)
    if other.status_code not in (httpx.codes.CONFLICT, httpx.codes.UNPROCESSABLE_ENTITY):
        got = str(other.status_code)
        yield Broken(f"another order with the same Idempotency-Key gives {got}, not 409 or 422", "", "409 or 422", got)


def _sent(site: Site, order: dict[str, Any], key: str) -> httpx.Response:
    return given(site.post("/v1/order-checks", json.dumps(order).encode(), Idempotency_Key=key))


def _not_kept(response: httpx.Response) -> Iterator[Broken]:
    got = str(response.status_code)
    yield Broken(f"an order with an Idempotency-Key gives {got}", "", "201", got)


def object_of(response: httpx.Response) -> dict[str, Any]:
    """The JSON object of an answer; what is none is empty. Raises BrokenAnswerError where there is no answer now."""
    try:
        data = given(response).json()
    except ValueError:
        return {}
    return data if isinstance(data, dict) else {}


def origins_are_told_apart(site: Site) -> Iterator[Broken]:
    """A page of an origin that nobody allowed may not read what is answered, nor send a caller's credentials along."""
    response = site.get("/v1/layouts", {"limit": "1"}, Origin="https://no-such-shop.invalid")
    allowed = response.headers.get("access-control-allow-origin")
    if allowed is not None:
        yield Broken("pages of any origin are allowed to read", "Access-Control-Allow-Origin", "none", allowed)
    if response.headers.get("access-control-allow-credentials") is not None:
        yield Broken("pages of another origin may send credentials", "Access-Control-Allow-Credentials", "none", "told")
