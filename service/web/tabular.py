"""Answers as rows for a spreadsheet: CSV after RFC 4180, in UTF-8; no cell begins a formula."""

import csv
import io
from collections.abc import Iterable, Sequence

from service.documents.catalog import Item
from service.documents.impact import ChangesSince
from service.usecases.check_sheet import plain
from service.usecases.library import Edition
from service.usecases.sheet_names import amount

_ITEM_FIELDS = ("sku", "name", "kind", "family", "finish", "status", "superseded_by", "sold")
_ITEM_FIELDS_AFTER = ("stock", "lead_days", "mass_g", "gtin", "mpn", "country", "url", "image")
_CHANGE_HEADS = ("revision", "kind", "id", "what", "fields")


def items_csv(edition: Edition, items: Iterable[Item]) -> bytes:
    """A row an item; its price of one unit, in the currency's own units."""
    currency = edition.revision.currency
    rows = (
        (
            *(getattr(item, name) for name in _ITEM_FIELDS),
            amount(item.price, currency),
            currency,
            edition.revision.tax,
            *(getattr(item, name) for name in _ITEM_FIELDS_AFTER),
            edition.number,
        )
        for item in items
    )
    return _written((*_ITEM_FIELDS, "unit_price", "currency", "tax", *_ITEM_FIELDS_AFTER, "revision"), rows)


def changes_csv(changes: ChangesSince) -> bytes:
    """A row a change; the fields that differ in one cell."""
    rows = (
        (told["revision"], change["kind"], change["id"], change["what"], " ".join(change["fields"]))
        for told in changes["revisions"]
        for change in told["changes"]
    )
    return _written(_CHANGE_HEADS, rows)


def _written(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    file = io.StringIO()
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return file.getvalue().encode()


def _cell(value: object) -> object:
    if isinstance(value, bool):
        return "true" if value else "false"
    return plain(value) if isinstance(value, str) else value
