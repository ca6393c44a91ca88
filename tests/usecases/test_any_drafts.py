"""Any course of drafts, edits, conflicts, publishes and restores, beside a plain model of them: on a real database."""

import json
import tempfile
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, consumes, invariant, precondition, rule

from service.documents.catalog import Catalog
from service.documents.draft import BegunDraft, DraftMove, Publication
from service.storage.drafts import DraftStore
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.storage.trail import TrailStore
from service.usecases.drafts import Drafts, Edited
from service.usecases.errors import ConflictError, EditedMeanwhileError, NotFoundError, RefusedError
from service.usecases.library import Library
from service.usecases.preconditions import Precondition
from service.usecases.publish import publish, ready_draft, ready_revision
from tests.storage.databases import empty_database
from tests.support.catalogs import small_catalog
from tests.support.sqlite_files import with_small_catalog

TEMPLATE = next(item for item in small_catalog()["items"] if item["sku"] == "SEALANT")
SKUS = ("NEW-1", "NEW-2")
skus = st.sampled_from(SKUS)
prices = st.integers(0, 2)

T = TypeVar("T")
State = dict[str, int | None]
"""The price of each item; None: it is not there."""


@dataclass
class Model:
    """A draft as it should be: what it starts from, its state, and what each editor saw last."""

    base: int
    state: State
    seen: dict[str, tuple[str | None, int | None]] = field(default_factory=dict)
    edits: int = 0
    is_open: bool = True


def done(call: Callable[[], T]) -> T | RefusedError:
    """What a call gives, or how it is refused."""
    try:
        return call()
    except RefusedError as error:
        return error


class DraftsMachine(RuleBasedStateMachine):
    """What may be done to drafts, in any order."""

    kind = "sqlite"
    drafts = Bundle("drafts")

    def __init__(self) -> None:
        super().__init__()
        self.ends = ExitStack()
        try:
            database = open_database(self._url(Path(self.ends.enter_context(tempfile.TemporaryDirectory()))))
        except BaseException:
            self.ends.close()
            raise
        self.ends.callback(database.close)
        self.library = Library(RevisionStore(database))
        if self.kind != "sqlite":
            migrate(database)
            self.library.publish(Catalog.model_validate(small_catalog()))
        self.kept = Drafts(self.library, DraftStore(database), TrailStore(database))
        self.models: dict[str, Model] = {}
        self.revisions: list[State] = [dict.fromkeys(SKUS)]

    def _url(self, folder: Path) -> str:
        if self.kind == "sqlite":
            with_small_catalog(folder / "file")
            return f"sqlite:///{folder / 'file'}"
        return self.ends.enter_context(empty_database(self.kind, folder))

    def teardown(self) -> None:
        try:
            self._check_all()
        finally:
            self.ends.close()

    @rule(target=drafts, back=st.integers(0, 2))
    def begin(self, back: int) -> str:
        base = max(1, len(self.revisions) - back)
        begun = self.kept.begin(BegunDraft(name="any", base=base))
        self.models[begun.id] = Model(base, dict(self.revisions[base - 1]))
        return begun.id

    @rule(id_=drafts, sku=skus)
    def look(self, id_: str, sku: str) -> None:
        """An editor looks at an item; what stands there is what the model has."""
        model = self.models[id_]
        try:
            found = self.kept.find(id_, "items", sku)
            tag, price = found.tag, json.loads(found.standing.document or "")["price"]
        except NotFoundError:
            tag, price = None, None
        assert price == model.state[sku]
        model.seen[sku] = tag, price

    @rule(id_=drafts, sku=skus, price=st.none() | prices, is_patch=st.booleans())
    def edit(self, id_: str, sku: str, price: int | None, is_patch: bool) -> None:
        """An edit under what was seen last: done where that still stands, refused where it does not."""
        model = self.models[id_]
        if sku not in model.seen:
            self.look(id_, sku)
        tag, seen = model.seen[sku]
        meant = Precondition(is_new=True) if tag is None else Precondition((tag,))
        named = ("items", sku)
        if price is None and tag is None:
            return
        if price is None:
            told = done(lambda: self.kept.remove(id_, named, meant))
        elif is_patch and tag is not None:
            told = done(lambda: self.kept.patch(id_, named, {"price": price}, meant))
        else:
            told = done(lambda: self.kept.put(id_, named, TEMPLATE | {"sku": sku, "price": price}, meant))
        if isinstance(told, ConflictError):
            assert (told.code, model.is_open) == ("draft-published", False)
        elif isinstance(told, EditedMeanwhileError):
            assert self._differs(id_, sku, tag)
        elif isinstance(told, NotFoundError):
            assert model.state[sku] is None
        else:
            assert isinstance(told, Edited)
            assert model.is_open
            assert model.state[sku] == seen
            model.edits += price != seen
            model.state[sku] = price
            model.seen[sku] = told.tag, price

    def _differs(self, id_: str, sku: str, tag: str | None) -> bool:
        try:
            return self.kept.find(id_, "items", sku).tag != tag
        except NotFoundError:
            return tag is not None

    @rule(id_=drafts, sku=skus, price=prices, other=prices)
    def edit_late(self, id_: str, sku: str, price: int, other: int) -> None:
        """An editor looks, another edits, and the first comes too late."""
        self.look(id_, sku)
        self.edit_by_another(id_, sku, other)
        self.edit(id_, sku, price, is_patch=True)

    @rule(id_=drafts, sku=skus, price=prices, other=prices, keep=st.sampled_from([None, "draft", "newest"]))
    def collide(self, id_: str, sku: str, price: int, other: int, keep: Any) -> None:
        """A draft changes what is published meanwhile, and moves there."""
        self.edit_by_another(id_, sku, price)
        self.publish_beside(sku, other)
        self.move(id_, keep)

    @rule(sku=skus, price=prices)
    def publish_beside(self, sku: str, price: int) -> None:
        """Somebody begins, edits and publishes at once: every open draft is behind then."""
        id_ = self.begin(0)
        self.edit_by_another(id_, sku, price)
        self.publish(id_)
        self.discard(id_)

    @rule(id_=drafts, sku=skus, price=prices)
    def edit_by_another(self, id_: str, sku: str, price: int) -> None:
        """Somebody who looks and edits at once: always done, and what was seen before is out of date."""
        model = self.models[id_]
        if not model.is_open:
            return
        meant = Precondition(is_new=True) if model.state[sku] is None else Precondition(("*",))
        self.kept.put(id_, ("items", sku), TEMPLATE | {"sku": sku, "price": price}, meant, ("another", None))
        model.edits += price != model.state[sku]
        model.state[sku] = price

    @rule(id_=drafts, keep=st.sampled_from([None, None, "draft", "newest"]))
    def move(self, id_: str, keep: Any) -> None:
        """Objects that one side changed come from it; those that both changed, otherwise, from whoever is kept."""
        model = self.models[id_]
        old, new = self.revisions[model.base - 1], self.revisions[-1]
        both = {sku for sku in SKUS if old[sku] != model.state[sku] and old[sku] != new[sku]}
        conflicts = {sku for sku in both if new[sku] != model.state[sku]}
        moved = done(lambda: self.kept.rebase(id_, DraftMove(keep=keep)))
        if isinstance(moved, RefusedError):
            assert isinstance(moved, ConflictError)
            if model.is_open:
                assert (moved.code, keep) == ("draft-conflict", None)
                assert {fault.pointer for fault in moved.faults} == {f"/items/{sku}" for sku in conflicts}
            else:
                assert moved.code == "draft-published"
            return
        assert model.is_open
        assert keep is not None or not conflicts
        model.edits += model.base != moved.base
        for sku in SKUS:
            if model.state[sku] == old[sku] or (sku in conflicts and keep == "newest"):
                model.state[sku] = new[sku]
        model.base = len(self.revisions)
        assert moved.base == model.base

    @rule(id_=drafts)
    def publish(self, id_: str) -> None:
        """Done where the draft is open, on the newest and otherwise; else nothing is."""
        model = self.models[id_]
        why = self._refused(model)
        who = Publication(author="Ada", reason="any", accept="any")
        told = done(lambda: publish(self.kept, ready_draft(self.kept, id_), who))
        if isinstance(told, RefusedError):
            assert isinstance(told, ConflictError)
            assert told.code == why
            return
        assert why is None
        self.revisions.append(dict(model.state))
        model.is_open = False
        assert told["revision"] == len(self.revisions)

    def _refused(self, model: Model) -> str | None:
        if not model.is_open:
            return "draft-published"
        if model.base < len(self.revisions):
            return "newer-revision"
        return "nothing-to-publish" if model.state == self.revisions[-1] else None

    @precondition(lambda self: len(self.revisions) > 1)
    @rule(back=st.integers(0, 3))
    def restore(self, back: int) -> None:
        """An old state is the newest again, unless it is that already."""
        number = max(1, len(self.revisions) - back)
        state = self.revisions[number - 1]
        who = Publication(author="Bo", reason="any")
        told = done(lambda: publish(self.kept, ready_revision(self.kept, number), who))
        if isinstance(told, RefusedError):
            assert isinstance(told, ConflictError)
            assert (told.code, state) == ("nothing-to-publish", self.revisions[-1])
            return
        self.revisions.append(dict(state))

    @rule(id_=consumes(drafts))
    def discard(self, id_: str) -> None:
        """Gone with its edits; a published one stays."""
        if isinstance(done(lambda: self.kept.discard(id_, None)), RefusedError):
            assert not self.models[id_].is_open
            return
        del self.models[id_]
        with pytest.raises(NotFoundError):
            self.kept.told(id_)

    @invariant()
    def drafts_are_where_the_model_has_them(self) -> None:
        """Their version counts what was done."""
        assert self.library.newest() == len(self.revisions)
        for id_, model in self.models.items():
            draft = self.kept.store.get(id_)
            assert (draft.version, draft.base) == (model.edits, model.base)
            assert (draft.published is None) == model.is_open

    def _check_all(self) -> None:
        """Each revision is as it was published, and each draft has what differs from its base, no more."""
        for number, state in enumerate(self.revisions, 1):
            items = self.library.catalog(number).items.by_id
            assert {sku: items[sku].price if sku in items else None for sku in SKUS} == state
        for id_, model in self.models.items():
            base = self.revisions[model.base - 1]
            changes, _ = self.kept.changes(id_, 100, 0)
            assert {one["key"] for one in changes["results"]} == {x for x in SKUS if model.state[x] != base[x]}


class OnPostgresql(DraftsMachine):
    """The same on the other database."""

    kind = "postgresql"


_ALL = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large)
TestOnSqlite = DraftsMachine.TestCase
TestOnSqlite.settings = settings(
    phases=[Phase.generate], max_examples=7, stateful_step_count=25, deadline=None, suppress_health_check=_ALL
)
TestOnPostgresql = pytest.mark.postgres(OnPostgresql.TestCase)
TestOnPostgresql.settings = settings(
    phases=[Phase.generate], max_examples=3, stateful_step_count=20, deadline=None, suppress_health_check=_ALL
)
