"""The rows of a file of orders: text in the encodings and with the separators of spreadsheets, or a workbook."""

import zipfile
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any, BinaryIO

from service.tables.text import START_BYTES, SheetError, SheetRow, SheetRows, open_text

__all__ = ["MOST_COLUMNS", "SheetError", "SheetRow", "SheetRows", "open_rows"]

MOST_COLUMNS = 50
_MOST_LINE = 20_000
"""So many characters a line of the file may have."""
_MOST_WORKBOOK_BYTES = 64 * 1024 * 1024
"""So much a workbook may be unpacked: it is a file of a few MB that may hold a thousand times as much."""
_MOST_PARTS = 2_000
_WORKBOOK = b"PK\x03\x04"


def open_rows(file: BinaryIO) -> SheetRows:
    """The rows of a file. Raises SheetError, now or while they are read, for what is no table; OSError."""
    start = file.read(START_BYTES)
    file.seek(0)
    return _workbook(file) if start.startswith(_WORKBOOK) else open_text(file, start, MOST_COLUMNS, _MOST_LINE)


def _workbook(file: BinaryIO) -> SheetRows:
    """The rows of the first sheet of a workbook; of formulas, what they last came to."""
    from openpyxl import load_workbook  # here, as it takes a tenth of every start
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        with zipfile.ZipFile(file) as packed:
            parts = packed.infolist()
            if len(parts) > _MOST_PARTS or sum(part.file_size for part in parts) > _MOST_WORKBOOK_BYTES:
                raise SheetError("the workbook is too large when it is unpacked")
        file.seek(0)
        book = load_workbook(file, read_only=True, data_only=True)
        book.worksheets[0].reset_dimensions()  # what a file says of its size may be less than it has
        rows = _of_sheet(book.worksheets[0])
        header = next(rows, SheetRow(1, []))
    except SheetError:
        raise
    except (zipfile.BadZipFile, InvalidFileException, KeyError, ValueError, IndexError, SyntaxError, EOFError) as error:
        raise SheetError("found what is no workbook (XLSX), expected one whose first sheet has the orders") from error
    if sum(1 for cell in header.cells if cell) > MOST_COLUMNS:
        raise SheetError(f"the first line has more than {MOST_COLUMNS} columns")
    names = ", ".join(book.sheetnames[1:4])
    return SheetRows(header.cells, rows, [f"only the first sheet is read, not {names}"] if names else [])


def _of_sheet(sheet: Any) -> Iterator[SheetRow]:
    try:
        for line, cells in enumerate(sheet.iter_rows(values_only=True, max_col=MOST_COLUMNS + 1), 1):
            yield SheetRow(line, [_cell(value) for value in cells])
    except (KeyError, ValueError, TypeError, SyntaxError, zipfile.BadZipFile, EOFError) as error:
        raise SheetError("the workbook breaks off, or its first sheet cannot be read") from error


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, (datetime, date)):
        return value.isoformat()
    return str(value)[:_MOST_LINE]
