"""The rows of a file of orders: text in the encodings and with the separators of spreadsheets, or a workbook."""

import codecs
import csv
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from io import BufferedReader, RawIOBase, TextIOWrapper
from itertools import chain
from typing import Any, BinaryIO

MOST_COLUMNS = 50
_APART = ",;\t"
"""Spreadsheets of many countries write semicolons."""
_MOST_LINE = 20_000
"""So many characters a line of the file may have."""
_MOST_WORKBOOK_BYTES = 64 * 1024 * 1024
"""So much a workbook may be unpacked: it is a file of a few MB that may hold a thousand times as much."""
_MOST_PARTS = 2_000
_CHUNK = 64 * 1024
_TOLD_APART = re.compile(r"sep=(.)\s*", re.IGNORECASE)
_CONTROLS = re.compile(rb"[\x00-\x08\x0e-\x1f]")
_WORKBOOK = b"PK\x03\x04"
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


class SheetError(Exception):
    """The file cannot be read as orders at all."""


@dataclass(frozen=True)
class SheetRow:
    """A row of a file: the line it begins in, its cells; where it cannot be read, why."""

    line: int
    cells: Sequence[str]
    fault: str = ""


@dataclass
class SheetRows:
    """A file opened: its first row, the others, and what is to be said aloud of how it was read."""

    header: Sequence[str]
    rows: Iterator[SheetRow]
    notes: list[str] = field(default_factory=list)


class _Lent(RawIOBase):
    """A file that is read here and closed by whoever opened it."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        """Fill a buffer; how much of it."""
        raw = self._file.read(len(buffer))
        buffer[: len(raw)] = raw
        return len(raw)


def open_rows(file: BinaryIO) -> SheetRows:
    """The rows of a file. Raises SheetError, now or while they are read, for what is no table; OSError."""
    start = file.read(_CHUNK)
    file.seek(0)
    return _workbook(file) if start.startswith(_WORKBOOK) else _text(file, start)


def _text(file: BinaryIO, start: bytes) -> SheetRows:
    encoding = _encoding(file, start)
    lines = TextIOWrapper(BufferedReader(_Lent(file)), encoding=encoding, newline="")
    numbered = _bounded(lines)
    first = next(numbered, "")
    skipped = 0
    told = _TOLD_APART.fullmatch(first)
    if told is not None:
        first, skipped = next(numbered, ""), 1
    apart = told[1] if told is not None else max(_APART, key=first.count)
    if first.count(apart) >= MOST_COLUMNS:
        raise SheetError(f"the first line has more than {MOST_COLUMNS} columns")
    rows = _rows(csv.reader(chain([first], numbered), strict=True, delimiter=apart), skipped)
    header = next(rows, SheetRow(1, []))
    notes = ["the file is read as Windows-1252"] if encoding == "cp1252" else []
    return SheetRows(header.cells, rows, notes)


def _encoding(file: BinaryIO, start: bytes) -> str:
    for mark, encoding in _MARKS:
        if start.startswith(mark):
            return encoding
    for encoding, nuls in (("utf-16-le", start[1::2]), ("utf-16-be", start[::2])):
        if len(start) > 1 and nuls.count(0) * 2 > len(nuls):
            return encoding
    if _is_in(file, "utf-8"):
        return "utf-8"
    if not _CONTROLS.search(start) and _is_in(file, "cp1252"):
        return "cp1252"
    raise SheetError(
        "found bytes that are no text, expected a workbook (XLSX), or CSV in UTF-8, UTF-16 or Windows-1252"
    )


def _is_in(file: BinaryIO, encoding: str) -> bool:
    decoder = codecs.getincrementaldecoder(encoding)()
    try:
        while chunk := file.read(_CHUNK):
            decoder.decode(chunk)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    finally:
        file.seek(0)
    return True


def _bounded(lines: TextIOWrapper) -> Iterator[str]:
    """Yield the lines of a file. Raises SheetError for one that is too long."""
    number = 1
    try:
        while line := lines.readline(_MOST_LINE + 1):
            if len(line) > _MOST_LINE:
                raise SheetError(f"line {number} has more than {_MOST_LINE:,} characters")
            yield line
            number += 1
    except UnicodeDecodeError:
        raise SheetError(f"found bytes that are not {lines.encoding}") from None


def _rows(reader: Any, skipped: int) -> Iterator[SheetRow]:
    """Yield each row with the line it begins in; where it cannot be read, why. A bad row does not end the reading."""
    while True:
        line = reader.line_num + 1 + skipped
        try:
            yield SheetRow(line, next(reader))
        except StopIteration:
            return
        except csv.Error as error:
            yield SheetRow(line, [], f"line {line}: found {error}, expected cells in commas, quotes closed")


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
