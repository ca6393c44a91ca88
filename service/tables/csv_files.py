"""A catalog as CSV files, one a table, in a folder or a zip: UTF-8 with its mark, commas, points before decimals."""

import csv
import os
import zipfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from json import loads
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from service.documents.packed import PackedCatalog
from service.tables.cells import FORMULA_SIGNS, Cell, in_quotes
from service.tables.derive import sections, tables
from service.tables.shape import Table
from service.tables.unfold import Row, rows_of

Progress = Callable[[int, int], None]
"""Told (objects written, objects in all)."""
SUFFIX = ".csv"
_AT_ONCE = 500


def rows_of_catalog(catalog: PackedCatalog, progress: Progress) -> Iterator[Row]:
    """Yield the rows of all tables of a catalog, an object after the other."""
    total = sum(map(len, catalog.texts.values()))
    done = 0
    for name, table in sections().items():
        for text in catalog.texts[name].values():
            yield from rows_of(table, loads(text))
            done += 1
            if done % _AT_ONCE == 0:
                progress(done, total)


def write_csv(catalog: PackedCatalog, path: Path, progress: Progress = lambda _done, _total: None) -> None:
    """Write a catalog into a folder, or into a zip where the name ends so; no more than a row of it is held.

    Raises OSError.
    """
    if path.suffix.lower() != ".zip":
        path.mkdir(parents=True, exist_ok=True)
        _write_files(catalog, path, progress)
        return
    draft = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    try:
        with TemporaryDirectory() as folder, zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED) as packed:
            _write_files(catalog, Path(folder), progress)
            for title in tables():
                packed.write(Path(folder) / f"{title}{SUFFIX}", f"{title}{SUFFIX}")
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)


def _write_files(catalog: PackedCatalog, folder: Path, progress: Progress) -> None:
    with ExitStack() as stack:
        writers: dict[str, Any] = {}
        for title, table in tables().items():
            file = stack.enter_context((folder / f"{title}{SUFFIX}").open("w", encoding="utf-8-sig", newline=""))
            writers[title] = csv.writer(file)
            writers[title].writerow(table.heads)
        for table, cells in rows_of_catalog(catalog, progress):
            writers[table.title].writerow(_told(table, cells))


def _told(table: Table, cells: list[Cell]) -> Iterator[Cell]:
    for place, cell in enumerate(cells):
        if isinstance(cell, bool):
            yield "TRUE" if cell else "FALSE"
        elif isinstance(cell, str) and cell.startswith(FORMULA_SIGNS) and _is_one_text(table, place):
            yield in_quotes(cell)
        else:
            yield cell


def _is_one_text(table: Table, place: int) -> bool:
    return place < table.keys or table.columns[place - table.keys].form == "one"
