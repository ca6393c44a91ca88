"""POST /v1/drafts/{id}/tables: what tables have otherwise than the draft's base becomes its edits."""

from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from service.usecases.library import Library
from service.web.app import create_app
from service.web.paths import OfPaths
from service.web.routers.draft_tables import UPLOAD_LIMIT_BYTES
from tests.support.catalogs import small_catalog
from tests.tables.tabled import Rows, in_each_form, packed_of, rows_in, zipped
from tests.web.calls import Caller, caller, problem
from tests.web.conftest import drafts_of, library_in
from tests.web.test_drafts import begun, patched

XLSX = {"content-type": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}
ZIP = {"content-type": "application/zip"}
CSV = {"content-type": "text/csv; charset=utf-8"}
PRICE = "price (minor units of the currency)"


@pytest.fixture(name="library", scope="module")
def _library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with library_in(tmp_path_factory.mktemp("drafts") / "file", small_catalog()) as library:
        yield library


@pytest.fixture(name="client", scope="module")
def _client(library: Library) -> Iterator[Caller]:
    with caller(create_app(library, kept_drafts=drafts_of(library))) as client:
        yield client


@pytest.fixture(name="files", scope="module")
def _files(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    return in_each_form(packed_of(small_catalog()), tmp_path_factory.mktemp("tables"))


@pytest.fixture(name="rows")
def _rows(files: list[Path]) -> dict[str, Rows]:
    return rows_in(files[1])


@pytest.fixture(name="path")
def _path(client: Caller) -> str:
    return begun(client)


def put(rows: Rows, key: str, head: str, value: str) -> None:
    """Put something in the row of a key."""
    next(row for row in rows if row[0] == key)[rows[0].index(head)] = value


def bring(client: Caller, path: str, tables: dict[str, Rows], **query: str) -> httpx.Response:
    return client.post(f"{path}/tables", content=zipped(tables), headers=ZIP, params=query)


def test_what_was_exported_changes_nothing(client: Caller, path: str, files: list[Path]) -> None:
    """As a workbook, and as a zip of CSV."""
    for file, headers in ((files[0], XLSX), (files[2], ZIP)):
        answer = client.post(f"{path}/tables", content=file.read_bytes(), headers=headers)
        assert (answer.status_code, answer.json()["edits"], answer.json()["untouched"]) == (200, [], [])
    assert client.get(path).json()["version"] == 0


def test_rows_become_edits(client: Caller, path: str, rows: dict[str, Rows]) -> None:
    """Changed, added and removed, counted; kept all at once with who and why, or only told."""
    items = rows["items"]
    put(items, "RAIL-S", PRICE, "777")
    gone = items.pop()[0]
    items.append(["NEW", *items[-1][1:]])
    tables = {"items": items}
    query = {"author": "Ada", "reason": "the new list"}
    tried = bring(client, path, tables, dry_run="true", **query).json()
    assert (client.get(path).json()["version"], tried["version"], tried["dry_run"]) == (0, 0, True)
    told = bring(client, path, tables, **query).json()
    assert told["edits"] == tried["edits"]
    [section] = told["sections"]
    assert [section[name] for name in ("added", "changed", "removed", "kept")] == [1, 1, 1, 0]
    assert {(x["what"], x["key"]) for x in told["edits"]} == {
        ("changed", "RAIL-S"),
        ("added", "NEW"),
        ("removed", gone),
    }
    assert "chassis" in told["untouched"]
    draft = client.get(path).json()
    assert (draft["edits"], draft["version"]) == ({"added": 1, "changed": 1, "removed": 1}, 3)
    trail = client.get(f"{path}/trail").json()["results"]
    assert {(x["author"], x["reason"]) for x in trail[1:]} == {("Ada", "the new list")}
    assert bring(client, path, tables).json()["edits"] == []
    assert client.get(path).json()["version"] == 3


def test_nothing_of_others_is_lost(client: Caller, path: str, rows: dict[str, Rows]) -> None:
    """What somebody edited stays; where both changed one object nothing is taken, unless the tables are to count."""
    patched(client, f"{path}/items/RAIL-S", {"price": 5}, params={"author": "Bo"})
    put(rows["items"], "SEAL-B8", PRICE, "6")
    told = bring(client, path, {"items": rows["items"]}).json()
    assert ([x["key"] for x in told["edits"]], told["sections"][0]["kept"]) == (["SEAL-B8"], 1)
    assert client.get(f"{path}/items/RAIL-S").json()["result"]["price"] == 5
    put(rows["items"], "RAIL-S", PRICE, "8")
    refused = problem(bring(client, path, {"items": rows["items"]}), 409, "tables-conflict")
    assert refused["errors"][0]["pointer"] == "#/items/RAIL-S"
    assert "Bo" in refused["errors"][0]["found"]
    assert client.get(f"{path}/items/RAIL-S").json()["result"]["price"] == 5
    ports = {"items.ports": rows["items.ports"]}
    assert bring(client, path, ports, replace="true").json()["edits"] == []
    assert bring(client, path, {"items": rows["items"]}, replace="true").json()["sections"][0]["changed"] == 2
    assert client.get(f"{path}/items/RAIL-S").json()["result"]["price"] == 8


def test_a_single_table_is_known_by_its_heads_or_name(client: Caller, path: str, files: list[Path]) -> None:
    """CSV alone, told by `table` or by what its first row says."""
    content = (files[1] / "items.ports.csv").read_bytes()
    for query in ({}, {"table": "items.ports"}):
        answer = client.post(f"{path}/tables", content=content, headers=CSV, params=query)
        assert [x["section"] for x in answer.json()["sections"]] == ["items"]
    refused = client.post(f"{path}/tables", content=content, headers=CSV, params={"table": "item.ports"})
    assert problem(refused, 422, "invalid-request")["errors"][0]["nearest"][0] == "items.ports"
    refused = client.post(f"{path}/tables", content=content, headers=CSV, params={"dry_run": "perhaps"})
    assert problem(refused, 422, "invalid-request")["errors"][0]["parameter"] == "dry_run"


def test_faults_name_sheet_row_and_column(client: Caller, path: str, rows: dict[str, Rows]) -> None:
    """As a problem; nothing of the file is taken."""
    put(rows["items"], "RAIL-S", "kind", "rial")
    put(rows["items"], "SEAL-B8", PRICE, "6")
    refused = problem(bring(client, path, {"items": rows["items"]}), 422, "invalid-request")
    [error] = refused["errors"]
    assert (error["pointer"], error["nearest"]) == ("#/items/2/kind", ["rail"])
    assert client.get(path).json()["version"] == 0
    rows["items"] = [rows["items"][0], *([f"x{n}", *row[1:]] for n, row in enumerate([rows["items"][1]] * 30))]
    refused = problem(bring(client, path, {"items": rows["items"]}), 422, "invalid-request")
    assert (len(refused["errors"]), refused["more"]) == (20, 10)


def test_what_does_not_hold_is_told_with_its_place(client: Caller, path: str, rows: dict[str, Rows]) -> None:
    """The draft keeps it, and says in which row it stands."""
    put(rows["items"], "RAIL-S", "wetted", "unobtainium")
    told = bring(client, path, {"items": rows["items"]}).json()
    [fault] = [fault for fault in told["faults"] if fault["found"] == '"unobtainium"']
    assert (fault["place"], fault["key"]) == ("items, row 2, column wetted", "RAIL-S")


def test_files_are_bounded(client: Caller, path: str) -> None:
    """By their size, and by what they say that they are."""
    large = client.post(f"{path}/tables", content=b"x" * (UPLOAD_LIMIT_BYTES + 1), headers=CSV)
    problem(large, 413, "body-too-large")
    problem(
        client.post(f"{path}/tables", content=b"{}", headers={"content-type": "text/html"}),
        415,
        "unsupported-media-type",
    )
    problem(
        client.post("/v1/drafts/none/tables", content=b"id\n", headers=CSV, params={"table": "fuels"}),
        404,
        "unknown-id",
    )


def test_a_published_draft_takes_no_tables(client: Caller, path: str, rows: dict[str, Rows]) -> None:
    """It became a revision."""
    put(rows["items"], "RAIL-S", PRICE, "9")
    bring(client, path, {"items": rows["items"]})
    who = {"author": "Ada", "reason": "prices", "accept": "no doubt"}
    assert client.post(f"{path}/publish", json=who).status_code == 201
    problem(bring(client, path, {"items": rows["items"]}), 409, "draft-published")


def test_paths_with_a_part_that_may_be_anything() -> None:
    """Exactly one part, and the others as they are."""
    paths = OfPaths({"/a/*/c": 1, "/a/b": 2})
    assert [paths.get(x) for x in ("/a/x/c", "/a/b", "/a/*/c", "/a/x/y/c", "/a/c", "/b/x/c", "/a/x/c/d")] == [
        *(1, 2, 1, None, None, None, None),
    ]
    assert dict(paths) == {"/a/*/c": 1, "/a/b": 2}
