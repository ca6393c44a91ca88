"""Tables out and back: the same catalog to the last digit, in each form, and as spreadsheets save them anew."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.documents.packed import PackedCatalog
from service.documents.packing import pack_catalog
from service.tables.cells import MOST_IN_CELL
from tests.bench_catalog import SEED_CATALOG
from tests.storage.rich_catalog import rich_catalog
from tests.support.random_catalogs import random_catalog
from tests.tables.tabled import came_back, in_each_form, packed_of, resaved, rows_in, taken, zipped

ODD = (
    *("=1+1", "+1", "-1", "@x", "#N/A", "'x", '"x"', '"', ' "" ', " a ", "a;b", "[]", "x = 1", "true", "1,5", "007"),
    *("_x000D_", "a\rb\r\nc\n", "\ta", "x_x0041_", "\u00a0nbsp\u00a0", "1/2", "2026-01-02", "1e5"),
)


@pytest.fixture(name="rich", scope="module")
def _rich() -> PackedCatalog:
    """Every field of the format, texts that spreadsheets take for something else, lists and objects of nothing."""
    catalog = rich_catalog()
    like = catalog["items"][-1]
    named = [like | {"sku": f"odd-{n}", "name": text, "aliases": ["a1", f"{text}b"]} for n, text in enumerate(ODD)]
    many = like | {"sku": "many", "wetted": [f"{'w' * 100}{n}" for n in range(700)], "mass_g": 0.1 + 0.2}
    empty = like | {"sku": "empty", "wetted": [], "ports": [], "patterns": [], "supplied": [], "mass_g": 1e-05}
    catalog["items"] += [*named, many, empty]
    car = catalog["chassis"][0]
    catalog["chassis"] += [
        car | {"id": "bare", "regulator": {}, "hookups": [car["hookups"][0] | {"spots": {}}], "clearances": []},
    ]
    catalog["layouts"].append(catalog["layouts"][0] | {"id": "none", "placements": [], "summary": ""})
    catalog["layouts"].append(catalog["layouts"][0] | {"id": "void", "placements": [{}, *_placements(catalog), {}]})
    catalog["joints"][0]["consumables"] = []
    catalog["port_standards"][0]["gland"] = {**_gland(), "source": ""}
    return packed_of(catalog)


def _placements(catalog: dict[str, Any]) -> list[Any]:
    return list(catalog["layouts"][0]["placements"])


def _gland() -> dict[str, float]:
    return dict.fromkeys(("inside_mm", "outside_mm", "depth_mm", "diameter_tol_mm", "depth_tol_mm"), 1.25)


@pytest.fixture(name="seed", scope="module")
def _seed() -> PackedCatalog:
    return pack_catalog(SEED_CATALOG)


@pytest.fixture(name="seed_files", scope="module")
def _seed_files(seed: PackedCatalog, tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    return in_each_form(seed, tmp_path_factory.mktemp("seed"))


@pytest.fixture(name="rich_files", scope="module")
def _rich_files(rich: PackedCatalog, tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    return in_each_form(rich, tmp_path_factory.mktemp("rich"))


@pytest.mark.parametrize("name", ["seed", "rich"])
def test_what_was_exported_comes_back(name: str, request: pytest.FixtureRequest) -> None:
    """As XLSX, as a folder and as a zip of CSV: the same document, the same digest."""
    catalog: PackedCatalog = request.getfixturevalue(name)
    for file in request.getfixturevalue(f"{name}_files"):
        told = came_back(file)
        assert told == catalog, file.name
        assert told.digest() == catalog.digest()


@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.randoms(use_true_random=False))
def test_any_catalog_comes_back(tmp_path: Path, rng: Any) -> None:
    """Random catalogs, in each form."""
    catalog = packed_of(random_catalog(rng))
    for file in in_each_form(catalog, tmp_path):
        assert came_back(file).digest() == catalog.digest()


def test_a_long_list_goes_on_in_the_next_row(rich_files: list[Path]) -> None:
    """No cell has more than a workbook holds."""
    rows = rows_in(rich_files[1])["items"]
    assert [row[0] for row in rows].count("many") == 3
    assert max(len(cell) for row in rows for cell in row) <= MOST_IN_CELL


def test_no_text_is_a_formula(rich_files: list[Path]) -> None:
    """Texts that begin as formulas do are text in a workbook, and begin with a quote in CSV."""
    book, files, _ = rich_files
    from openpyxl import load_workbook

    kinds = {cell.data_type for sheet in load_workbook(book).worksheets for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n", "b", "inlineStr"}
    cells = [cell for rows in rows_in(files).values() for row in rows for cell in row]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@", "\t", "\r")]
    assert not [cell for cell in cells if cell.startswith("-") and not cell[1:2].isdigit()]


def _with_commas(cell: str) -> str:
    """A number as it is written where the comma stands before decimals."""
    try:
        float(cell)
    except ValueError:
        return {"TRUE": "WAHR", "FALSE": "falsch"}.get(cell, cell)
    return cell.replace(".", ",")


def test_csv_as_another_country_saves_it(seed: PackedCatalog, seed_files: list[Path]) -> None:
    """UTF-16, semicolons, commas before decimals, other words for booleans, empty columns and rows at the ends."""
    found = rows_in(seed_files[1])
    sheets = {
        title: [rows[0], *([_with_commas(cell) for cell in row] for row in rows[1:]), ["", ""], []]
        for title, rows in found.items()
    }
    wide = {title: [[*row, "", ""] for row in rows] for title, rows in sheets.items()}
    file = zipped(wide, ";", "utf-16")
    assert came_back(file) == seed


def test_csv_with_semicolons_and_points(seed: PackedCatalog, seed_files: list[Path]) -> None:
    """Semicolons alone change no number, as long as one in its column tells what a point is."""
    found = rows_in(seed_files[1])
    assert came_back(zipped(found, ";")) == seed


def _as_text(value: Any) -> Any:
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


def _as_number(value: Any) -> Any:
    if isinstance(value, bool):
        return int(value)
    return float(value) if isinstance(value, int) else value


@pytest.mark.parametrize("habit", [_as_text, _as_number], ids=["numbers as text", "whole numbers as decimals"])
def test_workbooks_as_they_are_saved_anew(seed: PackedCatalog, seed_files: list[Path], habit: Any) -> None:
    """Numbers that became texts, whole numbers that became decimals, booleans that became numbers."""
    assert came_back(resaved(seed_files[0], habit)) == seed


def test_order_of_rows_tells_nothing_where_they_have_a_number(seed: PackedCatalog, seed_files: list[Path]) -> None:
    """Tables sorted the other way round are no change; neither are the heads in another order."""
    found = rows_in(seed_files[1])
    sheets = {title: [rows[0][::-1], *(row[::-1] for row in rows[:0:-1])] for title, rows in found.items()}
    assert taken(zipped(sheets), seed).texts == seed.texts


def test_a_table_that_is_not_there_changes_nothing(seed: PackedCatalog, seed_files: list[Path]) -> None:
    """The items without their ports keep them; ports without the items change those alone."""
    found = rows_in(seed_files[1])
    told = taken(zipped({"items": found["items"]}), seed)
    assert told.texts == {"items": seed.texts["items"]}
    spots = found["chassis.hookups.spots"]
    told = taken(zipped({"chassis.hookups.spots": spots}), seed)
    assert told.texts == {"chassis": seed.texts["chassis"]}
    fewer = taken(zipped({"chassis.hookups.spots": spots[:-1]}), seed).texts["chassis"]
    assert [key for key, text in fewer.items() if text != seed.texts["chassis"][key]] == [spots[-1][0]]
    hookups = taken(zipped({"chassis.hookups": found["chassis.hookups"]}), seed)
    assert hookups.texts == {"chassis": seed.texts["chassis"]}
    gone = taken(zipped({"items": [*found["items"][:1], *found["items"][2:]]}), seed).texts["items"]
    assert set(seed.texts["items"]) - set(gone) == {found["items"][1][0]}
