"""Files of tables as they are brought back: a workbook, a zip or a folder of CSV files, or one CSV file.

A file of some MB may hold a thousand times as much: what is unpacked of it is bounded, and so are its rows.
"""

import zipfile
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any, BinaryIO

from service.documents.nearest import nearest
from service.documents.rendering import printable, rendered
from service.domain.work import spend
from service.tables.cells import is_empty
from service.tables.csv_files import SUFFIX
from service.tables.derive import tables
from service.tables.faults import TableFaultsError, refused
from service.tables.numbers import Habit
from service.tables.shape import Table
from service.tables.text import START_BYTES, SheetError, SheetRows, open_text
from service.tables.workbook import unescaped

_MOST_COLUMNS = 500
_MOST_CHARACTERS = 1_000_000
_MOST_EMPTY = 2_000_000
_MOST_PARTS = 500
_ZIP = (b"PK\x03\x04", b"PK\x05\x06")
_IN_WORKBOOK = "xl/workbook.xml"
_WHOLE = "the file"


@dataclass(frozen=True)
class Bounds:
    """How much a file may hold: bytes when it is unpacked, and rows in all."""

    unpacked_bytes: int = 64 * 1024 * 1024
    rows: int = 200_000


@dataclass(frozen=True)
class Formula:
    """A formula that nobody has worked out: what its cell comes to is not known."""


@dataclass(frozen=True)
class FailedFormula:
    """A formula that came to an error, such as `#REF!`."""

    error: str


@dataclass(frozen=True)
class Sheet:
    """A table that was brought: its heads, then its rows, each with its number. `usual`: how its numbers are written
    where they do not tell it themselves."""

    title: str
    heads: list[object]
    rows: list[tuple[int, list[object]]]
    usual: Habit | None = None


def open_file(file: BinaryIO, bounds: Bounds, title: str | None = None) -> list[Sheet]:
    """The tables of a file; `title` names that of a single CSV file, whose heads tell it otherwise.

    Raises TableFaultsError for what is none, or too much; OSError.
    """
    counted = _Counted(bounds.rows)
    start = file.read(START_BYTES)
    file.seek(0)
    if not start.startswith(_ZIP):
        return [_csv(file, title, _WHOLE if title is None else title, counted)]
    try:
        with zipfile.ZipFile(file) as packed:
            parts = packed.infolist()
            unpacked = sum(part.file_size for part in parts)
            if len(parts) > _MOST_PARTS or unpacked > bounds.unpacked_bytes:
                found = f"{len(parts):,} parts, {unpacked:,} bytes when they are unpacked"
                raise refused(_WHOLE, found, f"at most {_MOST_PARTS} parts and {bounds.unpacked_bytes:,} bytes")
            if any(part.filename == _IN_WORKBOOK for part in parts):
                return _workbook(file, packed, counted)
            return list(_members(packed, counted))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError) as error:
        if isinstance(error, TableFaultsError):
            raise
        raise refused(_WHOLE, "a zip that cannot be unpacked", "a workbook (XLSX), or a zip of CSV files") from error


def open_path(path: Path, bounds: Bounds) -> list[Sheet]:
    """The tables of a file, or of the CSV files of a folder. Raises as `open_file`."""
    if not path.is_dir():
        with path.open("rb") as file:
            return open_file(file, bounds, path.stem if path.stem in tables() else None)
    counted = _Counted(bounds.rows)
    with ExitStack() as stack:
        files = [file for file in sorted(path.iterdir()) if file.suffix.lower() == SUFFIX and file.is_file()]
        if not files:
            raise refused(printable(path.name), "a folder without CSV files", "one file a table, such as items.csv")
        if sum(file.stat().st_size for file in files) > bounds.unpacked_bytes:
            raise refused(printable(path.name), "too much", f"at most {bounds.unpacked_bytes:,} bytes")
        opened = ((file.stem, stack.enter_context(file.open("rb"))) for file in files)
        return [_csv(file, _known(stem), stem, counted) for stem, file in opened]


def _members(packed: zipfile.ZipFile, counted: "_Counted") -> Iterator[Sheet]:
    seen: set[str] = set()
    for part in packed.infolist():
        name = PurePosixPath(part.filename)
        if part.is_dir() or name.name.startswith(".") or "__MACOSX" in name.parts:
            continue
        if name.suffix.lower() != SUFFIX:
            raise refused(printable(part.filename), "a file of another kind", "CSV files named after tables")
        if name.stem in seen:
            raise refused(printable(name.stem), "two files of this name", "each table once")
        seen.add(name.stem)
        with packed.open(part) as file:
            yield _csv(file, _known(name.stem), name.stem, counted)
    if not seen:
        raise refused(_WHOLE, "a zip without CSV files", "one file a table, such as items.csv")


def _known(title: str) -> str:
    """The title of a table. Raises TableFaultsError for one that is none."""
    if title not in tables():
        raise refused(printable(title), rendered(title), "the name of a table", tuple(nearest(title, tables())))
    return title


def _csv(file: Any, title: str | None, name: str, counted: "_Counted") -> Sheet:
    start = file.read(START_BYTES)
    file.seek(0)
    try:
        opened: SheetRows = open_text(file, start, _MOST_COLUMNS, _MOST_CHARACTERS)
        rows = []
        for number, row in enumerate(opened.rows, 2):  # as a spreadsheet counts: a cell may hold several lines
            if row.fault:
                raise refused(name, f"a row that cannot be read: {row.fault}", "cells in commas, quotes closed")
            counted.add()
            rows.append((number, list[object](row.cells)))
    except SheetError as error:
        raise refused(name, "what is no table", str(error)) from None
    heads = list[object](opened.header)
    title = _meant(heads) if title is None else title
    return Sheet(title, heads, rows, "." if opened.apart == "," else None)


def _meant(heads: list[object]) -> str:
    """The table that heads are those of, by how many they share. Raises TableFaultsError where none is meant."""
    told = {str(head).strip() for head in heads if head is not None}

    def share(table: Table) -> float:
        return len(told & set(table.heads)) / len(told | set(table.heads))

    best = max(tables().values(), key=share)
    if share(best) < 1 / 2:
        found = ", ".join(rendered(head) for head in heads[:5])
        raise refused(_WHOLE, found, "the heads of a table of the catalog, as they are exported")
    return best.title


class _Counted:
    """The rows of a file, which are not without end; of those with nothing in them there may be more."""

    def __init__(self, most: int) -> None:
        self._most = {True: most, False: max(most, _MOST_EMPTY)}
        self._count = {True: 0, False: 0}

    def add(self, *, is_told: bool = True) -> None:
        """Count a row. Raises TableFaultsError for one too many."""
        spend(1, "order")
        self._count[is_told] += 1
        most = self._most[is_told]
        if self._count[is_told] > most:
            raise refused(_WHOLE, f"more than {most:,} rows", f"at most {most:,} rows in all tables")


def _workbook(file: BinaryIO, packed: zipfile.ZipFile, counted: _Counted) -> list[Sheet]:
    from openpyxl import load_workbook  # here, as it takes a tenth of every start
    from openpyxl.utils.exceptions import InvalidFileException

    has_formulas = any(_has_formula(packed, part) for part in packed.namelist() if part.startswith("xl/worksheets/"))

    def opened(*, data_only: bool) -> Any:
        file.seek(0)
        book = load_workbook(file, read_only=True, data_only=data_only)
        for sheet in book.worksheets:
            sheet.reset_dimensions()  # what a file says of its size may be less than it has
        return book

    try:
        sheets = [_of_sheet(sheet, counted) for sheet in opened(data_only=True).worksheets]
        if has_formulas:
            for sheet, told in zip(opened(data_only=False).worksheets, sheets, strict=True):
                _mark_formulas(sheet, told)
    except TableFaultsError:
        raise
    except (
        *(zipfile.BadZipFile, InvalidFileException, KeyError, ValueError, IndexError, TypeError, AttributeError),
        *(SyntaxError, EOFError, OverflowError),
    ) as error:
        raise refused(_WHOLE, "what is no workbook, or one that breaks off", "a workbook (XLSX)") from error
    known = [sheet for sheet in sheets if sheet.heads or sheet.rows]
    for one in known:
        _known(one.title)
    return known


def _has_formula(packed: zipfile.ZipFile, part: str) -> bool:
    with packed.open(part) as stream:
        tail = b""
        while chunk := stream.read(START_BYTES):
            if b"<f>" in tail + chunk or b"<f " in tail + chunk:
                return True
            tail = chunk[-2:]
    return False


def _of_sheet(sheet: Any, counted: _Counted) -> Sheet:
    heads: list[object] = []
    rows: list[tuple[int, list[object]]] = []
    width = _MOST_COLUMNS
    for number, cells in enumerate(sheet.iter_rows(max_row=1, max_col=width), 1):
        heads = _trimmed([_value(cell) for cell in cells])
        counted.add(is_told=number == 1)
    # A cell to the right of all heads is seen, what is farther off is not.
    for number, cells in enumerate(sheet.iter_rows(min_row=2, max_col=len(heads) + 1), 2):
        told = _trimmed([_value(cell) for cell in cells])
        counted.add(is_told=bool(told))
        if told:
            rows.append((number, told))
    return Sheet(sheet.title, heads, rows)


def _trimmed(cells: list[object]) -> list[object]:
    """Cells without the empty ones behind the last that is not."""
    while cells and is_empty(cells[-1]):
        cells.pop()
    return cells


def _value(cell: Any) -> object:
    if isinstance(cell.value, str):
        return FailedFormula(cell.value) if cell.data_type == "e" else unescaped(cell.value)
    value: object = cell.value
    return value


def _mark_formulas(sheet: Any, told: Sheet) -> None:
    """Tell formulas apart from empty cells, where nothing is known of what they come to."""
    rows = dict(told.rows)
    for number, cells in enumerate(sheet.iter_rows(min_row=2, max_col=len(told.heads) + 1), 2):
        for place, cell in enumerate(cells):
            if cell.data_type != "f":
                continue
            if number not in rows:
                rows[number] = []
                told.rows.append((number, rows[number]))
            row = rows[number]
            row.extend(None for _ in range(place + 1 - len(row)))
            if row[place] is None:
                row[place] = Formula()
