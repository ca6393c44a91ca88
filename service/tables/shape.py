"""The shape of the catalog as tables: the columns of a table, what stands in them, which tables are beneath."""

from dataclasses import dataclass, field
from typing import Any, Literal

Level = Literal["list", "map"]
Form = Literal["one", "list", "map", "there"]


@dataclass(frozen=True)
class Scalar:
    """What a cell, or an entry of one, may say. `field`: the name that tells the unit; `choices`: none is any."""

    kind: Literal["text", "number", "whole", "flag"]
    field: str = ""
    unit: str = ""
    choices: tuple[str | int, ...] = ()


@dataclass(frozen=True)
class Column:
    """A column of a table; `path` leads to its value within the record of a row, `()` is the record itself.

    `form`: one value, several with semicolons between them, names with values, or whether there is an object at all.
    `is_nullable`: an empty list is something else than none, and told as such.
    """

    path: tuple[str, ...]
    head: str
    scalar: Scalar
    form: Form = "one"
    is_nullable: bool = False


@dataclass(frozen=True, eq=False)
class Table:
    """A table, and the title of the one `above`.

    `refs` are the heads of the columns that name the record above, `level_heads` those that tell its place in that.
    `path` leads from the record above to the list or map whose elements are the rows; a table without a level is that
    of a section. `id_path`: the field by which tables beneath name a row; None: they go by its place.
    `needed`: paths of objects that stand in every record, though nothing has to be told in them.
    `is_nullable`, `is_needed`: what stands where there is no row is nothing, or an empty list.
    """

    title: str
    section: str
    above: str = ""
    path: tuple[str, ...] = ()
    refs: tuple[str, ...] = ()
    levels: tuple[Level, ...] = ()
    level_heads: tuple[str, ...] = ()
    columns: tuple[Column, ...] = ()
    children: tuple["Table", ...] = ()
    id_path: str | None = None
    is_nullable: bool = False
    is_needed: bool = False
    is_once: bool = False
    needed: tuple[tuple[str, ...], ...] = ()
    heads: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        heads = (*self.refs, *self.level_heads, *(column.head for column in self.columns))
        object.__setattr__(self, "heads", heads)

    @property
    def keys(self) -> int:
        """How many columns stand before those of the record."""
        return len(self.refs) + len(self.level_heads)

    def with_beneath(self) -> tuple["Table", ...]:
        """The table and all beneath it, each after the one above it."""
        return (self, *(one for child in self.children for one in child.with_beneath()))


def value_at(record: Any, path: tuple[str, ...]) -> Any:
    """What stands at a path within a record; None where there is nothing."""
    for name in path:
        if not isinstance(record, dict):
            return None
        record = record.get(name)
    return record
