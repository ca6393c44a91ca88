"""Rows of a text file: in the encodings and with the separators of spreadsheets."""

import codecs
import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import BufferedReader, RawIOBase, TextIOWrapper
from itertools import chain
from typing import Any, BinaryIO

START_BYTES = 64 * 1024
"""So much of a file's beginning tells what it is."""
_APART = ",;\t"
"""Spreadsheets of many countries write semicolons."""
_TOLD_APART = re.compile(r"sep=(.)\s*", re.IGNORECASE)
_CONTROLS = re.compile(rb"[\x00-\x08\x0e-\x1f]")
_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


class SheetError(Exception):
    """A file cannot be read as a table at all."""


@dataclass(frozen=True)
class SheetRow:
    """A row of a file: the line it begins in, its cells; where it cannot be read, why."""

    line: int
    cells: Sequence[str]
    fault: str = ""


@dataclass
class SheetRows:
    """A file opened: its first row, the others, and what is to be said aloud of how it was read.

    `apart` is what stands between the cells of a text.
    """

    header: Sequence[str]
    rows: Iterator[SheetRow]
    notes: list[str] = field(default_factory=list)
    apart: str = ""


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


def open_text(file: BinaryIO, start: bytes, most_columns: int, most_line: int) -> SheetRows:
    """The rows of a text that begins with `start`; `most_line`: so many characters a line of it may have.

    Raises SheetError, now or while they are read, for what is no table; OSError.
    """
    encoding = _encoding(file, start)
    lines = TextIOWrapper(BufferedReader(_Lent(file)), encoding=encoding, newline="")
    numbered = _bounded(lines, most_line)
    first = next(numbered, "")
    skipped = 0
    told = _TOLD_APART.fullmatch(first)
    if told is not None:
        first, skipped = next(numbered, ""), 1
    apart = told[1] if told is not None else max(_APART, key=first.count)
    if first.count(apart) >= most_columns:
        raise SheetError(f"the first line has more than {most_columns} columns")
    rows = _rows(csv.reader(chain([first], numbered), strict=True, delimiter=apart), skipped)
    header = next(rows, SheetRow(1, []))
    notes = ["the file is read as Windows-1252"] if encoding == "cp1252" else []
    return SheetRows(header.cells, rows, notes, apart)


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
        while chunk := file.read(START_BYTES):
            decoder.decode(chunk)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    finally:
        file.seek(0)
    return True


def _bounded(lines: TextIOWrapper, most: int) -> Iterator[str]:
    """Yield the lines of a file. Raises SheetError for one that is too long."""
    number = 1
    try:
        while line := lines.readline(most + 1):
            if len(line) > most:
                raise SheetError(f"line {number} has more than {most:,} characters")
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
