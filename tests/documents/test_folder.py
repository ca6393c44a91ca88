"""Catalogs on disk: a file and a folder mean the same, and export and import are the identity."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.faults import Fault
from service.documents.folder import CatalogFileError, load_catalog, read_catalog, write_catalog
from tests.support.catalogs import GONE, changed, small_catalog


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the small catalog, one file a section, the format left out."""
    for section, content in small_catalog().items():
        if section != "format":
            (tmp_path / f"{section}.json").write_text(json.dumps(content), encoding="utf-8")
    return tmp_path


def _faults(path: Path) -> tuple[Fault, ...]:
    with pytest.raises(CatalogFaultsError) as caught:
        load_catalog(path)
    return caught.value.faults


def _small(changes: dict[str, Any]) -> Catalog:
    return check_catalog(changed(small_catalog(), changes))


def test_a_folder_and_a_file_mean_the_same(folder: Path, tmp_path: Path) -> None:
    """The sections of a folder make the same catalog as one file with all of them."""
    file = tmp_path / "whole.catalog"
    file.write_text(json.dumps(small_catalog()), encoding="utf-8")
    assert load_catalog(folder) == load_catalog(file) == _small({})
    assert read_catalog(folder) == read_catalog(file) == small_catalog()


def test_files_that_are_not_json_are_ignored(folder: Path) -> None:
    """Notes, hidden files and folders beside the sections are nobody's business."""
    (folder / "SOURCES.md").write_text("notes")
    (folder / ".draft.json").write_text("{")
    (folder / "old.json").mkdir()
    assert load_catalog(folder) == _small({})


@pytest.mark.parametrize("target", ["out", "out.json", "deep/er/out"])
@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({}, id="as it is"),
        pytest.param({"/items/3/patterns": [], "/items/3/supplied": []}, id="empty lists given"),
        pytest.param({"/layouts/1/placements/0/centre/via": []}, id="empty via given"),
        pytest.param({"/joints/0/consumables": [], "/joints/2/consumables": GONE}, id="consumables"),
        pytest.param({"/items/1/standout_mm": 0.1 + 0.2, "/items/2/standout_mm": 3}, id="numbers"),
        pytest.param({"/items/1/name": 'Plug "å" \u2028 \U0001f600\n\\'}, id="text"),
        pytest.param({"/items/1/family": None}, id="null given"),
    ],
)
def test_export_then_import_is_the_identity(tmp_path: Path, changes: dict[str, Any], target: str) -> None:
    """What is written reads as an equal catalog, and writing that again gives the same bytes."""
    catalog, path = _small(changes), tmp_path / target
    write_catalog(catalog, path)
    first = _contents(tmp_path)
    assert load_catalog(path) == catalog
    write_catalog(load_catalog(path), path)
    assert _contents(tmp_path) == first


def test_what_is_written(tmp_path: Path) -> None:
    """A folder has one readable file a section, what is not given left out, empty lists kept."""
    write_catalog(_small({"/items/1/patterns": [], "/items/1/name": "Stopfen für 8"}), tmp_path)
    assert sorted(_contents(tmp_path)) == sorted(
        f"{section}.json" for section in set(Catalog.model_fields) - {"contract_cases"}
    )
    text = (tmp_path / "items.json").read_text(encoding="utf-8")
    assert text.endswith("]\n")
    assert '    "name": "Stopfen für 8",\n' in text
    plug = json.loads(text)[1]
    assert plug == small_catalog()["items"][1] | {"patterns": [], "name": "Stopfen für 8"}
    assert json.loads((tmp_path / "format.json").read_text()) == "portwright-catalog/1"


def test_writing_over_a_catalog_replaces_it(tmp_path: Path) -> None:
    """An older file at the same place is replaced, and no draft stays behind."""
    file = tmp_path / "catalog.json"
    file.write_text("old")
    write_catalog(_small({}), file)
    assert load_catalog(file) == _small({})
    assert sorted(_contents(tmp_path)) == ["catalog.json"]


def test_a_failed_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the disk fails before all is written, the old file stands and the draft is gone."""
    file = tmp_path / "catalog.json"
    write_catalog(_small({}), file)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(CatalogFileError, match="No space left on device"):
        write_catalog(_small({"/maker/name": "Other"}), file)
    assert load_catalog(file) == _small({})
    assert sorted(_contents(tmp_path)) == ["catalog.json"]


def test_json_errors_tell_the_file_and_hide_nothing_else(folder: Path) -> None:
    """Broken, doubtful and unknown files are told by name, together with the faults of the others."""
    (folder / "items.json").write_text("[\n{]")
    (folder / "fuels.json").write_text('[{"id": "petrol", "id": "petrol"}]')
    (folder / "addon.json").write_text("[]")
    (folder / "policies.json").unlink()
    (folder / "layouts.json").write_text("[7]")
    (folder / "Maker.JSON").write_text("{}")
    told = [(fault.pointer, fault.found) for fault in _faults(folder)]
    assert sorted(told) == [
        ("/Maker", "the file Maker.JSON"),
        ("/addon", "the file addon.json"),
        ("/fuels/0/id", 'the key "id" more than once in fuels.json'),
        ("/items", "a key in double quotes is missing (line 2, column 2) in items.json"),
        ("/layouts/0", "7"),
        ("/policies", "nothing"),
    ]
    with pytest.raises(CatalogFaultsError) as caught:
        read_catalog(folder)
    assert len(caught.value.faults) == 4


def test_an_unknown_file_is_told_the_nearest_sections(folder: Path) -> None:
    """A file that is named almost like a section is told which."""
    (folder / "addon.json").write_text("[]")
    assert _faults(folder) == (Fault("/addon", "the file addon.json", "a file named after a section; nearest: addons"),)


@pytest.mark.parametrize(
    ("content", "pointer", "found"),
    [
        pytest.param("", "", "nothing at all (line 1, column 1) in it.json", id="empty"),
        pytest.param('{"maker": NaN}', "/maker", "NaN in it.json", id="NaN"),
        pytest.param("null", "", "null", id="null"),
    ],
)
def test_a_single_file_that_is_no_catalog(tmp_path: Path, content: str, pointer: str, found: str) -> None:
    """A file that is not strict JSON, or no object, is one fault."""
    (tmp_path / "it.json").write_text(content)
    assert [(fault.pointer, fault.found) for fault in _faults(tmp_path / "it.json")] == [(pointer, found)]


def test_null_is_no_section(folder: Path) -> None:
    """A section's file that says null is a fault of that section."""
    (folder / "addons.json").write_text("null")
    assert [(fault.pointer, fault.found) for fault in _faults(folder)] == [("/addons", "null")]


def test_what_cannot_be_read_or_written(tmp_path: Path) -> None:
    """A missing path and a path below a file are told with path and reason."""
    with pytest.raises(CatalogFileError, match=r"absent: No such file"):
        load_catalog(tmp_path / "absent")
    (tmp_path / "file").write_text("x")
    with pytest.raises(CatalogFileError, match="file"):
        write_catalog(_small({}), tmp_path / "file" / "below")


def _contents(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
