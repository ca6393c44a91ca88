"""Publishing a catalog with a bar on a terminal, and silence in a pipe."""

from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from service.cli.console import errors
from service.documents.catalog import Catalog
from service.usecases.library import Library


def publish(catalog: Catalog, library: Library) -> tuple[int, bool]:
    """Keep a checked catalog as `Library.publish` does: (the revision's number, whether it is new)."""
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        bar = progress.add_task("Importing", total=None)

        def moved(done: int, total: int) -> None:
            progress.update(bar, completed=done, total=total)

        return library.publish(catalog, moved)
