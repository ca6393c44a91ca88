"""Content by Accept-Encoding: each form the same once decoded, with a tag of its own; short things as they are."""

import gzip

import pytest
import zstandard
from fastapi import FastAPI

from service.web.compressing import SHORTEST_BYTES, accepted
from tests.web.calls import call, get
from tests.web.conftest import QUESTION

DECODED = {"gzip": gzip.decompress, "zstd": zstandard.decompress}
LONG = "/v1/items"


@pytest.mark.parametrize(
    ("asked", "best"),
    [
        ("", None),
        ("identity", None),
        ("br", None),
        ("gzip", "gzip"),
        ("GZIP", "gzip"),
        ("gzip, zstd", "zstd"),
        ("gzip;q=1.0, zstd;q=0.5", "gzip"),
        ("gzip;q=0", None),
        ("*", "zstd"),
        ("*;q=0.1, zstd;q=0", "gzip"),
        ("zstd;q=x", "zstd"),
        ("gzip, " * 500, None),
    ],
)
def test_the_encoding_that_is_liked_best_is_taken(asked: str, best: str | None) -> None:
    """RFC 9110, section 12.5.3, by its weights; a header past all sense counts as none."""
    assert accepted([asked.encode()]) == best


@pytest.mark.parametrize("encoding", DECODED)
def test_each_form_is_the_same_content(app: FastAPI, encoding: str) -> None:
    """Shorter, varying by what is asked, with a tag of its own that gives 304; HEAD is as GET."""
    plain = get(app, LONG)
    asked = {"Accept-Encoding": encoding}
    form = get(app, LONG, headers=asked)
    assert (form.status_code, form.headers["content-encoding"]) == (200, encoding)
    assert int(form.headers["content-length"]) < len(plain.content) / 2
    assert form.json() == plain.json()
    for one in (plain, form):
        assert "Accept-Encoding" in one.headers["vary"]
    assert form.headers["etag"] != plain.headers["etag"]
    known = get(app, LONG, headers=asked | {"If-None-Match": form.headers["etag"]})
    assert (known.status_code, known.headers["etag"]) == (304, form.headers["etag"])
    assert get(app, LONG, headers={"If-None-Match": form.headers["etag"]}).status_code == 200
    bare = call(app, "HEAD", LONG, headers=asked)
    assert (bare.headers["content-length"], bare.headers["etag"]) == (
        form.headers["content-length"],
        form.headers["etag"],
    )


def test_short_things_stay_as_they_are(app: FastAPI) -> None:
    """They would hardly be shorter."""
    short = get(app, "/v1/bills", params=QUESTION | {"max_price": "1"}, headers={"Accept-Encoding": "gzip"})
    live = get(app, "/v1/health/live", headers={"Accept-Encoding": "gzip"})
    for answer in (short, live):
        assert (len(answer.content) < SHORTEST_BYTES) is ("content-encoding" not in answer.headers)
    assert "content-encoding" not in live.headers


def test_a_page_with_a_secret_is_not_compressed(app: FastAPI) -> None:
    """Its length would tell of the secret beside words that somebody else chose."""
    page = get(app, "/order", headers={"Accept-Encoding": "gzip"})
    assert page.status_code == 200
    assert ('name="form_token"' in page.text) is ("content-encoding" not in page.headers)
