"""The store of drafts: each is what it has otherwise than its base revision, row by row, with a trail of its edits.

What is done to one draft is done by one after the other: each locks the draft's own row first.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from service.documents.overlay import Edit, WhatBecame, became, fields_between
from service.documents.packed import PackedCatalog
from service.storage.accounts import OfAccounts
from service.storage.errors import ChangedDraftError, PublishedDraftError, UnknownDraftError
from service.storage.keeping import since
from service.storage.objects import object_in
from service.storage.patience import CATALOG_S
from service.storage.revisions import Publishing, add_revision, next_number
from service.storage.store import ID
from service.storage.tables import METADATA
from service.storage.trail import Done, note

_DRAFT = METADATA.tables["draft"]
_OBJECT = METADATA.tables["draft_object"]
_WHAT: dict[str, WhatBecame] = {"added": "added", "changed": "changed", "removed": "removed"}


@dataclass(frozen=True)
class StoredDraft:
    """A draft without its edits; `number` orders drafts by age, `version` counts what was done to it.

    `published`: the revision that it became.
    """

    number: int
    id: str
    name: str
    author: str | None
    base: int
    version: int
    created_at: datetime
    changed_at: datetime
    published: int | None
    account: str = ""


@dataclass(frozen=True)
class Standing:
    """An object as it stands in a draft; `document` is None where there is none, `version` 0 where it is the base's.

    `what` it became against the base.
    """

    document: str | None
    version: int
    author: str | None = None
    changed_at: datetime | None = None
    what: WhatBecame | None = None


def discard_untouched(connection: Connection, days: int, most: int) -> int:
    """Delete drafts that nobody changed or published for so many days, the oldest first, at most so many; how many.

    Each leaves an entry in the trail, as one does that somebody deletes.
    """
    untouched = (
        select(_DRAFT)
        .where(_DRAFT.c.published.is_(None), _DRAFT.c.changed_at < since(days))
        .order_by(_DRAFT.c.changed_at)
        .limit(most)
        .with_for_update(skip_locked=True)  # on PostgreSQL: one that is being changed is not untouched
    )
    found = [StoredDraft(**row) for row in connection.execute(untouched).mappings()]
    for draft in found:
        _discard(connection, draft, None, datetime.now(UTC), f"nobody changed it for {days} days")
    return len(found)


class DraftStore(OfAccounts):
    """Keeps drafts.

    All that name a draft raise UnknownDraftError; all that change one, PublishedDraftError.
    """

    _many = "drafts"

    def add(self, id_: str, name: str, author: str | None, base: int, at: datetime) -> StoredDraft:
        """Keep a new draft without edits. A base that is not there raises RowsRefusedError."""
        about = {"id": id_, "account": self._keeps_for, "name": name, "author": author, "base": base, "version": 0}
        with self._database.writing() as connection:
            connection.execute(insert(_DRAFT), about | {"created_at": at, "changed_at": at, "published": None})
            note(connection, Done(at, author, "begun", draft=id_, version=0, revision=base))
            return self._found(connection, id_)

    def ends_at(self, draft: StoredDraft) -> datetime | None:
        """When a draft is deleted unless somebody changes it; None for one that is published."""
        return None if draft.published is not None else draft.changed_at + timedelta(days=self._keeping.drafts_days)

    def is_full(self) -> bool:
        """Whether the account has as many drafts as it may that are not published."""
        own = (_DRAFT.c.account == self._keeps_for) & _DRAFT.c.published.is_(None)
        return self._count(_DRAFT, own) >= self.most()

    def get(self, id_: str) -> StoredDraft:
        """Return a draft."""
        with self._database.reading() as connection:
            return self._found(connection, id_)

    def is_of_others(self, id_: str) -> bool:
        """Whether there is such a draft, of another account."""
        wanted = select(_DRAFT.c.account).where(_DRAFT.c.id == id_, ~self._is_own(_DRAFT))
        return ID.fullmatch(id_) is not None and self._value(wanted) is not None

    def page(self, limit: int, before: int | None = None) -> list[StoredDraft]:
        """Return up to `limit` drafts, newest first; those with a lower number than `before`."""
        wanted = select(_DRAFT).where(self._is_own(_DRAFT)).order_by(_DRAFT.c.number.desc()).limit(limit)
        if before is not None:
            wanted = wanted.where(_DRAFT.c.number < before)
        return self._read_all(StoredDraft, wanted)

    def edits(self, id_: str) -> tuple[StoredDraft, list[Edit]]:
        """Return a draft with all that it has otherwise than its base, in the order in which it was done."""
        with self._database.reading() as connection:
            draft = self._found(connection, id_)
            return draft, _edits(connection, draft)

    def standing(self, id_: str, section: str, key: str) -> tuple[StoredDraft, Standing]:
        """Return a draft, and an object as it stands in it."""
        with self._database.reading() as connection:
            draft = self._found(connection, id_)
            return draft, _standing(connection, draft, section, key)[0]

    def edit(
        self,
        id_: str,
        named: tuple[str, str],
        change: Callable[[Standing], str | None],
        done_by: tuple[str | None, str | None],
        at: datetime,
    ) -> tuple[StoredDraft, Standing]:
        """Make an object of a draft what `change` makes of what stands; the draft afterwards, and the object.

        `named`: section and key. `change` gives the canonical JSON, None to remove it; what it raises undoes all.
        `done_by`: author and reason.
        """
        with self._database.writing() as connection:
            draft = self._locked(connection, id_)
            before, in_base = _standing(connection, draft, *named)
            document = change(before)
            if document == before.document:
                return draft, before
            _make(connection, draft, named, (before, in_base, document), done_by, at)
            return _moved(connection, draft, draft.version + 1, at), _standing(connection, draft, *named)[0]

    def edit_all(
        self,
        seen: StoredDraft,
        documents: Iterable[tuple[str, str, str | None]],
        done_by: tuple[str | None, str | None],
        at: datetime,
    ) -> StoredDraft:
        """Make objects of a draft these documents, all or none of them; the draft afterwards.

        `documents`: section, key and canonical JSON, None to remove it. Raises ChangedDraftError where the draft is not
        as it was `seen`.
        """
        with self._database.writing(CATALOG_S) as connection:
            draft = self._as_seen(connection, seen)
            version = draft.version
            for section, key, document in documents:
                before, in_base = _standing(connection, draft, section, key)
                if document != before.document:
                    states = before, in_base, document
                    _make(connection, replace(draft, version=version), (section, key), states, done_by, at)
                    version += 1
            return draft if version == draft.version else _moved(connection, draft, version, at)

    def rebase(
        self, seen: StoredDraft, base: int, gone: Iterable[tuple[str, str]], author: str | None, at: datetime
    ) -> StoredDraft:
        """Put a draft on another base; `gone` are the edits that go. What is left is told anew against that base.

        Raises ChangedDraftError where the draft is not as it was `seen`.
        """
        with self._database.writing(CATALOG_S) as connection:
            draft = self._as_seen(connection, seen)
            _forget(connection, draft, gone)
            moved = replace(draft, base=base)
            for edit in _edits(connection, draft):
                what = became(object_in(connection, base, edit.section, edit.key), edit.document)
                if what is None:
                    _forget(connection, draft, [(edit.section, edit.key)])
                elif what != edit.what:
                    of = _OBJECT.c.draft == draft.number, *_named(edit.section, edit.key)
                    connection.execute(update(_OBJECT).where(*of).values(what=what))
            version = draft.version + 1
            note(connection, Done(at, author, "rebased", draft=draft.id, version=version, revision=base))
            return _moved(connection, moved, version, at)

    def publish(self, seen: StoredDraft, catalog: PackedCatalog, publishing: Publishing, at: datetime) -> int:
        """Make the catalog of a draft the next revision, and return its number.

        Raises ChangedDraftError where the draft is not as it was `seen`, NewerRevisionError where its base is not the
        newest revision any more.
        """
        with self._database.writing(CATALOG_S) as connection:
            draft = self._as_seen(connection, seen)
            number = next_number(connection, draft.base)
            add_revision(connection, number, catalog, at, publishing)
            of = _DRAFT.c.number == draft.number
            connection.execute(update(_DRAFT).where(of).values(published=number, changed_at=at))
            told = Done(at, publishing.author, "published", publishing.reason, draft.id, draft.version, revision=number)
            note(connection, told)
        return number

    def delete(self, id_: str, author: str | None, at: datetime) -> None:
        """Delete a draft with its edits; what was done to it stays in the trail."""
        with self._database.writing() as connection:
            draft = self._locked(connection, id_)
            _discard(connection, draft, author, at)

    def _found(self, connection: Connection, id_: str, *, locked: bool = False) -> StoredDraft:
        wanted = select(_DRAFT).where(_DRAFT.c.id == id_, self._is_own(_DRAFT))
        if locked:
            wanted = wanted.with_for_update()
        row = connection.execute(wanted).mappings().one_or_none() if ID.fullmatch(id_) else None
        if row is None:
            raise UnknownDraftError(id_)
        return StoredDraft(**row)

    def _locked(self, connection: Connection, id_: str) -> StoredDraft:
        """A draft that may be changed, by nobody else until the commit."""
        draft = self._found(connection, id_, locked=True)
        if draft.published is not None:
            raise PublishedDraftError(id_, draft.published)
        return draft

    def _as_seen(self, connection: Connection, seen: StoredDraft) -> StoredDraft:
        draft = self._locked(connection, seen.id)
        if (draft.version, draft.base) != (seen.version, seen.base):
            raise ChangedDraftError(draft.id, draft.version)
        return draft


def _discard(
    connection: Connection, draft: StoredDraft, author: str | None, at: datetime, reason: str | None = None
) -> None:
    connection.execute(delete(_OBJECT).where(_OBJECT.c.draft == draft.number))
    connection.execute(delete(_DRAFT).where(_DRAFT.c.number == draft.number))
    note(connection, Done(at, author, "discarded", reason, draft.id, draft.version))


def _moved(connection: Connection, draft: StoredDraft, version: int, at: datetime) -> StoredDraft:
    values = {"version": version, "changed_at": at, "base": draft.base}
    connection.execute(update(_DRAFT).where(_DRAFT.c.number == draft.number).values(**values))
    return replace(draft, version=version, changed_at=at)


def _edits(connection: Connection, draft: StoredDraft) -> list[Edit]:
    wanted = select(_OBJECT).where(_OBJECT.c.draft == draft.number).order_by(_OBJECT.c.version)
    return [_edit(**row) for row in connection.execute(wanted).mappings()]


def _standing(connection: Connection, draft: StoredDraft, section: str, key: str) -> tuple[Standing, str | None]:
    """An object as it stands, and its document in the base."""
    in_base = object_in(connection, draft.base, section, key)
    wanted = select(_OBJECT).where(_OBJECT.c.draft == draft.number, *_named(section, key))
    row = connection.execute(wanted).mappings().one_or_none()
    if row is None:
        return Standing(in_base, 0), in_base
    what = _WHAT[row["what"]]
    return Standing(row["document"], row["version"], row["author"], row["changed_at"], what), in_base


def _make(
    connection: Connection,
    draft: StoredDraft,
    named: tuple[str, str],
    states: tuple[Standing, str | None, str | None],
    done_by: tuple[str | None, str | None],
    at: datetime,
) -> None:
    """Make an object of a draft another, as its next version. `states`: as it stands, in the base, as it is to be."""
    section, key = named
    author, reason = done_by
    before, in_base, document = states
    version, what = draft.version + 1, became(in_base, document)
    _forget(connection, draft, [named])
    if what is not None:
        edit = Edit(section, key, what, document, version, author, at)
        connection.execute(insert(_OBJECT), vars(edit) | {"draft": draft.number})
    told = became(before.document, document) or "changed"
    fields = fields_between(before.document, document)
    note(connection, Done(at, author, told, reason, draft.id, version, section, key, fields, document))


def _forget(connection: Connection, draft: StoredDraft, named: Iterable[tuple[str, str]]) -> None:
    for section, key in named:
        connection.execute(delete(_OBJECT).where(_OBJECT.c.draft == draft.number, *_named(section, key)))


def _named(section: str, key: str) -> tuple[Any, Any]:
    return _OBJECT.c.section == section, _OBJECT.c.key == key


def _edit(what: str, draft: int, **columns: Any) -> Edit:  # noqa: ARG001 a column that an edit does not tell
    return Edit(**columns, what=_WHAT[what])
