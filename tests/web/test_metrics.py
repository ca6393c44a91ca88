"""What is counted: by the template of a path, its detail, its status; never what somebody asked."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from prometheus_client.parser import text_string_to_metric_families

from service.web.app import create_app
from service.web.kept_answers import KeptAnswers
from tests.support.catalogs import small_catalog
from tests.web.calls import Caller, caller
from tests.web.conftest import QUESTION, library_in

Counts = dict[tuple[str, ...], float]
LABELS = ("method", "path", "detail", "status", "kept", "problem", "lane", "le")
BILLS = "portwright_request_seconds_count"


@pytest.fixture(name="client", scope="module")
def _client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    with library_in(tmp_path_factory.mktemp("counted") / "catalog.sqlite3", small_catalog()) as library:
        library.edition()
        library._fresh_s = 60.0
        with caller(create_app(library, kept=KeptAnswers(1024 * 1024))) as client:
            yield client


def counted(client: Caller) -> Counts:
    """Every sample by its name and the values of its labels."""
    response = client.get("/metrics")
    assert response.status_code == 200
    assert response.headers["content-type"].startswith("text/plain; version=")
    samples = [one for family in text_string_to_metric_families(response.text) for one in family.samples]
    return {(one.name, *(one.labels[x] for x in LABELS if x in one.labels)): one.value for one in samples}


def added(before: Counts, after: Counts, name: str) -> Counts:
    """What samples of this name have more than before."""
    grown = {key[1:]: value - before.get(key, 0) for key, value in after.items() if key[0] == name}
    return {key: value for key, value in grown.items() if value}


def test_requests_are_counted_by_what_they_are(client: Caller) -> None:
    """A new question, the same again, by either way of asking; what is refused by the code of its problem."""
    before = counted(client)
    for _ in range(3):
        client.post("/v1/bills", json=QUESTION | {"detail": "brief"})
    client.get("/v1/bills", params=QUESTION)
    client.request("HEAD", "/v1/items/no-such")
    client.get("/v1/nothing/of/the/kind")
    client.post("/v1/bills", content=b"{")
    after = counted(client)
    assert added(before, after, BILLS) == {
        ("POST", "/v1/bills", "brief", "200", "no"): 1,
        ("POST", "/v1/bills", "brief", "200", "yes"): 2,
        ("POST", "/v1/bills", "", "415", "no"): 1,
        ("GET", "/v1/bills", "reasons", "200", "no"): 1,
        ("HEAD", "/v1/items/{sku}", "", "404", "no"): 1,
        ("GET", "other", "", "404", "no"): 1,
        ("GET", "/metrics", "", "200", "no"): 1,
    }
    assert added(before, after, "portwright_refusals_total").keys() >= {("unknown-id",), ("unknown-path",)}
    assert added(before, after, "portwright_search_steps_count").keys() >= {("questions",), ("browsing",)}


def test_the_revision_and_what_is_under_way_are_told(client: Caller) -> None:
    """Its number, and its age, which grows; nothing but the question for them is under way."""
    first, second = counted(client), counted(client)
    assert first["portwright_revision",] == 1
    assert 0 < first["portwright_revision_age_seconds",] < second["portwright_revision_age_seconds",]
    assert first["portwright_requests_under_way",] == 1


def test_nothing_that_was_asked_stands_in_it(client: Caller) -> None:
    """Neither ids nor queries nor what somebody made up."""
    client.get("/v1/items/very-own-part?private=words")
    client.request("MADEUP", "/v1/items")
    told = client.get("/metrics").text
    assert not any(word in told for word in ("very-own-part", "private", "words", "MADEUP", QUESTION["chassis"]))


def test_without_a_catalog_the_rest_is_told(tmp_path: Path) -> None:
    """No revision, and no age of one."""
    with caller(create_app()) as client:
        told = counted(client)
    assert ("portwright_revision",) not in told
    assert ("portwright_requests_under_way",) in told
