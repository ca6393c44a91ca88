"""Drafts: begin one, edit what stands in it, look at what it changes, move it to the newest revision."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from json import loads
from typing import Any, NoReturn, TypeVar

from service.documents import draft as doc
from service.documents.catalog import Maker
from service.documents.faults import MOST_TOLD
from service.documents.fields import ID_PATTERN
from service.documents.fuel_order import FUEL_ORDER, document_in, in_order, order_in
from service.documents.merge_patch import merged
from service.documents.money import InMoney, money_of
from service.documents.nearest import nearest
from service.documents.overlay import Edit, ObjectFault, conflicts_of, faults_since, overlaid
from service.documents.packed import SECTIONS
from service.documents.rendering import rendered
from service.storage.drafts import DraftStore, Standing, StoredDraft
from service.storage.errors import ChangedDraftError, PublishedDraftError, UnknownDraftError
from service.storage.trail import Done, TrailStore
from service.usecases.draft_objects import check_order_of, checked
from service.usecases.draft_telling import (
    change_told,
    conflict_of,
    done_told,
    entry_told,
    faults_told,
    head_of,
    object_head,
)
from service.usecases.errors import ConflictError, EditedMeanwhileError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.ids import new_id
from service.usecases.library import Library
from service.usecases.preconditions import Precondition, tag_of
from service.usecases.room import check_room

KIND = "draft"
_TRIES = 5
_KEY = re.compile(ID_PATTERN)
_LONGEST_KEY = 120

T = TypeVar("T")


@dataclass(frozen=True)
class Edited:
    """What an edit left: the draft and the object; `is_new`: it was not there before."""

    draft: StoredDraft
    section: str
    key: str
    standing: Standing
    is_new: bool = False

    @property
    def tag(self) -> str | None:
        return tag_of(self.standing)


class Drafts:
    """Keeps drafts of the revisions of a library. Safe to share by threads.

    All that name a draft raise NotFoundError; all that change one, ConflictError where it is published.
    """

    def __init__(self, library: Library, store: DraftStore, trail: TrailStore) -> None:
        self.library = library
        self.store = store
        self._trail = trail

    def of(self, account: str | None) -> "Drafts":
        """The same, as an account sees it."""
        return Drafts(self.library, self.store.of(account), self._trail)

    def begin(self, asked: doc.BegunDraft) -> StoredDraft:
        """Begin a draft. Raises RequestFaultsError for a base that is not known, NoCatalogError, FullError."""
        newest = self.library.newest()
        base = asked.base or newest
        if base > newest:
            raise RequestFaultsError((RequestFault("/base", rendered(base), f"a revision from 1 to {newest}"),))
        check_room(self.store)
        return self.store.add(new_id(), asked.name, asked.author, base, _now())

    def page(self, limit: int, before: int | None) -> tuple[list[doc.DraftHead], int | None]:
        """Up to `limit` drafts, newest first, those older than the one numbered `before`; where to go on."""
        found = self.store.page(limit + 1, before)
        return [head_of(draft) for draft in found[:limit]], found[limit - 1].number if len(found) > limit else None

    def told(self, id_: str) -> doc.Draft:
        """A draft with its faults."""
        draft, edits = known(lambda: self.store.edits(id_))
        counts: dict[doc.EditKind, int] = {"added": 0, "changed": 0, "removed": 0}
        for edit in edits:
            counts[edit.what] += 1
        faults = self._faults(draft, edits)
        return {**head_of(draft), "edits": counts, **faults_told(faults)}

    def faults(self, id_: str) -> doc.Faults:
        """What does not hold in a draft."""
        draft, edits = known(lambda: self.store.edits(id_))
        return faults_told(self._faults(draft, edits))

    def _faults(self, draft: StoredDraft, edits: list[Edit]) -> list[ObjectFault]:
        base = self.library.catalog(draft.base)
        return faults_since(base, overlaid(base.texts, edits))

    def discard(self, id_: str, author: str | None) -> None:
        """Delete a draft; its trail stays."""
        known(lambda: self.store.delete(id_, author, _now()))

    def find(self, id_: str, section: str, key: str) -> Edited:
        """An object as it stands in a draft. Raises NotFoundError for one that is not there, too."""
        draft, standing = known(lambda: self.store.standing(id_, section, key))
        if standing.document is None:
            raise _not_there(section, key)
        return Edited(draft, section, key, standing)

    def put(
        self,
        id_: str,
        named: tuple[str, str],
        value: Any,
        precondition: Precondition,
        done_by: tuple[str | None, str | None] = (None, None),
    ) -> Edited:
        """Put an object in the place of what stands. `done_by`: author and reason.

        Raises EditedMeanwhileError where the precondition does not hold, RequestFaultsError for what is no such object.
        """
        document = self._checked(id_, named, value)
        return self._edit(id_, named, lambda _: document, precondition, done_by)

    def patch(
        self,
        id_: str,
        named: tuple[str, str],
        patch: Any,
        precondition: Precondition,
        done_by: tuple[str | None, str | None] = (None, None),
    ) -> Edited:
        """Change an object by a JSON Merge Patch. Raises as `put`, and NotFoundError where there is none."""

        def change(standing: Standing) -> str:
            if standing.document is None:
                raise _not_there(*named)
            return self._checked(id_, named, merged(loads(standing.document), patch))

        return self._edit(id_, named, change, precondition, done_by, needs_one=True)

    def remove(
        self,
        id_: str,
        named: tuple[str, str],
        precondition: Precondition,
        done_by: tuple[str | None, str | None] = (None, None),
    ) -> Edited:
        """Remove an object. Raises as `patch`."""

        def change(standing: Standing) -> None:
            if standing.document is None:
                raise _not_there(*named)

        return self._edit(id_, named, change, precondition, done_by, needs_one=True)

    def changes(self, id_: str, limit: int, offset: int) -> tuple[doc.DraftChanges, int | None]:
        """What a draft has otherwise than its base, and where to go on."""
        draft, edits = known(lambda: self.store.edits(id_))
        base = self.library.catalog(draft.base).texts
        results = [change_told(edit, base) for edit in edits[offset : offset + limit]]
        return {"draft": draft.id, "base": draft.base, "results": results}, (
            offset + limit if offset + limit < len(edits) else None
        )

    def trail(self, id_: str, limit: int, after: int) -> tuple[doc.DraftTrail, int | None]:
        """What was done to a draft, also to one that is deleted, and where to go on."""
        if self.store.is_of_others(id_):
            raise NotFoundError(KIND, id_)
        found = self._trail.of_draft(id_, limit + 1, after) if id_.isalnum() and id_.isascii() else []
        if not found and after == 0:
            raise NotFoundError(KIND, id_)
        results = [entry_told(done) for _, done in found[:limit]]
        return {"draft": id_, "results": results}, found[limit - 1][0] if len(found) > limit else None

    def last_of_trail(self, id_: str) -> doc.DraftTrail:
        """The last that was done to a draft."""
        entries = () if self.store.is_of_others(id_) else self._trail.last_of_draft(id_)
        return {"draft": id_, "results": [entry_told(done) for done in entries]}

    def seen(self, id_: str, named: tuple[str, str], tag: str) -> tuple[str | None, list[Done]]:
        """An object as whoever has its tag saw it, None where that is not known any more; and what was done since."""
        since = Precondition((tag,)).version
        entries = self._trail.of_object(id_, *named, MOST_TOLD)
        later = [done for done in entries if since is None or (done.version or 0) > since]
        draft = known(lambda: self.store.get(id_))
        in_base = document_in(self.library.catalog(draft.base).texts, *named)
        known_as = [(done.document, done.version or 0) for done in entries] + [(in_base, 0)]
        seen = (text for text, version in known_as if tag_of(Standing(text, version)) == tag)
        return next(seen, None), later[::-1]

    def money(self, id_: str) -> InMoney:
        """The money of a draft's prices, by its maker. Raises NotFoundError."""
        return money_of(Maker.model_validate_json(self.find(id_, "maker", "").standing.document or ""))

    def object_head(self, found: Edited) -> doc.ObjectHead:
        """The document of an object without its content."""
        return object_head(found.draft, (found.section, found.key), found.standing)

    def rebase(self, id_: str, asked: doc.DraftMove) -> StoredDraft:
        """Move a draft to the newest revision, object by object.

        Raises ConflictError where both have changed one, and not alike, and it is not said whose state is to stay.
        """
        for _ in range(_TRIES):
            try:
                return self._moved(id_, asked)
            except ChangedDraftError:
                continue
        raise ConflictError("draft-changed", "The draft is being changed by others all the time: try again.")

    def _checked(self, id_: str, named: tuple[str, str], value: Any) -> str:
        """The canonical JSON of an object; an order may name only fuels that the draft has."""
        document = checked(*named, value)
        if named[0] == FUEL_ORDER:
            draft, edits = known(lambda: self.store.edits(id_))
            fuels = overlaid(self.library.catalog(draft.base).texts, edits).get("fuels", {})
            check_order_of(fuels, loads(document)["fuels"])
            return order_in({"fuels": in_order(fuels, document)})
        return document

    def _moved(self, id_: str, asked: doc.DraftMove) -> StoredDraft:
        draft, edits = known(lambda: self.store.edits(id_))
        if draft.published is not None:
            raise published_already(draft.published)
        newest = self.library.newest()
        if newest == draft.base:
            return draft
        old, new = self.library.catalog(draft.base), self.library.catalog(newest)
        conflicts = conflicts_of(old.texts, new.texts, edits)
        if conflicts and asked.keep is None:
            raise conflict_of(draft.base, newest, conflicts)
        gone = {(x.section, x.key) for x in conflicts} if asked.keep == "newest" else ()
        return known(lambda: self.store.rebase(draft, newest, gone, asked.author, _now()))

    def _edit(
        self,
        id_: str,
        named: tuple[str, str],
        change: Callable[[Standing], str | None],
        precondition: Precondition,
        done_by: tuple[str | None, str | None],
        *,
        needs_one: bool = False,
    ) -> Edited:
        was_there = True

        def guarded(standing: Standing) -> str | None:
            nonlocal was_there
            was_there = standing.document is not None
            if needs_one and not was_there and standing.version == 0:
                raise _not_there(*named)
            if not precondition.holds(standing):
                raise _Unmet(standing)
            return change(standing)

        try:
            draft, standing = known(lambda: self.store.edit(id_, named, guarded, done_by, _now()))
        except _Unmet as error:
            self._refuse(id_, named, precondition, error.standing)
        return Edited(draft, *named, standing, is_new=not was_there)

    def _refuse(self, id_: str, named: tuple[str, str], precondition: Precondition, standing: Standing) -> NoReturn:
        since = precondition.version
        entries = self._trail.of_object(id_, *named, MOST_TOLD)
        newer = [done for done in entries if since is None or (done.version or 0) > since]
        told = [done_told(done) for done in newer[: 1 if since is None else MOST_TOLD]]
        what = " ".join(part for part in named if part)
        state = f"{what} is there" if standing.document is not None else f"there is no {what}"
        story = "; ".join(reversed(told)) or "nobody changed it in this draft since"
        given = "*" if precondition.is_new else ", ".join(precondition.tags or ())
        raise EditedMeanwhileError(given, tag_of(standing), f"Nothing was done: {state}; {story}.")


class _Unmet(Exception):  # noqa: N818 no error to anybody outside
    def __init__(self, standing: Standing) -> None:
        super().__init__()
        self.standing = standing


def named(section: str, key: str) -> tuple[str, str]:
    """The section and key of an object that there could be. Raises NotFoundError."""
    field = section.replace("-", "_")
    if field not in SECTIONS:
        raise NotFoundError("section", section, tuple(nearest(section, SECTIONS)))
    if len(key) > _LONGEST_KEY or not _KEY.match(key) or key.endswith("\n"):
        raise _not_there(field, key)
    return field, key


def known(call: Callable[[], T]) -> T:
    """What a call of the store gives. Raises NotFoundError, ConflictError."""
    try:
        return call()
    except UnknownDraftError as error:
        raise NotFoundError(KIND, error.id) from None
    except PublishedDraftError as error:
        raise published_already(error.revision) from None


def published_already(revision: int) -> ConflictError:
    """The refusal of whatever would change a draft that became a revision."""
    return ConflictError("draft-published", f"The draft was published as revision {revision}: begin another one.")


def _not_there(section: str, key: str) -> NotFoundError:
    return NotFoundError(section.replace("_", " "), key)


def _now() -> datetime:
    return datetime.now(UTC)
