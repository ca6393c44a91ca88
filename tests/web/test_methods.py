"""Methods, paths, conditional requests and the headers that every answer has."""

import re

import pytest
from fastapi import FastAPI

from tests.web.calls import HEX_UUID, ask, call, get, problem
from tests.web.conftest import QUESTION

_PATHS = [
    *("/v1/items", "/v1/items/PLUG-T", "/v1/items?limit=2", "/v1/chassis", "/v1/chassis/brook"),
    *("/v1/chassis/brook/layouts", "/v1/layouts/factory", "/v1/addons", "/v1/fuels/petrol", "/v1/materials"),
    *("/v1/port-standards/taper-1/8", "/v1/schema/catalog", "/v1/problems/unknown-id", "/openapi.json"),
]
_HEALTH = ["/v1/health", "/v1/health/live", "/v1/health/ready"]


@pytest.mark.parametrize("path", [*_PATHS, *_HEALTH, "/v1/items/none", "/v1/nowhere", "/v1/items?limit=0"])
def test_head_is_get_without_content(app: FastAPI, path: str) -> None:
    """The same status and headers, errors included."""
    whole, bare = get(app, path), call(app, "HEAD", path)
    assert (bare.status_code, bare.content) == (whole.status_code, b"")
    assert int(bare.headers["content-length"]) == len(whole.content)
    for response in (whole, bare):
        del response.headers["x-request-id"]
    assert bare.headers == whole.headers


@pytest.mark.parametrize(
    ("method", "path", "allow"),
    [
        ("GET", "/v1/explain", "OPTIONS, POST"),
        ("HEAD", "/v1/explain", "OPTIONS, POST"),
        ("POST", "/v1/items", "GET, HEAD, OPTIONS"),
        ("PUT", "/v1/bills", "GET, HEAD, OPTIONS, POST"),
        ("DELETE", "/v1/bills/1x", "GET, HEAD, OPTIONS"),
        ("PATCH", "/v1/chassis/brook/layouts", "GET, HEAD, OPTIONS"),
        ("TRACE", "/v1/health/live", "GET, HEAD, OPTIONS"),
        ("BREW", "/openapi.json", "GET, HEAD, OPTIONS"),
    ],
)
def test_other_methods_are_405(app: FastAPI, method: str, path: str, allow: str) -> None:
    """Allow has every method of the path, whichever route it belongs to."""
    response = call(app, method, path)
    assert (response.status_code, response.headers["allow"]) == (405, allow)
    if method != "HEAD":
        problem(response, 405, "method-not-allowed")


@pytest.mark.parametrize(
    ("path", "allow"), [("/v1/bills", "GET, HEAD, OPTIONS, POST"), ("/v1/items/x/y", "GET, HEAD, OPTIONS")]
)
def test_options_tells_the_methods(app: FastAPI, path: str, allow: str) -> None:
    """Without content."""
    response = call(app, "OPTIONS", path)
    assert (response.status_code, response.headers["allow"], response.content) == (204, allow, b"")


@pytest.mark.parametrize("method", ["GET", "POST", "OPTIONS", "DELETE"])
@pytest.mark.parametrize("path", ["/v1", "/v1/bill", "/v1/items2", "//v1/items", "/docs", "/%00", "/v1/bills/a/b"])
def test_unknown_paths_are_404(app: FastAPI, method: str, path: str) -> None:
    """Whatever the method."""
    problem(call(app, method, path), 404, "unknown-path")


def test_an_unknown_path_is_told_the_nearest(app: FastAPI) -> None:
    """A slip of the pen is easily put right."""
    assert "nearest: /v1/bills" in problem(get(app, "/v1/bill"), 404, "unknown-path")["detail"]


@pytest.mark.parametrize("path", _PATHS)
def test_what_the_caller_has_is_not_sent_again(app: FastAPI, path: str) -> None:
    """By a strong ETag of the bytes; compared weakly, in lists, or with *."""
    whole = get(app, path)
    tag = whole.headers["etag"]
    assert re.fullmatch(r'"[0-9a-f]{32,64}"', tag)
    assert get(app, path).headers["etag"] == tag
    for given in (tag, f"W/{tag}", f'"other", {tag}', f'W/"a,b" ,{tag}', "*"):
        for method in ("GET", "HEAD"):
            bare = call(app, method, path, headers={"If-None-Match": given})
            assert (bare.status_code, bare.content) == (304, b"")
            for name in ("etag", "cache-control"):
                assert bare.headers[name] == whole.headers[name]
            assert bare.headers.get("x-catalog-revision") == whole.headers.get("x-catalog-revision")
    for given in ('"other"', tag.strip('"'), "", f'"x{tag[1:]}'):
        assert get(app, path, headers={"If-None-Match": given}).status_code == 200


def test_two_header_lines_are_one_list(app: FastAPI) -> None:
    """If-None-Match may come in several lines."""
    tag = get(app, "/v1/fuels").headers["etag"]
    headers = [("If-None-Match", '"other"'), ("If-None-Match", tag)]
    assert get(app, "/v1/fuels", headers=headers).status_code == 304


def test_other_content_has_another_etag(app: FastAPI) -> None:
    """The ETag of one revision is not taken for the other's."""
    tag = get(app, "/v1/items?revision=1").headers["etag"]
    assert get(app, "/v1/items?revision=2", headers={"If-None-Match": tag}).status_code == 200


@pytest.mark.parametrize(
    ("path", "caching"),
    [
        ("/v1/items", "no-cache"),
        ("/v1/items?revision=2", "public, max-age=3600"),
        ("/v1/fuels/petrol", "no-cache"),
        ("/v1/fuels/petrol?revision=1", "public, max-age=3600"),
        ("/v1/health/live", "no-store"),
        ("/v1/items/none", "no-store"),
        ("/v1/items/none?revision=1", "no-store"),
    ],
)
def test_only_what_stays_is_kept(app: FastAPI, path: str, caching: str) -> None:
    """A named revision does not change; the newest does; errors and health are never kept."""
    assert get(app, path).headers["cache-control"] == caching


@pytest.mark.parametrize("path", ["/v1/items", "/v1/health", "/v1/items/none", "/v1/nowhere", "/v1/items?limit=0"])
def test_every_answer_has_its_id_and_safe_headers(app: FastAPI, path: str) -> None:
    """Also an error; each id is another."""
    first, second = get(app, path), get(app, path)
    assert first.headers["x-content-type-options"] == "nosniff"
    assert re.fullmatch(HEX_UUID, first.headers["x-request-id"])
    assert first.headers["x-request-id"] != second.headers["x-request-id"]


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("2f1f6a5e-0b1c-4d2e-8f3a-4b5c6d7e8f90", True),
        ("2F1F6A5E-0B1C-4D2E-8F3A-4B5C6D7E8F90", True),
        ("x", False),
        ("2f1f6a5e-0b1c-4d2e-8f3a-4b5c6d7e8f90-", False),
        ("", False),
    ],
    ids=["UUID", "capitals", "other", "longer", "empty"],
)
def test_the_caller_s_id_is_kept_if_it_is_a_uuid(app: FastAPI, given: str, kept: bool) -> None:
    """Anything else could spoil a log."""
    answered = get(app, "/v1/health/live", headers={"X-Request-ID": given}).headers["x-request-id"]
    assert (answered == given.lower()) is kept


def test_a_get_with_a_large_body_is_refused(app: FastAPI) -> None:
    """The limit holds for every operation."""
    problem(call(app, "GET", "/v1/items", content=b" " * 300_000), 413, "body-too-large")


def test_a_question_is_answered_in_json(app: FastAPI) -> None:
    """Without a charset, which JSON has not."""
    assert ask(app, QUESTION).headers["content-type"] == "application/json"
