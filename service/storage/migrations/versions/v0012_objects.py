"""A catalog as objects: a row of JSON each, shared by all revisions in which it stands unchanged.

Constraints get their names from the naming convention of the metadata.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa
from alembic import op
from pydantic import ValidationError

from service.documents.catalog import Catalog
from service.documents.packed import packed
from service.storage.migrations.normalised import SECTIONS, LackingError, rows_to_catalog, tables

revision = "0012"
down_revision = "0011"

_ROWS_AT_ONCE = 1_000
_TABLES = tuple(table for section in SECTIONS for table in tables(section))
_STAY = ("number", "created_at", "digest", "maker_name", "counts")

_WITHOUT_WHICH = {"joint": "has_consumables", "item_screw": "material"}
"""Columns that tables of versions between releases may lack: what stood in them cannot be made up."""

Texts = dict[str, dict[str, str]]


def upgrade() -> None:
    """Make the table, move every revision into it, drop the old tables."""
    connection = op.get_bind()
    there = set(sa.inspect(connection).get_table_names()).intersection(_TABLES)
    for name, column in _WITHOUT_WHICH.items():
        if name in there and column not in _reflected(connection, name).c:
            raise LackingError(f"the column {name}.{column} is missing")
    op.create_table(
        "catalog_object",
        sa.Column("section", sa.String(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("position", sa.Float(), nullable=False),
        sa.Column("document", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("section", "key", "since"),
        sa.ForeignKeyConstraint(["since"], ["revision.number"]),
        sa.ForeignKeyConstraint(["until"], ["revision.number"]),
        sa.CheckConstraint("until > since", name="until"),
    )
    op.create_index(None, "catalog_object", ["until"])
    op.add_column("revision", sa.Column("counts", sa.String(), nullable=True))
    old = _reflected(connection, "revision")
    before: Texts = {}
    for row in connection.execute(sa.select(old).order_by(old.c.number)).mappings().all():
        texts, counts = _texts(connection, row, there)
        _write(connection, row["number"], before, texts)
        told = sa.update(old).where(old.c.number == row["number"])
        connection.execute(told.values(counts=json.dumps(counts)))
        before = texts
    gone = sa.MetaData()
    gone.reflect(connection, only=("revision", *there))
    gone.drop_all(connection, [gone.tables[name] for name in there])
    for name in {*old.c.keys()} - set(_STAY):
        op.drop_column("revision", name)
    with op.batch_alter_table("revision") as batch:
        batch.alter_column("counts", existing_type=sa.String(), nullable=False)


def _texts(connection: sa.Connection, row: Mapping[Any, Any], there: Iterable[str]) -> tuple[Texts, dict[str, int]]:
    """The objects of a revision by the tables that are there, and how many each section has.

    A revision that was changed by hand, and is no catalog any more, has none: its digest keeps telling so.
    """
    counts = {section.field: row.get(f"{section.table}_count") or 0 for section in SECTIONS}
    rows = {}
    for name in there:
        table = _reflected(connection, name)
        chosen = sa.select(table).where(table.c.revision == row["number"]).order_by(table.c.position)
        rows[name] = connection.execute(chosen).mappings().all()
    try:
        catalog = Catalog.model_validate(rows_to_catalog(row, rows))
    except ValidationError:
        return {}, counts
    return {section: dict(texts) for section, texts in packed(catalog).texts.items()}, counts


def _write(connection: sa.Connection, number: int, before: Texts, texts: Texts) -> None:
    """Begin what is new in a revision and end what is gone; where the order of a section changed, all of it."""
    objects = _reflected(connection, "catalog_object")
    begun, ended = [], []
    for section in {**before, **texts}:
        old, new = before.get(section, {}), texts.get(section, {})
        moved = list(old) != list(new)
        places = {key: float(place) for place, key in enumerate(new, 1)}
        ended += [{"of": section, "named": key} for key in old if moved or old[key] != new[key]]
        begun += [
            {"section": section, "key": key, "since": number, "position": places[key], "document": new[key]}
            for key in new
            if moved or old[key] != new[key]
        ]
    if ended:
        same = objects.c.section == sa.bindparam("of"), objects.c.key == sa.bindparam("named")
        stands = objects.c.until.is_(None)
        connection.execute(sa.update(objects).where(*same, stands).values(until=number), ended)
    for start in range(0, len(begun), _ROWS_AT_ONCE):
        connection.execute(sa.insert(objects), begun[start : start + _ROWS_AT_ONCE])


def _reflected(connection: sa.Connection, name: str) -> sa.Table:
    return sa.Table(name, sa.MetaData(), autoload_with=connection, resolve_fks=False)
