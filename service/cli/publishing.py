"""Publishing a catalog, guarded by what it does to answers."""

from service.cli.bars import bar
from service.cli.console import errors
from service.cli.impact import question_line
from service.cli.refusals import ExitCode, refuse
from service.documents.catalog import Catalog
from service.documents.packed import PackedCatalog
from service.impact.questions import Kept
from service.impact.reckoning import needs_accept
from service.storage.revisions import NOBODY, Publishing
from service.usecases.errors import NoCatalogError
from service.usecases.impact import impact_of, impact_told
from service.usecases.library import Edition, Library
from service.usecases.long_lived import uncollected

_MOST_TOLD = 20


def guard(library: Library, catalog: Catalog | PackedCatalog, kept: Kept, accept: str | None) -> None:
    """Work out what a catalog does to the newest revision; where something is broken or lost, say so and leave, unless
    a reason is given."""
    if accept is not None and accept.strip():
        return  # nothing is opened: the newest may be what cannot be read any more
    try:
        newest = library.edition()
    except NoCatalogError:
        return
    if newest.catalog == catalog:
        return
    new = Edition(newest.number + 1, catalog)
    with errors().status("Asking every standing question of both"):
        impact = impact_of(newest, new, kept, explained=False)
    if impact.needs_accept:
        told = impact_told(impact, newest, new)["questions"]
        lines = [question_line(one) for one, judged in zip(told, impact.judged, strict=True) if needs_accept(judged)]
        more = [f"and {len(lines) - _MOST_TOLD:,} more"] if len(lines) > _MOST_TOLD else []
        refuse(
            f"nothing imported: against revision {newest.number}, {len(lines):,} of the standing questions are broken "
            "or lost. `portwright catalog impact` says why; --accept REASON imports it all the same",
            ExitCode.NO,
            (*lines[:_MOST_TOLD], *more),
        )


def publish(catalog: Catalog | PackedCatalog, library: Library, publishing: Publishing = NOBODY) -> tuple[int, bool]:
    """Keep a checked catalog as `Library.publish` does: (the revision's number, whether it is new)."""
    with bar("Importing") as moved, uncollected():
        return library.publish(catalog, moved, publishing)
