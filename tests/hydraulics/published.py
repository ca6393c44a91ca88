"""Published figures: rows of `reference/*.csv`, each with its tolerance and its standard or handbook."""

import csv
import re
from pathlib import Path
from typing import NamedTuple

import pytest

FOLDER = Path(__file__).parent / "reference"


class Row(NamedTuple):
    """One published figure; `how` tells whether it was read, computed or given by a reference library."""

    id: str
    quantity: str
    conditions: str
    value: str
    unit: str
    tolerance: str
    source: str
    how: str

    def number(self, name: str) -> float:
        """Give the number that stands after or before a name in the conditions, as in `e/D = 0` or `4 m`."""
        found = re.search(rf"(?:{name})(?: =)? ([\d.e+-]+)|([\d.]+) (?:{name})", self.conditions)
        assert found, f"{self.id} tells no {name}"
        return float(found[1] or found[2])

    def expected(self, nth_tolerance: int = 0) -> object:
        """Give the figure with its tolerance, to compare with `==`; a row may name two tolerances."""
        if self.tolerance.startswith("exact"):
            return pytest.approx(float(self.value), rel=1e-12)
        allowed = re.findall(r"\+/-([\d.e-]+)(%| relative)?", self.tolerance)
        size, kind = allowed[nth_tolerance]
        if not kind:
            return pytest.approx(float(self.value), abs=float(size), rel=0)
        return pytest.approx(float(self.value), rel=float(size) / (100 if kind == "%" else 1))


def rows(file: str, folder: Path = FOLDER) -> list[Row]:
    """Give all rows of one file, in its order."""
    with (folder / file).open(newline="", encoding="utf-8") as lines:
        return [Row(**row) for row in csv.DictReader(lines)]


def with_source(row: Row) -> str:
    """Name a test case after its row and the row's source."""
    return f"{row.id} [{row.source}]"
