"""Objects of a catalog as rows of tables: those of the object, and those of its lists beneath it."""

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any

from service.tables.cells import Cell, told_cells
from service.tables.shape import Level, Table, value_at

Row = tuple[Table, list[Cell]]


def rows_of(table: Table, record: Any, refs: Sequence[Cell] = (), place: Sequence[Cell] = ()) -> Iterator[Row]:
    """Yield the rows of a record and of all beneath it. `refs` name the record above, `place` tells where it stands.

    A list that is too long for a cell goes on in rows beneath, which have nothing but that and what names the record.
    """
    told = [told_cells(column, value_at(record, column.path)) for column in table.columns]
    yield table, [*refs, *place, *(cells[0] for cells in told)]
    own = [column.path == (table.id_path,) for column in table.columns]
    for more in list(zip_longest(*told))[1:]:
        cells = [told[at][0] if own[at] else cell for at, cell in enumerate(more)]
        yield table, [*refs, *place, *cells]
    named = _reference(table, record, refs, place)
    for child in table.children:
        for at, element in _elements(child.levels, value_at(record, child.path), is_nullable=child.is_nullable):
            if element is None:
                yield child, [*named, *at, *(None for _ in child.columns)]
            else:
                yield from rows_of(child, element, named, at)


def _reference(table: Table, record: Any, refs: Sequence[Cell], place: Sequence[Cell]) -> list[Cell]:
    """What names a record in the tables beneath it."""
    if table.is_once:
        return []
    return [*refs, *place] if table.id_path is None else [*refs, record[table.id_path]]


def _elements(levels: tuple[Level, ...], value: Any, *, is_nullable: bool) -> Iterator[tuple[list[Cell], Any]]:
    """Yield what stands in a list or map, each with its place; with None in it where there is an empty one."""
    if value is None:
        return
    if not value and is_nullable:
        yield [None for _ in levels], None
    within = enumerate(value, 1) if levels[0] == "list" else value.items()
    for place, element in within:
        if len(levels) == 1:
            yield [place], element
        elif not element:
            yield [place, *(None for _ in levels[1:])], None
        else:
            for deeper, one in _elements(levels[1:], element, is_nullable=False):
                yield [place, *deeper], one
