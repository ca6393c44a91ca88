"""Publish a draft, or an old revision anew, as the next revision: whole, after the newest, with who and why."""

from dataclasses import dataclass
from datetime import UTC, datetime

from service.documents import draft as doc
from service.documents.faults import MOST_TOLD
from service.documents.impact import ImpactAnswer
from service.documents.overlay import between
from service.documents.packed import PackedCatalog
from service.documents.pointers import pointer_to
from service.storage.drafts import StoredDraft
from service.storage.errors import ChangedDraftError, NewerRevisionError
from service.storage.revisions import Publishing
from service.usecases.draft_contents import Contents
from service.usecases.drafts import Drafts, known, published_already
from service.usecases.errors import ConflictError, NotFoundError, RequestFault
from service.usecases.impact import NewMeter, Remembered, impact_of, impact_told
from service.usecases.impact_orders import orders_told
from service.usecases.library import Edition, Library
from service.usecases.moments import moment
from service.usecases.standing import KeptQuestions

_LOSSES = ("broken", "lost", "gone")


@dataclass(frozen=True)
class Ready:
    """What can be published after revision `base`, the newest: a catalog without faults, of a draft or restored."""

    base: int
    catalog: PackedCatalog
    draft: StoredDraft | None = None
    restored: int | None = None

    @property
    def name(self) -> tuple[str, int]:
        """Names the content: what is worked out for one is right for all of that name."""
        if self.draft is not None:
            return self.draft.id, self.draft.version
        return "", self.restored or 0


def ready_draft(drafts: Drafts, id_: str) -> Ready:
    """A draft as it can be published.

    Raises ConflictError where its base is not the newest revision, where something does not hold in it, where nothing
    is changed; NotFoundError.
    """
    draft, edits = known(lambda: drafts.store.edits(id_))
    if draft.published is not None:
        raise published_already(draft.published)
    if draft.base < drafts.library.newest():
        raise _behind(drafts, draft.base)
    base = drafts.library.catalog(draft.base)
    catalog = Contents(draft, base, tuple(edits)).whole
    if catalog == base:
        raise _nothing(draft.base)
    return Ready(draft.base, catalog, draft=draft)


def looked_at(drafts: Drafts, id_: str) -> Ready:
    """A draft as it is held against its base, the newest or not, published or not.

    Raises ConflictError where something does not hold in it, NotFoundError.
    """
    draft, edits = known(lambda: drafts.store.edits(id_))
    base = drafts.library.catalog(draft.base)
    return Ready(draft.base, Contents(draft, base, tuple(edits)).whole, draft=draft)


def ready_revision(drafts: Drafts, number: int) -> Ready:
    """An old revision as it can be published anew.

    Raises NotFoundError, ConflictError where it is the same as the newest.
    """
    newest = drafts.library.newest()
    if not 1 <= number <= newest:
        raise NotFoundError("revision", str(number))
    catalog = drafts.library.catalog(number)
    if catalog == drafts.library.catalog(newest):
        raise _nothing(newest)
    return Ready(newest, catalog, restored=number)


def publish(drafts: Drafts, ready: Ready, asked: doc.Publication) -> doc.Published:
    """Publish what is ready. Raises ConflictError where another revision, or another edit, came first."""
    publishing = Publishing(asked.author, asked.reason, asked.accept)
    at = datetime.now(UTC)
    try:
        if ready.draft is None:
            number, _ = drafts.library.publish(
                ready.catalog, None, publishing, restored=ready.restored, follows=ready.base
            )
        else:
            draft = ready.draft
            number = known(lambda: drafts.store.publish(draft, ready.catalog, publishing, at))
    except NewerRevisionError:
        raise _behind(drafts, ready.base) from None
    except ChangedDraftError:
        raise ConflictError(
            "draft-changed", "The draft was changed while it was being judged: nothing was published. Send it again."
        ) from None
    drafts.library.look_again()
    return {
        "revision": number,
        "published": moment(at),
        "digest": ready.catalog.digest(),
        "author": asked.author,
        "reason": asked.reason,
        "accept": asked.accept,
        "draft": None if ready.draft is None else ready.draft.id,
    }


def impact_on(
    library: Library, ready: Ready, kept: KeptQuestions, new_meter: NewMeter, remembered: Remembered | None = None
) -> ImpactAnswer:
    """The impact of what is ready on its base."""
    before = library.edition(ready.base)
    after = Edition(ready.base + 1, ready.catalog)
    names = ready.base, f"revision {ready.restored}" if ready.draft is None else ready.draft.id
    impact = impact_of(before, after, kept.gather(), new_meter=new_meter, remembered=remembered)
    return impact_told(impact, before, after, names) | {"orders": orders_told(before, after, kept.orders, new_meter)}


def refuse_losses(told: ImpactAnswer) -> None:
    """Raise ConflictError where something is broken or lost: publishing it takes a reason."""
    if not told["needs_accept"]:
        return
    lost = [one for one in told["questions"] if one["outcome"] in _LOSSES]
    raise ConflictError(
        "answers-lost",
        f"Nothing was published: {sum(told['counts'].get(name, 0) for name in _LOSSES)} of the standing questions are"
        " broken, lost or gone. `accept` publishes it all the same, with the reason why.",
        tuple(RequestFault("/accept", f"{one['outcome']}: {one['text']}", "a reason") for one in lost),
    )


def _nothing(newest: int) -> ConflictError:
    return ConflictError("nothing-to-publish", f"There is nothing to publish: revision {newest} is the same catalog.")


def _behind(drafts: Drafts, base: int) -> ConflictError:
    """Say who published what after a base."""
    later = [one for one in reversed(drafts.library.summaries()) if one.number > base]
    story = "; ".join(
        f"revision {one.number} by {one.publishing.author or 'somebody'} at {moment(one.created_at)}"
        for one in later[-MOST_TOLD:]
    )
    changed = between(drafts.library.catalog(base).texts, drafts.library.catalog(later[-1].number).texts)
    return ConflictError(
        "newer-revision",
        f"Revision {base} is not the newest any more: {story}. Look at it, move the draft there with"
        " POST /v1/drafts/{id}/rebase and publish it then.",
        tuple(
            RequestFault(pointer_to((section, key) if key else (section,)), f"it {what} meanwhile", "the base's state")
            for section, key, what in changed
        ),
    )
