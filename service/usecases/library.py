"""The revisions at hand: each loaded and compiled once, kept while it is asked for."""

import logging
from collections import OrderedDict
from concurrent.futures import Future
from contextlib import nullcontext
from datetime import UTC, datetime
from threading import Lock, Thread
from time import monotonic

from service.documents.catalog import Catalog
from service.documents.packed import PackedCatalog, packed
from service.domain.work import giving_way
from service.storage.errors import StorageError, UnknownRevisionError
from service.storage.objects import Progress
from service.storage.revisions import NOBODY, Publishing, RevisionStore, RevisionSummary
from service.usecases import long_lived
from service.usecases.announced import Announced
from service.usecases.edition import Edition, Preparation, open_edition
from service.usecases.errors import NoCatalogError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.long_work import begin_long_work
from service.usecases.pacing import PAUSES_UNSEEN, Pace

__all__ = ["KEPT_EDITIONS", "MOST_OLD_ITEMS", "Edition", "Library", "open_edition"]

KEPT_EDITIONS = 4
"""The newest and old ones that were asked for last."""
MOST_OLD_ITEMS = 12_000
"""So many items at most stand in the old editions that are kept, but for the one that was asked for last."""
_STAYS_AWAKE_S = 60.0
_IN_USE_S = 0.1
"""Somebody who asked so lately is taken to go on."""
_AGAIN_S = 5.0
"""A newest revision that could not be opened is tried again after this."""

_log = logging.getLogger(__name__)


class Library:
    """Opens editions from the store. Safe to share by threads.

    Nobody who asks the newest edition waits for another one to be opened. `opens_beside`: a newly published revision
    is opened by a thread of the library's own, while the one before it goes on answering; else whoever asks first opens
    it. `fresh_s`: so long the store is not asked again which one is the newest. `announced`: what other processes
    answer from; an older revision is never given for the newest.
    """

    def __init__(
        self,
        store: RevisionStore,
        *,
        opens_beside: bool = False,
        fresh_s: float = 0.0,
        announced: Announced | None = None,
    ) -> None:
        self._store = store
        self._opens_beside = opens_beside
        self._fresh_s = fresh_s
        self._announced = announced or Announced()
        self._lock = Lock()  # for the fields below; never held while something is read or compiled
        self._newest: Edition | None = None
        self._old: OrderedDict[int, Edition] = OrderedDict()
        self._opening: dict[int, Future[Edition]] = {}
        self._not_before = 0.0
        self._opened_beside = 0
        self._seen: tuple[int, float] | None = None
        self._wanted_at = -_STAYS_AWAKE_S

    def newest_at_hand(self) -> int | None:
        """The number of the edition that answers for the newest, where the store was asked lately; None where it has to
        be asked."""
        self._wanted_at = monotonic()
        seen, newest = self._seen, self._newest
        if seen is None or newest is None or self.is_behind or seen[0] not in (newest.number, self._opened_beside):
            return None
        return None if monotonic() - seen[1] > self._fresh_s else newest.number

    def at_hand(self, number: int | None = None) -> Edition | None:
        """The edition of that number, of the newest where None; None where the store has to be asked for it first."""
        if number is not None:
            return self._at_hand(number)
        newest = self._newest
        return newest if newest is not None and newest.number == self.newest_at_hand() else None

    @property
    def is_behind(self) -> bool:
        """Whether another process answers from a newer edition than the newest of this one."""
        newest = self._newest
        return self._announced.number > (0 if newest is None else newest.number)

    def edition(self, number: int | None = None) -> Edition:
        """The edition of that number, of the newest where None.

        Raises NoCatalogError while there is none, NotFoundError for a number that is not known, LongWorkError where an
        old one is to be opened and only short work may be done.
        """
        if number is None:
            return self._newest_edition()
        edition = self._at_hand(number)
        if edition is not None:
            return edition
        if not 1 <= number <= (self._store.latest() or 0):
            raise NotFoundError("revision", str(number))
        begin_long_work()
        edition = self._opened(number)
        self._keep(edition)
        return edition

    def summaries(self) -> list[RevisionSummary]:
        """Every revision without its content, the newest first."""
        return self._store.summaries()

    def catalog(self, number: int) -> PackedCatalog:
        """The document of a revision, which is not made ready to answer. Raises as `edition`."""
        edition = self._at_hand(number)
        if edition is not None:
            return edition.catalog
        if not 1 <= number <= (self._store.latest() or 0):
            raise NotFoundError("revision", str(number))
        begin_long_work()
        return self._store.load(number)

    def edition_for(self, number: int | None, pointer: str = "/revision") -> Edition:
        """The edition that a document names at a place. Raises as `edition`, but RequestFaultsError for the number."""
        try:
            return self.edition(number)
        except NotFoundError as error:
            fault = RequestFault(pointer, error.value, f"the number of a known {error.kind}", error.nearest)
            raise RequestFaultsError((fault,)) from error

    def newest(self) -> int:
        """The number of the newest revision. Raises NoCatalogError."""
        number = self._store.latest()
        if number is None:
            raise NoCatalogError("no catalog has been imported yet")
        return number

    def newest_published(self) -> tuple[int, datetime] | None:
        """The number of the newest revision and when it was made, None while there is none. Raises StorageError."""
        return self._store.newest_published()

    def newest_for_sure(self) -> Edition:
        """The newest edition, asked of the store whatever was heard of it lately. Raises NoCatalogError."""
        self.look_again()
        return self.edition()

    def open_newest(self) -> None:
        """Open the newest edition by a thread of the library's own, so that nobody need who asks."""
        Thread(target=self._try_newest, name="opens-editions", daemon=True).start()

    def follow(self, *, was_told: bool = False) -> None:
        """Open what other processes answer from already, and look which revision is the newest where somebody asked of
        late or the database told of one, so that whoever asks need not; for who calls it again and again. Raises
        StorageError."""
        is_wanted = was_told or monotonic() - self._wanted_at < _STAYS_AWAKE_S
        if self.is_behind:
            self._open_beside(self._announced.number)
        elif self._newest is not None and is_wanted:
            number = self._look()
            if number is not None and number != self._newest.number:
                self._open_beside(number)

    def look_again(self) -> None:
        """Ask the store which revision is the newest, whenever that is next wanted."""
        self._seen = None

    def publish(
        self,
        catalog: Catalog | PackedCatalog,
        progress: Progress | None = None,
        publishing: Publishing = NOBODY,
        *,
        restored: int | None = None,
        follows: int | None = None,
    ) -> tuple[int, bool]:
        """Keep a checked catalog as the newest revision; (its number, whether it is new). The rest as `add` has it.

        A catalog equal to the newest revision makes no new one.
        """
        told = packed(catalog)
        newest = self._store.newest_digest()
        if newest is not None and newest[1] == told.digest():
            return newest[0], False
        number = self._store.add(
            told,
            created_at=datetime.now(UTC),
            progress=progress,
            publishing=publishing,
            restored=restored,
            follows=follows,
        )
        self.look_again()
        return number, True

    def _newest_edition(self) -> Edition:
        at_hand = self.at_hand()
        if at_hand is not None:
            return at_hand
        newest = self._newest
        number = self._look()
        if number is None:
            raise NoCatalogError("no catalog has been imported yet")
        if newest is not None and newest.number == number:
            return newest
        if newest is None or not self._opens_beside or self.is_behind:
            return self._replace_newest(self._at_hand(number) or self._opened(number))
        self._open_beside(number)
        return newest

    def _look(self) -> int | None:
        """Ask the store which revision is the newest."""
        asked_at = monotonic()
        number = self._store.latest()
        if number is not None:
            self._seen = number, asked_at
        return number

    def _open_beside(self, number: int) -> None:
        with self._lock:
            is_here = self._newest is not None and self._newest.number == number
            if is_here or number in (self._opened_beside, *self._opening) or monotonic() < self._not_before:
                return
            self._not_before = monotonic() + _AGAIN_S
        self.open_newest()

    def _try_newest(self) -> None:
        preparation: Preparation | None = None
        try:
            number = self._store.latest()
            if number is not None:
                self._opened_beside = number
                is_beside = self._newest is not None  # which answers meanwhile
                with giving_way(Pace(self._is_asked, PAUSES_UNSEEN).step) if is_beside else nullcontext():
                    edition = self._at_hand(number) or self._opened(number)
                if is_beside:
                    preparation = Preparation(edition, self._is_asked)
                    preparation.begin()
                self._replace_newest(edition)
        except StorageError as error:  # the edition before goes on answering; a first asker meets the same
            _log.error("the newest revision could not be opened: %s: %s", error.code, error)
        finally:
            self._opened_beside = 0
        if preparation is not None:
            preparation.finish()
            long_lived.settle([])

    def _is_asked(self) -> bool:
        return monotonic() - self._wanted_at < _IN_USE_S

    def _replace_newest(self, edition: Edition) -> Edition:
        self._announced.announce(edition.number)
        with self._lock:
            if self._newest is not None and self._newest.number > edition.number:
                return self._newest  # a later one was opened meanwhile
            before, self._newest = self._newest, edition
            self._old.pop(edition.number, None)
            self._not_before = 0.0
        if before is not None and before is not edition:
            self._keep(before)
        if self._opens_beside:
            long_lived.settle([edition.number, *self._old])
        return edition

    def _at_hand(self, number: int) -> Edition | None:
        with self._lock:
            if self._newest is not None and self._newest.number == number:
                return self._newest
            if number in self._old:
                self._old.move_to_end(number)
            return self._old.get(number)

    def _opened(self, number: int) -> Edition:
        """Open an edition, or wait for the thread that does already. It is an old one until it is made the newest."""
        with self._lock:
            opening = self._opening.get(number)
            is_mine = opening is None
            if opening is None:
                opening = self._opening[number] = Future()
        if is_mine:
            self._open(number, opening)
        return opening.result()

    def _open(self, number: int, opening: "Future[Edition]") -> None:
        edition = self._at_hand(number)
        try:
            with long_lived.uncollected():
                edition = edition or open_edition(number, self._loaded(number))
                if self._opens_beside:  # else the first look at what is young would be one at all of it
                    long_lived.settle([number])
        except UnknownRevisionError:
            opening.set_exception(NotFoundError("revision", str(number)))
        except BaseException as error:  # noqa: BLE001 whoever waits for the edition meets it, this thread first
            opening.set_exception(error)
        else:
            opening.set_result(edition)
        with self._lock:
            del self._opening[number]
            if edition is not None and edition is not self._newest:
                self._old[number] = edition

    def _loaded(self, number: int) -> PackedCatalog:
        """The catalog of a revision; what is the same in the newest one is there once."""
        catalog, newest = self._store.load(number), self._newest
        return catalog if newest is None else catalog.sharing(newest.catalog)

    def _keep(self, edition: Edition) -> None:
        """Keep an old edition; those that were not asked for longest make room."""
        gone: list[int] = []
        with self._lock:
            if self._newest is not None and edition.number == self._newest.number:
                return
            self._old[edition.number] = edition
            self._old.move_to_end(edition.number)
            while len(self._old) > 1 and self._is_too_much():
                gone.append(self._old.popitem(last=False)[0])
        if gone and self._opens_beside:
            long_lived.forget(gone)

    def _is_too_much(self) -> bool:
        items = sum(len(edition.catalog.items) for edition in self._old.values())
        return len(self._old) > KEPT_EDITIONS - 1 or items > MOST_OLD_ITEMS
