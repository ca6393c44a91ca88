"""Long work on a catalog with a bar on a terminal, and silence in a pipe."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from service.cli.console import errors
from service.documents.folder import CatalogFileError, write_catalog
from service.documents.packed import PackedCatalog
from service.documents.packing import pack_catalog
from service.tables.csv_files import write_csv
from service.tables.workbook import write_workbook
from service.usecases.long_lived import uncollected

FileForm = Literal["json", "xlsx", "csv"]

_WRITERS: dict[str, Callable[[PackedCatalog, Path, Callable[[int, int], None]], None]] = {
    "json": write_catalog,
    "xlsx": write_workbook,
    "csv": write_csv,
}


def read(path: Path) -> PackedCatalog:
    """Read and check a catalog as `pack_catalog` does."""
    with bar("Checking") as moved, uncollected():
        return pack_catalog(path, moved)


def write(catalog: PackedCatalog, path: Path, form: FileForm = "json") -> None:
    """Write a catalog as `write_catalog` does, or as tables. Raises CatalogFileError, TooLongTableError."""
    with bar("Exporting") as moved:
        try:
            _WRITERS[form](catalog, path, moved)
        except OSError as error:
            raise CatalogFileError(path, error) from error


@contextmanager
def bar(title: str) -> Iterator[Callable[[int, int], None]]:
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        task = progress.add_task(title, total=None)
        yield lambda done, total: progress.update(task, completed=done, total=total)
