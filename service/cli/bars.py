"""Long work on a catalog with a bar on a terminal, and silence in a pipe."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from service.cli.console import errors
from service.documents.folder import write_catalog
from service.documents.packed import PackedCatalog
from service.documents.packing import pack_catalog
from service.usecases.long_lived import uncollected


def read(path: Path) -> PackedCatalog:
    """Read and check a catalog as `pack_catalog` does."""
    with bar("Checking") as moved, uncollected():
        return pack_catalog(path, moved)


def write(catalog: PackedCatalog, path: Path) -> None:
    """Write a catalog as `write_catalog` does."""
    with bar("Exporting") as moved:
        write_catalog(catalog, path, moved)


@contextmanager
def bar(title: str) -> Iterator[Callable[[int, int], None]]:
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        task = progress.add_task(title, total=None)
        yield lambda done, total: progress.update(task, completed=done, total=total)
