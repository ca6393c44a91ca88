"""List the published revisions, and what each changed against the one before."""

from collections.abc import Iterator
from typing import get_args

from service.documents import impact as doc
from service.documents.packed import PackedCatalog
from service.impact.changes import Change, changes_between
from service.storage.revisions import RevisionSummary
from service.usecases.library import Library
from service.usecases.moments import moment

MOST_REVISIONS = 10
"""So many revisions are compared in one answer: each is read whole."""

_KINDS: dict[str, doc.SectionKind] = {kind: kind for kind in get_args(doc.SectionKind)}


def revision_told(summary: RevisionSummary) -> doc.RevisionTold:
    """Return the document of a revision without its content."""
    told: doc.RevisionTold = {
        "number": summary.number,
        "published": moment(summary.created_at),
        "maker": summary.maker,
        "digest": summary.digest,
        "counts": dict(summary.counts),
    }
    by = summary.publishing
    if by.author is not None:
        told["author"] = by.author
    if by.reason is not None:
        told["reason"] = by.reason
    if by.accept is not None:
        told["accept"] = by.accept
    return told


def changes_since(library: Library, since: int) -> tuple[doc.ChangesSince, int | None]:
    """Return what changed after a revision, and the last revision that is told of where there are more.

    Raises NotFoundError for a revision that is not known, NoCatalogError.
    """
    newest = library.edition().number
    last = min(newest, since + MOST_REVISIONS)
    before = library.catalog(since)
    revisions: list[doc.RevisionChanges] = []
    for number in range(since + 1, last + 1):
        after = library.catalog(number)
        revisions.append({"revision": number, "changes": list(_told(before, after))})
        before = after
    told: doc.ChangesSince = {"since": since, "revision": newest, "revisions": revisions}
    return told, last if last < newest else None


def _told(before: PackedCatalog, after: PackedCatalog) -> Iterator[doc.SectionChange]:
    for change in changes_between(before, after):
        kind = _KINDS.get(change.kind)
        if kind is not None:
            what = _what(change, after)
            yield {"kind": kind, "id": change.id, "what": what, "fields": list(change.fields)}


def _what(change: Change, after: PackedCatalog) -> doc.WhatBecame:
    if change.kind != "item" or "status" not in change.fields:
        return change.what
    item = after.items.get(change.id)
    return "retired" if item is not None and item.status == "retired" else change.what
