"""An operation that is to go is told once, and headers, the document of the API and the page of policy agree on it.

Sources: RFC 9745 (the header Deprecation, its example and the link relation), RFC 8594 (the header Sunset, its example
date and that it is no earlier).
"""

import html
from datetime import UTC, date, datetime
from email.utils import parsedate_to_datetime
from pathlib import Path

import httpx
import pytest

from service.web.app import Application, create_app
from service.web.deprecations import DEPRECATED, Deprecation
from tests.support.catalogs import small_catalog
from tests.web.calls import call, get
from tests.web.conftest import library_in

FUELS = Deprecation(date(2018, 11, 11), date(2019, 5, 11), "GET /v1/materials")
TOLD = {"deprecation", "sunset"}


def test_headers_document_and_page_agree(tmp_path: Path) -> None:
    """Of one operation alone; its answers, its head, its sandbox and its refusals; a page keeps its next link."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library, deprecated={"listFuels": FUELS})
        answers = [
            get(app, "/v1/fuels?limit=1"),
            call(app, "HEAD", "/v1/fuels"),
            get(app, "/v1/fuels?limit=nothing"),
            get(app, "/sandbox/v1/fuels"),
        ]
        assert [answer.status_code for answer in answers] == [200, 200, 422, 200]
        for answer in answers:
            _holds(answer)
        assert 'rel="next"' in answers[0].headers["link"]
        for path in ("/v1/fuels/e85", "/v1/materials", "/policy", "/v1/nothing"):
            assert not TOLD & get(app, path).headers.keys()
        page = html.unescape(get(app, "/policy").text)
    assert "Nothing is deprecated now" not in page
    assert "Deprecated now: GET /v1/fuels from 2018-11-11 on, ends on 2019-05-11: GET /v1/materials." in page
    assert _marked(app) == {"listFuels"}
    operation = app.openapi()["paths"]["/v1/fuels"]["get"]
    assert "2019-05-11" in operation["description"]
    assert "GET /v1/materials" in operation["description"]
    assert all({"Deprecation", "Sunset"} <= response["headers"].keys() for response in operation["responses"].values())


def _holds(answer: httpx.Response) -> None:
    """Dates as the two RFCs write them: seconds since 1970 behind an @, and an HTTP date in GMT."""
    since, ends = answer.headers["deprecation"], parsedate_to_datetime(answer.headers["sunset"])
    assert since.startswith("@")
    assert datetime.fromtimestamp(int(since.removeprefix("@")), UTC) == datetime(2018, 11, 11, tzinfo=UTC)
    assert answer.headers["sunset"].endswith(" GMT")
    assert ends == datetime(2019, 5, 11, tzinfo=UTC)
    assert '</policy>; rel="deprecation"; type="text/html"' in answer.headers["link"]


def _marked(app: Application) -> set[str]:
    operations = (one for operations in app.openapi()["paths"].values() for one in operations.values())
    return {one["operationId"] for one in operations if one.get("deprecated")}


def test_today_s_declaration(app: Application) -> None:
    """What the served document marks is what is declared; the page says so of none."""
    assert _marked(app) == set(DEPRECATED)
    assert ("Nothing is deprecated now." in get(app, "/policy").text) is (not DEPRECATED)


def test_what_is_declared_wrongly_is_refused() -> None:
    """An end that comes too soon, and an operation that there is not."""
    with pytest.raises(ValueError, match="at least 180 days"):
        Deprecation(date(2026, 1, 1), date(2026, 6, 1), "nothing")
    with pytest.raises(ValueError, match="no such operation: getFuel"):
        create_app(deprecated={"getFuel": FUELS})
