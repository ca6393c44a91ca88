"""Drafts as lines of text: what they are, what they change, what became of tables that were brought."""

from collections.abc import Iterable, Iterator

from service.documents.draft import Draft, DraftChange, DraftFault, DraftHead
from service.documents.draft_tables import SectionTaken, TablesTaken
from service.documents.rendering import printable

_TEXT_LIMIT = 2_000


def begun_line(head: DraftHead) -> str:
    """A draft in a line."""
    state = f"published as revision {head['published']}" if head["published"] is not None else f"on {head['base']}"
    return printable(f"{head['id']}  {state}  {head['name']} ({head['author'] or 'nobody named'})", _TEXT_LIMIT)


def draft_lines(draft: Draft) -> Iterator[str]:
    """Yield a draft with how much it changes, and what does not hold in it."""
    yield begun_line(draft)
    yield "edits: " + ", ".join(f"{count:,} {what}" for what, count in draft["edits"].items())
    yield from fault_lines(draft["faults"], draft["more_faults"])


def changes_lines(changes: Iterable[DraftChange]) -> Iterator[str]:
    """Yield what a draft has otherwise than its base, an object a line."""
    for change in changes:
        yield _edit(change["section"], change["key"], change["what"], change["fields"])


def taken_lines(taken: TablesTaken) -> Iterator[str]:
    """Yield what tables change: section by section, then object by object."""
    verb = "would change" if taken["dry_run"] else "changed"
    count = len(taken["edits"]) + taken["more_edits"]
    yield f"{verb} {count:,} object{'' if count == 1 else 's'} of draft {taken['draft']} on revision {taken['base']}"
    for section in taken["sections"]:
        yield _section(section)
    if taken["untouched"]:
        yield f"no table, so unchanged: {', '.join(taken['untouched'])}"
    for edit in taken["edits"]:
        yield _edit(edit["section"], edit["key"], edit["what"], edit["fields"])
    if taken["more_edits"]:
        yield f"and {taken['more_edits']:,} more"
    yield from fault_lines(taken["faults"], taken["more_faults"])


def fault_lines(faults: Iterable[DraftFault], more: int) -> Iterator[str]:
    """Yield what does not hold in a draft."""
    for fault in faults:
        place = fault.get("place")
        named = " ".join(part for part in (fault["section"], fault["key"], fault["pointer"]) if part)
        at = f"{place} ({named})" if isinstance(place, str) else named
        yield printable(f"does not hold: {at}: found {fault['found']}, expected {fault['expected']}", _TEXT_LIMIT)
    if more:
        yield f"and {more:,} more that do not hold"


def _section(taken: SectionTaken) -> str:
    counts = (
        (taken["same"], "as in the base"),
        (taken["added"], "added"),
        (taken["changed"], "changed"),
        (taken["removed"], "removed, as the table has no row for them"),
        (taken["kept"], "left as the draft has them"),
    )
    return f"{taken['section']}: {', '.join(f'{count:,} {what}' for count, what in counts if count) or 'nothing'}"


def _edit(section: str, key: str, what: str, fields: list[str]) -> str:
    which = f" ({', '.join(fields)})" if fields else ""
    return printable(f"{what:<8} {' '.join(part for part in (section, key) if part)}{which}", _TEXT_LIMIT)
