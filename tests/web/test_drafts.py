"""/v1/drafts: edits of the catalog that lose nothing of what others do, and become a revision as a whole."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from time import sleep
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.usecases.library import Library
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.web.calls import Caller, caller, problem, told
from tests.web.conftest import drafts_of, inquiries_of, library_in

ITEM = "items/RAIL-S"


@pytest.fixture(name="library", scope="module")
def _library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with library_in(tmp_path_factory.mktemp("drafts") / "file", small_catalog()) as library:
        yield library


@pytest.fixture(name="client", scope="module")
def _client(library: Library) -> Iterator[Caller]:
    """A client of an application that may be written to; its event loop goes on from call to call."""
    app = create_app(library, kept_inquiries=inquiries_of(library), kept_drafts=drafts_of(library))
    with caller(app) as client:
        yield client


@pytest.fixture(name="path")
def _path(client: Caller) -> str:
    return begun(client)


def begun(client: Caller, **more: Any) -> str:
    made = client.post("/v1/drafts", json={"name": "spring", "author": "Ada"} | more)
    assert made.status_code == 201
    return str(made.headers["location"])


def tag(client: Caller, path: str) -> dict[str, str]:
    return {"If-Match": client.get(path).headers["etag"]}


def patched(client: Caller, path: str, patch: Any, **more: Any) -> httpx.Response:
    return client.patch(path, json=patch, headers=tag(client, path), **more)


def when_there(client: Caller, path: str, body: Any = None) -> httpx.Response:
    """Ask, and ask again while it is being worked out."""
    for _ in range(200):
        answer = client.get(path) if body is None else client.post(path, json=body)
        if answer.status_code != 202:
            return answer
        assert answer.headers["retry-after"]
        sleep(0.02)
    raise AssertionError("it never came")


WHO = {"author": "Ada", "reason": "spring prices"}


def newest(client: Caller) -> int:
    return int(client.get("/v1/revisions").json()["results"][0]["number"])


def test_a_draft_from_its_begin_to_a_revision(client: Caller, path: str) -> None:
    """Begun, edited, looked at, published with who and why; then closed."""
    base = newest(client)
    edited = patched(client, f"{path}/{ITEM}", {"price": 777}, params={"author": "Bo", "reason": "dearer"})
    assert edited.status_code == 200
    assert (edited.json()["result"]["price"], edited.json()["faults"]) == (777, [])
    draft = client.get(path).json()
    assert (draft["base"], draft["version"], draft["edits"]["changed"], draft["faults"]) == (base, 1, 1, [])
    [change] = client.get(f"{path}/changes").json()["results"]
    assert (change["key"], change["what"], change["fields"], change["author"]) == ("RAIL-S", "changed", ["price"], "Bo")
    impact = when_there(client, f"{path}/impact").json()
    assert (impact["from"], impact["to"], impact["needs_accept"]) == (base, draft["id"], False)
    assert impact["counts"]["price"] > 0
    published = when_there(client, f"{path}/publish", WHO)
    assert (published.status_code, published.json()["revision"]) == (201, base + 1)
    assert client.get("/v1/items/RAIL-S").json()["result"]["price"] == 777
    told_of = client.get("/v1/revisions").json()["results"][0]
    assert (told_of["number"], told_of["author"], told_of["reason"]) == (base + 1, "Ada", "spring prices")
    assert told_of["digest"] == published.json()["digest"]
    trail = client.get(f"{path}/trail").json()["results"]
    assert [(one["what"], one["author"], one["reason"]) for one in trail] == [
        ("begun", "Ada", None),
        ("changed", "Bo", "dearer"),
        ("published", "Ada", "spring prices"),
    ]
    for late in (
        patched(client, f"{path}/{ITEM}", {"price": 1}),
        client.post(f"{path}/publish", json=WHO),
        client.post(f"{path}/rebase", json={}),
        client.delete(path),
    ):
        problem(late, 409, "draft-published")


def test_an_edit_says_what_it_is_meant_for(client: Caller, path: str) -> None:
    """428 without; 412 tells who changed what and when since; `*` is any, a weak tag is none."""
    item, seen = f"{path}/{ITEM}", tag(client, f"{path}/{ITEM}")
    for answer in (client.patch(item, json={}), client.put(item, json={}), client.delete(item)):
        problem(answer, 428, "precondition-required")
    for price, author in ((5, "Bo"), (6, "Cy")):
        assert patched(client, item, {"price": price}, params={"author": author}).status_code == 200
    found = problem(client.patch(item, json={"name": "x"}, headers=seen), 412, "edited-meanwhile")
    assert "Bo changed it (price) at " in found["detail"]
    assert "Cy changed it (price) at " in found["detail"]
    now = client.get(item).headers["etag"]
    assert told(found) == [("If-Match", '"' + seen["If-Match"].replace('"', '\\"') + '"', now)]
    for meant, status in (("*", 200), (f"W/{now}", 412), (f'"x", {now}', 200), ("nonsense", 422), ("", 428)):
        assert client.patch(item, json={}, headers={"If-Match": meant}).status_code == status
    assert client.put(item, json=small_item(client), headers={"If-None-Match": "*"}).status_code == 412
    assert client.put(item, json=small_item(client), headers={"If-None-Match": '"x"'}).status_code == 422
    assert client.get(item, headers={"If-None-Match": now}).status_code == 304


def small_item(client: Caller, **more: Any) -> dict[str, Any]:
    return dict(client.get("/v1/items/RAIL-S").json()["result"]) | more


def test_new_and_removed_objects(client: Caller, path: str) -> None:
    """201 for a new one at its place; removed it is not found; what was removed is known to those who edit it."""
    new = small_item(client, sku="RAIL/NEW")
    made = client.put(f"{path}/items/RAIL%2FNEW", json=new, headers={"If-None-Match": "*"})
    assert (made.status_code, made.headers["location"]) == (201, f"{path}/items/RAIL%2FNEW")
    found = client.get(made.headers["location"])
    assert (found.json()["what"], found.headers["etag"]) == ("added", made.headers["etag"])
    seen = tag(client, f"{path}/{ITEM}")
    removed = client.delete(f"{path}/{ITEM}", headers=seen, params={"author": "Bo"})
    assert (removed.status_code, removed.json()["result"]) == (200, None)
    problem(client.get(f"{path}/{ITEM}"), 404, "unknown-id")
    assert (
        "Bo removed it"
        in problem(client.patch(f"{path}/{ITEM}", json={}, headers=seen), 412, "edited-meanwhile")["detail"]
    )
    problem(client.delete(f"{path}/items/NOBODY", headers=seen), 404, "unknown-id")
    edits = client.get(path).json()["edits"]
    assert edits == {"added": 1, "changed": 0, "removed": 1}
    back = client.put(f"{path}/{ITEM}", json=small_item(client), headers={"If-None-Match": "*"})
    assert (back.status_code, client.get(path).json()["edits"]["removed"]) == (201, 0)


@pytest.mark.parametrize(
    ("place", "patch", "pointer"),
    [
        (ITEM, {"price": -1}, "#/price"),
        (ITEM, {"price": "1"}, "#/price"),
        (ITEM, {"mass_g": 1e300}, "#/mass_g"),
        (ITEM, {"name": None}, "#/name"),
        (ITEM, {"sku": "OTHER"}, "#/sku"),
        (ITEM, {"colour": "red"}, "#/colour"),
        (ITEM, [], "#"),
        (ITEM, {"flow": {"bore_mm": 1e-300}}, "#/flow/bore_mm"),
        ("policies", {"max_chain": 0}, "#/policies/max_chain"),
        ("maker", {"name": ""}, "#/name"),
        ("joints/boss", {"min_nm": "1"}, "#/min_nm"),
    ],
)
def test_what_is_no_such_object_is_refused(client: Caller, path: str, place: str, patch: Any, pointer: str) -> None:
    """With the place of each fault within the object; nothing is kept."""
    if place.startswith("joints"):
        place = f"joints/{small_catalog()['joints'][0]['id']}"
    answer = patched(client, f"{path}/{place}", patch)
    places = [at for at, _, _ in told(problem(answer, 422, "invalid-request"))]
    assert pointer.replace("/policies", "") in places
    assert client.get(path).json()["version"] == 0


def test_every_section_can_be_edited(client: Caller, path: str) -> None:
    """The first object of each, by its own id, renamed or put again; the sections with a dash as well."""
    for section, objects in small_catalog().items():
        if isinstance(objects, list) and objects:
            key = objects[0].get("sku") or objects[0]["id"]
            answer = patched(client, f"{path}/{section}/{key}", {})
            assert answer.status_code == 200, section
            assert client.get(f"{path}/{section.replace('_', '-')}/{key}").status_code == 200
    assert patched(client, f"{path}/policies", {"power_reserve": 0.5}).json()["result"]["power_reserve"] == 0.5
    assert patched(client, f"{path}/maker", {"name": "Other"}).json()["key"] == ""
    problem(client.get(f"{path}/nonsense/x"), 404, "unknown-id")
    problem(client.get(f"{path}/items/%00"), 404, "unknown-id")


def test_what_does_not_hold_is_kept_and_told(client: Caller, path: str) -> None:
    """And keeps the draft from being published."""
    answer = patched(client, f"{path}/{ITEM}", {"wetted": ["unobtainium"]})
    [fault] = answer.json()["faults"]
    assert (fault["section"], fault["key"], fault["pointer"]) == ("items", "RAIL-S", "/wetted/0")
    assert client.get(path).json()["faults"] == [fault]
    found = problem(client.post(f"{path}/publish", json=WHO), 409, "catalog-faults")
    assert told(found)[0][0] == "#/items/RAIL-S/wetted/0"
    problem(client.get(f"{path}/impact"), 409, "catalog-faults")


def test_lost_answers_take_a_reason(client: Caller, path: str) -> None:
    """Which is kept; and the revision before is restored in the same way."""
    base = newest(client)
    for rail in client.get("/v1/items", params={"kind": "rail"}).json()["results"]:
        assert patched(client, f"{path}/items/{rail['sku']}", {"status": "retired"}).status_code == 200
    found = problem(when_there(client, f"{path}/publish", WHO), 409, "answers-lost")
    assert found["errors"]
    assert newest(client) == base
    accepted = client.post(f"{path}/publish", json=WHO | {"accept": "a new rail comes"})
    assert accepted.status_code == 201
    assert client.get("/v1/revisions").json()["results"][0]["accept"] == "a new rail comes"
    restored = when_there(client, f"/v1/revisions/{base}/restore", WHO)
    assert (restored.status_code, restored.json()["revision"], restored.json()["draft"]) == (201, base + 2, None)
    numbers = {one["number"]: one["digest"] for one in client.get("/v1/revisions").json()["results"]}
    assert numbers[base + 2] == numbers[base] != numbers[base + 1]
    problem(client.post(f"/v1/revisions/{base}/restore", json=WHO), 409, "nothing-to-publish")
    for unknown in ("0", "99", "x", "-1", "9" * 30):
        problem(client.post(f"/v1/revisions/{unknown}/restore", json=WHO), 404, "unknown-id")


def test_a_draft_follows_the_newest(client: Caller, path: str) -> None:
    """409 tells what was published meanwhile; a conflict is told; what is kept is said."""
    base, other = newest(client), begun(client, name="other")
    patched(client, f"{path}/{ITEM}", {"price": 5})
    patched(client, f"{path}/items/PLUG-B8", {"price": 6})
    patched(client, f"{other}/{ITEM}", {"price": 7})
    assert client.post(f"{other}/publish", json=WHO | {"accept": "x"}).status_code == 201
    found = problem(client.post(f"{path}/publish", json=WHO), 409, "newer-revision")
    assert f"revision {base + 1} by Ada at " in found["detail"]
    assert [at for at, _, _ in told(found)] == ["#/items/RAIL-S"]
    found = problem(client.post(f"{path}/rebase", json={}), 409, "draft-conflict")
    assert [at for at, _, _ in told(found)] == ["#/items/RAIL-S"]
    moved = client.post(f"{path}/rebase", json={"keep": "newest", "author": "Ada"}).json()
    assert (moved["base"], moved["edits"]["changed"]) == (base + 1, 1)
    assert client.get(f"{path}/{ITEM}").json()["result"]["price"] == 7
    assert client.post(f"{path}/publish", json=WHO | {"accept": "x"}).json()["revision"] == base + 2
    empty = begun(client)
    problem(client.post(f"{empty}/publish", json=WHO), 409, "nothing-to-publish")
    assert client.post(f"{empty}/rebase", json={}).status_code == 200


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        ({}, "#/name"),
        ({"name": ""}, "#/name"),
        ({"name": "x" * 201}, "#/name"),
        ({"name": "x", "author": " "}, "#/author"),
        ({"name": "x", "base": 99}, "#/base"),
        ({"name": "x", "base": 0}, "#/base"),
        ({"name": "x", "base": 2**40}, "#/base"),
        ({"name": "x", "more": 1}, "#/more"),
    ],
)
def test_drafts_that_are_not_begun(client: Caller, body: Any, pointer: str) -> None:
    """Each fault by its place."""
    places = [at for at, _, _ in told(problem(client.post("/v1/drafts", json=body), 422, "invalid-request"))]
    assert places == [pointer]


def test_lists_go_by_page(client: Caller) -> None:
    """Drafts, changes and trail: all of them, once, in order; a draft that is deleted keeps its trail."""
    paths = [begun(client, name=f"draft {nth}") for nth in range(3)]
    for sku in ("RAIL-S", "PLUG-B8", "GAUGE-T"):
        assert patched(client, f"{paths[0]}/items/{sku}", {"price": 3}).status_code == 200
    assert [one["name"] for one in listed(client, "/v1/drafts")][:3] == ["draft 2", "draft 1", "draft 0"]
    assert [one["key"] for one in listed(client, f"{paths[0]}/changes")] == ["RAIL-S", "PLUG-B8", "GAUGE-T"]
    assert client.delete(paths[0], params={"author": "Bo"}).json()["results"][0]["what"] == "discarded"
    trail = listed(client, f"{paths[0]}/trail")
    assert [(one["what"], one["key"]) for one in trail][::4] == [("begun", None), ("discarded", None)]
    for gone in (client.get(paths[0]), client.delete(paths[0]), client.get(f"{paths[0]}/changes")):
        problem(gone, 404, "unknown-id")
    for unknown in ("nobody", "%00", "x" * 300):
        problem(client.get(f"/v1/drafts/{unknown}/trail"), 404, "unknown-id")
    problem(client.get(f"{paths[1]}/trail", params={"cursor": "x"}), 422, "invalid-request")


def listed(client: Caller, path: str) -> list[dict[str, Any]]:
    """All of a list, two at a time."""
    found: list[dict[str, Any]] = []
    page = client.get(path, params={"limit": 2}).json()
    while True:
        found += page["results"]
        if "next" not in page:
            return found
        page = client.get(page["next"]).json()


def test_fifty_editors_at_once_lose_nothing(client: Caller, path: str) -> None:
    """Each adds one to what it saw, and tries again where another was faster or too many waited."""
    item = f"{path}/{ITEM}"
    price = client.get(item).json()["result"]["price"]

    def edit(nth: int) -> int:
        refused = 0
        while True:
            seen = client.get(item)
            if seen.status_code == 503:
                assert "Retry-After" in seen.headers
                continue
            patch = {"price": seen.json()["result"]["price"] + 1}
            headers = {"If-Match": seen.headers["etag"]}
            answer = client.patch(item, json=patch, headers=headers, params={"author": f"editor {nth}"})
            if answer.status_code == 200:
                return refused
            if answer.status_code == 503:
                assert "Retry-After" in answer.headers
                continue
            problem(answer, 412, "edited-meanwhile")
            refused += 1

    with ThreadPoolExecutor(50) as editors:
        refused = sum(editors.map(edit, range(50)))
    assert client.get(item).json()["result"]["price"] == price + 50
    assert client.get(path).json()["version"] == 50
    authors = {one["author"] for one in listed(client, f"{path}/trail")[1:]}
    assert authors == {f"editor {nth}" for nth in range(50)}
    assert refused > 0


def test_without_a_catalog(tmp_path: Path) -> None:
    """503, of an empty database and of an application without drafts."""
    with library_in(tmp_path / "file") as empty:
        for app in (create_app(empty, kept_drafts=drafts_of(empty)), create_app(empty), create_app()):
            _refused_without_a_catalog(app)


def _refused_without_a_catalog(app: FastAPI) -> None:
    with caller(app) as client:
        problem(client.post("/v1/drafts", json={"name": "x"}), 503, "no-catalog")
