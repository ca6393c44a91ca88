"""Finding and erasing what is personal, by the contact line that it came with."""

from sqlalchemy import ColumnElement, Table, delete, func, or_, select

from service.storage.engine import Database
from service.storage.tables import METADATA

_PERSONAL = (
    ("inquiry", ("contact", "note", "reply")),
    ("order_reading", ("document",)),
    ("batch_order", ("sheet_order",)),
)
"""What may hold somebody's name, number or address, and the columns in which it would stand."""


def erase_contact(database: Database, contact: str, *, only_list: bool = False) -> dict[str, list[str]]:
    """The keys of all rows that hold a contact line, by table; they are erased unless they are only to be listed.

    Capitals do not matter. Raises any StorageError of `failures`.
    """
    found: dict[str, list[str]] = {}
    with database.reading() as connection:
        for name, columns in _PERSONAL:
            table = METADATA.tables[name]
            keys = connection.execute(select(*table.primary_key).where(_holds(table, columns, contact))).all()
            found[name] = ["/".join(map(str, key)) for key in keys]
    if only_list or not any(found.values()):
        return found
    with database.writing() as connection:
        for name, columns in _PERSONAL:
            table = METADATA.tables[name]
            connection.execute(delete(table).where(_holds(table, columns, contact)))
    database.erase_remains()
    return found


def _holds(table: Table, columns: tuple[str, ...], contact: str) -> ColumnElement[bool]:
    holding = (func.lower(table.c[name]).contains(contact.lower(), autoescape=True) for name in columns)
    return or_(*holding)
