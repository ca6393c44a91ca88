"""The rows of a sheet as records: each cell read by its column, what is wrong told with its place."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from service.documents.rendering import printable, rendered
from service.tables.cells import CellError, is_empty, value_in
from service.tables.faults import Faults, Place
from service.tables.heads import places_of
from service.tables.numbers import Habit, habit_of
from service.tables.opening import FailedFormula, Formula, Sheet
from service.tables.shape import Column, Scalar, Table, value_at

_TEXT = Column((), "", Scalar("text"))
_WHOLE = Column((), "", Scalar("whole"))


@dataclass(eq=False)
class Record:
    """A record of a row: `refs` name the one above, `place` says where in it (None: not told), `value` what it holds.

    `row`: None where there is none, as the record was taken from the catalog that the file is held against; `base`:
    what stands there in that catalog. `names`: the cells that name it. `has_fault`: some cell of it cannot be read.
    `beneath`: the records of its lists, each with where it stands in this one.
    """

    refs: tuple[str, ...]
    place: tuple[Any, ...]
    value: Any
    sheet: str
    row: int | None = None
    names: tuple[str, ...] = ()
    is_blank: bool = False
    has_fault: bool = False
    base: Any = None
    beneath: list[tuple[tuple[str, ...], "Record"]] = field(default_factory=list)


def records_of(table: Table, sheet: Sheet, faults: Faults) -> list[Record] | None:
    """The records of a sheet in the order of its rows; None where its heads do not let them be read."""
    places = places_of(table, sheet, faults)
    if places is None:
        return None
    reading = _Reading(table, sheet, places, faults)
    found: list[Record] = []
    for number, cells in sheet.rows:
        told = [cells[place] if place < len(cells) else None for place in places]
        reading.look_beside(number, cells)
        if all(map(is_empty, told)):
            continue
        if not (found and reading.goes_on(found[-1], told, number)):
            found.append(reading.record(number, told))
    return found


class _Reading:
    def __init__(self, table: Table, sheet: Sheet, places: list[int], faults: Faults) -> None:
        self._table = table
        self._sheet = sheet
        self._faults = faults
        self._places = frozenset(places)
        own = [at for at, column in enumerate(table.columns, table.keys) if column.path == (table.id_path,)]
        self._naming = (*range(table.keys), *own)
        self._habit: Habit | None = habit_of(self._numbers(places), sheet.usual)
        self._has_fault = False

    def _numbers(self, places: list[int]) -> Iterator[str]:
        """Yield what stands as text in columns of numbers."""
        columns = zip(self._table.columns, places[self._table.keys :], strict=True)
        wanted = [place for one, place in columns if one.form == "one" and one.scalar.kind == "number"]
        for _, cells in self._sheet.rows:
            for place in wanted:
                if place < len(cells) and isinstance(told := cells[place], str):
                    yield told

    def look_beside(self, number: int, cells: list[object]) -> None:
        """Tell cells that stand under no head."""
        for place, cell in enumerate(cells):
            if place not in self._places and not is_empty(cell):
                self._tell(number, f"{len(cells)} cells", rendered(cell), "nothing: there is no head above it")
                return

    def goes_on(self, last: Record, told: list[object], number: int) -> bool:
        """Add a row to the record before it, where it names that one and has nothing else but more of its lists."""
        more = [at for at in range(self._table.keys, len(told)) if at not in self._naming and not is_empty(told[at])]
        columns = [self._table.columns[at - self._table.keys] for at in more]
        is_more = bool(more) and all(column.form in ("list", "map") for column in columns)
        names = self._names(told)
        if not is_more or names != last.names or not all(names):
            return False
        for at, column in zip(more, columns, strict=True):
            value = self._value(number, self._table.heads[at], column, told[at])
            known = _within(last.value, column.path[:-1]).setdefault(column.path[-1], type(value)())
            known.update(value) if isinstance(known, dict) else known.extend(value or ())
        return True

    def _names(self, told: list[object]) -> tuple[str, ...]:
        return tuple("" if is_empty(told[at]) else str(told[at]).strip() for at in self._naming)

    def record(self, number: int, told: list[object]) -> Record:
        """The record of a row."""
        table, self._has_fault = self._table, False
        heads = table.heads
        refs = tuple(self._ref(number, heads[at], told[at]) for at in range(len(table.refs)))
        place = tuple(
            self._level(number, level, heads[at], told[at]) for at, level in enumerate(table.levels, len(table.refs))
        )
        value: Any = {}
        empty = []
        for at, column in enumerate(table.columns, table.keys):
            if is_empty(told[at]):
                empty += [column] if column.form in ("list", "map") and not column.is_nullable else []
                continue
            read = self._value(number, heads[at], column, told[at])
            if not column.path:
                value = read
            elif column.form != "there":
                _within(value, column.path[:-1])[column.path[-1]] = read
            elif read:
                _within(value, column.path)
        for path in () if self._has_fault or not isinstance(value, dict) else table.needed:
            _within(value, path)
        for column in empty:
            holder = value_at(value, column.path[:-1])
            if isinstance(holder, dict):
                holder[column.path[-1]] = [] if column.form == "list" else {}
        is_blank = all(map(is_empty, told[table.keys :]))
        names = self._names(told)
        return Record(refs, place, value, self._sheet.title, number, names, is_blank, self._has_fault)

    def _ref(self, number: int, head: str, cell: object) -> str:
        return "" if is_empty(cell) else str(self._value(number, head, _TEXT, cell))

    def _level(self, number: int, level: str, head: str, cell: object) -> Any:
        if is_empty(cell):
            return None
        return self._value(number, head, _WHOLE if level == "list" else _TEXT, cell)

    def _value(self, number: int, head: str, column: Column, cell: object) -> Any:
        try:
            if isinstance(cell, Formula):
                raise CellError("a value: nobody has worked this formula out; save the file in a spreadsheet first")
            if isinstance(cell, FailedFormula):
                raise CellError("a value; it is the error of a formula")
            return value_in(column, cell, self._habit)
        except CellError as error:
            found = {Formula: "a formula", FailedFormula: getattr(cell, "error", "")}.get(type(cell), _shown(cell))
            self._tell(number, head, found, error.expected, error.nearest)
            return None

    def _tell(self, number: int, head: str, found: str, expected: str, near: tuple[str, ...] = ()) -> None:
        self._has_fault = True
        self._faults.add(Place(self._sheet.title, number, head), found, expected, near)


def _shown(cell: object) -> str:
    """A cell as it is told."""
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    return rendered(cell) if isinstance(cell, str | int | float) else printable(f"the date {cell}")


def _within(value: dict[str, Any], path: tuple[str, ...]) -> dict[str, Any]:
    """The object at a path, made where there is none."""
    for name in path:
        value = value.setdefault(name, {})
    return value
