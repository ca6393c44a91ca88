"""The language of answers: by Accept-Language, told in Content-Language, and never mixed in what is kept."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.usecases.library import Library
from service.web.app import create_app
from service.web.kept_answers import KeptAnswers
from service.web.languages import wished
from tests.support.catalogs import changed, small_catalog
from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION, checks_of, library_in

CHECKS = "/v1/order-checks"
GERMAN = {"/maker/second_language": "de", "/layouts/0/second_name": "Schlauch in die Mitte"}


@pytest.fixture(name="own", scope="module")
def _own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """Revision 1 in English alone, revision 2 in German as well."""
    file = tmp_path_factory.mktemp("languages") / "file"
    with library_in(file, small_catalog(), changed(small_catalog(), GERMAN)) as library:
        yield library


@pytest.fixture(name="app", scope="module")
def _app(own: Library) -> FastAPI:
    return create_app(own, checks=checks_of(own), kept=KeptAnswers(1024 * 1024))


def accept(*languages: str) -> dict[str, Any]:
    return {"headers": [("Accept-Language", one) for one in languages]}


@pytest.mark.parametrize(
    ("accepted", "told"),
    [
        ((), "en"),
        (("de",), "de, en"),
        (("de-AT",), "de, en"),
        (("en-US,en;q=0.9,de;q=0.8",), "en"),
        (("fr,de;q=0.5,en;q=0.3",), "de, en"),
        (("fr", "de;q=0.5"), "de, en"),
        (("en;q=0.2, de;q=0.4",), "de, en"),
        (("de;q=0.2, en;q=0.4",), "en"),
        (("de;q=0, *",), "en"),
        (("*",), "en"),
        (("fr",), "en"),
        (("en, de",), "en"),
        ((";;q=,", ""), "en"),
        (("x" * 5000,), "en"),
    ],
)
def test_the_language_that_is_liked_best(app: FastAPI, accepted: tuple[str, ...], told: str) -> None:
    """RFC 9110, section 12.5.4; where English is liked as well it is given, and where nothing fits too."""
    answer = get(app, "/v1/bills", params=QUESTION, **accept(*accepted))
    assert (answer.status_code, answer.headers["Content-Language"]) == (200, told)
    assert "Accept-Language" in answer.headers["Vary"]
    assert answer.json()["safety"][0].startswith("Kraftstoff" if told != "en" else "Fuel under pressure")


def test_each_operation_speaks(app: FastAPI) -> None:
    """Bills by body, by query and by key, layouts, explanations, joints and order checks; the facts are the same."""
    key = get(app, "/v1/bills", params=QUESTION).json()["bills"][0]["key"]
    plug = {"sku": "PLUG-B8"}
    order = {**QUESTION, "lines": [{**plug, "qty": 9}]}
    for sent in (
        lambda **more: ask(app, QUESTION, **more),
        lambda **more: get(app, f"/v1/bills/{key}", **more),
        lambda **more: get(app, f"/v1/chassis/{QUESTION['chassis']}/layouts", **more),
        lambda **more: call(app, "POST", "/v1/explain", json={"request": QUESTION, "sku": "PLUG-B8"}, **more),
        lambda **more: call(app, "POST", "/v1/joints", json={"one": plug, "other": plug}, **more),
        lambda **more: call(app, "POST", CHECKS, json=order, **more),
    ):
        english, german, again = sent(), sent(**accept("de")), sent()
        assert (english.headers["Content-Language"], german.headers["Content-Language"]) == ("en", "de, en")
        assert "Accept-Language" in german.headers["Vary"]
        assert english.json().keys() <= german.json().keys()
        assert german.text != english.text
        if "id" not in english.json():
            assert again.content == english.content


def _in_german(catalog: dict[str, Any], but: str) -> dict[str, Any]:
    """The catalog with a second text for each, but for the name of one item."""
    for section in ("port_standards", "joints", "fuels", "materials", "addons", "layouts", "items"):
        for one in catalog[section]:
            told = {"second_name": f"{one['name']}, deutsch"} if "name" in one and one.get("sku") != but else {}
            told |= {"second_summary": "Deutsch."} if one.get("summary") else {}
            told |= {"second_cautions": ["Vorsicht."] * len(one["cautions"])} if one.get("cautions") else {}
            one |= told if section != "joints" else {name: told[name] for name in told if name != "second_name"}
    return changed(catalog, {"/maker/second_language": "de"})


def test_what_is_all_german_is_not_called_english(tmp_path: Path) -> None:
    """Though one name of the catalog has no other: it is told of answers that say it."""
    unsaid = next(item["sku"] for item in small_catalog()["items"] if item["kind"] == "rail")
    with library_in(tmp_path / "file", _in_german(small_catalog(), but=unsaid)) as library:
        app = create_app(library, checks=checks_of(library))
        plug = {"one": {"sku": "PLUG-B8"}, "other": {"sku": "PLUG-B8"}}
        rail = plug | {"other": {"sku": unsaid}}
        joints = [call(app, "POST", "/v1/joints", json=one, **accept("de")) for one in (plug, rail)]
        bills = get(app, "/v1/bills", params=QUESTION, **accept("de"))
        checked = call(app, "POST", CHECKS, json={**QUESTION, "lines": [{"sku": "PLUG-B8", "qty": 1}]}, **accept("de"))
    assert [one.headers["Content-Language"] for one in (*joints, bills, checked)] == [
        "de",
        "de, en",
        "de, en",
        "de, en",
    ]
    assert checked.json()["language"] == "de, en"


def test_what_is_kept_is_never_mixed(app: FastAPI) -> None:
    """Asked in turns, kept and not: each language has its own bytes, its own tag and its own 304."""
    english = get(app, "/v1/bills", params=QUESTION)
    german = get(app, "/v1/bills", params=QUESTION, **accept("de"))
    assert english.headers["ETag"] != german.headers["ETag"]
    for _ in range(2):
        assert get(app, "/v1/bills", params=QUESTION).content == english.content
        assert get(app, "/v1/bills", params=QUESTION, **accept("en-GB,en;q=0.9")).content == english.content
        assert get(app, "/v1/bills", params=QUESTION, **accept("de")).content == german.content
    tags = {"Accept-Language": "de", "If-None-Match": english.headers["ETag"]}
    assert get(app, "/v1/bills", params=QUESTION, headers=tags).status_code == 200
    tags["If-None-Match"] = german.headers["ETag"]
    unchanged = get(app, "/v1/bills", params=QUESTION, headers=tags)
    assert (unchanged.status_code, unchanged.headers["Content-Language"]) == (304, "de, en")


def test_the_same_bytes_in_two_languages_have_two_tags(app: FastAPI) -> None:
    """Names alone may be the same in both; a cache that goes by tags is still not misled."""
    brief = {**QUESTION, "detail": "brief"}
    tags = {get(app, "/v1/bills", params=brief, **accept(one)).headers["ETag"] for one in ("en", "de")}
    assert len(tags) == 2


def test_a_revision_that_has_no_second_language_answers_in_english(app: FastAPI) -> None:
    """Whoever asks."""
    answer = get(app, "/v1/bills", params={**QUESTION, "revision": 1}, **accept("de"))
    assert answer.headers["Content-Language"] == "en"


def test_an_order_check_is_given_again_as_it_was_told(app: FastAPI) -> None:
    """By its id and by its idempotency key, to whoever asks in whatever language; the header says which it is."""
    order = {**QUESTION, "lines": [{"sku": "PLUG-B8", "qty": 1}]}
    keyed = {"Idempotency-Key": "one-of-a-kind"}
    first = call(app, "POST", CHECKS, json=order, headers=keyed | {"Accept-Language": "de"})
    assert (first.status_code, first.json()["language"]) == (201, "de, en")
    again = call(app, "POST", CHECKS, json=order, headers=keyed)
    assert (again.status_code, again.content) == (200, first.content)
    assert again.headers["Content-Language"] == "de, en"
    recalled = get(app, f"/v1/order-checks/{first.json()['id']}")
    assert recalled.headers["Content-Language"] == "de, en"
    assert recalled.json()["current"]["text"] == "Die Katalogfassung 2 beurteilt diese Bestellung gleich."
    english = call(app, "POST", CHECKS, json=order)
    assert "language" not in english.json()
    assert get(app, f"/v1/order-checks/{english.json()['id']}").headers["Content-Language"] == "en"


def test_problems_stay_english(app: FastAPI) -> None:
    """What is wrong with a request is told to who wrote the program."""
    refused = get(app, "/v1/bills", params={**QUESTION, "layout": "none"}, **accept("de"))
    assert (refused.status_code, "Content-Language" in refused.headers) == (422, False)
    assert "unknown" in refused.text or "layout" in refused.text


def test_who_likes_english_best_is_known_by_no_header() -> None:
    """So that browsers in English share what is kept with clients that say nothing."""
    assert [wished([header]) for header in ("en", "en-US,en;q=0.9", "EN , de")] == ["", "", ""]
    assert wished(["en;q=0.5, de"]) == "en;q=0.5, de"
    assert wished(["fr", "en"]) == "fr,en"
