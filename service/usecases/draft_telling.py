"""Drafts in the words of their documents: what they change, what was done to them, what is in the way."""

from collections.abc import Sequence

from service.documents import draft as doc
from service.documents.faults import MOST_TOLD
from service.documents.fuel_order import document_in
from service.documents.overlay import Conflict, Edit, ObjectFault, Sections, fields_between
from service.documents.pointers import pointer_to
from service.storage.drafts import Standing, StoredDraft
from service.storage.trail import Done
from service.usecases.errors import ConflictError, RequestFault
from service.usecases.moments import moment
from service.usecases.preconditions import tag_of


def faults_told(faults: Sequence[ObjectFault]) -> doc.Faults:
    """The document of the first faults."""
    told: list[doc.DraftFault] = [
        {"section": x.section, "key": x.key, "pointer": x.pointer, "found": x.found, "expected": x.expected}
        for x in faults[:MOST_TOLD]
    ]
    return {"faults": told, "more_faults": len(faults) - len(told)}


def head_of(draft: StoredDraft) -> doc.DraftHead:
    """The document of a draft without its content."""
    return {
        "id": draft.id,
        "name": draft.name,
        "author": draft.author,
        "base": draft.base,
        "version": draft.version,
        "begun": moment(draft.created_at),
        "changed": moment(draft.changed_at),
        "published": draft.published,
    }


def object_head(draft: StoredDraft, named: tuple[str, str], standing: Standing) -> doc.ObjectHead:
    """The document of an object in a draft without its content. `named`: section and key."""
    return {
        "draft": draft.id,
        "section": named[0],
        "key": named[1],
        "etag": tag_of(standing),
        "what": standing.what,
        "author": standing.author,
        "changed": None if standing.changed_at is None else moment(standing.changed_at),
    }


def change_told(edit: Edit, base: Sections) -> doc.DraftChange:
    """The document of what a draft has otherwise than its base."""
    before = document_in(base, edit.section, edit.key)
    return {
        "section": edit.section,
        "key": edit.key,
        "what": edit.what,
        "fields": list(fields_between(before, edit.document)),
        "etag": tag_of(Standing(edit.document, edit.version)),
        "author": edit.author,
        "changed": moment(edit.changed_at),
    }


def entry_told(done: Done) -> doc.TrailEntry:
    """The document of what was done."""
    return {
        "done": moment(done.done_at),
        "author": done.author,
        "what": done.what,
        "reason": done.reason,
        "version": done.version,
        "section": done.section,
        "key": done.key,
        "fields": list(done.fields),
        "revision": done.revision,
    }


def done_told(done: Done) -> str:
    """Who did what and when, in a clause."""
    which = f" ({', '.join(done.fields)})" if done.fields else ""
    return f"{done.author or 'somebody'} {done.what} it{which} at {moment(done.done_at)}"


def conflict_of(base: int, newest: int, conflicts: Sequence[Conflict]) -> ConflictError:
    """The refusal to move a draft over what others changed too."""
    return ConflictError(
        "draft-conflict",
        f"Since revision {base} others changed what this draft changes too: nothing was moved. Say whose state is to"
        " stay with `keep`: draft or newest.",
        tuple(
            RequestFault(
                pointer_to((x.section, x.key)),
                f"in the draft {_what_became(x.in_base, x.in_draft)}",
                f"what revision {newest} has: {_what_became(x.in_base, x.in_newest)}",
            )
            for x in conflicts
        ),
    )


def _what_became(before: str | None, after: str | None) -> str:
    if after is None:
        return "it is removed"
    fields = fields_between(before, after)
    return f"it is changed in {', '.join(fields)}" if fields else "it is added"
