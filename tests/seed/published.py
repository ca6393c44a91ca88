"""Rows of this folder's `reference/*.csv`: published figures, each with its standard or handbook."""

import csv
import re
from pathlib import Path

from tests.hydraulics.published import Row

FOLDER = Path(__file__).parent / "reference"


def rows(file: str, words: str = "") -> list[Row]:
    """Give the rows of one file whose quantity has the words, in its order."""
    with (FOLDER / file).open(newline="", encoding="utf-8") as lines:
        return [row for row in (Row(**line) for line in csv.DictReader(lines)) if words in row.quantity]


def row(row_id: str) -> Row:
    """Give one row by its id."""
    return next(found for file in sorted(FOLDER.glob("*.csv")) for found in rows(file.name) if found.id == row_id)


def value(row_id: str) -> float:
    """Give the figure of one row."""
    return float(row(row_id).value)


def cited(row: Row) -> str:
    """Name a test case after its row, its source, and how the figure came (`memory`: not seen again)."""
    return f"{row.id} [{row.source}; {row.how}]"


def dash_size(row: Row) -> int:
    """Give the size that a row is for, as in `dash -8`."""
    found = re.search(r"dash -(\d+)", row.conditions)
    assert found, f"{row.id} tells no dash size"
    return int(found[1])
