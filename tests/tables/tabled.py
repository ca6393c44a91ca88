"""Catalogs as tables and back, and files of tables that a spreadsheet would have saved anew."""

import csv
import io
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from openpyxl import Workbook, load_workbook

from service.documents.catalog import Catalog
from service.documents.packed import PackedCatalog, packed
from service.tables.csv_files import write_csv
from service.tables.derive import tables
from service.tables.opening import Bounds, open_file, open_path
from service.tables.taking import Taken, take
from service.tables.workbook import write_workbook

Rows = list[list[Any]]
EMPTY = PackedCatalog({"maker": {}, "policies": {}})
"""No catalog at all: what comes back over it was told by the tables alone."""


def packed_of(document: dict[str, Any]) -> PackedCatalog:
    """A document as a checked catalog."""
    return packed(Catalog.model_validate(document))


def taken(file: Path | bytes, base: PackedCatalog = EMPTY, title: str | None = None) -> Taken:
    """What the tables of a file tell over a catalog."""
    sheets = open_path(file, Bounds()) if isinstance(file, Path) else open_file(io.BytesIO(file), Bounds(), title)
    return take(sheets, base)


def came_back(file: Path | bytes, base: PackedCatalog = EMPTY) -> PackedCatalog:
    """The catalog that the tables of a file tell."""
    return PackedCatalog(taken(file, base).texts)


def in_each_form(catalog: PackedCatalog, folder: Path) -> list[Path]:
    """A catalog written in each form of tables."""
    folder.mkdir(exist_ok=True)
    write_workbook(catalog, folder / "book.xlsx")
    write_csv(catalog, folder / "files")
    write_csv(catalog, folder / "packed.zip")
    return [folder / name for name in ("book.xlsx", "files", "packed.zip")]


def rows_in(folder: Path) -> dict[str, Rows]:
    """The rows of the CSV files of a folder, by their titles."""
    found = {}
    for title in tables():
        with (folder / f"{title}.csv").open(encoding="utf-8-sig", newline="") as file:
            found[title] = list(csv.reader(file))
    return found


def zipped(sheets: Mapping[str, Rows], separator: str = ",", encoding: str = "utf-8") -> bytes:
    """Rows as a zip of CSV files."""
    told = io.BytesIO()
    with zipfile.ZipFile(told, "w", zipfile.ZIP_DEFLATED) as file:
        for title, rows in sheets.items():
            text = io.StringIO(newline="")
            csv.writer(text, delimiter=separator).writerows(rows)
            file.writestr(f"{title}.csv", text.getvalue().encode(encoding))
    return told.getvalue()


def book(sheets: Mapping[str, Rows]) -> bytes:
    """Rows as a workbook, in which what looks like a formula is one."""
    told = Workbook()
    told.remove(told.worksheets[0])
    for title, rows in sheets.items():
        sheet = told.create_sheet(title)
        for row in rows:
            sheet.append(row)
    file = io.BytesIO()
    told.save(file)
    return file.getvalue()


def resaved(file: Path, changed: Callable[[Any], Any]) -> bytes:
    """A workbook with every cell under the heads changed."""
    told = load_workbook(file)
    for sheet in told.worksheets:
        for row in sheet.iter_rows(min_row=2):
            for cell in row:
                value = changed(cell.value)
                if value is not cell.value:
                    cell.value = value
    out = io.BytesIO()
    told.save(out)
    return out.getvalue()
