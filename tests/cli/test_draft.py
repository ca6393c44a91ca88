"""`portwright draft`, and the catalog as tables: out, edited, back into a draft, tried and published."""

import csv
import json
from pathlib import Path

import pytest

from service.documents.folder import load_catalog
from tests.cli.commands import run

pytestmark = pytest.mark.usefixtures("imported")
PRICE = "price (minor units of the currency)"


def begun(*options: str) -> str:
    result = run("draft", "new", "spring prices", *options)
    assert result.exit_code == 0, result.stderr
    return result.stdout.split()[0]


def put(file: Path, key: str, head: str, value: str) -> None:
    with file.open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.reader(stream))
    next(row for row in rows if row[0] == key)[rows[0].index(head)] = value
    with file.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)


@pytest.mark.parametrize("options", [("c.xlsx",), ("files", "--format", "csv")])
def test_an_export_brought_back_changes_nothing(options: tuple[str, ...], tmp_path: Path) -> None:
    """In the form that its name or the option tells."""
    file = tmp_path / options[0]
    assert run("catalog", "export", file, *options[1:]).exit_code == 0
    result = run("draft", "edit", begun(), file)
    assert result.exit_code == 0, result.stderr
    assert result.stdout.startswith("changed 0 objects")


def test_a_table_from_export_to_revision(tmp_path: Path) -> None:
    """Edited, looked at, tried, published with who and why; exported again it has the change."""
    folder = tmp_path / "files"
    run("catalog", "export", folder, "--format", "csv")
    draft = begun("--author", "Ada")
    put(folder / "items.csv", "RAIL-S", PRICE, "777")
    tried = run("draft", "edit", draft, folder / "items.csv", "--dry-run")
    assert "would change 1 object " in tried.stdout
    assert "changed  items RAIL-S (price)" in tried.stdout
    assert "no table, so unchanged: maker" in tried.stdout
    assert "0 changed" in run("draft", "show", draft).stdout
    done = run("draft", "edit", draft, folder, "--author", "Ada", "--reason", "dearer", "--json")
    assert [edit["key"] for edit in json.loads(done.stdout)["edits"]] == ["RAIL-S"]
    assert "1 changed" in run("draft", "show", draft).stdout
    assert json.loads(run("draft", "show", draft, "--json").stdout)["changes"][0]["author"] == "Ada"
    assert "price" in run("draft", "impact", draft).stdout
    assert json.loads(run("draft", "impact", draft, "--json").stdout)["to"] == draft
    published = run("draft", "publish", draft, "--author", "Ada", "--reason", "dearer")
    assert (published.exit_code, published.stdout) == (0, "published as revision 2\n")
    assert draft in run("draft", "list").stdout
    assert json.loads(run("draft", "list", "--json").stdout)["results"][0]["published"] == 2
    run("catalog", "export", tmp_path / "after.json")
    assert load_catalog(tmp_path / "after.json").items[0].price == 777
    assert run("draft", "edit", draft, folder).exit_code == 1


def test_losses_take_a_reason(tmp_path: Path) -> None:
    """A car without its rail has no bill: that is said, and nothing is published without `--accept`."""
    folder = tmp_path / "files"
    run("catalog", "export", folder, "--format", "csv")
    draft = begun()
    put(folder / "items.csv", "RAIL-S", "status", "retired")
    assert run("draft", "edit", draft, folder).exit_code == 0
    who = ("--author", "Ada", "--reason", "gone")
    refused = run("draft", "publish", draft, *who)
    assert refused.exit_code == 1
    assert "broken, lost or gone" in refused.stderr
    assert run("draft", "publish", draft, *who, "--accept", "the rail is gone").exit_code == 0
    newer = begun("--base", "1")
    assert "Revision 1 is not the newest" in run("draft", "publish", newer, *who).stderr
    assert "on 2" in run("draft", "rebase", newer).stdout
    assert run("draft", "delete", newer).exit_code == 0
    assert run("draft", "show", newer).exit_code == 2


def test_faults_are_told_by_sheet_row_and_column(tmp_path: Path) -> None:
    """Each in a line, and nothing is taken."""
    folder = tmp_path / "files"
    run("catalog", "export", folder, "--format", "csv")
    put(folder / "items.csv", "RAIL-S", "kind", "rial")
    draft = begun()
    result = run("draft", "edit", draft, folder)
    assert result.exit_code == 1
    assert result.stderr.splitlines()[0] == "portwright: the tables have 1 fault: nothing was taken"
    assert 'items, row 2, column kind: found "rial", expected one of: rail' in result.stderr
    assert "nearest: rail" in result.stderr
    assert run("draft", "edit", draft, tmp_path / "none.xlsx").exit_code == 2
    assert run("draft", "edit", "none", folder).exit_code == 2
    assert run("draft", "new", "").exit_code == 2
    assert run("draft", "rebase", draft, "--keep", "mine").exit_code == 2


def test_a_table_too_long_for_a_sheet_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With what to do instead; nothing is left of it."""
    monkeypatch.setattr("service.tables.workbook.MOST_ROWS", 5)
    result = run("catalog", "export", tmp_path / "c.xlsx")
    assert result.exit_code == 2
    assert "export it as CSV" in result.stderr
    assert list(tmp_path.glob("*c.xlsx*")) == []
