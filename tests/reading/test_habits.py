"""Some two thousand orders in every habit of writing, labelled before they were read: none may be sure and wrong."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from service.reading.orders import Reading
from tests.reading.catalogs import READERS

_HABITS = Path(__file__).with_name("habits.txt")
Lines = list[tuple[int, str | None, int | None]]


@dataclass(frozen=True)
class Habit:
    """A text, and what it must be; `told`: row, SKU and quantity of each part that may be sure."""

    catalog: str
    must_be: str
    told: Lines
    text: str


@cache
def habits() -> list[tuple[Habit, Reading]]:
    return [(habit, READERS[habit.catalog].read(habit.text)) for habit in _rows()]


def _rows() -> Iterator[Habit]:
    for line in _HABITS.read_text(encoding="utf-8").splitlines()[1:]:
        catalog, must_be, told, text = line.removesuffix(" |").split(" | ", 3)
        parts = [one.split(" ", 1) for one in told.split(", ") if one]
        lines: Lines = [(int(row), part.rsplit(" ", 1)[0], int(part.rsplit(" ", 1)[1])) for row, part in parts]
        yield Habit(catalog, must_be, lines, _unescaped(text))


def _unescaped(text: str) -> str:
    """Backslashes as in Python: what is not seen in an editor is written by them."""
    return text.encode("ascii", "backslashreplace").decode("unicode_escape")


def sure(reading: Reading) -> Lines:
    return [(line.row, line.sku, line.qty) for line in reading.lines if line.sure]


def of_kind(*kinds: str) -> list[tuple[Habit, Reading]]:
    found = [(habit, reading) for habit, reading in habits() if habit.must_be in kinds]
    assert found
    return found


def test_nothing_is_sure_and_wrong() -> None:
    wrong = [(x.text, got) for x, read in habits() for got in sure(read) if got not in x.told]
    assert wrong == []


def test_what_a_careful_person_is_sure_of_is_sure() -> None:
    asked = [(x.text, read.lines) for x, read in of_kind("sure") if sorted(sure(read)) != sorted(x.told)]
    assert asked == []


def test_what_is_no_part_is_no_line() -> None:
    assert [(x.text, read.lines) for x, read in of_kind("no-line") if read.lines] == []


def test_what_a_careful_person_asks_about_is_nearly_always_a_line() -> None:
    """The rest is shown as it came: a single word that many parts share is no order."""
    found = of_kind("asked")
    assert sum(bool(read.lines) for _, read in found) > 0.97 * len(found)


def test_what_is_asked_offers_what_may_be_meant() -> None:
    for habit, reading in of_kind("asked", "sure-or-asked"):
        for line in reading.lines:
            assert line.sure == (line.asks is None), habit.text
            assert all(1 <= one.qty <= 10_000 for one in line.candidates), habit.text
