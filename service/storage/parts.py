"""Nested plain data and flat rows, each from the other, told by data: which table holds which part of a document."""

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from service.storage.tables import METADATA

PlainRow = Mapping[Any, Any]
"""Values by column name."""
Path = tuple[str, ...]

ITSELF = ""
"""The field of a child that is not a field of its parent's object but the whole of it."""

_KEPT_BY_ALL = ("revision", "position")


@dataclasses.dataclass(frozen=True, eq=False)
class Part:
    """A list or an object of a document, kept in a table with one row an element, in order.

    A column is the field of the same name, but for those listed here:
    `field` is the part's name within its parent, or ITSELF;
    `key` is the column of an object's keys (None: the part is a list);
    `value` is the column of plain elements (None: the elements are objects);
    `nested` leads from a column to a field that lies deeper;
    `identity` names, for the children's rows, the columns that tell one row from another;
    `flag` is the parent's column that tells an empty part from a missing one (None: never missing);
    `optional`: missing where it has no row, as it is never empty;
    `single`: an object in one row.
    """

    table: str
    field: str
    key: str | None = None
    value: str | None = None
    nested: Mapping[str, Path] = dataclasses.field(default_factory=dict)
    identity: Mapping[str, str] = dataclasses.field(default_factory=dict)
    flag: str | None = None
    optional: bool = False
    single: bool = False
    children: tuple["Part", ...] = ()


def flatten(part: Part, whole: Any, inherited: Mapping[str, Any] | None = None) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield (table, row) for every element of `whole` and of its children; no row has its revision yet."""
    above = dict(inherited or {})
    paths = _paths(part, tuple(above))
    for position, (key, element) in enumerate(_entries(part, whole)):
        row = {**above, "position": position}
        if part.key:
            row[part.key] = key
        if part.value:
            row[part.value] = element
        row |= {column: dig(element, path) for column, path in paths.items()}
        row |= {child.flag: child.field in element for child in part.children if child.flag}
        yield part.table, row
        names = {name: row[column] for name, column in part.identity.items()}
        for child in part.children:
            below = element if child.field == ITSELF else element.get(child.field)
            if below is not None:
                yield from flatten(child, below, above | names)


def gather(
    part: Part, rows: Mapping[str, Iterable[PlainRow]], inherited: tuple[str, ...] = ()
) -> dict[tuple[Any, ...], Any]:
    """Return the part's lists or objects by the parents' identity; `rows` has each table's rows in order."""
    paths = _paths(part, inherited)
    below = (*inherited, *part.identity)
    children = [(child, gather(child, rows, below)) for child in part.children]
    gathered: dict[tuple[Any, ...], Any] = {}
    for row in rows[part.table]:
        above = tuple(row[column] for column in inherited)
        here = (*above, *(row[column] for column in part.identity.values()))
        element = row[part.value] if part.value else _document(row, paths)
        for child, found in children:
            if child.field == ITSELF:
                element = found.get(here, _empty(child))
            elif here in found or (not child.optional and (child.flag is None or row[child.flag])):
                element[child.field] = found.get(here, _empty(child))
        if part.single:
            gathered[above] = element
        elif part.key:
            gathered.setdefault(above, {})[row[part.key]] = element
        else:
            gathered.setdefault(above, []).append(element)
    return gathered


def tables(part: Part) -> Iterator[str]:
    """Yield the names of the tables of a part and of its children."""
    yield part.table
    for child in part.children:
        yield from tables(child)


def dig(element: Any, path: Path) -> Any:
    """Return what lies at the path, None where the way ends before."""
    for name in path:
        if element is None:
            return None
        element = element.get(name)
    return element


def put(document: dict[str, Any], path: Path, value: Any) -> None:
    """Lay a value down at the path; objects on the way appear as needed."""
    for name in path[:-1]:
        document = document.setdefault(name, {})
    document[path[-1]] = value


@cache
def _paths(part: Part, inherited: tuple[str, ...]) -> dict[str, Path]:
    """Return the way to its field for each column that holds one; `inherited` are the columns of the parents."""
    others = {*_KEPT_BY_ALL, *inherited, part.key, part.value, *(child.flag for child in part.children)}
    columns = METADATA.tables[part.table].columns.keys()
    return {column: part.nested.get(column, (column,)) for column in columns if column not in others}


def _entries(part: Part, whole: Any) -> Iterable[tuple[str | None, Any]]:
    if part.single:
        return ((None, whole),)
    if isinstance(whole, str):  # a plain element alone stands for the list of it
        return ((None, whole),)
    return whole.items() if part.key else ((None, element) for element in whole)


def _empty(part: Part) -> Any:
    return {} if part.key else []


def _document(row: PlainRow, paths: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Return the object of a row; what is missing leaves no trace, so that a whole missing object is missing too."""
    document: dict[str, Any] = {}
    for column, path in paths.items():
        if (value := row[column]) is not None:
            put(document, path, value)
    return document
