"""Whether the tables that are there are those of this version: a stamp alone proves nothing."""

from collections.abc import Iterator

from sqlalchemy import Connection, MetaData

_SQLITE_COLUMNS = """
SELECT tables.name, columns.name, columns."notnull" = 1
FROM sqlite_master AS tables JOIN pragma_table_info(tables.name) AS columns
WHERE tables.type = 'table'
"""
_SQLITE_INDEXES = "SELECT name FROM sqlite_master WHERE type = 'index'"
_POSTGRESQL_COLUMNS = """
SELECT table_name, column_name, is_nullable = 'NO' FROM information_schema.columns
WHERE table_schema = current_schema()
"""
_POSTGRESQL_INDEXES = "SELECT indexname FROM pg_indexes WHERE schemaname = current_schema()"

_QUERIES = {"sqlite": (_SQLITE_COLUMNS, _SQLITE_INDEXES), "postgresql": (_POSTGRESQL_COLUMNS, _POSTGRESQL_INDEXES)}


def faults(connection: Connection, metadata: MetaData) -> list[str]:
    """Return how the tables in a database differ from those of the metadata; tables of others do not count."""
    columns, indexes = _QUERIES[connection.dialect.name]
    found: dict[str, dict[str, bool]] = {}
    for table, column, is_required in connection.exec_driver_sql(columns):
        found.setdefault(table, {})[column] = bool(is_required)
    found_indexes = set(connection.exec_driver_sql(indexes).scalars())
    return list(_faults(metadata, found, found_indexes))


def _faults(metadata: MetaData, found: dict[str, dict[str, bool]], found_indexes: set[str]) -> Iterator[str]:
    for table in metadata.sorted_tables:
        columns = found.get(table.name)
        if columns is None:
            yield f"the table {table.name} is missing"
            continue
        for column in table.columns:
            name = f"the column {table.name}.{column.name}"
            if column.name not in columns:
                yield f"{name} is missing"
            elif columns[column.name] == column.nullable:
                yield f"{name} {'must have' if columns[column.name] else 'may lack'} a value"
        yield from (f"the column {table.name}.{name} is not known" for name in columns.keys() - table.columns.keys())
        for index in table.indexes:
            if index.name not in found_indexes:
                yield f"the index {index.name} is missing"
