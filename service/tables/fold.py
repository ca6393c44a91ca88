"""The rows of tables put together to objects of a catalog, held against one that they are laid over.

A table that is not there leaves what it would tell as it is; of one that is there every row counts, and what has no row
in it is gone.
"""

from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from json import loads
from typing import Any

from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.domain.work import spend
from service.tables.faults import Faults, Place
from service.tables.opening import Sheet
from service.tables.rows import Record, records_of
from service.tables.shape import Table, value_at

Refs = tuple[str, ...]


@dataclass
class Folded:
    """The objects of a section by their ids, each as the record of its row with all beneath it."""

    table: Table
    records: dict[str, Record] = field(default_factory=dict)

    def place_of(self, key: str, path: Iterable[str]) -> Place:
        """Where in the sheets something of an object stands: the deepest row and column on its path."""
        rest, record, table = list(path), self.records.get(key), self.table
        if record is None:
            return Place(table.title)
        while True:
            deeper = _deeper(table, record, rest)
            if deeper is None:
                return Place(record.sheet, record.row, _column(table, rest) or (None if record.row else key))
            length, table, record = deeper
            rest = rest[length:]


def fold(main: Table, sheets: Mapping[str, Sheet], base: Mapping[str, str], faults: Faults) -> Folded:
    """The objects of a section; `base` has those of the catalog beneath, as JSON by their ids."""
    records = records_of(main, sheets[main.title], faults) if main.title in sheets else None
    if main.title in sheets and records is None:
        return Folded(main)
    known = _taken(main, base) if records is None else _told(main, records, base, faults)
    folding = _Folding(sheets, faults)
    folding.beneath(main, {() if main.is_once else (key,): record for key, record in known.items()})
    return Folded(main, known)


def _taken(main: Table, base: Mapping[str, str]) -> dict[str, Record]:
    """The objects of the catalog beneath."""
    return {key: Record((), (), loads(text), main.title, base=loads(text)) for key, text in base.items()}


def _told(main: Table, records: list[Record], base: Mapping[str, str], faults: Faults) -> dict[str, Record]:
    """The records of a sheet by their ids."""
    known: dict[str, Record] = {}
    if main.is_once:
        for record in records[1:]:
            faults.add(Place(main.title, record.row), "another row", "one row")
        if not records:
            faults.add(Place(main.title), "no row", "one row")
        known = dict(zip([""], records, strict=False))
    for record in () if main.is_once else records:
        key = record.value.get(main.id_path)
        if not isinstance(key, str):
            if not record.has_fault:
                faults.add(Place(main.title, record.row, main.id_path), "nothing", f"the {main.id_path} of the row")
        elif key in known:
            before = known[key].row
            faults.add(Place(main.title, record.row, main.id_path), f"{rendered(key)} once more", _once(before))
        else:
            known[key] = record
    for key, record in known.items():
        record.base = loads(base[key]) if key in base else None
    return known


def _once(row: int | None) -> str:
    return f"each once: row {row} has it"


class _Folding:
    def __init__(self, sheets: Mapping[str, Sheet], faults: Faults) -> None:
        self._sheets = sheets
        self._faults = faults

    def beneath(self, table: Table, known: Mapping[Refs, Record]) -> None:
        """Put into the records of a table what the tables beneath it tell. `known`: by how those name them."""
        for child in table.children:
            if not any(one.title in self._sheets for one in child.with_beneath()):
                _leave(child, known.values())
                continue
            if child.title not in self._sheets:
                _leave(child, known.values())
                inner = _inner(child, known)
            else:
                records = records_of(child, self._sheets[child.title], self._faults)
                if records is None:
                    continue
                inner = self._put(child, known, records)
            self.beneath(child, inner)

    def _put(self, child: Table, known: Mapping[Refs, Record], records: list[Record]) -> dict[Refs, Record]:
        """Put the rows of a table into the records above, in the place of what was there."""
        of: dict[Refs, list[Record]] = {refs: [] for refs in known}
        above = _Above(known)
        for record in records:
            spend(1, "order")
            if record.refs in of:
                of[record.refs].append(record)
            elif not record.has_fault:
                self._tell_missing(child, above, record)
        inner: dict[Refs, Record] = {}
        for refs, parent in known.items():
            self._check(child, of[refs])
            value, placed = _gathered(child, of[refs])
            _put_at(parent.value, child.path, value)
            before = dict(_entries(child, value_at(parent.base, child.path)))
            for place, record in placed:
                parent.beneath.append(((*child.path, *place), record))
                name = _name_of(child, record.value, record.place)
                record.base = before.get(name)
                inner[(*refs, *name)] = record
        return inner

    def _check(self, child: Table, records: list[Record]) -> None:
        """Tell rows that have no place among the others, or one that another has."""
        seen: dict[tuple[str, ...], int | None] = {}
        must = "map" in child.levels or child.id_path is not None or bool(child.children)
        heads = child.level_heads
        for record in records:
            if record.has_fault or (record.is_blank and None in record.place):
                continue
            blank = [head for head, part in zip(heads, record.place, strict=True) if part is None]
            if blank and "map" in child.levels:
                self._faults.add(Place(child.title, record.row, blank[0]), "nothing", "what tells its place")
                continue
            name = _name_of(child, record.value, record.place)
            if None in record.place and child.id_path is None:
                continue
            if must and name in seen:
                at = Place(child.title, record.row, child.id_path or heads[-1])
                self._faults.add(at, f"{rendered(name[-1])} once more", _once(seen[name]))
            seen.setdefault(name, record.row)

    def _tell_missing(self, child: Table, above: "_Above", record: Record) -> None:
        """Tell what a row names that there is not."""
        depth = next(at for at in range(len(child.refs)) if record.refs[: at + 1] not in above.names)
        told, head = record.refs[depth], child.refs[depth]
        at = Place(child.title, record.row, head)
        found = rendered(told) if told else "nothing"
        near = tuple(nearest(told, above.beside(record.refs[:depth]))) if self._faults.has_room else ()
        self._faults.add(at, found, f"the {head} that a row of the table {child.above} has", near)


class _Above:
    """What the rows of a table may name in the one above it."""

    def __init__(self, known: Iterable[Refs]) -> None:
        self.names = {refs[:depth] for refs in known for depth in range(1, len(refs) + 1)}

    def beside(self, refs: Refs) -> list[str]:
        """What may be named next where so much is."""
        return [name[-1] for name in self.names if name[:-1] == refs]


def _leave(child: Table, above: Iterable[Record]) -> None:
    """Leave in records that were told what stands beneath in the catalog; in a new one nothing does."""
    for record in above:
        told = value_at(record.base, child.path) if record.base is not None else _nothing_in(child)
        if record.row is not None and told is not None:
            _put_at(record.value, child.path, deepcopy(told))


def _nothing_in(child: Table) -> Any:
    """What stands where a table has no row."""
    if child.is_nullable or not child.is_needed:
        return None
    return [] if child.levels[0] == "list" else {}


def _inner(child: Table, known: Mapping[Refs, Record]) -> dict[Refs, Record]:
    """The records of a table that is not there, as its parents hold them."""
    inner: dict[Refs, Record] = {}
    for refs, parent in known.items():
        for (name, base), (place, value) in zip(
            _entries(child, value_at(parent.base, child.path)),
            _places(child, value_at(parent.value, child.path)),
            strict=False,
        ):
            record = Record(refs, (), value, child.title, base=base)
            parent.beneath.append(((*child.path, *place), record))
            inner[(*refs, *name)] = record
    return inner


def _places(child: Table, value: Any) -> Iterable[tuple[tuple[str, ...], Any]]:
    """The elements of a list or map with their places as a pointer has them, from 0."""
    if not value:
        return
    for place, element in enumerate(value) if child.levels[0] == "list" else value.items():
        if len(child.levels) == 1:
            yield (str(place),), element
        else:
            for key, one in element.items():
                yield (str(place), key), one


def _entries(child: Table, value: Any) -> Iterable[tuple[tuple[str, ...], Any]]:
    """The elements of a list or map by the names that tables beneath give them: their ids, or places from 1."""
    for place, element in _places(child, value):
        number = str(int(place[0]) + 1) if child.levels[0] == "list" else place[0]
        yield _name_of(child, element, (number, *place[1:])), element


def _name_of(child: Table, value: Any, place: tuple[Any, ...]) -> tuple[str, ...]:
    if child.id_path is not None:
        return (str(value.get(child.id_path)),)
    return tuple(map(str, place))


def _gathered(child: Table, records: list[Record]) -> tuple[Any, list[tuple[tuple[str, ...], Record]]]:
    """What the rows of one record come to, and each with its place in that; None where nothing is to stand there."""
    told = [record for record in records if not (record.is_blank and None in record.place)]
    blank = [record for record in records if record.is_blank and None in record.place]
    if not told and not blank:
        return _nothing_in(child), []
    if child.levels[0] == "map":
        return {record.place[0]: record.value for record in told}, [((str(x.place[0]),), x) for x in told]
    if len(child.levels) == 1:
        told.sort(key=_number)
        return [record.value for record in told], [((str(at),), record) for at, record in enumerate(told)]
    numbers = {number: at for at, number in enumerate(sorted({_number(x) for x in records if x.place[0] is not None}))}
    maps: list[dict[str, Any]] = [{} for _ in numbers]
    placed: list[tuple[tuple[str, ...], Record]] = []
    for record in told:
        at = numbers.get(_number(record))
        if at is not None:
            maps[at][record.place[1]] = record.value
            placed.append(((str(at), str(record.place[1])), record))
    return maps, placed


def _number(record: Record) -> float:
    """The place that a row tells; those that tell none come last."""
    place = record.place[0]
    return place if isinstance(place, int | float) else float("inf")


def _put_at(value: Any, path: tuple[str, ...], told: Any) -> None:
    """Put something at a path of a record, or take away what is there; an object on the way is made for it."""
    if not isinstance(value, dict):
        return
    for name in path[:-1]:
        if told is None and not isinstance(value.get(name), dict):
            return
        value = value.setdefault(name, {})
    if told is None:
        value.pop(path[-1], None)
    else:
        value[path[-1]] = told


def _deeper(table: Table, record: Record, rest: list[str]) -> tuple[int, Table, Record] | None:
    """The record beneath that a path leads through: how much of the path leads there, its table, and itself."""
    for place, one in record.beneath:
        if tuple(rest[: len(place)]) == place:
            child = next(x for x in table.children if place[: len(x.path)] == x.path)
            return len(place), child, one
    return None


def _column(table: Table, rest: list[str]) -> str | None:
    """The head of the column that a path within a record leads to; of a table beneath, its name."""
    for column in table.columns:
        if tuple(rest[: len(column.path)]) == column.path and (column.form != "there" or len(rest) == len(column.path)):
            return column.head
    beneath = next((child.title for child in table.children if tuple(rest[: len(child.path)]) == child.path), None)
    return beneath or next((column.head for column in table.columns if column.path[: len(rest)] == tuple(rest)), None)
