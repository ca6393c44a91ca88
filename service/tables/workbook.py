"""A catalog as a workbook (XLSX): a sheet a table, its heads frozen, choices offered. No text of it is a formula."""

import os
import re
from itertools import chain
from pathlib import Path
from typing import Any

from service.documents.packed import PackedCatalog
from service.tables.cells import Cell
from service.tables.csv_files import Progress, rows_of_catalog
from service.tables.derive import tables
from service.tables.shape import Table

MOST_ROWS = 1_048_576
"""So many rows a sheet may have."""
_LONGEST_CHOICES = 255
_WIDTHS = (8, 40)
_NOT_PLAIN = re.compile(r"_x[0-9A-Fa-f]{4}_|\r")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


class TooLongTableError(ValueError):
    """Raised where a table has more rows than a sheet may have."""

    def __init__(self, title: str) -> None:
        super().__init__(f"the table {title} has more than the {MOST_ROWS:,} rows of a sheet: export it as CSV")


def write_workbook(catalog: PackedCatalog, path: Path, progress: Progress = lambda _done, _total: None) -> None:
    """Write a catalog as a workbook; no more than a row of it is held. Raises TooLongTableError, OSError."""
    from openpyxl import Workbook  # here, as it takes a tenth of every start

    book = Workbook(write_only=True)
    sheets = {title: _sheet(book, table) for title, table in tables().items()}
    try:
        _fill(sheets, catalog, progress)
    except TooLongTableError:
        for sheet in sheets.values():
            sheet.close()  # each holds a file
        raise
    draft = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    try:
        book.save(draft)
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)


def _fill(sheets: dict[str, Any], catalog: PackedCatalog, progress: Progress) -> None:
    counts = dict.fromkeys(sheets, 1)
    for table, cells in rows_of_catalog(catalog, progress):
        counts[table.title] += 1
        if counts[table.title] > MOST_ROWS:
            raise TooLongTableError(table.title)
        sheet = sheets[table.title]
        sheet.append([_told(sheet, cell) for cell in cells])


def unescaped(text: str) -> str:
    """A text of a workbook without the escapes of signs that XML changes."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text)


def _escaped(text: str) -> str:
    return _NOT_PLAIN.sub(lambda found: "_x000D_" if found[0] == "\r" else f"_x005F_{found[0][1:]}", text)


def _told(sheet: Any, cell: Cell) -> Any:
    """A cell as it is written: a text stays one whatever it begins with, a number is told to its last digit."""
    from openpyxl.cell import WriteOnlyCell

    if isinstance(cell, str):
        text = _escaped(cell)
        if not text.startswith(("=", "#")):
            return text
        told, kind = WriteOnlyCell(sheet, text), "s"
    elif isinstance(cell, float) and float(f"{cell:.16g}") != cell:
        told, kind = WriteOnlyCell(sheet, repr(cell)), "n"
    else:
        return cell
    told.data_type = kind
    return told


def _sheet(book: Any, table: Table) -> Any:
    """A sheet with its heads."""
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    sheet = book.create_sheet(table.title)
    sheet.freeze_panes = "A2"
    heads = []
    for number, head in enumerate(table.heads, 1):
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = min(max(len(head) + 2, _WIDTHS[0]), _WIDTHS[1])
        told = WriteOnlyCell(sheet, head)
        told.font = Font(bold=True)
        heads.append(told)
        if number > table.keys:
            _offer(sheet, table, number - table.keys - 1, letter)
    sheet.append(heads)
    return sheet


def _offer(sheet: Any, table: Table, place: int, letter: str) -> None:
    """Offer the choices of a column, where it has some."""
    from openpyxl.worksheet.datavalidation import DataValidation

    column = table.columns[place]
    if column.form not in ("one", "there"):
        return
    choices = ("TRUE", "FALSE") if column.scalar.kind == "flag" else column.scalar.choices
    told = ",".join(map(str, choices))
    if choices and len(told) < _LONGEST_CHOICES and not any("," in str(choice) for choice in choices):
        offered = DataValidation(type="list", formula1=f'"{told}"', allow_blank=True)
        offered.add(f"{letter}2:{letter}{MOST_ROWS}")
        sheet.data_validations.append(offered)


def letters(place: int) -> str:
    """The letters by which a spreadsheet names a column, from 0."""
    told = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        told = "".join(chain(chr(ord("A") + rest), told))
    return told
