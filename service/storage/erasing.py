"""Finding and erasing what is personal, by the contact line that it came with."""

import json
import unicodedata
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Table, and_, bindparam, delete, select

from service.storage.engine import Database
from service.storage.patience import TABLES_S
from service.storage.tables import METADATA

_PERSONAL = (
    ("inquiry", ("contact", "note", "reply")),
    ("order_reading", ("document",)),
    ("batch_order", ("sheet_order",)),
)
"""What may hold somebody's name, number or address, and the columns in which it would stand."""
_ROWS_AT_ONCE = 500

Key = tuple[Any, ...]
"""The primary key of a row."""


def erase_contact(database: Database, contact: str, *, only_list: bool = False) -> dict[str, list[str]]:
    """The keys of all rows that hold a contact line, by table; they are erased unless they are only to be listed.

    Capitals do not matter, of whatever letters: databases know those of English alone, so the texts are compared here.
    Raises any StorageError of `failures`.
    """
    with database.reading(TABLES_S) as connection:
        held = {name: list(_holding(connection, METADATA.tables[name], texts, contact)) for name, texts in _PERSONAL}
    found = {name: ["/".join(map(str, key)) for key in keys] for name, keys in held.items()}
    if only_list or not any(held.values()):
        return found
    with database.writing(TABLES_S) as connection:
        for name, keys in held.items():
            _delete(connection, METADATA.tables[name], keys)
    database.erase_remains()
    return found


def _holding(connection: Connection, table: Table, texts: tuple[str, ...], contact: str) -> Iterator[Key]:
    """The keys of the rows that have it in one of these columns, be it as it is or as JSON has it."""
    sought = {_folded(contact), _folded(json.dumps(contact, ensure_ascii=False)[1:-1])}
    key = list(table.primary_key)
    rows = connection.execute(
        select(*key, *(table.c[name] for name in texts)), execution_options={"yield_per": _ROWS_AT_ONCE}
    )
    for row in rows:
        held = [_folded(text) for text in row[len(key) :] if text is not None]
        if any(one in text for one in sought for text in held):
            yield tuple(row[: len(key)])


def _folded(text: str) -> str:
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())


def _delete(connection: Connection, table: Table, keys: list[Key]) -> None:
    columns = list(table.primary_key)
    names = [f"key_{place}" for place in range(len(columns))]
    these = and_(*(column == bindparam(name) for column, name in zip(columns, names, strict=True)))
    if keys:
        connection.execute(delete(table).where(these), [dict(zip(names, key, strict=True)) for key in keys])
