"""Who we are: by which hosts the service is asked, and by which address its links are told."""

import pytest
from fastapi import FastAPI

from service.usecases.library import Library
from service.web.app import create_app
from service.web.pages.qr import LONGEST
from service.web.site import Site, host_of, site_of
from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION, links_of

HTML = {"Accept": "text/html"}


@pytest.mark.parametrize(
    "host",
    ["127.0.0.1", "127.0.0.1:8000", "localhost", "LOCALHOST:1", "localhost.:80", "[::1]", "[::1]:81", "[0:0::1]"],
)
def test_loopback_is_answered(app: FastAPI, host: str) -> None:
    """By any of its names, whatever the port."""
    assert get(app, "/v1/items", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        *("evil.example", "127.0.0.1.evil.example", "evil.example:127", "a@127.0.0.1", "127.0.0.1@evil.example"),
        *("127.0.0.1:x", "127.0.0.1:99999", "127.0.0.1/a", "127.0.0.1?a", "//127.0.0.1", "[::1", "[::2]", "", " "),
        "h" * 2_500,
    ],
)
@pytest.mark.parametrize("path", ["/v1/items", "/ask", "/nothing"])
def test_other_hosts_are_refused(app: FastAPI, host: str, path: str) -> None:
    """With a problem that names it, cut short; a page as well as the API."""
    response = get(app, path, headers={"Host": host})
    [(place, found, _)] = told(problem(response, 421, "wrong-host"))
    assert place == "Host"
    assert len(found) <= 60


def test_health_is_told_to_whoever_asks(app: FastAPI) -> None:
    """What looks after a container has names of its own; no other path begins so."""
    for path in ("/v1/health", "/v1/health/live", "/v1/health/ready"):
        assert get(app, path, headers={"Host": "pod.internal"}).status_code == 200
    assert get(app, "/v1/healthy", headers={"Host": "pod.internal"}).status_code == 421


def test_a_host_is_told_once(app: FastAPI) -> None:
    """Two may mean two things, to a proxy before us and to us."""
    headers = [("Host", "127.0.0.1"), ("Host", "localhost")]
    problem(get(app, "/v1/items", headers=headers), 400, "malformed-request")


@pytest.fixture(scope="module", name="public")
def _public(library: Library) -> FastAPI:
    return create_app(library, links=links_of(library), site=site_of("https://parts.example", ["inside.example"]))


def test_links_have_the_public_address(public: FastAPI) -> None:
    """Whatever host is asked: what may be cached by others holds nothing that one of them sent."""
    key = ask(public, QUESTION, headers={"Host": "inside.example"}).json()["bills"][0]["key"]
    path = f"/v1/bills/{key}/sheet"
    pages = [get(public, path, headers=HTML | {"Host": host}) for host in ("parts.example", "inside.example:81")]
    assert pages[0].text == pages[1].text
    assert pages[0].headers["etag"] == pages[1].headers["etag"]
    assert f'<a href="https://parts.example{path}">' in pages[0].text
    made = call(public, "POST", f"/v1/bills/{key}/link", headers={"Host": "inside.example"})
    assert made.headers["location"].startswith("/b/")
    problem(get(public, path, headers={"Host": "127.0.0.1"}), 421, "wrong-host")


def test_a_sheet_writes_nothing(library: Library) -> None:
    """It needs no store of links, and is the same before and after its short link is made."""
    without = create_app(library)
    key = ask(without, QUESTION).json()["bills"][0]["key"]
    page = get(without, f"/v1/bills/{key}/sheet", headers=HTML)
    assert page.status_code == 200
    made = create_app(library, links=links_of(library))
    call(made, "POST", f"/v1/bills/{key}/link")
    assert get(made, f"/v1/bills/{key}/sheet", headers=HTML).text == page.text


def test_an_address_that_is_too_long_for_a_code_has_none(library: Library) -> None:
    """As of a question with hundreds of wishes: the sheet is made all the same."""
    key = ask(create_app(library), QUESTION).json()["bills"][0]["key"]
    path = f"/v1/bills/{key}/sheet"
    for more, codes in ((0, 1), (1, 0)):
        url = "https://" + "a" * (LONGEST - len("https://") - len(path) + more)
        app = create_app(library, site=Site(url, frozenset({"127.0.0.1"})))
        page = get(app, path, headers=HTML)
        assert (page.status_code, page.text.count("<figcaption>")) == (200, codes)


@pytest.mark.parametrize(
    ("origin", "host", "own"),
    [
        ("https://parts.example", "parts.example", True),
        ("https://parts.example", "inside.example:81", True),
        ("http://inside.example:81", "inside.example:81", True),
        ("http://inside.example", "inside.example:81", False),
        ("https://parts.example:8443", "parts.example", False),
        ("https://evil.example", "parts.example", False),
        ("null", "parts.example", False),
    ],
)
def test_forms_come_from_the_public_address_or_the_host_that_is_asked(origin: str, host: str, own: bool) -> None:
    assert site_of("https://parts.example", ["inside.example"]).is_origin(origin, host) is own


def test_the_public_host_is_allowed() -> None:
    """Beside those that are named; without any, beside loopback's."""
    assert site_of("https://parts.example").hosts == {"parts.example", "127.0.0.1", "localhost", "::1"}
    assert site_of("http://[::1]:80", ["10.0.0.7"]).hosts == {"10.0.0.7", "::1"}
    assert site_of(None) == Site()
    assert host_of("https://A.example:80") == "a.example"
