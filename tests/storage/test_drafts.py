"""Drafts: rows beside their base, one object after the other, published in one transaction; a trail of all that."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from json import dumps, loads

import pytest

from service.documents.catalog import Catalog
from service.documents.overlay import catalog_over, overlaid
from service.documents.packed import packed
from service.storage.drafts import DraftStore, Standing, StoredDraft
from service.storage.engine import Database
from service.storage.errors import (
    ChangedDraftError,
    NewerRevisionError,
    PublishedDraftError,
    RowsRefusedError,
    UnknownDraftError,
)
from service.storage.revisions import Publishing, RevisionStore
from service.storage.trail import TrailStore

ADA = ("Ada", "a dearer rail")
ITEM = ("items", "RAIL-S")


@pytest.fixture(name="drafts")
def _drafts(database: Database, store: RevisionStore, small: Catalog, noon: datetime) -> DraftStore:
    store.add(small, created_at=noon)
    return DraftStore(database)


@pytest.fixture(name="draft")
def _draft(drafts: DraftStore, noon: datetime) -> StoredDraft:
    return drafts.add("d1", "spring", "Ada", 1, noon)


def priced(price: int) -> Callable[[Standing], str]:
    """Makes an item cost so much."""

    def change(standing: Standing) -> str:
        assert standing.document is not None
        return dumps(loads(standing.document) | {"price": price}, separators=(",", ":"))

    return change


def put(document: str | None) -> Callable[[Standing], str | None]:
    """Puts this in the place of what stands."""
    return lambda _: document


def test_a_draft_keeps_only_what_is_otherwise(drafts: DraftStore, draft: StoredDraft, noon: datetime) -> None:
    """Changed, added and removed; put back it is gone, and the same again is no edit."""
    assert drafts.edits("d1") == (draft, [])
    after, standing = drafts.edit("d1", ITEM, priced(7), ADA, noon)
    assert (after.version, standing.version, standing.author) == (1, 1, "Ada")
    assert drafts.edit("d1", ITEM, priced(7), ("Bo", None), noon) == (after, standing)
    drafts.edit("d1", ("items", "NEW"), put('{"sku":"NEW"}'), ADA, noon)
    drafts.edit("d1", ("items", "PLUG-B8"), put(None), ADA, noon)
    told = [(edit.key, edit.what, edit.version) for edit in drafts.edits("d1")[1]]
    assert told == [("RAIL-S", "changed", 1), ("NEW", "added", 2), ("PLUG-B8", "removed", 3)]
    original = drafts.standing("d1", "items", "PLUG-B8")[1]
    assert original.document is None
    drafts.edit("d1", ("items", "NEW"), put(None), ADA, noon)
    assert [edit.key for edit in drafts.edits("d1")[1]] == ["RAIL-S", "PLUG-B8"]
    assert drafts.get("d1").version == 4


def test_many_edits_are_made_as_one(drafts: DraftStore, draft: StoredDraft, noon: datetime) -> None:
    """Each a version of its own, those that change nothing none; all of them or, on another state, nothing."""
    rail = drafts.standing("d1", *ITEM)[1].document
    assert rail is not None
    dearer = priced(7)(Standing(rail, 0))
    documents = [(*ITEM, dearer), (*ITEM, dearer), ("items", "SEAL-B8", None), ("items", "NONE", None)]
    after = drafts.edit_all(draft, documents, ADA, noon)
    assert (after.version, [(x.key, x.version) for x in drafts.edits("d1")[1]]) == (2, [("RAIL-S", 1), ("SEAL-B8", 2)])
    assert drafts.edit_all(after, documents, ADA, noon) == after
    with pytest.raises(ChangedDraftError):
        drafts.edit_all(draft, [(*ITEM, rail)], ADA, noon)
    back = drafts.edit_all(after, [(*ITEM, rail)], ADA, noon)
    assert (back.version, [x.key for x in drafts.edits("d1")[1]]) == (3, ["SEAL-B8"])


def test_an_error_undoes_an_edit(database: Database, drafts: DraftStore, draft: StoredDraft, noon: datetime) -> None:
    """Nothing of it is there: no row, no version, no entry of the trail."""

    def refused(_: Standing) -> str | None:
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        drafts.edit("d1", ITEM, refused, ADA, noon)
    assert drafts.edits("d1") == (draft, [])
    assert [done.what for _, done in TrailStore(database).of_draft("d1", 9)] == ["begun"]


def test_the_trail_outlives_a_draft(database: Database, drafts: DraftStore, draft: StoredDraft, noon: datetime) -> None:
    """Who did what, when and why; by page, and of one object."""
    drafts.edit(draft.id, ITEM, priced(7), ADA, noon + timedelta(hours=1))
    drafts.edit("d1", ITEM, priced(8), ("Bo", None), noon + timedelta(hours=2))
    drafts.delete("d1", "Ada", noon + timedelta(hours=3))
    trail = TrailStore(database)
    entries = trail.of_draft("d1", 9)
    told = [(done.what, done.author, done.reason, done.version, done.key) for _, done in entries]
    assert told == [
        ("begun", "Ada", None, 0, None),
        ("changed", "Ada", "a dearer rail", 1, "RAIL-S"),
        ("changed", "Bo", None, 2, "RAIL-S"),
        ("discarded", "Ada", None, 2, None),
    ]
    assert [done.done_at for _, done in entries] == [noon + timedelta(hours=hour) for hour in range(4)]
    assert trail.of_draft("d1", 2, entries[1][0]) == entries[2:]
    assert trail.of_object("d1", *ITEM, 1) == [entries[2][1]]
    assert '"price":8' in (entries[2][1].document or "")
    with pytest.raises(UnknownDraftError):
        drafts.get("d1")


def test_publishing_makes_the_next_revision(
    drafts: DraftStore, draft: StoredDraft, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """With who and why; then the draft is closed."""
    drafts.edit(draft.id, ITEM, priced(7), ADA, noon)
    seen, edits = drafts.edits("d1")
    catalog = catalog_over(overlaid(packed(small).texts, edits))
    with pytest.raises(ChangedDraftError):
        drafts.publish(draft, catalog, Publishing("Ada", "spring"), noon)
    assert drafts.publish(seen, catalog, Publishing("Ada", "spring", "fewer bills"), noon) == 2
    assert store.load(2) == catalog
    newest, first = store.summaries()
    assert (newest.publishing, newest.digest) == (Publishing("Ada", "spring", "fewer bills"), catalog.digest())
    assert first.publishing == Publishing()
    assert drafts.get("d1").published == 2
    for again in (
        lambda: drafts.edit("d1", ITEM, priced(9), ADA, noon),
        lambda: drafts.publish(seen, catalog, Publishing("Ada", "x"), noon),
        lambda: drafts.delete("d1", None, noon),
        lambda: drafts.rebase(seen, 2, [], None, noon),
    ):
        with pytest.raises(PublishedDraftError):
            again()


def test_a_draft_moves_to_a_newer_base(
    drafts: DraftStore, draft: StoredDraft, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """Edits that are there already go; what is left is told against the new base. Without that nothing is published."""
    drafts.edit(draft.id, ITEM, priced(7), ADA, noon)
    drafts.edit("d1", ("items", "PLUG-B8"), put('{"sku":"PLUG-B8"}'), ADA, noon)
    seen, edits = drafts.edits("d1")
    without = small.model_copy(update={"items": [item for item in small.items if item.sku != "PLUG-B8"]})
    dearer = [item.model_copy(update={"price": 7}) if item.sku == "RAIL-S" else item for item in without.items]
    store.add(without.model_copy(update={"items": dearer}), created_at=noon)
    with pytest.raises(NewerRevisionError):
        drafts.publish(seen, catalog_over(overlaid(packed(small).texts, edits)), Publishing("Ada", "x"), noon)
    assert store.latest() == 2
    moved = drafts.rebase(seen, 2, [ITEM], "Bo", noon)
    assert (moved.base, moved.version) == (2, 3)
    assert [(edit.key, edit.what) for edit in drafts.edits("d1")[1]] == [("PLUG-B8", "added")]


def test_drafts_are_listed_by_page(drafts: DraftStore, noon: datetime) -> None:
    """Newest first; of a base that is not there none is begun."""
    made = [drafts.add(f"d{nth}", "x", None, 1, noon) for nth in range(3)]
    assert drafts.page(2) == made[:0:-1]
    assert drafts.page(2, made[1].number) == made[:1]
    assert not drafts.is_full()
    with pytest.raises(RowsRefusedError):
        drafts.add("d9", "x", None, 9, noon)
    for unknown in ("", "no such", "x" * 100, "d9"):
        with pytest.raises(UnknownDraftError):
            drafts.get(unknown)


def test_many_edit_at_once(drafts: DraftStore, draft: StoredDraft, noon: datetime) -> None:
    """Each adds to what the one before left: none is lost; no more at once than there are connections."""

    def dearer(standing: Standing) -> str:
        return dumps({"price": 1 + (0 if standing.document is None else loads(standing.document)["price"])})

    def edit(nth: int) -> None:
        drafts.edit(draft.id, ("items", "SHARED"), dearer, (f"editor {nth}", None), noon)

    with ThreadPoolExecutor(4) as editors:
        list(editors.map(edit, range(50)))
    after, standing = drafts.standing("d1", "items", "SHARED")
    assert (standing.document, after.version) == (dumps({"price": 50}), 50)
